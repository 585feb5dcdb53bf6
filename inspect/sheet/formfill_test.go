package sheet_test

import (
	"bytes"
	"strings"
	"testing"

	"axleend.example/inspect/record"
	"axleend.example/inspect/sheet"
)

func formOf(t *testing.T, text string) string {
	t.Helper()
	v, err := record.Read("v.yaml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := sheet.Form(&b, v); err != nil {
		t.Fatal(err)
	}
	return strings.Join(strings.Fields(styles.ReplaceAllString(b.String(), "")), " ")
}

// TestFormPrintsWhatIsKnown: what all tires share stands once, and a tire that differs in
// a row of its own; what an axle's tires were all last set to stands with the axle; what
// nobody read leaves room.
func TestFormPrintsWhatIsKnown(t *testing.T) {
	t.Parallel()
	const head = "visit: 1\ndate: 2026-10-03\ncoach: an invented coach\nodometer: not read\naxles: [{id: steer, fitment: single, gawr: 9500 lb, placard: 100 psi, torque_asked: 475 ft-lb}, {id: tag, fitment: single}]\n"
	tires := func(own ...string) string {
		text := "tires:\n"
		for i, at := range []string{"steer-left", "steer-right", "tag-left", "tag-right"} {
			text += "  - {at: " + at + own[i] + "}\n"
		}
		return text
	}
	count := func(page, value string) int { return strings.Count(page, ">"+value+"<") }
	const size, other = ", size: XQ1", ", size: XQ2"
	for name, c := range map[string]struct {
		text       string
		one, two   int // how often each size is printed
		set100     int // and 100 psi, which the placard has once
		setAnother int // and 90 psi
	}{
		"nothing known":         {head + tires("", "", "", ""), 0, 0, 1, 0},
		"one size":              {head + tires(size, size, size, size), 1, 0, 1, 0},
		"said once":             {head + "every_tire: {size: XQ1}\n" + tires("", "", "", ""), 1, 0, 1, 0},
		"one differs":           {head + "every_tire: {size: XQ1}\n" + tires("", other, "", ""), 1, 1, 1, 0},
		"the first differs":     {head + tires(other, size, size, size), 3, 1, 1, 0},
		"the last differs":      {head + tires(size, size, size, other), 3, 1, 1, 0},
		"one not read":          {head + tires(size, size, size, ""), 3, 0, 1, 0},
		"last set":              {head + tires(", last_set: 100 psi", ", last_set: 100 psi", ", last_set: 90 psi", ", last_set: 90 psi"), 0, 0, 2, 1},
		"last set, one differs": {head + tires(", last_set: 100 psi", ", last_set: 90 psi", ", last_set: 90 psi", ", last_set: 90 psi"), 0, 0, 1, 1},
		"last set, one unknown": {head + tires(", last_set: 100 psi", "", ", last_set: 90 psi", ", last_set: not read"), 0, 0, 1, 0},
	} {
		page := formOf(t, c.text)
		if one, two, set, another := count(page, "XQ1"), count(page, "XQ2"), count(page, "100 psi"), count(page, "90 psi"); one != c.one || two != c.two || set != c.set100 || another != c.setAnother {
			t.Errorf("%s: sizes %d and %d times, 100 psi %d and 90 psi %d, want %+v", name, one, two, set, another, c)
		}
		if !strings.Contains(page, "<title>") || count(page, "not read") != 0 || count(page, "475 ft-lb") != 1 || count(page, "9500 lb") != 1 || !strings.Contains(page, "an invented coach") {
			t.Errorf("%s: what is known is not printed, or what nobody read is", name)
		}
	}
	if _, err := record.Read("v.yaml", []byte(head)); err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := sheet.Form(&b, &record.Visit{}); err == nil || b.Len() != 0 {
		t.Errorf("a form of no visit: %v", err)
	}
	if err := sheet.Form(full{}, &record.Visit{Version: 1, Date: visited, Axles: []record.Axle{{ID: "steer", Fitment: 1}}}); err == nil {
		t.Error("the writer's error is lost")
	}
}

// TestFormTurnsToTwoPages: nine tires and more, a towed unit's and spares counted.
func TestFormTurnsToTwoPages(t *testing.T) {
	t.Parallel()
	const head = "visit: 1\ndate: 2026-10-03\naxles: [{id: steer, fitment: single}, {id: drive, fitment: dual}"
	for axles, long := range map[string]bool{"]\ntires: [{at: spare}, {at: spare-2}]\n": false, "]\ntires: [{at: spare}, {at: spare-2}, {at: spare-3}]\n": true, ", {id: tag, fitment: single}]\n": false, ", {id: tag, fitment: single}]\ntires: [{at: spare}]\n": true, ", {id: car, fitment: dual, towed: yes}]\n": true} {
		page := formOf(t, head+axles)
		if got := strings.Contains(page, `<article class="sheet form long"`); got != long {
			t.Errorf("%s: long %v, want %v", axles, got, long)
		}
	}
}
