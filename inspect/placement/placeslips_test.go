package placement_test

import (
	"encoding/json"
	"os"
	"slices"
	"strings"
	"testing"

	"axleend.example/inspect/placement"
	"axleend.example/inspect/report"
	"axleend.example/internal/visittest"
)

// TestSlipsArePlacedWithAQuestion: where loads and ratings rest on a figure that can
// hardly be, the placement says what to read again.
func TestSlipsArePlacedWithAQuestion(t *testing.T) {
	_, setup := visittest.Demo(t)
	data, err := os.ReadFile("../../examples/wheels/pair.yaml")
	if err != nil {
		t.Fatal(err)
	}
	find := func(text string) placement.Placement {
		t.Helper()
		p, err := placement.Find(t.Context(), visittest.Read(t, text), setup)
		if err != nil {
			t.Fatal(err)
		}
		return p
	}
	again := func(p placement.Placement) (where, need string) {
		i := slices.IndexFunc(p.Unjudged, func(g report.NotJudged) bool { return strings.HasPrefix(g.Need, "read again ") })
		if i < 0 {
			return "", ""
		}
		return p.Unjudged[i].Where, p.Unjudged[i].Need
	}
	sound := find(string(data))
	if where, need := again(sound); where != "" || need != "" {
		t.Fatalf("%s: %s", where, need)
	}
	for _, x := range []struct{ old, new, where, need string }{
		{" 4000 lb, on", " 4.000 lb, on", "weighing", "read again the scale's reading of steer-left"},
		{"single: 4940 lb", "single: 49400 lb", "steer-left", "read again the load on its sidewall, which is above its axle's GAWR"},
		{"gvwr: 24000 lb", "gvwr: 24.000 lb", "coach", "read again its GVWR"},
		{"dual: 4540 lb", "dual: 9080 lb", "steer-left", "read again this: stamps on its sidewall contradict each other"},
	} {
		text := strings.Replace(string(data), x.old, x.new, 1)
		p := find(text)
		if where, need := again(p); text == string(data) || where != x.where || need != x.need {
			t.Errorf("%s: %s: %s", x.new, where, need)
		}
		if p.NotJudged <= sound.NotJudged || p.NotJudged != len(p.TooClose)+len(p.Unjudged) {
			t.Errorf("%s: %d not judged, %d without the slip", x.new, p.NotJudged, sound.NotJudged)
		}
	}
}

// TestFoundOfNutsAndGaugesMovesNoWheel: what was found of nuts, a sensor or the gauge is
// the same wherever the tires run, and no reason to move or buy one.
func TestFoundOfNutsAndGaugesMovesNoWheel(t *testing.T) {
	_, setup := visittest.Demo(t)
	data, err := os.ReadFile("../../examples/wheels/pair.yaml")
	if err != nil {
		t.Fatal(err)
	}
	find := func(text string) string {
		t.Helper()
		p, err := placement.Find(t.Context(), visittest.Read(t, text), setup)
		if err != nil {
			t.Fatal(err)
		}
		out, err := json.Marshal(p)
		if err != nil {
			t.Fatal(err)
		}
		return string(out)
	}
	visit := string(data)
	sound := find(visit)
	for _, x := range [][2]string{
		{"id: drive,", "id: drive, torque_asked: 475 ft-lb, torque_applied: 400 ft-lb,"},
		{"id: steer,", "id: steer, torque_applied: 400 ft-lb,"},
		{"found: 100 psi, tread: 11/32 in", "found: 100 psi, sensor_reading: 40 psi, tread: 11/32 in"},
		{"gauge_step: 5 psi", "gauge_step: 5 psi\nodometer: 41250 mi\ntorque_due: 41250 mi"},
		{"gauge_step: 5 psi", "gauge_step: 5 psi\ngauge_checked: 2019-10-03"},
	} {
		text := strings.Replace(visit, x[0], x[1], 1)
		if got := find(text); text == visit || got != sound {
			t.Errorf("%s: got\n%s\nwant\n%s", x[1], got, sound)
		}
	}
}
