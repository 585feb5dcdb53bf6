package main

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"

	"axleend.example/weight"
)

// nanograms are those of a pound, for those who count by hand.
var nanograms = decimal.NewFromInt(int64(weight.Pound))

// decimalMass reads "3640.5 lb" by decimals.
func decimalMass(text string) (decimal.Decimal, error) {
	number, ok := strings.CutSuffix(text, " lb")
	if !ok {
		return decimal.Decimal{}, fmt.Errorf("no unit: %s", text)
	}
	return decimal.NewFromString(number)
}

// floatMass reads it by strconv.
func floatMass(text string) (float64, error) {
	number, ok := strings.CutSuffix(text, " lb")
	if !ok {
		return 0, fmt.Errorf("no unit: %s", text)
	}
	return strconv.ParseFloat(number, 64)
}

// sums adds loads as a scale with tenths of a pound shows them, and holds the sum
// to a rating that it is exactly.
func sums(texts []string) (n, decimals, floats int, err error) {
	for from := range texts {
		var ours weight.Mass
		var dec decimal.Decimal
		var float float64
		tenths := int64(0)
		for i := range 8 {
			text := texts[(from+i*7)%len(texts)]
			m, err1 := weight.ParseMass(text)
			d, err2 := decimalMass(text)
			f, err3 := floatMass(text)
			if err1 != nil || err2 != nil || err3 != nil {
				return 0, 0, 0, fmt.Errorf("%s: %v, %v, %v", text, err1, err2, err3)
			}
			ours, dec, float, tenths = ours+m, dec.Add(d), float+f, tenths+d.Shift(1).IntPart()
		}
		rating := decimal.New(tenths, -1).String() + " lb"
		limit, err := weight.ParseMass(rating)
		if err != nil || ours != limit {
			return 0, 0, 0, fmt.Errorf("loads of %s together are %v, %v", rating, ours, err)
		}
		n++
		if d, err := decimalMass(rating); err != nil || !d.Equal(dec) {
			decimals++
		}
		if f, err := floatMass(rating); err != nil || f != float {
			floats++
		}
	}
	return n, decimals, floats, nil
}

func compareQuantities() ([]bench, []string, error) {
	const n = 1000
	var texts [n]string
	var masses [n]weight.Mass
	var decimals [n]decimal.Decimal
	var floats [n]float64
	for i := range texts {
		texts[i] = fmt.Sprintf("%d.%d lb", 1200+i*17, 1+i%9)
		m, err1 := weight.ParseMass(texts[i])
		d, err2 := decimalMass(texts[i])
		f, err3 := floatMass(texts[i])
		if err1 != nil || err2 != nil || err3 != nil || int64(m) != d.Mul(nanograms).IntPart() || m.String() != texts[i] || d.String()+" lb" != texts[i] {
			return nil, nil, fmt.Errorf("%s: ours %v, decimals %v, %v, %v, %v", texts[i], m, d, err1, err2, err3)
		}
		if math.Abs(f*float64(weight.Pound)-float64(m)) > 1 {
			return nil, nil, fmt.Errorf("%s: ours %v, float64 %v", texts[i], m, f)
		}
		masses[i], decimals[i], floats[i] = m, d, f
	}
	all, decOff, floatOff, err := sums(texts[:])
	if err != nil {
		return nil, nil, err
	}
	if decOff > 0 || floatOff == 0 {
		return nil, nil, fmt.Errorf("of %d sums: decimals differ in %d, want 0; floats in %d, want some", all, decOff, floatOff)
	}
	notes := []string{fmt.Sprintf("Eight loads in tenths of a pound that are exactly a rating: of %d, ours and decimals 0 wrong; float64 %d wrong.", all, floatOff)}
	var room []byte
	return []bench{
		{"reading \"3640.5 lb\"", "text", n, []way{
			{"weight.ParseMass", times(n, func(i int) (err error) { masses[i], err = weight.ParseMass(texts[i]); return err })},
			{"strconv.ParseFloat, the unit cut off", times(n, func(i int) (err error) { floats[i], err = floatMass(texts[i]); return err })},
			{"decimals, the unit cut off", times(n, func(i int) (err error) { decimals[i], err = decimalMass(texts[i]); return err })},
		}},
		{"writing it", "text", n, []way{
			{"weight.Mass.AppendText", times(n, func(i int) (err error) { room, err = masses[i].AppendText(room[:0]); return err })},
			{"strconv.AppendFloat and the unit", times(n, func(i int) error {
				room = append(strconv.AppendFloat(room[:0], floats[i], 'f', -1, 64), " lb"...)
				return nil
			})},
			{"decimals and the unit", times(n, func(i int) error { room = append(append(room[:0], decimals[i].String()...), " lb"...); return nil })},
		}},
	}, notes, nil
}
