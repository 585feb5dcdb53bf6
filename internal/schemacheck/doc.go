// Package schemacheck holds the JSON Schemas that editors use to what the
// readers of packs, cases and visits take, with a validator that is not ours.
// It is a module of its own, so that the validator is nobody else's dependency.
//
//	cd internal/schemacheck
//	go vet ./...
//	go test -count=1 ./... // it does not see a schema outside the module change
//
// A schema knows the shape only. So it must take whatever the reader takes,
// and refuse whatever has another shape; what else a reader refuses, such as a
// measure that is not there, is the reader's to say.
package schemacheck

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"strconv"
	"strings"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"gopkg.in/yaml.v3"
)

// ErrKind says that a YAML document holds what JSON has no value for.
var ErrKind = errors.New("no JSON value")

// Compile reads the schemas in the files and returns the named one, ready to
// validate, or the part of it that a fragment points to, as in
// "visit.schema.json#/$defs/mass". The others are those that it refers to, by
// their $id; nothing is fetched. Errors are those of reading, of JSON, or of a
// schema that is none.
func Compile(fsys fs.FS, name string, others ...string) (*jsonschema.Schema, error) {
	c := jsonschema.NewCompiler()
	c.UseLoader(jsonschema.SchemeURLLoader{})
	name, part, _ := strings.Cut(name, "#")
	id := ""
	for _, file := range append([]string{name}, others...) {
		f, err := fsys.Open(file)
		if err != nil {
			return nil, err
		}
		doc, err := jsonschema.UnmarshalJSON(f)
		f.Close()
		if err != nil {
			return nil, fmt.Errorf("%s: %w", file, err)
		}
		top, _ := doc.(map[string]any)
		own, _ := top["$id"].(string)
		if err := c.AddResource(own, doc); err != nil {
			return nil, fmt.Errorf("%s: %w", file, err)
		}
		if id == "" {
			id = own
		}
	}
	return c.Compile(id + "#" + part)
}

// Value turns a YAML document into the JSON values that a validator takes, as
// an editor does: a number, true or false stays one, a date is text. Errors
// are those of the YAML parser, or match [ErrKind].
func Value(data []byte) (any, error) {
	var doc yaml.Node
	if err := yaml.Unmarshal(data, &doc); err != nil {
		return nil, err
	}
	if doc.Kind != yaml.DocumentNode || len(doc.Content) != 1 {
		return nil, fmt.Errorf("%w: an empty document", ErrKind)
	}
	return value(doc.Content[0])
}

func value(n *yaml.Node) (any, error) {
	switch n.Kind {
	case yaml.MappingNode:
		out := make(map[string]any, len(n.Content)/2)
		for i := 0; i+1 < len(n.Content); i += 2 {
			v, err := value(n.Content[i+1])
			if err != nil {
				return nil, err
			}
			out[n.Content[i].Value] = v
		}
		return out, nil
	case yaml.SequenceNode:
		out := make([]any, len(n.Content))
		for i, c := range n.Content {
			v, err := value(c)
			if err != nil {
				return nil, err
			}
			out[i] = v
		}
		return out, nil
	case yaml.ScalarNode:
		return scalar(n)
	}
	return nil, fmt.Errorf("%w: line %d: an alias", ErrKind, n.Line)
}

func scalar(n *yaml.Node) (any, error) {
	switch n.ShortTag() {
	case "!!null":
		return nil, nil
	case "!!bool":
		return strconv.ParseBool(n.Value)
	case "!!int", "!!float":
		// YAML has more ways to write a number than JSON: 0x1F, 0523, .5
		var v any
		if err := n.Decode(&v); err != nil {
			return nil, err
		}
		text, err := json.Marshal(v)
		if err != nil {
			return nil, fmt.Errorf("%w: line %d: %w", ErrKind, n.Line, err)
		}
		return json.Number(text), nil
	}
	return n.Value, nil
}
