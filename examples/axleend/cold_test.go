package main

import (
	"encoding/json"
	"fmt"
	"math"
	"testing"

	"axleend.example/inflation"
	"axleend.example/weight"
)

func TestCold(t *testing.T) {
	check(t, []want{
		// (102 + 14.696) x 519.67 / 554.67 - 14.696 = 94.636; back up 109.859.
		{"colder", "cold -read 102psi -at 95F -to 60F", 0, []string{
			"102 psi cold at 95 F, sea level", "at 60 F, sea level it will read 94.63 psi (rounded down)", "set 109.86 psi now (rounded up)",
			"For the owner: 102 psi set at 95 F will read 94 psi at 60 F", "US Standard Atmosphere 1976", "Never let air out of a hot tire", "80 % of its pressure counts as flat"}},
		// Nothing is let out now for the warmer air ahead.
		{"warmer", "cold -read 95psi -at 60F -to 80F", 0, []string{"it will read 99.22 psi", "(leave it)", "!set 9", "!now (rounded up)"}},
		{"below the minimum there", "cold -read 95psi -at 60F -to 20F,80F -minimum 92psi", 1, []string{"BELOW the 92 psi that the load needs", "(add air)", "(leave it)"}},
		{"at the minimum", "cold -read 95psi -at 60F -to 60F -minimum 95psi", 0, []string{"it will read 95 psi", "!BELOW"}},
		{"below the minimum here", "cold -read 90psi -at 60F -to 100F -minimum 91psi", 1, []string{"90 psi cold at 60 F, sea level: BELOW the 91 psi"}},
		// The atmosphere is 14.696 psi at 0 ft and 12.228 at 5,000 ft (US
		// Standard Atmosphere 1976): 2.468 psi more on the gauge.
		{"up the pass", "cold -read 95psi -at 60F -to 60F -to-altitude 5000ft", 0, []string{"60 F, 5000 ft it will read 97.46 psi"}},
		{"same altitude", "cold -read 95psi -at 60F -to 60F -altitude 5000ft", 0, []string{"95 psi cold at 60 F, 5000 ft", "at 60 F, 5000 ft it will read 95 psi"}},
		{"metric", "cold -read 700kPa -at 20C -to 0C", 0, []string{"it will read 645.32 kPa (rounded down)", "set 758.68 kPa now (rounded up)", "700 kPa set at 20 C will read 640 kPa at 0 C"}},
		{"no temperature", "cold -read 95psi -to 60F", 2, []string{"-at not given"}},
		{"no other temperature", "cold -read 95psi -at 60F", 2, []string{"-to not given"}},
		{"bare number", "cold -read 95 -at 60 -to 20", 2, []string{"-read:", "-at:", "-to:"}},
		{"empty in the list", "cold -read 95psi -at 60F -to 20F,", 2, []string{"-to:"}},
		{"below absolute zero", "cold -read 95psi -at 60F -to -500F", 2, []string{"-to:", "out of range"}},
		{"too high", "cold -read 95psi -at 60F -to 60F -altitude 20000ft", 2, []string{"-1,000 to 15,000 ft"}},
		{"negative", "cold -read -1psi -at 60F -to 60F", 2, []string{"pressure"}},
		{"argument", "cold -read 95psi -at 60F -to 60F now", 2, []string{`"now"`}},
	})
}

// TestColdRanLow: of a tire at 80 % of the least for its load, or at 0 (29 CFR
// 1910.177(f)(2)(i), as guidance), nothing is printed that leads to air; within 5 psi
// above the line, of a gauge whose plus/minus nobody gave, neither (from memory).
func TestColdRanLow(t *testing.T) {
	noAir := []string{"!For the owner", "!add air", "!set ", "!before setting", "!Set it cold", "!will read"}
	low := append([]string{"RAN LOW", "DO NOT DRIVE", "ADD NO AIR", "Trained people"}, noAir...)
	check(t, []want{
		{"72 % of the least", "cold -read 70psi -at 60F -to 50F -minimum 97psi", 1, append(low, "BELOW the 97 psi")},
		{"at 80 %", "cold -read 80psi -at 60F -to 50F,90F -minimum 100psi", 1, low},
		{"at 0", "cold -read 0psi -at 60F -to 50F", 1, low},
		{"metric, at 80 %", "cold -read 560kPa -at 15C -to 0C -minimum 700kPa", 1, low},
		{"too close", "cold -read 80.5psi -at 60F -to 50F -minimum 100psi", 1, append([]string{"NO AIR YET", "Read it again", "Trained people", "!RAN LOW"}, noAir...)},
		{"5 psi above", "cold -read 85psi -at 60F -to 50F -minimum 100psi", 1, append([]string{"NO AIR YET"}, noAir...)},
		{"beyond 5 psi above", "cold -read 85.5psi -at 60F -to 50F -minimum 100psi", 1, []string{"For the owner: 85.5 psi", "(add air)", "!NO AIR YET", "!RAN LOW"}},
		{"low, but nothing to hold it against", "cold -read 30psi -at 60F -to 50F", 0, []string{"For the owner", "add no air", "!RAN LOW"}},
	})
	_, out, _ := axleend(t, "", shellWords("cold -read 70psi -at 60F -to 50F -minimum 97psi -as json")...)
	m := quantitiesAsText(t, out)
	if _, line := m["line"]; line || m["there"] != nil || m["low"] != "flat" {
		t.Errorf("got %s", out)
	}
}

// TestColdAgainstFloat computes the gas law a second time, in floating point,
// with 14.6959 psi of air at sea level.
func TestColdAgainstFloat(t *testing.T) {
	const atmosphere, zero = 101325 / 6894.757293168361, 459.67
	for read := 20; read <= 130; read += 11 {
		for at := -20; at <= 110; at += 13 {
			for to := -20; to <= 110; to += 17 {
				_, out, errw := axleend(t, "", "cold", "-read", fmt.Sprintf("%dpsi", read), "-at", fmt.Sprintf("%dF", at), "-to", fmt.Sprintf("%dF", to), "-as", "json")
				var a coldAnswer
				if err := json.Unmarshal([]byte(out), &a); err != nil {
					t.Fatalf("%v: %s", err, errw)
				}
				p := (float64(read)+atmosphere)*(float64(to)+zero)/(float64(at)+zero) - atmosphere
				got, _ := a.There[0].WillRead.In(inflation.PSI, 2, weight.Nearest).Float64()
				if got > p+1e-9 || got < p-0.012 {
					t.Errorf("%d psi at %d F reads %v at %d F, want %v rounded down", read, at, got, to, p)
				}
				set := (float64(read)+atmosphere)*(float64(at)+zero)/(float64(to)+zero) - atmosphere
				got, _ = a.There[0].SetNow.In(inflation.PSI, 2, weight.Nearest).Float64()
				if got == 0 && set > float64(read)+0.001 || got != 0 && (got < set-1e-9 || got > set+0.012) || math.IsNaN(set) {
					t.Errorf("%d psi at %d F: set %v for %d F, want %v rounded up", read, at, got, to, set)
				}
			}
		}
	}
}

func TestHot(t *testing.T) {
	// 49 CFR 393.75 table 1, as quoted: 5 psi to 4,000 lb, 15 psi above; 41 to 55 mph.
	check(t, []want{
		{"heavy", "cold -read 118psi -speed 50mph -max-load 4940lb", 0, []string{"ESTIMATE: at most 103 psi cold, and it may be less", "49 CFR 393.75, table 1 (as quoted)", "never clear one", "Never let air out of a hot tire"}},
		{"light", "cold -read 88psi -speed 41mph -max-load 4000lb", 0, []string{"at most 83 psi cold"}},
		{"plus-minus", "cold -read 88psi -speed 55mph -max-load 4000lb -plus-minus 2psi", 0, []string{"at most 85 psi cold"}},
		{"condemned", "cold -read 118psi -speed 50mph -max-load 4940lb -minimum 105psi", 1, []string{"BELOW the 105 psi that the load needs, even at that", "do not drive"}},
		{"never cleared", "cold -read 118psi -speed 50mph -max-load 4940lb -minimum 103psi", 0, []string{"not shown to be enough: read it cold", "!BELOW"}},
		{"too fast", "cold -read 118psi -speed 56mph -max-load 4940lb", 2, []string{"41 to 55 mph only", "let no air out"}},
		{"too slow", "cold -read 118psi -speed 40mph -max-load 4940lb", 2, []string{"41 to 55 mph only"}},
		{"load not read", "cold -read 118psi -speed 50mph", 2, []string{"-max-load not given"}},
		{"speed not known", "cold -read 118psi -max-load 4940lb", 2, []string{"-speed not given"}},
		{"hot and cold at once", "cold -read 118psi -speed 50mph -max-load 4940lb -at 60F", 2, []string{"one or the other"}},
		{"no load at all", "cold -read 118psi -speed 50mph -max-load 0lb", 2, []string{"-max-load: 0 lb can hardly be"}},
	})
	_, out, _ := axleend(t, "", shellWords("cold -read 118psi -speed 50mph -max-load 4940lb -minimum 105psi -as json")...)
	m := quantitiesAsText(t, out)
	if m["condemned"] != true || m["bound"].(map[string]any)["at_most"] != "103 psi" {
		t.Errorf("got %s", out)
	}
}
