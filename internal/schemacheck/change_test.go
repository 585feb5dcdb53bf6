package schemacheck_test

import (
	"encoding/json"
	"maps"
	"slices"
	"testing"

	"axleend.example/internal/schemacheck"
)

// everyChange takes a good file, and in each place of it in turn leaves the
// value out, renames its key, or puts something else there.
func everyChange(t *testing.T, f format, good []byte, bothWays bool) {
	t.Helper()
	root, err := schemacheck.Value(good)
	if err != nil {
		t.Fatal(err)
	}
	takes, refuses := 0, 0
	check := func(where string) {
		data, err := json.Marshal(root)
		if err != nil {
			t.Fatal(err)
		}
		read, valid := f.read(data), f.validate(data)
		if read == nil {
			takes++
		} else {
			refuses++
		}
		if read == nil && valid != nil {
			t.Errorf("%s: the reader takes it, the schema does not: %v\n%s", where, valid, data)
		}
		if bothWays && read != nil && valid == nil {
			t.Errorf("%s: the schema takes it, the reader does not: %v\n%s", where, read, data)
		}
	}
	others := []any{"", "x", " ", 7, nil, map[string]any{}, []any{}, []any{"x"}, map[string]any{"x": "y"}}
	var walk func(where string, v any, set func(any))
	walk = func(where string, v any, set func(any)) {
		for _, other := range others {
			set(other)
			text, _ := json.Marshal(other)
			check(where + " = " + string(text))
		}
		set(v)
		switch v := v.(type) {
		case map[string]any:
			for _, key := range slices.Sorted(maps.Keys(v)) {
				at := where + "." + key
				old := v[key]
				delete(v, key)
				check(at + " left out")
				for _, name := range []string{key + "x", "X-" + key, ""} {
					v[name] = old
					check(at + " named " + name)
					delete(v, name)
				}
				walk(at, old, func(other any) { v[key] = other })
			}
		case []any:
			for i, old := range v {
				walk(where+"[]", old, func(other any) { v[i] = other })
			}
		}
	}
	walk("", root, func(other any) { root = other })
	check("unchanged")
	if takes == 0 || refuses == 0 {
		t.Errorf("%d taken, %d refused: the changes show nothing", takes, refuses)
	}
	t.Logf("%d changes taken, %d refused", takes, refuses)
}
