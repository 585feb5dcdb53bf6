module axleend.example

go 1.26

require (
	github.com/google/go-cmp v0.7.0
	github.com/shopspring/decimal v1.6.0
	gopkg.in/yaml.v3 v3.0.1
)
