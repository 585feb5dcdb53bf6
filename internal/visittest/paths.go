package visittest

import (
	"bytes"
	"encoding/json"
	"fmt"
	"reflect"
	"regexp"
	"strings"

	"axleend.example/inspect/record"
)

// A Path is one thing that a visit says, by the name of a file: "tires[2].found",
// or the whole of "tires[2]".
type Path struct {
	Name  string
	Whole bool // an entry of a list
	steps []int
}

// Kind is the name without the numbers: "tires[].found".
func (p Path) Kind() string { return numbers.ReplaceAllString(p.Name, "[]") }

var numbers = regexp.MustCompile(`\[\d+\]`)

// Paths lists all that a visit says and may leave out, in the order of the file.
func Paths(v *record.Visit) []Path {
	var out []Path
	walk(reflect.ValueOf(v).Elem(), "", nil, &out)
	return out
}

// needed are the texts without which a visit is none.
var needed = map[string]bool{"id": true, "at": true, "name": true, "visit": true, "on": true, "may_go_to": true}

func walk(v reflect.Value, name string, steps []int, out *[]Path) {
	for i := range v.NumField() {
		f := v.Field(i)
		key, _, _ := strings.Cut(v.Type().Field(i).Tag.Get("json"), ",")
		if f.IsZero() || needed[key] {
			continue
		}
		at, step := strings.TrimPrefix(name+"."+key, "."), append(append([]int(nil), steps...), i)
		switch {
		case strings.HasPrefix(f.Type().Name(), "Recorded["), f.Kind() == reflect.String:
			*out = append(*out, Path{Name: at, steps: step})
		case f.Kind() == reflect.Slice && f.Type().Elem().Kind() == reflect.Struct:
			for j := range f.Len() {
				entry, own := fmt.Sprintf("%s[%d]", at, j), append(append([]int(nil), step...), j)
				*out = append(*out, Path{Name: entry, Whole: true, steps: own})
				walk(f.Index(j), entry, own, out)
			}
		case f.Kind() == reflect.Struct && f.Type().Name() != "Date":
			walk(f, at, step, out)
		}
	}
}

// Without is the visit that does not say it; the visit itself stays.
func (p Path) Without(v *record.Visit) *record.Visit {
	w := *v
	at := reflect.ValueOf(&w).Elem()
	for k := 0; k < len(p.steps); k++ {
		if at.Kind() != reflect.Slice {
			at = at.Field(p.steps[k])
			continue
		}
		i := p.steps[k]
		if i >= at.Len() {
			return &w
		}
		list := reflect.MakeSlice(at.Type(), 0, at.Len())
		if k == len(p.steps)-1 {
			at.Set(reflect.AppendSlice(reflect.AppendSlice(list, at.Slice(0, i)), at.Slice(i+1, at.Len())))
			return &w
		}
		at.Set(reflect.AppendSlice(list, at))
		at = at.Index(i)
	}
	at.SetZero()
	return &w
}

// NotRead is the visit in which nobody read it: no default stands in for it. What
// is no entry of a tire is left out.
func (p Path) NotRead(v *record.Visit) *record.Visit {
	w := p.Without(v)
	if p.Whole || !strings.HasPrefix(p.Name, "tires[") {
		return w
	}
	at := reflect.ValueOf(w).Elem()
	for _, s := range p.steps {
		if at.Kind() == reflect.Slice {
			at = at.Index(s)
		} else {
			at = at.Field(s)
		}
	}
	if at.Kind() == reflect.String {
		at.SetString("not read")
	} else if err := json.Unmarshal([]byte(`"not read"`), at.Addr().Interface()); err != nil {
		panic(err)
	}
	return w
}

// YAML writes a visit as a file that the reader takes: a line for each entry of a
// list.
func YAML(v *record.Visit) string {
	data, err := json.Marshal(v)
	if err != nil {
		return err.Error()
	}
	var out strings.Builder
	dec := json.NewDecoder(bytes.NewReader(data))
	block(dec, &out, 0)
	return out.String()
}

var plain = regexp.MustCompile(`^[A-Za-z][A-Za-z0-9 /.-]*$|^[1-9][0-9]*(\.[0-9]+)?[ /][A-Za-z0-9 /%.]+$|^\d{4}-\d\d-\d\d$`)

func scalar(tok json.Token) string {
	if s, ok := tok.(string); ok {
		if plain.MatchString(s) {
			return s
		}
		return fmt.Sprintf("%q", s)
	}
	if b, ok := tok.(bool); ok {
		return map[bool]string{true: "yes", false: "no"}[b]
	}
	return fmt.Sprint(tok)
}

// block writes a mapping, its braces read already or not: the first two levels a
// line each, the rest in one line.
func block(dec *json.Decoder, out *strings.Builder, depth int) {
	tok, err := dec.Token()
	delim, ok := tok.(json.Delim)
	if err != nil || !ok {
		out.WriteString(scalar(tok))
		return
	}
	lines := depth < 2 && delim == '{' || depth == 1 && delim == '['
	if !lines {
		out.WriteString(delim.String())
	}
	for n := 0; dec.More(); n++ {
		switch {
		case lines && (depth > 0 || n > 0):
			out.WriteString("\n" + strings.Repeat("  ", depth))
		case !lines && n > 0:
			out.WriteString(", ")
		}
		if delim == '{' {
			key, _ := dec.Token()
			fmt.Fprintf(out, "%s: ", key)
		} else if lines {
			out.WriteString("- ")
		}
		below := depth + 1
		if !lines || delim == '[' {
			below = 9
		}
		block(dec, out, below)
	}
	end, _ := dec.Token()
	if !lines {
		out.WriteString(end.(json.Delim).String())
	}
	if depth == 0 {
		out.WriteString("\n")
	}
}

// Has reports whether a visit says something at the path.
func Has(v *record.Visit, p Path) bool {
	at := reflect.ValueOf(v).Elem()
	for _, s := range p.steps {
		if at.Kind() == reflect.Slice {
			if s >= at.Len() {
				return false
			}
			at = at.Index(s)
			continue
		}
		at = at.Field(s)
	}
	return !at.IsZero()
}

// Spare reports whether a path is the whole entry of a spare.
func Spare(v *record.Visit, p Path) bool {
	return p.Whole && p.Kind() == "tires[]" && record.IsSpare(v.Tires[p.steps[1]].At)
}
