package main

import (
	"bytes"
	"context"
	"fmt"
	"io"

	"axleend.example/inspect"
	"axleend.example/inspect/batch"
	"axleend.example/inspect/history"
	"axleend.example/inspect/placement"
	"axleend.example/inspect/record"
	"axleend.example/rules"
	"axleend.example/weight"
)

// compareGrowth has nothing to compare with but the smaller of the same: how the
// work grows with tires, rules, visits of one coach, and visits of many. Readings
// and items of cargo have benchmarks of their own, in weight and weight/cargo.
func compareGrowth() ([]bench, []string, error) {
	c, err := newCoaches()
	if err != nil {
		return nil, nil, err
	}
	var benches []bench
	for _, grow := range []struct {
		name, per string
		sizes     []int
		way       func(n int) (func() error, error)
	}{
		{"a visit assessed, tires on the coach", "visit", []int{2, 6, 10, 22, 46}, c.assessing},
		{"one tire held to rules, mostly kept", "tire", []int{10, 100, 1_000, 10_000}, judging},
		{"tires placed and assessed again, tires on the coach", "placement", []int{6, 10, 14}, c.placing},
		{"a history with its assessments, other tires each time, visits", "history", []int{10, 100, 1_000}, c.remembering},
		{"a batch, one worker, visits", "batch", []int{1, 100, 10_000}, c.batching},
	} {
		b := bench{name: grow.name, per: grow.per, of: 1}
		for _, n := range grow.sizes {
			do, err := grow.way(n)
			if err != nil {
				return nil, nil, fmt.Errorf("%s, %d: %w", grow.name, n, err)
			}
			b.ways = append(b.ways, way{fmt.Sprint(n), do})
		}
		benches = append(benches, b)
	}
	return benches, nil, nil
}

// coachOn is a visit to a coach on so many tires: two on the steer axle, four on
// each other one, of different tread.
func coachOn(tires int) (*record.Visit, error) {
	v, err := record.Read("ten.yaml", tenYAML)
	if err != nil {
		return nil, err
	}
	drive, some := v.Axles[1], v.Tires
	v.Axles, v.Tires, v.Weighing.Readings = v.Axles[:1], nil, v.Weighing.Readings[:2]
	for i := 1; 4*i+2 <= tires; i++ {
		ax := drive
		ax.ID, ax.Behind = fmt.Sprintf("a%d", i), record.Record(weight.Length(200+40*i)*weight.Inch)
		v.Axles = append(v.Axles, ax)
		for _, side := range []weight.Side{weight.Left, weight.Right} {
			v.Weighing.Readings = append(v.Weighing.Readings, record.Reading{Load: 5000 * weight.Pound, On: []string{record.EndName(ax.ID, side)}})
		}
	}
	v.Ratings = record.Ratings{}
	l, err := v.Layout()
	if err != nil {
		return nil, err
	}
	for i, wheel := range l.Wheels {
		t := some[i%len(some)]
		t.At = wheel.Name
		t.Tread = record.Record(record.Treads{Anywhere: []weight.Length{weight.Length(7+i%5) * record.ThirtySecond}})
		v.Tires = append(v.Tires, t)
	}
	if len(v.Tires) != tires {
		return nil, fmt.Errorf("a coach on %d tires: there are %d", tires, len(v.Tires))
	}
	return v, nil
}

func (c *coaches) assessing(n int) (func() error, error) {
	v, err := coachOn(n)
	return func() error {
		r, err := inspect.Assess(v, c.setup)
		if err == nil && len(r.Tires) != n {
			err = fmt.Errorf("%d tires are in the report", len(r.Tires))
		}
		return err
	}, err
}

func (c *coaches) placing(n int) (func() error, error) {
	v, err := coachOn(n)
	return func() error {
		p, err := placement.Find(context.Background(), v, c.setup)
		if err == nil && len(p.Places) != n {
			err = fmt.Errorf("%d places are filled", len(p.Places))
		}
		return err
	}, err
}

// judging has one rule in twenty broken.
func judging(n int) (func() error, error) {
	const inPack = 1000
	var packs []rules.Pack
	for from := 0; from < n; from += inPack {
		var list []string
		for i := from; i < min(n, from+inPack); i++ {
			list = append(list, bound{value: i % measures, rating: (i + i/measures) % measures, share: int64(100 - 99*min(i%20, 1) + 900*min(i%20, 1))}.rule())
		}
		pack, err := loadPack(fmt.Sprintf("compared-%d", from/inPack), list)
		if err != nil {
			return nil, err
		}
		packs = append(packs, pack)
	}
	v, err := vocabulary(measureNames()...)
	if err != nil {
		return nil, err
	}
	program, err := rules.Compile(v, packs...)
	if err != nil {
		return nil, err
	}
	facts, err := v.NewFacts("thing", "one")
	if err != nil {
		return nil, err
	}
	for _, name := range measureNames() {
		count := int64(1000)
		if name[0] == 'r' {
			count = 999
		}
		if err := facts.SetByName(name, rules.Quantity(count)); err != nil {
			return nil, err
		}
	}
	room := make([]rules.Finding, 0, n)
	return func() (err error) {
		var kept int
		room, kept, err = program.AppendNotKept(room[:0], facts)
		if err == nil && (len(room)+kept != n || len(room) != (n+19)/20) {
			err = fmt.Errorf("%d not kept and %d kept", len(room), kept)
		}
		return err
	}, nil
}

// remembering has visits of one coach, ten days apart.
func (c *coaches) remembering(n int) (func() error, error) {
	visits := make([]*record.Visit, n)
	for i := range visits {
		v := *c.visits[i%coachCount]
		v.Coach, v.Date = "Invented coach", v.Date.AddDays(10*i)
		v.Odometer = record.Record(weight.Length(40_000+200*i) * weight.Mile)
		visits[i] = &v
	}
	return func() error {
		h, err := history.Compare(visits, c.setup)
		if err == nil && len(h.Visits) != n {
			err = fmt.Errorf("%d visits are in the history", len(h.Visits))
		}
		return err
	}, nil
}

func (c *coaches) batching(n int) (func() error, error) {
	var in bytes.Buffer
	for i := range n {
		in.Write(append(c.lines[i%coachCount], '\n'))
	}
	return func() error {
		res, err := batch.Run(context.Background(), bytes.NewReader(in.Bytes()), io.Discard, c.setup, batch.Options{Workers: 1})
		if err == nil && (res.Records != n || res.Bad > 0) {
			err = fmt.Errorf("%+v", res)
		}
		return err
	}, nil
}
