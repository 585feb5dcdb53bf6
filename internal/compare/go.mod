// A module of its own, so that what Axleend is compared with stays out of the
// module graph of those who use axleend.example.
module axleend.example/internal/compare

go 1.26

require (
	axleend.example v0.0.0
	cel.dev/cel-go v0.33.2
	github.com/expr-lang/expr v1.17.8
	github.com/goccy/go-json v0.12.0
	github.com/shopspring/decimal v1.6.0
	gonum.org/v1/gonum v0.17.0
	gopkg.in/yaml.v3 v3.0.1
)

require (
	cel.dev/expr v0.25.1 // indirect
	github.com/antlr4-go/antlr/v4 v4.13.1 // indirect
	go.yaml.in/yaml/v3 v3.0.4 // indirect
	golang.org/x/exp v0.0.0-20240823005443-9b4947da3948 // indirect
	google.golang.org/genproto/googleapis/api v0.0.0-20240826202546-f6391c0de4c7 // indirect
	google.golang.org/genproto/googleapis/rpc v0.0.0-20240826202546-f6391c0de4c7 // indirect
	google.golang.org/protobuf v1.36.10 // indirect
)

replace axleend.example => ../..
