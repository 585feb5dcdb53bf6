module sample

go 1.26
