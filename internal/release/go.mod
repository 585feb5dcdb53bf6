// A module of its own, so that golang.org/x/mod stays out of the module graph
// of those who use axleend.example.
module axleend.example/internal/release

go 1.26.0

require golang.org/x/mod v0.43.0
