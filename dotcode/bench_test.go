package dotcode_test

import (
	"testing"

	"axleend.example/dotcode"
)

var sinkAge dotcode.Age
var sinkCandidates []dotcode.Candidate

// BenchmarkDecode parses a code and finds its week. The limit is 100 ns and 0 allocations for four digits.
func BenchmarkDecode(b *testing.B) {
	on := dotcode.Date{Year: 2026, Month: 11, Day: 25}
	for _, bench := range []struct{ name, text string }{
		{"four digits", "2313"}, {"thirteen symbols", "DOT 1M3 ABCDEF 2313"}, {"three digits", "439"}, {"week after", "5026"},
	} {
		b.Run(bench.name, func(b *testing.B) {
			room := make([]dotcode.Candidate, 0, 8)
			b.ReportAllocs()
			for b.Loop() {
				n, err := dotcode.Parse(bench.text)
				if err != nil {
					b.Fatal(err)
				}
				sinkCandidates = n.AppendCandidates(room, on)
			}
		})
	}
}

// BenchmarkAge parses a code and finds the age.
func BenchmarkAge(b *testing.B) {
	on := dotcode.Date{Year: 2026, Month: 11, Day: 25}
	b.ReportAllocs()
	for b.Loop() {
		n, err := dotcode.Parse("2313")
		if err != nil {
			b.Fatal(err)
		}
		sinkAge = n.AgeOn(on)
	}
}

// BenchmarkEveryCode decodes the code of every week from 1971 to 2098. The limit is a few milliseconds.
func BenchmarkEveryCode(b *testing.B) {
	on := dotcode.Date{Year: 2099, Month: 12, Day: 31}
	var codes []string
	for day := (dotcode.Date{Year: 1971, Month: 1, Day: 3}); day.Year < 2099; day = day.AddDays(7) {
		code, err := dotcode.CodeFor(day)
		if err != nil {
			b.Fatal(err)
		}
		if code.Three != "" {
			codes = append(codes, code.Three)
		}
		if code.Four != "" {
			codes = append(codes, code.Four)
		}
	}
	room := make([]dotcode.Candidate, 0, 8)
	b.ReportAllocs()
	for b.Loop() {
		for _, code := range codes {
			n, err := dotcode.Parse(code)
			if err != nil {
				b.Fatal(err)
			}
			sinkCandidates = n.AppendCandidates(room, on)
		}
	}
	b.ReportMetric(float64(len(codes)), "codes")
}
