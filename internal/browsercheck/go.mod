// A module of its own, so that what drives the browser stays out of the module
// graph of those who use axleend.example.
module axleend.example/internal/browsercheck

go 1.26

require (
	axleend.example v0.0.0
	github.com/chromedp/cdproto v0.159.0
	github.com/chromedp/chromedp v0.23.0
)

require (
	github.com/go-json-experiment/json v0.0.0-20260213210345-44df1a37e875 // indirect
	github.com/shopspring/decimal v1.6.0 // indirect
	gopkg.in/yaml.v3 v3.0.1 // indirect
)

replace axleend.example => ../..
