package main

import (
	"bytes"
	"strings"
	"testing"
	"time"

	"axleend.example/weight"
)

// TestAnswersAreEqual is the command as the check runs it.
func TestAnswersAreEqual(t *testing.T) {
	var out, errw bytes.Buffer
	if got := run([]string{"-check"}, &out, &errw); got != 0 || errw.Len() > 0 {
		t.Fatalf("exit status %d: %s", got, errw.String())
	}
	if got := strings.Count(out.String(), "answers checked"); got != len(groups) {
		t.Errorf("%d groups, want %d:\n%s", got, len(groups), out.String())
	}
	if strings.Contains(out.String(), "CPU") {
		t.Errorf("something was timed:\n%s", out.String())
	}
}

// TestOtherAnswersAreNoticed: each comparison fails where one side gets something
// else.
func TestOtherAnswersAreNoticed(t *testing.T) {
	some := func(i int) bool { return i%4 < 2 }
	e, err := newEvaluators(some)
	if err != nil {
		t.Fatal(err)
	}
	if err := e.same(func(i int) bool { return some(i) && i != 40 }); err == nil {
		t.Error("a bound that was thought kept is broken, and nobody noticed")
	}
	e.exprEnv["v3"] = int64(99_999)
	if err := e.same(some); err == nil {
		t.Error("expr had another value, and nobody noticed")
	}

	l, err := newLookups()
	if err != nil {
		t.Fatal(err)
	}
	l.decimals.pounds[7] = l.decimals.pounds[7].Add(hundredth)
	if _, err := l.same(); err == nil {
		t.Error("a row was another, and nobody noticed")
	}

	rig, plates := fourCorners()
	w := newWeighing(rig, plates, []weight.Mass{5000, 5100, 8000, 8100}, make([]weight.Mass, 4))
	w.b.SetVec(0, w.b.AtVec(0)+1)
	if _, err := w.same(); err == nil {
		t.Error("a reading was another, and nobody noticed")
	}

	c, err := newCoaches()
	if err != nil {
		t.Fatal(err)
	}
	c.lines[3] = bytes.Replace(c.lines[3], []byte(`"date":`), []byte(`"day":`), 1)
	if err := c.same(); err == nil {
		t.Error("plain structs lost a key, and nobody noticed")
	}
}

func TestByHandRefuses(t *testing.T) {
	for _, code := range []string{"0013", "5413", "ab13", "13x1"} {
		if got, err := byHand(code); err == nil {
			t.Errorf("%s is %v, want an error", code, got)
		}
	}
}

func TestTable(t *testing.T) {
	var out, errw bytes.Buffer
	if got := run([]string{"-only", "dates", "-turns", "3", "-for", "1ms"}, &out, &errw); got != 0 || errw.Len() > 0 {
		t.Fatalf("exit status %d: %s", got, errw.String())
	}
	for _, want := range []string{"3 turns of 1ms CPU each", "CPU ns for one code", "time.Parse", "1.00 (1.00 to 1.00)"} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("%q is not in\n%s", want, out.String())
		}
	}
}

func TestMisuse(t *testing.T) {
	for _, args := range [][]string{{"-only", "dates,tires"}, {"-turns", "0"}, {"-for", "0"}, {"dates"}, {"-fast"}} {
		var out, errw bytes.Buffer
		if got := run(args, &out, &errw); got != 2 || errw.Len() == 0 || out.Len() > 0 {
			t.Errorf("%q: exit status %d, %q, %q", args, got, out.String(), errw.String())
		}
	}
}

func TestSpread(t *testing.T) {
	got := spread([]sample{{ns: 3}, {ns: 9}, {ns: 1}, {ns: 2}, {ns: 7}}, func(k int) float64 { return []float64{3, 9, 1, 2, 7}[k] })
	if got != [3]float64{1, 3, 9} {
		t.Errorf("least, middle and most: %v", got)
	}
}

// TestMeter: what takes CPU time is seen to, and what it allocates.
func TestMeter(t *testing.T) {
	m := newMeter(1, time.Millisecond)
	defer m.close()
	var kept [][]byte
	s, err := m.sample(way{"", func() error {
		for start := cpuTime(); cpuTime()-start < 5*time.Millisecond; {
			kept = append(kept[:0], make([]byte, 1000))
		}
		return nil
	}}, 2)
	if err != nil || s.ns < 1e7 || s.allocs < 2 || s.bytes < 2000 {
		t.Errorf("%+v, %v", s, err)
	}
}
