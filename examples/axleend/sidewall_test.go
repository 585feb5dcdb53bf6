package main

import (
	"encoding/json"
	"strings"
	"testing"
)

func TestSidewall(t *testing.T) {
	check(t, []want{
		// Load index 115 is 1,215 kg and 112 is 1,120 kg (ISO 4000-1); R is 170 km/h.
		{"agrees", `sidewall "LT225/75R16 115/112R load range E max load single 2680 lb at 80 psi cold"`, 0, []string{
			"class light truck, construction radial, rim 16 in", "load range E, ply rating 10", "single 115 = 1215 kg", "dual 112 = 1120 kg",
			"single 2680 lb at 80 psi cold", "R = 170 km/h", "Nothing read contradicts", "!DOUBT"}},
		{"size alone", "sidewall 11R22.5", 0, []string{"class truck", "rim 22.5 in", "!load index"}},
		// 1,215 kg is 2,679 lb: 2,980 lb is 11 % more.
		{"load against index", `sidewall "LT225/75R16 115/112R max load single 2980 lb at 80 psi"`, 1, []string{"DOUBT", "load and load index differ (single): stamped 2980 lb", "Read the sidewall again"}},
		{"ply against load range", `sidewall "LT225/75R16 load range E 8PR"`, 1, []string{"ply rating and load range differ: stamped 8, expected 10"}},
		// R is 170 km/h, which is 105.6 mph.
		{"road too fast", `sidewall -road 106mph "LT225/75R16 115/112R"`, 1, []string{"speed symbol below the road speed"}},
		{"road slow enough", `sidewall -road 105mph "LT225/75R16 115/112R"`, 0, []string{"!DOUBT"}},
		{"dual above single", `sidewall "11R22.5 144/146L"`, 1, []string{"dual above single"}},
		{"load without pressure", `sidewall "11R22.5 max load single 6175 lb"`, 0, []string{"at a pressure that was not read"}},
		{"maximum pressure", `sidewall "P225/75R15 max press 44 psi"`, 0, []string{"maximum 44 psi cold"}},
		{"two, one in doubt", `sidewall 11R22.5 "LT225/75R16 load range E 8PR"`, 1, []string{"class truck", "DOUBT"}},
		{"no size", "sidewall banana", 2, []string{`"banana"`, "not a size designation"}},
		{"no quotes", "sidewall LT225/75R16 115/112R", 2, []string{"sidewall 2", "into quotes"}},
		{"a word nobody knows", `sidewall "LT225/75R16 115/112R banana"`, 2, []string{"column 22", "BANANA"}},
		{"nothing", "sidewall", 2, []string{"wants what stands on a sidewall"}},
		{"road without unit", "sidewall -road 65 11R22.5", 2, []string{"-road"}},
	})
}

func TestSidewallLines(t *testing.T) {
	code, out, _ := axleend(t, "11R22.5\n\n LT225/75R16 load range E 8PR \n", "sidewall", "-as", "json")
	quantitiesAsText(t, out)
	var answers []sidewallAnswer
	if err := json.Unmarshal([]byte(out), &answers); err != nil || len(answers) != 2 || code != exitStop {
		t.Fatalf("exit status %d, %d answers: %v", code, len(answers), err)
	}
	if len(answers[0].Doubts) != 0 || len(answers[1].Doubts) != 1 || !strings.Contains(out, `"doubts": []`) {
		t.Errorf("doubts are %v and %v", answers[0].Doubts, answers[1].Doubts)
	}
}
