package inspect_test

import (
	"testing"

	"axleend.example/inspect/record"
	"axleend.example/internal/visittest"
)

// TestLookUpByName: every line of a report is the one that its name finds, and
// no other: an axle has no name that a whole could have.
func TestLookUpByName(t *testing.T) {
	v, _ := visittest.Demo(t)
	r := visittest.Assess(t, v)
	for i := range r.Axles {
		if r.Axle(r.Axles[i].ID) != &r.Axles[i] {
			t.Errorf("axle %s is another", r.Axles[i].ID)
		}
	}
	for i := range r.Loads {
		if r.Load(r.Loads[i].Name) != &r.Loads[i] {
			t.Errorf("load %s is another", r.Loads[i].Name)
		}
	}
	for i := range r.Settings {
		if r.Setting(r.Settings[i].Name) != &r.Settings[i] {
			t.Errorf("setting %s is another", r.Settings[i].Name)
		}
	}
	for i := range r.Tires {
		if r.Tire(r.Tires[i].At) != &r.Tires[i] {
			t.Errorf("tire %s is another", r.Tires[i].At)
		}
	}
	for i := range r.Pairs {
		if r.Pair(r.Pairs[i].Name) != &r.Pairs[i] {
			t.Errorf("pair %s is another", r.Pairs[i].Name)
		}
	}
	if r.Tire("drive") != nil || r.Load("") != nil || r.Setting("drive-left") != nil || r.Axle("coach") != nil || r.Pair("steer-left") != nil {
		t.Error("a name that no line has finds one")
	}
	if _, err := record.Read("v.yaml", []byte("visit: 1\ndate: 2026-10-03\naxles: [{id: combination, fitment: single}]\ntires: [{at: combination-left}]\n")); err == nil {
		t.Error("an axle may be called as the combination is")
	}
}
