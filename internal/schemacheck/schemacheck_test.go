package schemacheck_test

import (
	"encoding/json"
	"errors"
	"io/fs"
	"os"
	"path"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"axleend.example/inspect/record"
	"axleend.example/internal/schemacheck"
	"axleend.example/rules"
	"axleend.example/rules/packs"
)

// The reader's side of each schema: nil for what it takes.
type format struct {
	schema *jsonschema.Schema
	read   func([]byte) error
}

func compile(t *testing.T, fsys fs.FS, name string, others ...string) *jsonschema.Schema {
	t.Helper()
	s, err := schemacheck.Compile(fsys, name, others...)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func packFormat(t *testing.T) format {
	return format{compile(t, packs.FS(), "pack.schema.json"), func(data []byte) error {
		_, err := rules.ReadPack("pack.yaml", data)
		return err
	}}
}

func casesFormat(t *testing.T) format {
	return format{compile(t, packs.FS(), "cases.schema.json", "pack.schema.json"), func(data []byte) error {
		_, err := rules.ReadCases("pack.cases.yaml", data)
		return err
	}}
}

func clausesFormat(t *testing.T) format {
	return format{compile(t, packs.FS(), "clauses.schema.json", "pack.schema.json"), func(data []byte) error {
		_, err := rules.ReadClauses("pack.clauses.yaml", data)
		return err
	}}
}

func visitFormat(t *testing.T) format {
	return format{compile(t, os.DirFS("../../inspect/record"), "visit.schema.json"), func(data []byte) error {
		_, err := record.Read("visit.yaml", data)
		return err
	}}
}

// validate gives what the schema says of a YAML document; one that is no JSON
// value is refused as well.
func (f format) validate(data []byte) error {
	v, err := schemacheck.Value(data)
	if err != nil {
		return err
	}
	return f.schema.Validate(v)
}

func (f format) taken(t *testing.T, name string, data []byte) {
	t.Helper()
	if err := f.read(data); err != nil {
		t.Errorf("%s: the reader: %v", name, err)
	}
	if err := f.validate(data); err != nil {
		t.Errorf("%s: the schema: %v", name, err)
	}
}

func (f format) refused(t *testing.T, name string, data []byte) {
	t.Helper()
	if f.read(data) == nil {
		t.Errorf("%s: the reader takes it:\n%s", name, data)
	}
	if f.validate(data) == nil {
		t.Errorf("%s: the schema takes it:\n%s", name, data)
	}
}

// TestShippedFiles holds every shipped pack and its cases against the schemas.
func TestShippedFiles(t *testing.T) {
	pack, cases, clauses := packFormat(t), casesFormat(t), clausesFormat(t)
	names := packs.Names()
	if len(names) == 0 {
		t.Fatal("no shipped pack")
	}
	for _, name := range names {
		for file, f := range map[string]format{name + ".yaml": pack, name + ".cases.yaml": cases} {
			data, err := fs.ReadFile(packs.FS(), file)
			if err != nil {
				t.Error(err)
				continue
			}
			f.taken(t, file, data)
		}
		if data, err := fs.ReadFile(packs.FS(), name+".clauses.yaml"); err == nil { // not every pack has them
			clauses.taken(t, name+".clauses.yaml", data)
		}
	}
}

// TestDemoVisits holds every visit in examples/demo against the schema, as
// written and as written back in JSON.
func TestDemoVisits(t *testing.T) {
	f := visitFormat(t)
	files, err := fs.Glob(os.DirFS("../../examples/demo"), "*.yaml")
	if err != nil {
		t.Fatal(err)
	}
	visits := 0
	for _, name := range files {
		data, err := os.ReadFile(path.Join("../../examples/demo", name))
		if err != nil {
			t.Fatal(err)
		}
		v, err := schemacheck.Value(data)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if _, is := v.(map[string]any)["visit"]; !is {
			continue // a table or a pack
		}
		visits++
		f.taken(t, name, data)
		visit, err := record.Read(name, data)
		if err != nil {
			continue // said above
		}
		back, err := json.Marshal(visit)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		f.taken(t, name+" as JSON", back)
	}
	if visits == 0 {
		t.Error("no visit in examples/demo")
	}
}

// TestSchemasAreSchemas holds the schemas themselves against the draft that
// they name.
func TestSchemasAreSchemas(t *testing.T) {
	for file, fsys := range map[string]fs.FS{
		"pack.schema.json":    packs.FS(),
		"cases.schema.json":   packs.FS(),
		"clauses.schema.json": packs.FS(),
		"visit.schema.json":   os.DirFS("../../inspect/record"),
	} {
		data, err := fs.ReadFile(fsys, file)
		if err != nil {
			t.Fatal(err)
		}
		doc, err := jsonschema.UnmarshalJSON(strings.NewReader(string(data)))
		if err != nil {
			t.Fatal(err)
		}
		draft, _ := doc.(map[string]any)["$schema"].(string)
		meta, err := jsonschema.NewCompiler().Compile(draft)
		if err != nil {
			t.Fatalf("%s: %v", file, err)
		}
		if err := meta.Validate(doc); err != nil {
			t.Errorf("%s: %v", file, err)
		}
	}
}

// TestCompile has a schema refused that is none, and a file that is not there.
func TestCompile(t *testing.T) {
	if _, err := schemacheck.Compile(packs.FS(), "none.schema.json"); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("a file that is not there: %v", err)
	}
	if _, err := schemacheck.Compile(packs.FS(), "label.yaml"); err == nil {
		t.Error("a file that is no JSON compiles")
	}
	// The cases' schema leans on the pack's, and nothing is fetched for it.
	if _, err := schemacheck.Compile(packs.FS(), "cases.schema.json"); err == nil {
		t.Error("a schema compiles without the one that it refers to")
	}
}

func TestValue(t *testing.T) {
	for text, want := range map[string]string{
		"a: 1":            `{"a":1}`,
		"a: 2.50":         `{"a":2.5}`,
		"a: 0523":         `{"a":339}`, // YAML 1.1 octal, as an editor sees it
		"a: '0523'":       `{"a":"0523"}`,
		"a: yes":          `{"a":"yes"}`,
		"a: true":         `{"a":true}`,
		"a: 2026-10-03":   `{"a":"2026-10-03"}`,
		"a: ~":            `{"a":null}`,
		"[1 lb, {b: []}]": `["1 lb",{"b":[]}]`,
		`{"a": "x"}`:      `{"a":"x"}`,
	} {
		v, err := schemacheck.Value([]byte(text))
		if err != nil {
			t.Errorf("%s: %v", text, err)
			continue
		}
		if got, err := json.Marshal(v); err != nil || string(got) != want {
			t.Errorf("%s: %s (%v), want %s", text, got, err, want)
		}
	}
	for _, text := range []string{"", "a: &b 1\nc: *b", "a: .nan"} {
		if v, err := schemacheck.Value([]byte(text)); !errors.Is(err, schemacheck.ErrKind) {
			t.Errorf("%q: %v, %v", text, v, err)
		}
	}
	if _, err := schemacheck.Value([]byte("a: [")); err == nil {
		t.Error("a list without an end is read")
	}
}
