package weight

import (
	"math/big"
	"math/rand/v2"
	"testing"
)

func (w wide) big() *big.Int {
	hi := new(big.Int).SetUint64(w.hi)
	v := hi.Lsh(hi, 64).Add(hi, new(big.Int).SetUint64(w.lo))
	if w.neg() {
		v.Sub(v, new(big.Int).Lsh(big.NewInt(1), 128))
	}
	return v
}

// 128-bit sums and quotients against big integers.
func TestWide(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 12))
	draw := func() int64 { return int64(r.Uint64()) >> (8 + r.IntN(56)) }
	for range 20_000 {
		var w, v wide
		want, other := new(big.Int), new(big.Int)
		for range 1 + r.IntN(5) {
			a, b := draw(), draw()
			w.addMul(a, b)
			want.Add(want, new(big.Int).Mul(big.NewInt(a), big.NewInt(b)))
			v.addMul(b, b)
			other.Add(other, new(big.Int).Mul(big.NewInt(b), big.NewInt(b)))
		}
		if w.big().Cmp(want) != 0 || w.neg() != (want.Sign() < 0) {
			t.Fatalf("sum %v, want %v", w.big(), want)
		}
		want.Abs(want)
		if w = w.abs(); w.big().Cmp(want) != 0 || w.plus(v).big().Cmp(other.Add(other, want)) != 0 {
			t.Fatalf("abs %v, want %v", w.big(), want)
		}
		for _, d := range []uint64{1, 2, 3, uint64(draw()&0xFFFF) + 1, uint64(draw()&(1<<60)) + 1<<33 + 1} {
			q, rem := new(big.Int).QuoRem(want, new(big.Int).SetUint64(d), new(big.Int))
			twice := new(big.Int).Lsh(rem, 1).Cmp(new(big.Int).SetUint64(d))
			for _, dir := range []Rounding{Floor, Ceiling, Nearest} {
				n := new(big.Int).Set(q)
				if dir == Ceiling && rem.Sign() > 0 || dir == Nearest && twice >= 0 {
					n.Add(n, big.NewInt(1))
				}
				got, ok := w.div(d, dir)
				if ok != n.IsInt64() || ok && new(big.Int).SetUint64(got).Cmp(n) != 0 {
					t.Fatalf("%v / %d: %d, %v, want %v", want, d, got, ok, n)
				}
			}
		}
	}
}

// Products and sums say so before they could wrap.
func TestTimesAndAddTo(t *testing.T) {
	for _, c := range []struct {
		a, b       int64
		times, add bool
	}{
		{1 << 31, 1<<31 - 1, true, true}, {1 << 31, 1 << 31, false, true}, {-1 << 31, 1 << 31, false, true}, {1 << 40, -1 << 40, false, true},
		{1<<62 - 1, 1, true, false}, {1<<62 - 2, 1, true, true}, {-(1<<62 - 1), -1, true, false}, {3, -7, true, true},
	} {
		var bad bool
		if got := times(c.a, c.b, &bad); bad == c.times || !bad && got != c.a*c.b {
			t.Errorf("%d x %d: %d, bad %v", c.a, c.b, got, bad)
		}
		bad = false
		if got := addTo(c.a, c.b, &bad); bad == c.add || !bad && got != c.a+c.b {
			t.Errorf("%d + %d: %d, bad %v", c.a, c.b, got, bad)
		}
	}
}
