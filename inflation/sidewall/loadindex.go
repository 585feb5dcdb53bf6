package sidewall

import (
	"fmt"
	"strconv"

	"axleend.example/inflation"
	"axleend.example/internal/word"
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

// MaxLoadIndex is the highest index of the table.
const MaxLoadIndex = 279

// loadIndexTenths is the load of each index in 0.1 kg (ISO 4000-1 index
// table). It is a table: a formula is off by up to 1.3 %.
var loadIndexTenths = [MaxLoadIndex + 1]uint32{
	450, 462, 475, 487, 500, 515, 530, 545, 560, 580, // 0
	600, 615, 630, 650, 670, 690, 710, 730, 750, 775, // 10
	800, 825, 850, 875, 900, 925, 950, 975, 1000, 1030, // 20
	1060, 1090, 1120, 1150, 1180, 1210, 1250, 1280, 1320, 1360, // 30
	1400, 1450, 1500, 1550, 1600, 1650, 1700, 1750, 1800, 1850, // 40
	1900, 1950, 2000, 2060, 2120, 2180, 2240, 2300, 2360, 2430, // 50
	2500, 2570, 2650, 2720, 2800, 2900, 3000, 3070, 3150, 3250, // 60
	3350, 3450, 3550, 3650, 3750, 3870, 4000, 4120, 4250, 4370, // 70
	4500, 4620, 4750, 4870, 5000, 5150, 5300, 5450, 5600, 5800, // 80
	6000, 6150, 6300, 6500, 6700, 6900, 7100, 7300, 7500, 7750, // 90
	8000, 8250, 8500, 8750, 9000, 9250, 9500, 9750, 10000, 10300, // 100
	10600, 10900, 11200, 11500, 11800, 12150, 12500, 12850, 13200, 13600, // 110
	14000, 14500, 15000, 15500, 16000, 16500, 17000, 17500, 18000, 18500, // 120
	19000, 19500, 20000, 20600, 21200, 21800, 22400, 23000, 23600, 24300, // 130
	25000, 25750, 26500, 27250, 28000, 29000, 30000, 30750, 31500, 32500, // 140
	33500, 34500, 35500, 36500, 37500, 38750, 40000, 41250, 42500, 43750, // 150
	45000, 46250, 47500, 48750, 50000, 51500, 53000, 54500, 56000, 58000, // 160
	60000, 61500, 63000, 65000, 67000, 69000, 71000, 73000, 75000, 77500, // 170
	80000, 82500, 85000, 87500, 90000, 92500, 95000, 97500, 100000, 103000, // 180
	106000, 109000, 112000, 115000, 118000, 121500, 125000, 128500, 132000, 136000, // 190
	140000, 145000, 150000, 155000, 160000, 165000, 170000, 175000, 180000, 185000, // 200
	190000, 195000, 200000, 206000, 212000, 218000, 224000, 230000, 236000, 243000, // 210
	250000, 257500, 265000, 272500, 280000, 290000, 300000, 307500, 315000, 325000, // 220
	335000, 345000, 355000, 365000, 375000, 387500, 400000, 412500, 425000, 437500, // 230
	450000, 462500, 475000, 487500, 500000, 515000, 530000, 545000, 560000, 580000, // 240
	600000, 615000, 630000, 650000, 670000, 690000, 710000, 730000, 750000, 775000, // 250
	800000, 825000, 850000, 875000, 900000, 925000, 950000, 975000, 1000000, 1030000, // 260
	1060000, 1090000, 1120000, 1150000, 1180000, 1210000, 1250000, 1285000, 1320000, 1360000, // 270
}

// A LoadIndex is a load index of ISO 4000-1, 0 to 279. The zero LoadIndex is
// not known, which is not the index 0 (45 kg).
type LoadIndex struct {
	next uint16 // the index + 1
}

// LoadIndexOf returns the load index of that number; the error matches
// [inflation.ErrInput] if there is none.
func LoadIndexOf(number int) (LoadIndex, error) {
	if number < 0 || number > MaxLoadIndex {
		return LoadIndex{}, fmt.Errorf("load index %d: want 0 to %d: %w", number, MaxLoadIndex, inflation.ErrInput)
	}
	return LoadIndex{uint16(number + 1)}, nil
}

// ParseLoadIndex reads a load index in digits; the error matches [inflation.ErrInput].
func ParseLoadIndex(text string) (LoadIndex, error) {
	n, err := strconv.ParseUint(text, 10, 16) // digits alone
	if err != nil || n > MaxLoadIndex {
		return LoadIndex{}, fmt.Errorf("load index %q: want 0 to %d in digits: %w", word.Clip(text), MaxLoadIndex, inflation.ErrInput)
	}
	return LoadIndex{uint16(n + 1)}, nil
}

// Known reports whether there is an index.
func (i LoadIndex) Known() bool { return i.next != 0 }

// Number is the index, or -1 if not known.
func (i LoadIndex) Number() int { return int(i.next) - 1 }

// Load is the load that the index stands for, exactly as the table has it in
// kilograms, for one tire at the speed of its symbol; 0 if not known.
func (i LoadIndex) Load() weight.Mass {
	if i.next == 0 {
		return 0
	}
	return weight.Mass(loadIndexTenths[i.next-1]) * (weight.Kilogram / 10)
}

// Source is where the table's entry comes from and how sure it is: most were
// seen in two lists that quote the standard; some were corrected by the rule
// that 80 steps are a factor of ten.
func (i LoadIndex) Source() origin.Source {
	s := origin.Source{Grade: origin.Quoted, Title: "ISO 4000-1, load index"}
	switch n := i.Number(); {
	case n < 0:
		return origin.Source{}
	case n == 1 || n == 53 || n == 62 || n == 169 || n == 203:
		s.Grade, s.Locator = origin.Computed, "lists differ; the entry that keeps 80 steps to a factor of ten"
	case n == 275:
		s.Locator = "one list; 80 steps to a factor of ten suggest 121,500 kg"
	case n < 120:
		s.Locator = "two lists agree"
	default:
		s.Locator = "one list, and 80 steps to a factor of ten"
	}
	return s
}

// String gives the number, or "not known".
func (i LoadIndex) String() string {
	if i.next == 0 {
		return "not known"
	}
	return strconv.Itoa(i.Number())
}

// MarshalText writes the number, and empty text for one not known.
func (i LoadIndex) MarshalText() ([]byte, error) {
	if i.next == 0 {
		return []byte{}, nil
	}
	return strconv.AppendInt(nil, int64(i.Number()), 10), nil
}

// UnmarshalText reads what [LoadIndex.MarshalText] writes.
func (i *LoadIndex) UnmarshalText(text []byte) error {
	if len(text) == 0 {
		*i = LoadIndex{}
		return nil
	}
	v, err := ParseLoadIndex(string(text))
	if err == nil {
		*i = v
	}
	return err
}

// A stamped load agrees with its index up to 1 % above it (common practice: stamps are
// rounded) and up to 1.45 % below it: light truck tires, rated in other units first, are
// stamped 3,042 lb (1,380 kg) at load index 120, which is 1,400 kg (LT235/85R16 and
// LT245/75R16, load range E, trade charts). The next index is 2.3 % away or more
// (computed), so that a load half a step down belongs to the higher index.
const (
	agreesAbove = 100 // in 0.01 %
	agreesBelow = 145
)

// AgreesWith reports whether a load stamped on a sidewall is the index's:
// stamps are rounded, so from 1.45 % below it to 1 % above it agrees, the edges
// included. An index not known agrees with nothing.
func (i LoadIndex) AgreesWith(stamped weight.Mass) bool {
	load := i.Load()
	if load == 0 || stamped < 0 || stamped > 2*load {
		return false
	}
	return load-stamped <= load/10000*agreesBelow && stamped-load <= load/10000*agreesAbove
}
