package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// passengerTable and metricTable are invented: no standard has these sizes.
const (
	passengerTable = `
table: 1
name: invented car tire
size: AX240/75R20
class: passenger
pressure_unit: psi
load_unit: lb
single: per tire
source: {grade: invented, title: made up for this test}
columns: [pressure, single]
rows:
  - [26, 1540]
  - [29, 1650]
  - [32, 1760]
  - [35, 1870]
`
	metricTable = `
table: 1
name: invented in kPa
size: AX250/75R21
class: truck
pressure_unit: kPa
load_unit: kg
dual: per end
source: {grade: invented, title: made up for this test}
columns: [pressure, dual]
rows:
  - [600, 3000]
  - [650, 3200]
  - [700, 3400]
`
)

// tableFolder is a folder with both tables, and its path.
func tableFolder(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	for name, text := range map[string]string{"car.yaml": passengerTable, "metric.yaml": metricTable, "visit.yaml": "visit: 1\n"} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

// demo asks the demo's table, whose rows are these (invented):
// dual 80: 3630, 85: 3790, 90: 3945, 95: 4095, 100: 4245, 105: 4395, 110: 4540;
// single 80: 3950, 85: 4125, 90: 4295, 95: 4460, 100: 4620, 105: 4780, 110: 4940.
const demo = "pressure -table ../demo/xv250.yaml -size XV250/72R21 "

func TestPressureByTable(t *testing.T) {
	folder := "pressure -tables " + tableFolder(t)
	check(t, []want{
		{"exactly a row", demo + "-fit dual -load 8490lb -per end", 0, []string{
			"8490 lb on the end = 4245 lb on each tire", "At least 100 psi cold", "100 psi carries 4245 lb on each tire, 95 psi only 4095 lb",
			"invented demo table", "(invented)", "Never let air out of a hot tire", "wheel's maximum pressure was not read", "load range was not read"}},
		{"just above a row", demo + "-fit dual -load 8490.02lb -per end -load-range G", 0, []string{"At least 105 psi cold", "!load range was not read"}},
		{"below the first row", demo + "-fit dual -load 1000lb -per end", 0, []string{"At least 80 psi cold. That is the lowest row"}},
		{"on the first row", demo + "-fit dual -load 3630lb -per tire", 0, []string{"3630 lb on each tire", "At least 80 psi cold. That is the lowest row"}},
		{"too heavy", demo + "-fit dual -load 9400lb -per end", 1, []string{
			"9400 lb on the end = 4700 lb on each tire", "NO PRESSURE CARRIES THIS", "at most 4540 lb on each tire (dual), at 110 psi", "160 lb too much",
			"Take load off", "!at least"}},
		// 55 % of 8,800 lb is 4,840 lb.
		{"axle, single", demo + "-fit single -load 8800lb -per axle", 0, []string{
			"55 % assumed on one end", "4840 lb on each tire", "At least 110 psi cold", "higher of this and the placard", "Weigh the ends"}},
		{"axle, dual", demo + "-fit dual -load 12800lb -per axle", 0, []string{"12800 lb on the axle, 55 % assumed on one end = 7040 lb = 3520 lb on each tire", "At least 80 psi"}},
		// 90 psi + 5 psi x (4300 - 4295) / (4460 - 4295) = 90.15 psi, up to 91.
		{"interpolated", demo + "-fit single -load 4300lb -per tire -interpolate", 0, []string{"At least 91 psi cold", "Read between the rows"}},
		{"gauge step", demo + "-fit dual -load 8200lb -per end -step 15psi", 0, []string{"At least 105 psi cold"}},
		{"step past the cap", demo + "-fit dual -load 8200lb -per end -step 40psi", 0, []string{"At least 110 psi cold", "the highest pressure allowed"}},
		// 4,100 lb with 5 % is 4,305 lb.
		{"allowance", demo + "-fit dual -load 8200lb -per end -allowance 5", 0, []string{"Looked up: 4305 lb on each tire", "At least 105 psi cold"}},
		{"size in another writing", `pressure -table ../demo/xv250.yaml -size "xv 250/72 r21" -fit dual -load 8200lb -per end`, 0, []string{"At least 100 psi"}},
		{"found in a folder", "pressure -tables ../demo -size XV250/72R21 -fit dual -load 8200lb -per end", 0, []string{"At least 100 psi"}},
		// 1,600 lb x 1.10 = 1,760 lb (49 CFR 571.120 S5.1.2).
		{"passenger tire", folder + " -size AX240/75R20 -fit single -load 1600lb -per tire", 0, []string{"Looked up: 1760 lb", "At least 32 psi cold", "divided by 1.10"}},
		{"passenger tire on a car", folder + " -size AX240/75R20 -fit single -load 1600lb -per tire -on-car", 0, []string{"At least 29 psi cold", "!1.10"}},
		// 1,870 lb / 1.10 = 1,700 lb.
		{"passenger tire too heavy", folder + " -size AX240/75R20 -fit single -load 1701lb -per tire", 1, []string{"at most 1700 lb", "1 lb too much", "divided by 1.10"}},
		// Per pair 3,200 kg at 650 kPa is 1,600 kg on each tire.
		{"metric", folder + " -size AX250/75R21 -fit dual -load 3100kg -per end", 0, []string{"3100 kg on the end = 1550 kg on each tire", "At least 650 kPa cold", "650 kPa carries 1600 kg"}},
		{"no such size in the folder", folder + " -size AX250/75R22 -fit dual -load 3100kg -per end", 2, []string{"no table for the size", "not tables: visit.yaml"}},
		{"another size than the file's", "pressure -table ../demo/xv250.yaml -size LT225/75R16 -fit dual -load 3100lb -per end", 2, []string{"is for size XV250/72R21", "no table for the size"}},
		{"no dual column", folder + " -size AX240/75R20 -fit dual -load 1600lb -per tire", 2, []string{"no loads for this fitment"}},
		{"another load range", demo + "-fit dual -load 8200lb -per end -load-range H", 2, []string{"load range not in the table"}},
	})
}

func TestPressureByStamp(t *testing.T) {
	check(t, []want{
		// 110 psi x 1.05 x 4200 / 4940 = 98.2 psi, up to 100.
		{"truck", `pressure -stamp "4940 lb at 110 psi" -class truck -fit single -load 4200lb -per tire`, 0, []string{
			"ESTIMATE, no table used: at least 100 psi cold", "ESTIMATE: no table was used", "(computed)"}},
		// 70 % of 110 psi is 77 psi, but 80 psi for truck sizes.
		{"truck at the floor", `pressure -stamp "4940 lb at 110 psi" -class truck -fit single -load 1000lb -per tire`, 0, []string{"at least 80 psi cold. That is the floor", "ESTIMATE at its floor"}},
		// 70 % of 80 psi is 56 psi, up to 60.
		{"light truck by its size", `pressure -stamp "2680 lb at 80 psi" -size LT225/75R16 -fit single -load 1000lb -per tire`, 0, []string{"at least 60 psi cold. That is the floor"}},
		// 80 psi x 1.05 x 1200 / 2680 = 37.6 psi, up to 40.
		{"lowest permitted", `pressure -stamp "2680 lb at 80 psi" -class "light truck" -lowest 35psi -fit single -load 1200lb -per tire`, 0, []string{"at least 40 psi cold"}},
		{"class with a size nobody knows", `pressure -stamp "4540 lb at 110 psi" -size XV250/72R21 -class truck -fit dual -load 8200lb -per end`, 0, []string{"at least 105 psi"}},
		{"too heavy", `pressure -stamp "4940 lb at 110 psi" -class truck -fit single -load 5000lb -per tire`, 1, []string{
			"ESTIMATE, no table used: NO PRESSURE CARRIES THIS", "at most 4940 lb", "60 lb too much", "no table was used"}},
		{"axle", `pressure -stamp "4940 lb at 110 psi" -class truck -fit single -load 8000lb -per axle`, 0, []string{"4400 lb on each tire", "at least 105 psi", "placard"}},
		{"passenger", `pressure -stamp "1870 lb at 44 psi" -size P225/75R15 -fit single -load 1000lb -per tire`, 2, []string{"no estimate without a table", "placard"}},
		{"trailer", `pressure -stamp "1820 lb at 50 psi" -size ST205/75D15 -fit single -load 1000lb -per tire`, 2, []string{"no estimate without a table", "placard"}},
		{"class against size", `pressure -stamp "1820 lb at 50 psi" -size ST205/75D15 -class truck -fit single -load 1000lb -per tire`, 2, []string{"is a trailer size"}},
		{"class not known", `pressure -stamp "2680 lb at 80 psi" -fit single -load 1000lb -per tire`, 2, []string{"-class or -size"}},
		{"unreadable size", `pressure -stamp "2680 lb at 80 psi" -size banana -fit single -load 1000lb -per tire`, 2, []string{"-size", "not a size designation"}},
		{"stamp without pressure", `pressure -stamp "2680 lb" -class truck -fit single -load 1000lb -per tire`, 2, []string{"-stamp", "malformed stamp"}},
	})
}

func TestPressureMisuse(t *testing.T) {
	check(t, []want{
		{"no basis", demo + "-fit dual -load 9400lb", 2, []string{"-per not given: want tire, end or axle"}},
		{"everything missing", "pressure", 2, []string{"-load not given", "-per not given", "-fit not given", "want one of -table"}},
		{"bare number", demo + "-fit dual -load 9400 -per end", 2, []string{"-load:", "unit"}},
		{"another basis", demo + "-fit dual -load 9400lb -per corner", 2, []string{"-per:", `"corner"`, "want one of"}},
		{"another fitment", demo + "-fit triple -load 9400lb -per end", 2, []string{"-fit:", "single", "dual"}},
		{"negative load", demo + "-fit dual -load -1lb -per end", 2, []string{"load"}},
		{"negative step", demo + "-fit dual -load 1000lb -per end -step -1psi", 2, []string{"step"}},
		{"allowance", demo + "-fit dual -load 1000lb -per end -allowance 101", 2, []string{"0 to 100"}},
		{"two sources", demo + `-fit dual -load 1000lb -per end -stamp "4540 lb at 110 psi"`, 2, []string{"want one of"}},
		{"no size", "pressure -table ../demo/xv250.yaml -fit dual -load 1000lb -per end", 2, []string{"-size not given"}},
		{"class of a table", demo + "-fit dual -load 1000lb -per end -class truck", 2, []string{"-class and -lowest"}},
		{"rows of an estimate", `pressure -stamp "4540 lb at 110 psi" -class truck -interpolate -fit dual -load 1000lb -per end`, 2, []string{"an estimate has no rows"}},
		{"argument", demo + "-fit dual -load 1000lb -per end extra", 2, []string{`"extra"`}},
		{"no such file", "pressure -table none.yaml -size XV250/72R21 -fit dual -load 1000lb -per end", 2, []string{"none.yaml"}},
		{"no table", "pressure -table ../demo/visit.yaml -size XV250/72R21 -fit dual -load 1000lb -per end", 2, []string{"visit.yaml:", "unknown key"}},
		{"no such folder", "pressure -tables none -size XV250/72R21 -fit dual -load 1000lb -per end", 2, []string{"tables in none:"}},
	})
}

const pressurePage = `8200 lb on the end = 4100 lb on each tire

At least 100 psi cold. 100 psi carries 4245 lb on each tire, 95 psi only 4095
    lb.
Looked up: 4100 lb on each tire.
All tires of the axle get the pressure that its heavier end needs.
Table: invented demo table; made up for this demo (invented)

- Set it cold: parked three hours, in the shade. Never let air out of a hot
    tire.
- It holds for the load weighed. A heavier load needs a new look-up.
- A sidewall's maximum pressure was not read: read it before setting.
- A sidewall's maximum load was not read.
- A wheel's maximum pressure was not read: read it before setting.
- A wheel's maximum load was not read.
`

func TestPressurePage(t *testing.T) {
	_, out, _ := axleend(t, "", shellWords(demo+"-fit dual -load 8200lb -per end -load-range G")...)
	if out != pressurePage {
		t.Errorf("got\n%s\nwant\n%s", out, pressurePage)
	}
}

// quantitiesAsText reports a number in JSON anywhere but in a count.
func quantitiesAsText(t *testing.T, page string) map[string]any {
	t.Helper()
	var top any
	if err := json.Unmarshal([]byte(page), &top); err != nil {
		t.Fatalf("%v in\n%s", err, page)
	}
	var walk func(key string, v any)
	walk = func(key string, v any) {
		switch v := v.(type) {
		case map[string]any:
			for k, v := range v {
				walk(k, v)
			}
		case []any:
			for _, v := range v {
				walk(key, v)
			}
		case float64:
			switch key {
			case "tires", "ply_rating", "line", "column", "more_problems":
			default:
				t.Errorf("%s is the bare number %v", key, v)
			}
		}
	}
	walk("", top)
	m, _ := top.(map[string]any)
	return m
}

func TestPressureJSON(t *testing.T) {
	_, out, _ := axleend(t, "", shellWords(demo+"-fit dual -load 8200lb -per end -as json")...)
	m := quantitiesAsText(t, out)
	if m["answer"].(map[string]any)["pressure"] != "100 psi" || m["share"].(map[string]any)["tire"] != "4100 lb" ||
		m["table"] != "invented demo table" || m["estimate"] != false || m["over"] != nil {
		t.Errorf("got %s", out)
	}
	code, out, _ := axleend(t, "", shellWords(demo+"-fit dual -load 9400lb -per end -as json")...)
	m = quantitiesAsText(t, out)
	if code != exitStop || m["answer"] != nil || m["over"].(map[string]any)["excess"] != "160 lb" {
		t.Errorf("exit status %d, got %s", code, out)
	}
	_, out, _ = axleend(t, "", shellWords(`pressure -stamp "4540 lb at 110 psi" -class truck -fit dual -load 8200lb -per end -as json`)...)
	m = quantitiesAsText(t, out)
	if m["estimate"] != true || !strings.Contains(out, `"estimated"`) || m["table"] != nil {
		t.Errorf("got %s", out)
	}
}

// TestNoFileIsBlamedForNothing: files that are no tables are named where there are some.
func TestNoFileIsBlamedForNothing(t *testing.T) {
	_, _, errw := axleend(t, "", "pressure", "-table", "../demo/xv250.yaml", "-size", "LT225/75R16", "-fit", "dual", "-load", "3100lb", "-per", "end")
	if strings.Contains(errw, "not tables") || !strings.Contains(errw, "no table for the size") {
		t.Error(errw)
	}
}
