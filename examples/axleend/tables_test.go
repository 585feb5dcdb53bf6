package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"axleend.example/inflation"
	"axleend.example/inflation/tablefile"
	"axleend.example/weight"
)

// wrongBasis states per tire what was printed per pair; and a row falls.
const wrongBasis = `
table: 1
name: invented with a wrong basis
size: AX240/75R20
class: truck
pressure_unit: psi
load_unit: lb
single: per tire
dual: per tire
source: {grade: invented, title: made up for this test}
columns: [pressure, single, dual]
rows:
  - [80, 3950, 7260]
  - [85, 4125, 7580]
`

func TestTables(t *testing.T) {
	dir := t.TempDir()
	write := func(name, text string) string {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	bad := write("bad.yaml", wrongBasis)
	worse := write("worse.yaml", passengerTable+strings.Repeat("  - [banana, 1]\n", 120))
	two := write("two.yaml", "table: 1\nsize: AX240/75R20\n")
	other := write("other.yaml", strings.NewReplacer("invented car tire", "another car tire", "1540", "1530").Replace(passengerTable))
	car := write("car.yaml", passengerTable)
	check(t, []want{
		{"good", "tables check ../demo/xv250.yaml", 0, []string{"good: invented demo table, size XV250/72R21", "compare every figure"}},
		{"wrong basis", "tables check " + bad, 1, []string{"bad.yaml: bad, problems: 1", "wrong basis", "per end", "!good"}},
		{"all problems", "tables check ../demo/xv250.yaml " + two, 1, []string{"xv250.yaml: good", "two.yaml: bad", "name: missing", "rows: missing", "load_unit: missing"}},
		{"one name twice", "tables check " + car + " " + car, 1, []string{"note:", "two tables of one name"}},
		{"one size twice", "tables check " + car + " " + other, 0, []string{"note:", "more than one table for the size", "another car tire"}},
		{"more problems than are listed", "tables check " + worse, 1, []string{"worse.yaml: bad, problems: 120 ", " and 20 more"}},
		{"no such file", "tables check none.yaml", 2, []string{"none.yaml"}},
		{"show", "tables show ../demo/xv250.yaml", 0, []string{"size XV250/72R21, truck, radial", "(invented)", "110 4940 4540", "load on one tire: s single, d dual", "110 |"}},
		{"show a bad one", "tables show " + bad, 2, []string{"wrong basis"}},
		{"show in JSON", "tables show ../demo/xv250.yaml -as json", 0, []string{`"dual_per_tire"`, `"pressure": "110 psi", "load": "4540 lb"`, `"load_range": "G"`}},
		{"new without a size", "tables new", 2, []string{"-size not given"}},
		{"new, unit", "tables new -size AX240/75R20 -pressure-unit stone", 2, []string{"-pressure-unit"}},
		{"new, rows", "tables new -size AX240/75R20 -from 80psi -to 60psi -by 5psi", 2, []string{"unusable input"}},
		{"new, basis", "tables new -size AX240/75R20 -dual corner", 2, []string{"-dual", "corner"}},
		{"nothing", "tables", 2, []string{"tables wants"}},
		{"unknown", "tables bake", 2, []string{"tables wants"}},
		{"show into a file", "tables show -o table.txt ../demo/xv250.yaml", 2, []string{"-o goes with tables new alone"}},
		{"show two", "tables show a b", 2, []string{"tables wants"}},
	})
	_, out, _ := axleend(t, "", "tables", "check", bad, two, "-as", "json")
	quantitiesAsText(t, out)
	_, out, _ = axleend(t, "", "tables", "show", "../demo/xv250.yaml", "-as", "json")
	quantitiesAsText(t, out)
}

// TestNewTableFilledIn: a new file says what is missing, and loads once it is
// filled in, in both formats and with metric units too.
func TestNewTableFilledIn(t *testing.T) {
	for _, x := range []struct{ format, args, comment, value string }{
		{"yaml", "", "# ", ": "},
		{"csv", "-csv", "# ", ": "},
	} {
		t.Run(x.format, func(t *testing.T) {
			line := "tables new -size AX240/75R20 -name invented -class truck -pressure-unit kPa -load-unit kg -single tire -dual pair -from 600kPa -to 700kPa -by 50kPa " + x.args
			code, text, errw := axleend(t, "", shellWords(line)...)
			if code != exitDone {
				t.Fatalf("exit status %d: %s", code, errw)
			}
			path := filepath.Join(t.TempDir(), "new."+x.format)
			if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
				t.Fatal(err)
			}
			code, out, _ := axleend(t, "", "tables", "check", path)
			if code != exitStop || !strings.Contains(out, "fill-in") || !strings.Contains(out, "source") {
				t.Errorf("not filled in: exit status %d\n%s", code, out)
			}
			filled := strings.NewReplacer(
				`# source: {grade: published, title: "", locator: ""}`, "source: {grade: invented, title: test}",
				"# grade:\n", "grade: invented\n", "# source:\n", "source: test\n",
				"fill-in, fill-in", "1800, 3400", "fill-in,fill-in", "1800,3400").Replace(text)
			for i, row := range []string{"1800, 3400", "1900, 3600", "2000, 3800"} {
				sep := ", "
				if x.format == "csv" {
					sep = ","
				}
				p := []string{"600", "650", "700"}[i]
				filled = strings.Replace(filled, p+sep+strings.ReplaceAll("1800, 3400", ", ", sep), p+sep+strings.ReplaceAll(row, ", ", sep), 1)
			}
			table, err := tablefile.Read(path, []byte(filled))
			if err != nil {
				t.Fatalf("%v\n%s", err, filled)
			}
			_, top, err := table.Range(weight.Dual, "")
			if want := (inflation.Row{Pressure: 700 * inflation.Kilopascal, Load: 1900 * weight.Kilogram}); err != nil || top != want {
				t.Errorf("the top row is %v, want %v: %v", top, want, err)
			}
		})
	}
	_, out, _ := axleend(t, "", "tables", "new", "-size", "AX240/75R20", "-as", "json")
	if m := quantitiesAsText(t, out); m["format"] != "yaml" || !strings.HasPrefix(m["text"].(string), "# A load and inflation table") {
		t.Errorf("got %s", out)
	}
}

// TestNewTableIsWritten: into the file of -o, which must not be there yet.
func TestNewTableIsWritten(t *testing.T) {
	for _, form := range [][]string{nil, {"-csv"}, {"-as", "json"}} {
		args := append([]string{"tables", "new", "-size", "AX240/75R20"}, form...)
		_, want, _ := axleend(t, "", args...)
		path := filepath.Join(t.TempDir(), "new")
		code, out, errw := axleend(t, "", append(args, "-o", path)...)
		got, err := os.ReadFile(path)
		if code != exitDone || out != "wrote "+path+"\n" || err != nil || string(got) != want || want == "" {
			t.Errorf("%v: exit status %d, %q, %s, %v\n%s", form, code, out, errw, err, got)
		}
		if code, _, errw := axleend(t, "", append(args, "-o", path)...); code != exitMisuse || !strings.Contains(errw, "is there already") {
			t.Errorf("%v, again: exit status %d, %s", form, code, errw)
		}
		if code, _, errw := axleend(t, "", append(args, "-o", path, "-force")...); code != exitDone {
			t.Errorf("%v, with -force: exit status %d, %s", form, code, errw)
		}
	}
}
