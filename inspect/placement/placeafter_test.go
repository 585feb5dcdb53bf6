package placement_test

import (
	"cmp"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"axleend.example/inflation"
	"axleend.example/inspect"
	"axleend.example/inspect/placement"
	"axleend.example/inspect/record"
	"axleend.example/inspect/record/condition"
	"axleend.example/inspect/report"
	"axleend.example/internal/testsize"
	"axleend.example/internal/visittest"
)

// carriedOut is the visit after the work, written out anew from what was proposed.
// A tire whose axle waits for others is set to what most were found at.
func (x trial) carriedOut(r placement.Placement) *record.Visit {
	v := *x.visit
	v.Tires = nil
	set := map[string]inflation.Pressure{}
	for _, s := range r.Set {
		set[s.Axle] = s.Set
	}
	onto := map[string]string{}
	for _, m := range r.Moves {
		if m.Demount {
			onto[m.To] = m.OntoWheel
		}
	}
	for i, l := range r.Places {
		if l.Tire == "" {
			continue
		}
		t := x.visit.Tires[x.index(l.Tire)]
		t.At = l.At
		if w := onto[l.At]; w != "" {
			from := x.visit.Tires[x.index(w)]
			t.Wheel, t.WheelFits = from.Wheel, from.WheelFits
			own, _ := t.Seen.Get()
			its, _ := from.Seen.Get()
			valve := condition.Set(0).With(condition.ValveLeaking)
			t.Seen = record.Record(own&^valve | its&valve)
		}
		if side, ok := t.Rotates.Get(); ok && side != record.EitherSide && x.spots[i].road() {
			if t.Rotates = record.Record(record.OnRight); x.spots[i].left {
				t.Rotates = record.Record(record.OnLeft)
			}
		}
		if x.spots[i].road() {
			p := cmp.Or(set[x.spots[i].axle], 100*inflation.PSI)
			t.LastSet, t.Found, t.LeftAt = record.Record(p), record.Record(p), record.Record(p)
		}
		v.Tires = append(v.Tires, t)
	}
	v.Cold, v.NothingSinceSet = record.Record(true), record.Record(true)
	return &v
}

// urgent are the rules that stop the coach, 2, or ask for something before the
// trip, 1, by subject. That a tread or date code was not read goes along with its
// tire, and stands under what was not judged.
func urgent(r report.Report) map[[2]string]int {
	out := map[[2]string]int{}
	for _, it := range r.Todo {
		for _, rule := range it.Rules {
			k := [2]string{rule, it.Where}
			switch {
			case rule == "coach-care/not-looked-at":
			case it.Stops:
				out[k] = 2
			case it.Action == report.BeforeTrip:
				out[k] = max(out[k], 1)
			}
		}
	}
	return out
}

// TestAfterTheWork: assessed again as a visit after the work, what was proposed
// has nothing that stops the coach or comes before the trip that was not there, or
// was milder, of the same tire, axle or end; and nothing new that nobody can judge.
func TestAfterTheWork(t *testing.T) {
	sets := 1500
	if !testsize.Full() {
		sets = 100
	}
	r := rand.New(rand.NewPCG(11, 20261129))
	moved := 0
	for n := range sets {
		x := newTrial(r, n%3 == 0, 1+n%2)
		res := placed(t, x.visit, inspect.Setup{})
		if len(res.Moves) == 0 {
			continue
		}
		moved++
		found, err := inspect.Assess(x.visit, inspect.Setup{})
		if err != nil {
			t.Fatal(err)
		}
		after, err := inspect.Assess(x.carriedOut(res), inspect.Setup{})
		if err != nil {
			t.Fatal(err)
		}
		full := map[string]bool{"coach": len(res.Buy) == 0} // what waits for no tire to buy
		for _, s := range x.spots {
			if s.road() {
				bare := func(o spot) bool {
					return slices.ContainsFunc(res.Buy, func(b placement.TireToBuy) bool { return b.At == o.name })
				}
				full[s.name] = full[s.name] || !bare(s)
				full[s.end] = full[s.end] || !bare(s) && (s.mate < 0 || !bare(x.spots[s.mate]))
				full[s.axle] = !slices.ContainsFunc(x.spots, func(o spot) bool { return o.axle == s.axle && bare(o) })
			}
		}
		tireAt := func(where string) string {
			for _, l := range res.Places {
				if l.At == where && l.Tire != "" {
					return l.Tire
				}
			}
			from := []string{}
			for i, s := range x.spots {
				if at := res.Places[i]; s.end == where && s.mate >= 0 && at.Tire != "" {
					from = append(from, x.spots[x.index(at.Tire)].end)
				}
			}
			if len(from) == 2 && from[0] == from[1] && from[0] != "" {
				return from[0] // a pair that stays one
			}
			return where
		}
		before := urgent(found)
		for k, now := range urgent(after) {
			ofWheel := slices.ContainsFunc(res.Moves, func(m placement.WheelMove) bool {
				return m.To == k[1] && now == 1 && before[[2]string{k[0], m.OntoWheel}] == 1 // a valve to see to
			})
			if full[k[1]] && !ofWheel && now > before[[2]string{k[0], tireAt(k[1])}] {
				t.Errorf("set %d: %s of %s, found at %s, %d before, %d after", n, k[0], k[1], tireAt(k[1]), before[[2]string{k[0], tireAt(k[1])}], now)
			}
		}
		for _, p := range res.Price {
			if p.Stops && !record.IsSpare(p.Where) || p.Action == report.BeforeTrip && !record.IsSpare(p.Where) {
				t.Errorf("set %d: not a price: %+v", n, p)
			}
		}
		if t.Failed() {
			t.Fatalf("%+v", res.Moves)
		}
	}
	if moved < sets/10 {
		t.Errorf("only %d of %d sets moved", moved, sets)
	}
}

// TestHotDayForbidsNoMove: air that can hardly be is asked again, and says nothing of
// where a tire goes.
func TestHotDayForbidsNoMove(t *testing.T) {
	for _, air := range []string{"130 F", "140 F"} {
		page := strings.Replace(wheels(false, map[string]string{"steer-left": "tread: 1/32 in", "spare": ""}), "axles:", "air_temperature: "+air+"\naxles:", 1)
		if r := placed(t, visittest.Read(t, page), inspect.Setup{}); r.Outcome != placement.MoveWheels || len(r.Moves) != 1 {
			t.Errorf("%s: %s, %+v", air, r.Outcome, r.Moves)
		}
	}
}

// TestReadHotIsSetCold: that tires were read hot is no news of what was set cold after the
// work.
func TestReadHotIsSetCold(t *testing.T) {
	t.Parallel()
	text := wheels(false, map[string]string{"steer-left": "seen: [bulge]", "drive-right-inner": "tread: 5/32 in", "spare": ""})
	want := moves(placed(t, visittest.Read(t, text), inspect.Setup{}))
	for _, hot := range []string{"stood: 30 min\n", "cold: no\n", "stood: 30 min\nmoved: yes\n"} {
		r := placed(t, visittest.Read(t, strings.Replace(text, "visit: 1\n", "visit: 1\n"+hot, 1)), inspect.Setup{})
		if moves(r) != want || want == "" {
			t.Errorf("%q: %s, want %s; not proposed: %s", hot, moves(r), want, r.NotProposed)
		}
	}
}
