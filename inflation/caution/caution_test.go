package caution_test

import (
	"encoding/json"
	"errors"
	"testing"

	"axleend.example/inflation/caution"
)

func TestCautions(t *testing.T) {
	var all caution.Set
	n := 0
	seen := map[string]bool{}
	for c := caution.ColdOnly; c.Text() != ""; c++ {
		if seen[c.String()] || seen[c.Text()] || all.Has(c) {
			t.Errorf("%s twice", c)
		}
		seen[c.String()], seen[c.Text()] = true, true
		all = all.With(c)
		n++
	}
	if last := caution.NoData; n != int(last)+1 || (last+1).String() != "not known" {
		t.Errorf("%d cautions", n)
	}
	data, err := json.Marshal(all)
	var back caution.Set
	if err = errors.Join(err, json.Unmarshal(data, &back)); err != nil || back != all {
		t.Errorf("%s reads back as %v, %v", data, back, err)
	}
	for range all.All() {
		break
	}
	if data, err = json.Marshal(caution.Set(0)); string(data) != "[]" || err != nil {
		t.Errorf("none: %s %v", data, err)
	}
	for _, text := range []string{`["no such"]`, `"cold-only"`, `[1]`} {
		if err := json.Unmarshal([]byte(text), &back); err == nil || back != all {
			t.Errorf("%s: %v", text, err)
		}
	}
}
