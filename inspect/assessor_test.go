package inspect_test

import (
	"os"
	"path/filepath"
	"testing"

	"axleend.example/inspect/record"
)

// visits reads every visit of the demo folder and of the tests.
func visits(t testing.TB) []*record.Visit {
	t.Helper()
	var out []*record.Visit
	for _, pattern := range []string{"../examples/demo/*.yaml", "testdata/*.yaml"} {
		files, err := filepath.Glob(pattern)
		if err != nil {
			t.Fatal(err)
		}
		for _, name := range files {
			data, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			if v, err := record.Read(name, data); err == nil { // the folder holds tables too
				out = append(out, v)
			}
		}
	}
	for _, text := range []string{metric, bare("", "")} {
		if v, err := record.Read("visit.yaml", []byte(text)); err == nil {
			out = append(out, v)
		}
	}
	if len(out) < 3 {
		t.Fatalf("%d visits, want more", len(out))
	}
	return out
}
