// A module of its own, so that the validator stays out of the module graph of
// those who use axleend.example.
module axleend.example/internal/schemacheck

go 1.26

require (
	axleend.example v0.0.0
	github.com/arran4/golang-ical v0.3.4
	github.com/santhosh-tekuri/jsonschema/v6 v6.0.3
	gopkg.in/yaml.v3 v3.0.1
)

require (
	github.com/shopspring/decimal v1.6.0 // indirect
	golang.org/x/text v0.14.0 // indirect
)

replace axleend.example => ../..
