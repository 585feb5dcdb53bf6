// A module of its own: what changes the code to see whether a test notices is
// nothing for those who use axleend.example.
module axleend.example/internal/mutate

go 1.26
