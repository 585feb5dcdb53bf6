package inspect_test

import (
	"math/rand/v2"
	"regexp"
	"slices"
	"strings"
	"testing"

	"axleend.example/inflation"
	"axleend.example/inspect"
	"axleend.example/inspect/record"
	"axleend.example/internal/visittest"
)

// mirrored is the coach with its left side on the right.
func mirrored(v *record.Visit) *record.Visit {
	m := *v
	m.Tires, m.Weighing.Readings, m.Trip.Stations = slices.Clone(v.Tires), slices.Clone(v.Weighing.Readings), slices.Clone(v.Trip.Stations)
	for i := range m.Tires {
		t := &m.Tires[i]
		t.At = otherSide(t.At)
		if side, ok := t.Rotates.Get(); ok && side == record.OnLeft {
			t.Rotates = record.Record(record.OnRight)
		} else if ok && side == record.OnRight {
			t.Rotates = record.Record(record.OnLeft)
		}
	}
	for i := range m.Weighing.Readings {
		on := slices.Clone(m.Weighing.Readings[i].On)
		for j := range on {
			on[j] = otherSide(on[j])
		}
		m.Weighing.Readings[i].On = on
	}
	for i := range m.Trip.Stations {
		m.Trip.Stations[i].Offset = -m.Trip.Stations[i].Offset
	}
	return &m
}

var (
	aSide   = regexp.MustCompile(`\b(left|right)\b`)
	ofASide = regexp.MustCompile(`-(left|right)\b|\b(left|right) (side|end)\b|; (left|right) [0-9]`)
	tied    = regexp.MustCompile(`( by [a-z ]+)?; heavier .*`)
)

// otherSide is the name of a place on the other side.
func otherSide(name string) string {
	return aSide.ReplaceAllStringFunc(name, func(side string) string {
		if side == "left" {
			return "right"
		}
		return "left"
	})
}

// onOtherSide is a report's lines with the places on the other side, in an order that no
// side decides. Of two alike ends either may be the heavier, of two alike
// limits either the lowest.
func onOtherSide(lines string, swap bool) []string {
	if swap {
		lines = ofASide.ReplaceAllStringFunc(lines, otherSide)
	}
	out := strings.Split(lines, "\n")
	for i := range out {
		out[i] = tied.ReplaceAllString(out[i], "")
	}
	slices.Sort(out)
	return out
}

// TestMirrored: a coach with its left side on the right gets the same answer, with its
// sides exchanged, also where some of it is not known.
func TestMirrored(t *testing.T) {
	t.Parallel()
	random := rand.New(rand.NewPCG(3, 20261130))
	for seed := range uint64(200) {
		c := visittest.NewCoach(30_000_000 + seed)
		v, setup := c.Write(), c.Setup()
		v.Packs = append(slices.Clone(v.Packs), "us-in-use")
		for range random.IntN(3) { // unlike the others
			switch tire := &v.Tires[random.IntN(len(v.Tires))]; random.IntN(6) {
			case 0:
				tire.Construction = record.Record(inflation.Bias)
			case 1:
				tire.Size = "AX260/75R20"
			case 2:
				tire.TreadType = record.Record(record.Winter)
			case 3:
				tire.LoadRange = "H"
			case 4:
				tire.Model = "another"
			case 5:
				tire.Retread = record.Record(true)
			}
		}
		for range random.IntN(20) {
			paths := visittest.Paths(v)
			if len(paths) == 0 {
				break
			}
			// What few say is left out as often as what many do.
			var kinds []string
			for _, p := range paths {
				kinds = append(kinds, p.Kind())
			}
			slices.Sort(kinds)
			kinds = slices.Compact(kinds)
			kind := kinds[random.IntN(len(kinds))]
			paths = slices.DeleteFunc(paths, func(p visittest.Path) bool { return p.Kind() != kind })
			v = paths[random.IntN(len(paths))].Without(v)
		}
		one, err1 := inspect.Assess(v, setup)
		other, err2 := inspect.Assess(mirrored(v), setup)
		if (err1 == nil) != (err2 == nil) {
			t.Errorf("coach %d: %v; mirrored: %v", seed, err1, err2)
		}
		if err1 != nil || err2 != nil {
			continue
		}
		want, got := onOtherSide(inLines(&one), true), onOtherSide(inLines(&other), false)
		if i := slices.IndexFunc(want, func(line string) bool { return !slices.Contains(got, line) }); i >= 0 {
			t.Errorf("coach %d: mirrored, no line says\n%s", seed, want[i])
			for _, line := range got {
				if !slices.Contains(want, line) {
					t.Logf("but this: %s", line)
				}
			}
		}
	}
}
