package placement_test

import (
	"context"
	"encoding/json"
	"os"
	"slices"
	"testing"

	"axleend.example/inspect"
	"axleend.example/inspect/placement"
	"axleend.example/inspect/record"
)

// FuzzPlaceTires: whatever a visit says, places are found or refused; each tire
// is in one place or goes nowhere, no place is forgotten, and the JSON reads
// back.
func FuzzPlaceTires(f *testing.F) {
	for _, name := range []string{"demo/visit", "demo/trip", "wheels/pair", "wheels/tag"} {
		data, err := os.ReadFile("../../examples/" + name + ".yaml")
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	f.Add([]byte("visit: 1\ndate: 2026-10-03\naxles: [{id: a, fitment: dual}]\ntires: [{at: spare}, {at: spare-2, seen: bulge}]\n"))
	f.Add([]byte("visit: 1\ndate: 2026-10-03\naxles: [{id: a, fitment: dual, gawr: 1 lb}, {id: b, fitment: single, towed: yes}]\ntires: [{at: a-left-inner, rotates: right, wheel_fits: outer, tread: 0 in}]\nweighing: {as_driven: all, readings: [{load: 0 lb, on: a}]}\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		v, err := record.Read("visit.yaml", data)
		if err != nil || len(v.Tires) > 8 {
			return
		}
		r, err := placement.Find(context.Background(), v, inspect.Setup{})
		if err != nil {
			return
		}
		seen := map[string]int{}
		for _, p := range r.Places {
			if p.Tire != "" {
				seen[p.Tire]++
			}
		}
		for _, o := range r.Out {
			seen[o.Tire]++
		}
		for _, p := range r.Places {
			if seen[p.At] != 1 {
				t.Errorf("the tire of %s is in %d places", p.At, seen[p.At])
			}
			if p.Tire == "" && len(p.At) > 6 && !slices.ContainsFunc(r.Buy, func(b placement.TireToBuy) bool { return b.At == p.At }) && p.At[:5] != "spare" {
				t.Errorf("%s has no tire and none is to be bought", p.At)
			}
		}
		one, err := json.Marshal(r)
		if err != nil {
			t.Fatal(err)
		}
		var back placement.Placement
		if err := json.Unmarshal(one, &back); err != nil {
			t.Fatal(err)
		}
		if two, err := json.Marshal(back); err != nil || string(one) != string(two) {
			t.Errorf("%v: reads back otherwise", err)
		}
	})
}
