package inflation

import (
	"axleend.example/internal/word"
	"axleend.example/weight"
)

// A LoadState says how a load is known. The zero LoadState is not known.
type LoadState uint8

// The states.
const (
	// Weighed: read off a scale, or solved from readings.
	Weighed LoadState = iota + 1
	// Assumed: planned or guessed; it never takes a pressure below the placard.
	Assumed
)

var loadStates = word.List[LoadState]{Kind: "load state", Unknown: ErrWord, Words: []string{"", "weighed", "assumed"}}

// String gives "weighed", "assumed" or "not known".
func (s LoadState) String() string { return loadStates.String(s) }

// AppendText appends the word, and nothing for one not known. An unknown value
// is an error.
func (s LoadState) AppendText(dst []byte) ([]byte, error) { return loadStates.Append(dst, s) }

// MarshalText writes what [LoadState.AppendText] appends.
func (s LoadState) MarshalText() ([]byte, error) { return loadStates.Text(s) }

// UnmarshalText reads what [LoadState.MarshalText] writes.
func (s *LoadState) UnmarshalText(text []byte) error { return loadStates.Read(s, text) }

// A Load is what stands on an axle end, on a whole axle or on one tire, its
// worst-case plus/minus, and how it is known. The zero Load is not known; 0 lb
// weighed is a load.
type Load struct {
	// Load is what was read. It counts with its PlusMinus on top.
	Load weight.Mass `json:"load"`
	// PlusMinus is the whole doubt of Load, in the worst case.
	PlusMinus weight.Mass `json:"plus_minus,omitzero"`
	// State says how it is known; zero is not known, whatever Load says.
	State LoadState `json:"state,omitzero"`
	// OpenBelow says that Load is only the most it can be: an end of an axle that
	// was weighed as a whole.
	OpenBelow bool `json:"open_below,omitzero"`
	// AtLeast is what it surely is where OpenBelow.
	AtLeast weight.Mass `json:"at_least,omitzero"`
	// OpenAbove says that it may be more: a coach that was weighed without what
	// it carries on the road, or the one end of an axle that was weighed.
	OpenAbove bool `json:"open_above,omitzero"`
	// HeavierTire is the load of the heavier tire of a dual pair, where each of
	// the two was weighed by itself: the pressure is set for that tire. 0 is not
	// known. Each counts as carrying half then, and where HeavierTire is less
	// than half. On an axle it says nothing.
	HeavierTire weight.Mass `json:"heavier_tire,omitzero"`
	// HeavierPlusMinus is the whole doubt of HeavierTire.
	HeavierPlusMinus weight.Mass `json:"heavier_plus_minus,omitzero"`
}

// LoadOf is what a weighing says of an end, an axle or one wheel. What the
// readings do not settle, or leave below nothing, is not known; a load below
// nothing that may be 0 within its plus/minus is 0, with what remains of it.
func LoadOf(e weight.Estimate) Load {
	var state LoadState
	switch e.State {
	case weight.Determined, weight.Disputed:
		state = Weighed
	case weight.Assumed:
		state = Assumed
	}
	if state == 0 || e.AtMost() < 0 {
		return Load{}
	}
	load := max(e.Load, 0)
	return Load{Load: load, PlusMinus: e.AtMost() - load, State: state}
}

// WithDuals is the load of an end whose two tires were each weighed by itself.
// Where one of them is not known, it is l unchanged.
func (l Load) WithDuals(outer, inner weight.Estimate) Load {
	x, y := LoadOf(outer), LoadOf(inner)
	if l.State == 0 || x.State == 0 || y.State == 0 {
		return l
	}
	l.HeavierTire = max(x.Load, y.Load)
	l.HeavierPlusMinus = max(x.most(), y.most()) - l.HeavierTire
	return l
}

// most is the load with its plus/minus.
func (l *Load) most() weight.Mass { return l.Load + l.PlusMinus }

// least is what it surely is, its plus/minus counted as for the most.
func (l *Load) least() weight.Mass {
	if l.OpenBelow {
		return min(l.AtLeast, l.most())
	}
	return l.most()
}

func (l *Load) check() bool {
	return possibleLoad(l.Load) && possibleLoad(l.PlusMinus) && possibleLoad(l.AtLeast) && possibleLoad(l.HeavierTire) && possibleLoad(l.HeavierPlusMinus)
}

// An AxleLoad is what is known of one axle in one state of the coach: its two
// ends, or its total alone, or one end and the total. The zero AxleLoad is
// nothing at all.
type AxleLoad struct {
	// Left is the load of its left end.
	Left Load `json:"left,omitzero"`
	// Right is the load of its right end.
	Right Load `json:"right,omitzero"`
	// Total is the load of the whole axle.
	Total Load `json:"total,omitzero"`
}

// ends are the loads of both ends, and what they rest on: with one end and the
// total the other end is what remains, with both doubts; with the total alone
// both are 55 % of it, and at least half.
func (l *AxleLoad) ends(grid weight.Mass) (ends [2]Load, basis LoadFrom) {
	ends = [2]Load{l.Left, l.Right}
	switch total := l.Total; {
	case ends[0].State != 0 && ends[1].State != 0:
		return ends, weakest(ends[0].State, ends[1].State)
	case total.State != 0 && (ends[0].State != 0 || ends[1].State != 0):
		k := 0
		if ends[0].State == 0 {
			k = 1
		}
		basis = weakest(total.State, ends[k].State)
		ends[1-k] = Load{Load: max(total.Load-ends[k].Load, 0), PlusMinus: total.PlusMinus + ends[k].PlusMinus, State: Weighed,
			OpenAbove: total.OpenAbove || ends[k].OpenBelow}
		if basis == EndsAssumed {
			ends[1-k].State = Assumed
		}
		return ends, basis
	case total.State != 0:
		share := Load{Load: percentOf(total.Load, HeavierEndPercent, grid), PlusMinus: percentOf(total.PlusMinus, HeavierEndPercent, grid), State: Assumed,
			OpenBelow: true, AtLeast: onEach(total.least(), 2, grid), OpenAbove: total.OpenAbove}
		return [2]Load{share, share}, AxleShare
	case ends[0].State != 0 || ends[1].State != 0:
		return ends, OneEnd
	}
	return ends, 0
}

func weakest(a, b LoadState) LoadFrom {
	if a == Assumed || b == Assumed {
		return EndsAssumed
	}
	return EndsWeighed
}

// OnTire gives the load of ONE tire under the heavier end, rounded up to 0.01
// lb or 1 g, and what it rests on. A tire of a dual end carries half, or what
// the heavier tire was weighed at. An end of an axle weighed as a whole carries
// from half to 55 % of it (common practice). Where only one end was weighed,
// the load is at least that end's. It is not known where nothing was weighed,
// or the fitment is not known.
func (l AxleLoad) OnTire(fit weight.Fitment, system weight.System) (Load, LoadFrom) {
	n := PerEnd.tiresPer(fit)
	grid := system.MassGrid()
	ends, basis := l.ends(grid)
	if n == 0 || basis == 0 || !ends[0].check() || !ends[1].check() {
		return Load{}, 0
	}
	var out Load
	for i := range ends {
		e := &ends[i]
		if e.State == 0 {
			continue
		}
		most, plain := e.shares(n)
		most, plain = onEach(most, n, grid), onEach(plain, n, grid)
		least := most
		if e.OpenBelow {
			least = min(onEach(e.AtLeast, n, grid), most)
		}
		if out.State == 0 {
			out = Load{Load: plain, PlusMinus: most - plain, State: e.State, AtLeast: least, OpenAbove: e.OpenAbove || basis == OneEnd}
			continue
		}
		full := max(out.most(), most)
		out.Load = max(out.Load, plain)
		out.PlusMinus = full - out.Load
		out.State = max(out.State, e.State)
		out.AtLeast = max(out.AtLeast, least)
		out.OpenAbove = out.OpenAbove || e.OpenAbove
	}
	if out.OpenBelow = out.AtLeast < out.most(); !out.OpenBelow {
		out.AtLeast = 0
	}
	return out, basis
}

// sure is what an end surely would carry if each of its tires carried as much as the
// heaviest: its load less the plus/minus.
func (l *Load) sure(n int64) weight.Mass {
	sure := l.Load - l.PlusMinus
	if n > 1 && l.HeavierTire > 0 {
		sure = max(sure, weight.Mass(n)*(l.HeavierTire-l.HeavierPlusMinus))
	}
	return sure
}

// shares is what an end would carry if each of its tires carried as much as
// the heaviest, with the plus/minus and as read.
func (l *Load) shares(n int64) (full, plain weight.Mass) {
	full, plain = l.most(), l.Load
	if n > 1 && l.HeavierTire > 0 {
		full, plain = max(full, weight.Mass(n)*(l.HeavierTire+l.HeavierPlusMinus)), max(plain, weight.Mass(n)*l.HeavierTire)
	}
	return full, plain
}
