package cargo

import (
	"fmt"
	"math/big"

	"axleend.example/internal/word"
	"axleend.example/weight"
)

// bind writes everything to keep as bounds, and what each item does to them.
func (m *mover) bind(trip Trip, stage int, task Task) error {
	b := &binder{mover: m, home: len(m.stations)}
	for _, s := range m.stations {
		r, err := trip.model.at(s)
		if err != nil {
			return fmt.Errorf("station %s: %w", word.Quote(s.Name), err)
		}
		b.reply = append(b.reply, r)
	}
	for _, l := range task.Limits {
		e := trip.At(stage, l.On)
		if !judged(l.On) || !e.Known() || l.Rating <= 0 {
			m.notJudged = append(m.notJudged, l.Name)
			continue
		}
		if err := b.set(l.Name, new(big.Rat).Sub(ratOf(l.Rating), ratOf(e.AtMost())), l.On, 1); err != nil {
			return err
		}
	}
	for _, l := range task.LeastLoads {
		e := trip.At(stage, l.On)
		if !judged(l.On) || !e.Known() {
			m.notJudged = append(m.notJudged, l.Name)
			continue
		}
		if err := b.set(l.Name, new(big.Rat).Sub(ratOf(e.AtLeast()), ratOf(l.Load)), l.On, -1); err != nil {
			return err
		}
	}
	if err := b.stations(); err != nil {
		return err
	}
	if err := b.tongue(task.Tongue); err != nil {
		return err
	}
	return b.table()
}

// judged reports whether a plan can say what rests on a set: whole ends.
func judged(on weight.Set) bool {
	var e ends
	_, ok := e.on(on)
	return ok
}

// binder collects the bounds with what a unit of load at each station, and at
// home, puts on them: share/den.
type binder struct {
	*mover
	home  int
	reply []*response
	share [][]*big.Int
	den   []*big.Int
}

// add writes a bound down.
func (b *binder) add(name string, slack *big.Rat, per func(station int) *big.Rat) error {
	s := new(big.Int).Div(slack.Num(), slack.Denom()) // down
	if !s.IsInt64() || s.BitLen() > 62 {
		return outOfRange("room under " + word.Clip(name))
	}
	rats, den, t := make([]*big.Rat, b.home), big.NewInt(1), new(big.Int)
	for i := range rats {
		rats[i] = per(i)
		den.Mul(den, t.Quo(rats[i].Denom(), t.GCD(nil, nil, den, rats[i].Denom())))
	}
	share := make([]*big.Int, b.home+1)
	for i, r := range rats {
		share[i] = new(big.Int).Mul(r.Num(), t.Quo(den, r.Denom()))
	}
	share[b.home] = new(big.Int)
	b.bounds = append(b.bounds, bound{name, s.Int64()})
	b.share, b.den = append(b.share, share), append(b.den, den)
	return nil
}

// set bounds the load on a set, from above (sign 1) or from below (-1).
func (b *binder) set(name string, slack *big.Rat, on weight.Set, sign int64) error {
	return b.add(name, slack, func(i int) *big.Rat {
		v, _ := b.reply[i].ends.on(on)
		return v.Mul(v, big.NewRat(sign, 1))
	})
}

// stations bounds what each station holds.
func (b *binder) stations() error {
	for i, s := range b.mover.stations {
		if s.Most <= 0 {
			continue
		}
		spare := s.Most
		for k, it := range b.items {
			if b.at[k] == i {
				spare -= it.Mass
			}
		}
		if err := b.add("station limit, "+s.Name, ratOf(spare), func(j int) *big.Rat {
			if i == j {
				return big.NewRat(1, 1)
			}
			return new(big.Rat)
		}); err != nil {
			return err
		}
	}
	return nil
}

// tongue bounds the tongue's share: it must hold for the least and for the most
// that the towed unit may weigh.
func (b *binder) tongue(t *TongueLimit) error {
	if t == nil {
		return nil
	}
	if !t.Weight.Known() || !t.Towed.Known() {
		b.notJudged = append(b.notJudged, "tongue")
		return nil
	}
	low, high := big.NewRat(int64(t.Band.Low), int64(weight.Whole)), big.NewRat(int64(t.Band.High), int64(weight.Whole))
	per := func(share *big.Rat, sign int64) func(int) *big.Rat {
		return func(i int) *big.Rat {
			v := new(big.Rat)
			if b.mover.stations[i].Towed {
				v.Sub(&b.reply[i].hitch, share)
			}
			return v.Mul(v, big.NewRat(sign, 1))
		}
	}
	upper := new(big.Rat).Mul(high, ratOf(t.Towed.AtLeast()))
	if err := b.add("tongue, most", upper.Sub(upper, ratOf(t.Weight.AtMost())), per(high, 1)); err != nil {
		return err
	}
	lower := new(big.Rat).Mul(low, ratOf(t.Towed.AtMost()))
	return b.add("tongue, least", lower.Sub(ratOf(t.Weight.AtLeast()), lower), per(low, -1))
}

// table writes what each item does to each bound at each place, in whole
// nanograms, rounded up.
func (b *binder) table() error {
	nb := len(b.bounds)
	b.effects = make([]int64, len(b.items)*(b.home+1)*nb)
	d, rest := new(big.Int), new(big.Int)
	for k, it := range b.items {
		mass := big.NewInt(int64(it.Mass))
		for to := range b.home + 1 {
			row := b.on(k, to)
			for i := range row {
				d.Sub(b.share[i][to], b.share[i][b.at[k]])
				if d.Sign() == 0 {
					continue
				}
				d.DivMod(d.Mul(d, mass), b.den[i], rest)
				if d.BitLen() > 56 { // 60 of them, less the least of each, stay in 63 bits
					return outOfRange("moving " + word.Clip(it.Name))
				}
				row[i] = d.Int64() + int64(rest.Sign())
			}
		}
	}
	return nil
}
