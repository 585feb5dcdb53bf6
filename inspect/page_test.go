package inspect_test

import (
	"encoding/json"
	"os"
	"regexp"
	"strings"
	"testing"

	"axleend.example/inspect/record/condition"
)

// sections are the parts of the page and of the schema that belong together.
var sections = map[string]string{
	"visit": "", "ratings": "ratings", "axle": "axle", "tire": "tire", "weighing": "weighing", "reading": "reading",
	"names": "whose", "towing": "towing", "tread": "tread",
	"trip": "trip", "station": "station", "item": "item", "change": "tripChange", "label": "cargoLabel", "done": "done",
}

// TestPageAndSchemaHaveTheSameKeys: the one page has each key of the schema in
// its part, and no other; a star where every_tire has it; and all the words.
func TestPageAndSchemaHaveTheSameKeys(t *testing.T) {
	page, err := os.ReadFile("record/visit.md")
	if err != nil {
		t.Fatal(err)
	}
	trip, err := os.ReadFile("record/trip.md")
	if err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile("record/visit.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	type object struct {
		Required   []string       `json:"required"`
		Properties map[string]any `json:"properties"`
	}
	var schema struct {
		object
		Defs map[string]object `json:"$defs"`
	}
	if err := json.Unmarshal(data, &schema); err != nil {
		t.Fatal(err)
	}
	section, seen := "", make(map[string]map[string]string)
	row := regexp.MustCompile("^\\| `([a-z_]+)` \\|(.*)$")
	for line := range strings.Lines(string(page) + string(trip)) {
		line = strings.TrimSuffix(line, "\n")
		if name, ok := strings.CutPrefix(line, "## "); ok {
			section = name
			seen[section] = make(map[string]string)
		}
		if m := row.FindStringSubmatch(line); m != nil {
			if _, twice := seen[section][m[1]]; twice {
				t.Errorf("%s: %s stands twice", section, m[1])
			}
			seen[section][m[1]] = m[2]
		}
	}
	for name, def := range sections {
		o := schema.object
		if def != "" {
			o = schema.Defs[def]
		}
		if len(o.Properties) == 0 {
			t.Errorf("the schema has no %q", def)
		}
		for key := range o.Properties {
			if _, ok := seen[name][key]; !ok {
				t.Errorf("%s: the page has no %s", name, key)
			}
		}
		for key := range seen[name] {
			if _, ok := o.Properties[key]; !ok {
				t.Errorf("%s: the schema has no %s", name, key)
			}
		}
		for _, key := range o.Required {
			if !strings.Contains(seen[name][key], "always there") {
				t.Errorf("%s: the page does not say that %s is always there", name, key)
			}
		}
	}
	for key, rest := range seen["tire"] {
		_, shared := schema.Defs["everyTire"].Properties[key]
		if star := strings.HasPrefix(strings.TrimSpace(rest), "*"); star != shared {
			t.Errorf("tire: %s: a star %v, in every_tire %v", key, star, shared)
		}
	}
	if len(seen["tread"]) != 3 {
		t.Errorf("tread: %v", seen["tread"])
	}
	for def, o := range schema.Defs {
		if len(o.Properties) == 0 || def == "everyTire" {
			continue
		}
		there := false
		for _, d := range sections {
			there = there || d == def
		}
		if !there {
			t.Errorf("the page has no part for %s", def)
		}
	}
	words := strings.Join(strings.Fields(string(page)), " ")
	for c := condition.ExposedCord; ; c++ {
		if _, err := c.MarshalText(); err != nil {
			break
		}
		if !strings.Contains(words, c.String()) {
			t.Errorf("the page does not have %q", c)
		}
	}
	if n := len(strings.Split(string(page), "\n")); n > 260 {
		t.Errorf("%d lines are no page any more", n)
	}
}
