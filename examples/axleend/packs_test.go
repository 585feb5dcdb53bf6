package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"axleend.example/rules/packs"
)

// TestPacksList: each pack is there with what it is for, its edition, and on
// what its rules rest.
func TestPacksList(t *testing.T) {
	code, out, errw := axleend(t, "", "packs")
	if code != exitDone || errw != "" {
		t.Fatalf("%d, %s", code, errw)
	}
	for _, name := range packs.Names() {
		if !strings.Contains(out, name+": ") {
			t.Errorf("%s is not listed", name)
		}
	}
	words := strings.Join(strings.Fields(out), " ")
	for _, want := range []string{"for a coach registered in US; only for a coach with gvwr more than 10000 lb", "label: What the labels and stamps allow for any coach; ",
		"for a coach registered in US, in commercial use;", "1 rule: 1 as quoted", "Run unless told otherwise: coach-care,", "published", "24 April 2024"} {
		if !strings.Contains(words, want) {
			t.Errorf("%q is missing in\n%s", want, out)
		}
	}
}

// TestPacksShow: a page has rule, limit, what to do, source, and what its
// sources say that no rule judges; a mistyped name gets the nearest.
func TestPacksShow(t *testing.T) {
	code, out, errw := axleend(t, "", "packs", "show", "us-in-use")
	words := strings.Join(strings.Fields(out), " ")
	for _, want := range []string{
		"us-in-use/tread-steer Steer tire worn out", "Limit: Each tire where the role is steer: the tread must be at least 4/32 in",
		"Do: Replace it before the trip.", "Source: 49 CFR 570.62, (a) (published)", "BEFORE TRIP: to be done before the next trip",
		"Its sources also say, and no rule here judges: 49 CFR 570.62, (a)(1)",
	} {
		if !strings.Contains(words, want) {
			t.Errorf("%q is missing in\n%s", want, out)
		}
	}
	if code != exitDone || errw != "" {
		t.Errorf("%d, %s", code, errw)
	}
}

// TestPackNames: a name that no pack has is told what was meant, whichever command it
// is given to: the nearest name, a part of one, a word of a title.
func TestPackNames(t *testing.T) {
	dir := t.TempDir()
	if code, _, errw := axleend(t, "", "packs", "new", "north-yard", "-pack-dir", dir); code != exitDone {
		t.Fatal(errw)
	}
	for _, x := range []struct{ name, want string }{
		{"us-inuse", `did you mean "us-in-use"?`},
		{"US-IN-USE", `did you mean "us-in-use"?`},
		{"uk", `did you mean "uk-c-and-u" or "uk-tyre-age"?`},
		{"austria", `did you mean "at-kdv-light" or "at-kdv"?`},
		{"north-yrd", `did you mean "north-yard"?`},
		{"lable", `did you mean "label"?`},
		{"none", "there are north-yard, at-kdv"},
	} {
		for _, args := range [][]string{{"packs", "show", x.name}, {"assess", "-packs", x.name, "-"}, {"assess", "-beside", x.name, "-"}} {
			code, _, errw := axleend(t, "visit: 1\ndate: 2026-10-03\naxles: [{id: steer, fitment: single}]\n", append(args, "-pack-dir", dir)...)
			if code != exitMisuse || !strings.Contains(errw, x.want) {
				t.Errorf("%v: %d, %s", args, code, errw)
			}
		}
	}
	if code, out, errw := axleend(t, "", "packs", "show", "label.yaml"); code != exitDone || !strings.HasPrefix(out, "label: ") {
		t.Errorf("%d, %s%s", code, out, errw)
	}
}

// TestPacksNew: what it writes passes its own check at once, runs beside the
// others, and is written over nothing.
func TestPacksNew(t *testing.T) {
	dir := t.TempDir()
	if code, out, errw := axleend(t, "", "packs", "new", "north-yard", "-pack-dir", dir); code != exitDone || !strings.Contains(out, "packs check") {
		t.Fatalf("%d, %s%s", code, out, errw)
	}
	file := filepath.Join(dir, "north-yard.yaml")
	if code, out, errw := axleend(t, "", "packs", "check", "-strict", file); code != exitDone || !strings.Contains(out, "5 cases, 0 failed, 0 gaps") {
		t.Errorf("%d, %s%s", code, out, errw)
	}
	if code, out, _ := axleend(t, "", "packs", "-pack-dir", dir); code != exitDone || !strings.HasPrefix(out, "north-yard: ") {
		t.Errorf("%d, %s", code, out)
	}
	visit := "visit: 1\ndate: 2026-10-03\naxles: [{id: steer, fitment: single}]\ntires:\n  - {at: steer-left, tread: 5/32 in}\n"
	code, out, errw := axleend(t, visit, "assess", "-full", "-pack-dir", dir, "-beside", "north-yard", "-")
	if code != exitDone || !strings.Contains(out, "Order steer tires") || !strings.Contains(out, "coach-care") {
		t.Errorf("%d, %s%s", code, out, errw)
	}
	// A visit may ask for it, too, and for a shipped one that is not run otherwise.
	for _, x := range []struct{ ask, want string }{
		{"north-yard", "north-yard/steer-tread"}, {"us-in-use", "us-in-use/tread-steer"}, {"moon-law", "moon-law, which the visit asks for and which is not at hand"},
	} {
		_, out, errw := axleend(t, strings.Replace(visit, "5/32", "3/32", 1)+"packs: ["+x.ask+"]\n", "assess", "-full", "-pack-dir", dir, "-")
		if flat := strings.Join(strings.Fields(out), " "); !strings.Contains(flat, x.want) {
			t.Errorf("%s: %s%s", x.ask, out, errw)
		}
	}
	for name, want := range map[string]string{"north-yard": "there already", "North": "lower-case", "../x": "not a path", "label": "shipped pack"} {
		if code, _, errw := axleend(t, "", "packs", "new", name, "-pack-dir", dir); code != exitMisuse || !strings.Contains(errw, want) {
			t.Errorf("%s: %d, %s", name, code, errw)
		}
	}
	files, err := os.ReadDir(dir)
	if err != nil || len(files) != 2 {
		t.Errorf("%v, %v", files, err)
	}
}

// TestPacksCheckTells: a case that fails is explained by the fact, the bound
// and the verdict.
func TestPacksCheckTells(t *testing.T) {
	dir := t.TempDir()
	pack, cases := packs.Starter("east-yard")
	for name, text := range map[string]string{"east-yard.yaml": strings.Replace(pack, "6/32 in", "7/32 in", 1), "east-yard.cases.yaml": cases} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	code, out, _ := axleend(t, "", "packs", "check", filepath.Join(dir, "east-yard.yaml"))
	want := `rule "steer-tread": want kept, got breached, plan: tread 6/32 in, wanted: at least 7/32 in`
	if code != exitStop || !strings.Contains(out, want) {
		t.Errorf("%d, %s", code, out)
	}
}

// TestPacksCheckAll: what a shell makes of *.yaml is checked pack by pack, each
// once; files of cases and of clauses are known for what they are.
func TestPacksCheckAll(t *testing.T) {
	dir := t.TempDir()
	for _, name := range []string{"east-yard", "north-yard"} {
		if code, _, errw := axleend(t, "", "packs", "new", name, "-pack-dir", dir); code != exitDone {
			t.Fatal(errw)
		}
	}
	at := func(name string) string { return filepath.Join(dir, name) }
	line := func(name string) string { return at(name) + ": 5 cases, 0 failed, 0 gaps\n" }
	with := func(name, pack string) string { return at(name) + ": checked with " + at(pack) + "\n" }
	for _, x := range []struct {
		files []string
		want  string
	}{
		{[]string{"east-yard.cases.yaml", "east-yard.yaml", "north-yard.cases.yaml", "north-yard.yaml"},
			with("east-yard.cases.yaml", "east-yard.yaml") + line("east-yard.yaml") + with("north-yard.cases.yaml", "north-yard.yaml") + line("north-yard.yaml")},
		{[]string{"east-yard.cases.yaml"}, with("east-yard.cases.yaml", "east-yard.yaml") + line("east-yard.yaml")},
		{[]string{"east-yard.cases.yaml", "east-yard.clauses.yaml"}, with("east-yard.cases.yaml", "east-yard.yaml") + line("east-yard.yaml") + with("east-yard.clauses.yaml", "east-yard.yaml")},
	} {
		args := []string{"packs", "check"}
		for _, name := range x.files {
			args = append(args, at(name))
		}
		if code, out, errw := axleend(t, "", args...); code != exitDone || out != x.want {
			t.Errorf("%v: %d, %s%s", x.files, code, out, errw)
		}
	}
	for name, text := range map[string]string{"coach.yaml": "# a coach\n---\nvisit: 1\n", "size.yaml": "table: 1\n", "typed.yaml": "\ufeff\"table\": 1\n"} {
		if err := os.WriteFile(at(name), []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	want := at("coach.yaml") + ": a visit, no pack: left out\n" + line("east-yard.yaml") + at("size.yaml") + ": a table, no pack: left out\n" + at("typed.yaml") + ": a table, no pack: left out\n"
	if code, out, _ := axleend(t, "", "packs", "check", at("coach.yaml"), at("east-yard.yaml"), at("size.yaml"), at("typed.yaml")); code != exitDone || out != want {
		t.Errorf("%d, %s", code, out)
	}
	if code, out, errw := axleend(t, "", "packs", "check", at("coach.yaml")); code != exitMisuse || out != "" || !strings.Contains(errw, "no pack among them") {
		t.Errorf("%d, %s%s", code, out, errw)
	}
	if code, out, errw := axleend(t, "", "packs", "-pack-dir", dir); code != exitDone || strings.Contains(out, "coach:") || !strings.Contains(out, "north-yard:") {
		t.Errorf("%d, %s%s", code, out, errw)
	}
	if err := os.Remove(at("north-yard.yaml")); err != nil {
		t.Fatal(err)
	}
	if code, out, _ := axleend(t, "", "packs", "check", at("north-yard.cases.yaml"), at("east-yard.yaml")); code != exitStop || !strings.Contains(out, "north-yard.yaml: bad") || !strings.Contains(out, line("east-yard.yaml")) {
		t.Errorf("%d, %s", code, out)
	}
}
