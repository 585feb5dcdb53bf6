package schemacheck

import (
	"bytes"
	"cmp"
	"encoding"
	"encoding/json"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"maps"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
)

// Generate writes the JSON Schema of what encoding/json writes for a value of
// type t: every field under the key of its tag, required unless the tag lets
// it be left out, with its comment from the Go source as description. special
// gives the schemas of types that write themselves as text or otherwise,
// fields those of single fields ("report.Report.Version"); a word that counts from 1 is an enumeration of what it writes. It panics on a
// type that it does not know: the caller is a test.
func Generate(t reflect.Type, head map[string]any, special map[reflect.Type]map[string]any, fields map[string]map[string]any, comments map[string]string) []byte {
	g := &generator{special: special, own: fields, comments: comments, defs: map[string]any{}}
	top := g.object(t)
	for key, value := range head {
		top[key] = value
	}
	top["$defs"] = g.defs
	var out bytes.Buffer
	enc := json.NewEncoder(&out)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	if err := enc.Encode(top); err != nil {
		panic(err)
	}
	return out.Bytes()
}

type generator struct {
	special  map[reflect.Type]map[string]any
	own      map[string]map[string]any
	comments map[string]string
	defs     map[string]any
}

// name is how a type is called among the definitions and in comments:
// "weight.Mass".
func name(t reflect.Type) string {
	parts := strings.Split(t.PkgPath(), "/")
	return parts[len(parts)-1] + "." + t.Name()
}

func (g *generator) schema(t reflect.Type) map[string]any {
	if s, is := g.special[t]; is {
		return g.define(t, s)
	}
	if strings.HasPrefix(t.Name(), "Recorded[") { // the value, or null
		method, _ := t.MethodByName("Get")
		return map[string]any{"anyOf": []any{g.schema(method.Type.Out(0)), map[string]any{"type": "null"}}}
	}
	if t.Implements(reflect.TypeFor[json.Marshaler]()) {
		panic(fmt.Sprintf("%s writes itself: say how among the special types", t))
	}
	if t.Implements(reflect.TypeFor[encoding.TextMarshaler]()) {
		return g.define(t, words(t))
	}
	switch t.Kind() {
	case reflect.Bool:
		return map[string]any{"type": "boolean"}
	case reflect.Int, reflect.Int64, reflect.Uint8:
		return map[string]any{"type": "integer"}
	case reflect.String:
		return map[string]any{"type": "string"}
	case reflect.Slice:
		return map[string]any{"type": []any{"array", "null"}, "items": g.schema(t.Elem())}
	case reflect.Struct:
		if _, is := g.defs[name(t)]; !is {
			g.defs[name(t)] = nil // for a type that holds itself
			g.defs[name(t)] = g.object(t)
		}
		return map[string]any{"$ref": "#/$defs/" + name(t)}
	}
	panic(fmt.Sprintf("%s writes itself in a way that is not known here", t))
}

func (g *generator) define(t reflect.Type, s map[string]any) map[string]any {
	if g.defs[name(t)] == nil {
		if c := g.comments[name(t)]; c != "" && s["description"] == nil {
			s["description"] = c
		}
		g.defs[name(t)] = s
	}
	return map[string]any{"$ref": "#/$defs/" + name(t)}
}

// words enumerates what a small counted type writes and reads.
func words(t reflect.Type) map[string]any {
	if t.Kind() != reflect.Uint8 && t.Kind() != reflect.Int8 {
		return map[string]any{"type": "string"}
	}
	var out []any
	for i := range 100 {
		p := reflect.New(t)
		v := p.Elem()
		if v.CanInt() {
			v.SetInt(int64(i))
		} else {
			v.SetUint(uint64(i))
		}
		text, err := v.Interface().(encoding.TextMarshaler).MarshalText()
		if err == nil {
			err = p.Interface().(encoding.TextUnmarshaler).UnmarshalText(text)
		}
		if err == nil && !slices.Contains(out, any(string(text))) {
			out = append(out, string(text))
		}
	}
	return map[string]any{"enum": out}
}

func (g *generator) object(t reflect.Type) map[string]any {
	properties, required := map[string]any{}, []any{}
	g.fields(t, properties, &required)
	out := map[string]any{"type": "object", "properties": properties}
	if len(required) > 0 {
		out["required"] = required
	}
	if c := g.comments[name(t)]; c != "" {
		out["description"] = c
	}
	return out
}

func (g *generator) fields(t reflect.Type, properties map[string]any, required *[]any) {
	for i := range t.NumField() {
		f := t.Field(i)
		tag, options, _ := strings.Cut(f.Tag.Get("json"), ",")
		if f.Anonymous && tag == "" {
			g.fields(f.Type, properties, required)
			continue
		}
		if !f.IsExported() || tag == "-" {
			continue
		}
		key := cmp.Or(tag, f.Name)
		s := maps.Clone(g.own[name(t)+"."+f.Name])
		if s == nil {
			s = g.schema(f.Type)
		}
		if c := g.comments[name(t)+"."+f.Name]; c != "" {
			s["description"] = c
		}
		properties[key] = s
		if options == "" {
			*required = append(*required, key)
		}
	}
}

// Comments gives the doc comments of the types in the folders and of their
// fields, as "report.Report" and "report.Report.Todo", each on one line.
func Comments(dirs ...string) (map[string]string, error) {
	out := map[string]string{}
	for _, dir := range dirs {
		files, err := filepath.Glob(filepath.Join(dir, "*.go"))
		if err != nil {
			return nil, err
		}
		for _, file := range files {
			if strings.HasSuffix(file, "_test.go") {
				continue
			}
			f, err := parser.ParseFile(token.NewFileSet(), file, nil, parser.ParseComments)
			if err != nil {
				return nil, err
			}
			for n := range ast.Preorder(f) {
				gen, is := n.(*ast.GenDecl)
				if !is {
					continue
				}
				for _, s := range gen.Specs {
					spec, is := s.(*ast.TypeSpec)
					if !is {
						continue
					}
					at := f.Name.Name + "." + spec.Name.Name
					out[at] = line(gen.Doc, spec.Doc)
					if st, is := spec.Type.(*ast.StructType); is {
						for _, field := range st.Fields.List {
							for _, id := range field.Names {
								out[at+"."+id.Name] = line(field.Doc, field.Comment)
							}
						}
					}
				}
			}
		}
	}
	return out, nil
}

// line puts a comment on one line, with the brackets of its links gone.
func line(docs ...*ast.CommentGroup) string {
	for _, d := range docs {
		if text := d.Text(); text != "" {
			first, _, _ := strings.Cut(text, "\n\n")
			return strings.Join(strings.Fields(strings.NewReplacer("[", "", "]", "").Replace(first)), " ")
		}
	}
	return ""
}
