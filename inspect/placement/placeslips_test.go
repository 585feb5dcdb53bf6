package placement_test

import (
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
