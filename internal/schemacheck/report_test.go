package schemacheck_test

import (
	"encoding/json"
	"flag"
	"io/fs"
	"maps"
	"os"
	"path"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"axleend.example/dotcode"
	"axleend.example/inflation"
	"axleend.example/inflation/caution"
	"axleend.example/inflation/tablefile"
	"axleend.example/inspect"
	"axleend.example/inspect/history"
	"axleend.example/inspect/loading"
	"axleend.example/inspect/placement"
	"axleend.example/inspect/record"
	"axleend.example/inspect/record/condition"
	"axleend.example/inspect/report"
	"axleend.example/internal/schemacheck"
	"axleend.example/weight"
)

var update = flag.Bool("update", false, "write the schemas that are generated anew")

const reportSchema = "report.schema.json"

// matching is a text of a pattern.
func matching(pattern string) map[string]any {
	return map[string]any{"type": "string", "pattern": pattern}
}

const (
	number = `^-?[0-9][0-9,]*([.][0-9]+|/[0-9]+)? `
	length = number + `(in|ft|mi|mm|cm|m|km)$`
)

// texts are the types that write themselves, and how.
func texts() map[reflect.Type]map[string]any {
	var conditions []any
	for c := condition.Condition(1); ; c++ {
		text, err := c.MarshalText()
		if err != nil {
			break
		}
		conditions = append(conditions, string(text))
	}
	var cautions []any
	for c := caution.Caution(0); c.Text() != ""; c++ {
		cautions = append(cautions, c.String())
	}
	depths := map[string]any{"type": []any{"array", "null"}, "items": matching(length)}
	return map[reflect.Type]map[string]any{
		reflect.TypeFor[weight.Mass]():           matching(number + `(lb|kg|g)$`),
		reflect.TypeFor[weight.Length]():         matching(length),
		reflect.TypeFor[weight.Volume]():         matching(number + `(gal|L)$`),
		reflect.TypeFor[weight.Share]():          matching(number + `%$`),
		reflect.TypeFor[inflation.Pressure]():    matching(number + `(psi|kPa|bar|Pa)$`),
		reflect.TypeFor[inflation.Temperature](): matching(number + `(F|C)$`),
		reflect.TypeFor[inflation.Speed]():       matching(number + `(mph|km/h)$`),
		reflect.TypeFor[dotcode.Date]():          matching(`^([0-9]{4}-[0-9]{2}-[0-9]{2})?$`),
		reflect.TypeFor[condition.Set]():         {"type": "array", "items": map[string]any{"enum": conditions}},
		reflect.TypeFor[record.Treads](): {"anyOf": []any{matching(length), depths,
			map[string]any{"type": "object", "properties": map[string]any{"inner": depths, "center": depths, "outer": depths}}}},
		reflect.TypeFor[caution.Set](): {"type": "array", "items": map[string]any{"enum": cautions}},
	}
}

// An answer is a type whose schema is generated: where that stands, the field
// that says the version of its format, and its reader.
type answer struct {
	of                     reflect.Type
	folder, title, version string
	number                 int
	read                   func(data []byte) error
}

func reader[T any](read func(string, []byte) (T, error)) func([]byte) error {
	return func(data []byte) error {
		_, err := read("answer.json", data)
		return err
	}
}

// answers are by the file of their schema.
var answers = map[string]answer{
	reportSchema:            {reflect.TypeFor[report.Report](), "report", "Axleend report", "report.Report.Version", report.Version, reader(report.Read)},
	"placement.schema.json": {reflect.TypeFor[placement.Placement](), "placement", "Axleend placement", "placement.Placement.Version", placement.Version, reader(placement.Read)},
	"history.schema.json":   {reflect.TypeFor[history.History](), "history", "Axleend history", "history.History.Version", history.Version, reader(history.Read)},
	"weighing.schema.json":  {reflect.TypeFor[loading.WeighReport](), "loading", "Axleend weighing", "loading.WeighReport.Version", loading.WeighingVersion, reader(loading.ReadWeighing)},
	"load.schema.json":      {reflect.TypeFor[loading.TripReport](), "loading", "Axleend plan of what to load", "loading.TripReport.Version", loading.PlanVersion, reader(loading.ReadPlan)},
}

// folderOf is the folder of the package that a schema stands beside.
func folderOf(schema string) string { return "../../inspect/" + answers[schema].folder }

func generated(t *testing.T, name string) []byte {
	t.Helper()
	comments, err := schemacheck.Comments("../../inspect/report", "../../inspect/record", "../../inspect/record/condition", "../../inspect/placement", "../../inspect/history", "../../inspect/loading", "../../weight", "../../weight/cargo", "../../inflation", "../../inflation/sidewall", "../../dotcode", "../../rules", "../../rules/origin")
	if err != nil {
		t.Fatal(err)
	}
	a := answers[name]
	return schemacheck.Generate(a.of, map[string]any{
		"$schema": "https://json-schema.org/draft/2020-12/schema",
		"$id":     "https://" + a.of.PkgPath() + "/" + name,
		"title":   a.title,
	}, texts(), map[string]map[string]any{
		a.version: {"const": a.number, "description": "The version of this format."},
	}, comments)
}

// TestGeneratedSchemas: each schema beside the package is the one of its types.
func TestGeneratedSchemas(t *testing.T) {
	for name := range answers {
		got := generated(t, name)
		file := path.Join(folderOf(name), name)
		if *update {
			if err := os.WriteFile(file, got, 0o644); err != nil {
				t.Fatal(err)
			}
			continue
		}
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if string(data) != string(got) {
			t.Errorf("inspect/%s is not what the types say; if they were meant to change:\n\tcd internal/schemacheck && go test -update", name)
		}
	}
}

// closed is the schema with every object closed.
func closed(t *testing.T, name string) *jsonschema.Schema {
	t.Helper()
	var all map[string]any
	if err := json.Unmarshal(generated(t, name), &all); err != nil {
		t.Fatal(err)
	}
	strict(all)
	data, err := json.Marshal(all)
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	if err := os.WriteFile(path.Join(dir, name), data, 0o644); err != nil {
		t.Fatal(err)
	}
	return compile(t, os.DirFS(dir), name)
}

// strict closes every object of a schema, so that a key which it does not
// name is refused.
func strict(v any) {
	switch v := v.(type) {
	case map[string]any:
		if _, is := v["properties"]; is {
			v["additionalProperties"] = false
		}
		for _, inner := range v {
			strict(inner)
		}
	case []any:
		for _, inner := range v {
			strict(inner)
		}
	}
}

func answerFormat(t *testing.T, schema string) format {
	return format{compile(t, os.DirFS(folderOf(schema)), schema), answers[schema].read}
}

// reports assesses the demo's visit and those of the tests here.
func reports(t *testing.T) map[string][]byte {
	t.Helper()
	visits := map[string][]byte{"the good visit": []byte(goodVisit), "the least": []byte("visit: 1\ndate: 2026-10-03\naxles: [{id: steer, fitment: single}]\ntires: [{at: steer-left}]\n")}
	demo := os.DirFS("../../examples/demo")
	files, err := fs.Glob(demo, "*.yaml")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range files {
		data, err := fs.ReadFile(demo, name)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := record.Read(name, data); err == nil {
			visits[name] = data
		}
	}
	tables, err := tablefile.LoadFolder(demo)
	if err != nil {
		t.Fatal(err)
	}
	out := map[string][]byte{}
	for name, data := range visits {
		for with, setup := range map[string]inspect.Setup{" with tables": {Tables: tables}, "": {}} {
			visit, err := record.Read(name, data)
			if err != nil {
				t.Fatal(name, err)
			}
			report, err := inspect.Assess(visit, setup)
			if err != nil {
				t.Fatal(name, err)
			}
			if out[name+with], err = json.Marshal(report); err != nil {
				t.Fatal(name, err)
			}
		}
	}
	return out
}

// TestReports: what Assess answers is what the schema says, every key named.
func TestReports(t *testing.T) {
	f := answerFormat(t, reportSchema)
	exact := format{closed(t, reportSchema), f.read}
	all := reports(t)
	if len(all) < 4 {
		t.Fatalf("only %d reports", len(all))
	}
	for name, data := range all {
		f.taken(t, name, data)
		exact.taken(t, name, data)
		// A key that a later release adds is for its readers.
		f.taken(t, name+", a key added", append([]byte(`{"later": 1,`), data[1:]...))
	}
	f.refused(t, "no version", []byte(`{"date": "2026-10-03"}`))
	f.refused(t, "a list", []byte(`[]`))
	f.refused(t, "a text", []byte(`"report"`))
}

// others are what the other jobs answer, by the file of their schema and a name.
func others(t *testing.T) map[string]map[string][]byte {
	t.Helper()
	out := make(map[string]map[string][]byte)
	for name := range answers {
		out[name] = make(map[string][]byte)
	}
	read := func(file string) *record.Visit {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		v, err := record.Read(file, data)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	put := func(schema, what string, v any, err error) {
		if err == nil {
			out[schema][what], err = json.Marshal(v)
		}
		if err != nil {
			t.Fatal(schema, what, err)
		}
	}
	for _, file := range []string{"../../examples/demo/visit.yaml", "../../examples/wheels/pair.yaml", "../../examples/wheels/tag.yaml"} {
		p, err := placement.Find(t.Context(), read(file), inspect.Setup{})
		put("placement.schema.json", file, p, err)
	}
	const demo = "../../examples/demo/history/"
	visits := []*record.Visit{read(demo + "spring.yaml"), read(demo + "summer.yaml"), read(demo + "autumn.yaml")}
	for n := range visits {
		h, err := history.Compare(visits[:n+1], inspect.Setup{})
		put("history.schema.json", visits[n].Date.String(), h, err)
	}
	for _, file := range []string{"../../examples/demo/trip.yaml", "../../examples/demo/visit.yaml"} {
		w, err := loading.Weigh(read(file), inspect.Setup{})
		put("weighing.schema.json", file, w, err)
	}
	l, err := loading.Plan(t.Context(), read("../../examples/demo/trip.yaml"), inspect.Setup{})
	put("load.schema.json", "trip.yaml", l, err)
	return out
}

// TestOtherAnswers: what the other jobs answer is what their schemas say, every
// key named, and no schema takes another's document.
func TestOtherAnswers(t *testing.T) {
	all := others(t)
	for schema, list := range all {
		f := answerFormat(t, schema)
		for what, data := range list {
			f.taken(t, what, data)
			format{closed(t, schema), f.read}.taken(t, what+", every key", data)
			for other := range answers {
				if other != schema {
					answerFormat(t, other).refused(t, what+" as "+other, data)
				}
			}
		}
		if f.validate([]byte(`{"date": "2026-10-03"}`)) == nil {
			t.Errorf("%s: no version is taken", schema)
		}
	}
}

// TestEveryChangeOfAnAnswer changes answers in one place after another. What
// the schema takes, the reader must read, and a key that the schema does not let
// be left out, the reader must miss.
func TestEveryChangeOfAnAnswer(t *testing.T) {
	all := others(t)
	all[reportSchema]["the good visit"] = reports(t)["the good visit"]
	for schema, list := range all {
		f := answerFormat(t, schema)
		what := slices.Sorted(maps.Keys(list))[0]
		root, err := schemacheck.Value(list[what])
		if err != nil {
			t.Fatal(err)
		}
		takes, refuses := 0, 0
		check := func(where string) {
			data, err := json.Marshal(root)
			if err != nil {
				t.Fatal(err)
			}
			switch read, valid := f.read(data), f.validate(data); {
			case valid != nil:
				if refuses++; read == nil && strings.HasSuffix(where, " left out") {
					t.Errorf("%s: the schema misses it, the reader does not: %v", where, valid)
				}
			case read != nil:
				t.Errorf("%s: the schema takes it, the reader does not: %v", where, read)
			default:
				takes++
			}
		}
		var walk func(where string, v any, set func(any))
		walk = func(where string, v any, set func(any)) {
			_, text := v.(string)
			for _, other := range []any{"", "x", 7, true, map[string]any{}, []any{"x"}} {
				if _, is := other.(string); is && text {
					continue // which texts it reads, the reader says
				}
				set(other)
				check(where)
			}
			set(v)
			switch v := v.(type) {
			case map[string]any:
				for _, key := range slices.Sorted(maps.Keys(v)) {
					old := v[key]
					delete(v, key)
					check(where + "." + key + " left out")
					walk(where+"."+key, old, func(other any) { v[key] = other })
				}
			case []any:
				for i, old := range v {
					if i < 1 { // the others are like it
						walk(where+"[]", old, func(other any) { v[i] = other })
					}
				}
			}
		}
		walk(schema, root, func(other any) { root = other })
		if takes == 0 || refuses == 0 {
			t.Errorf("%d taken, %d refused: the changes show nothing", takes, refuses)
		}
		t.Logf("%s: %d changes taken, %d refused", schema, takes, refuses)
	}
}
