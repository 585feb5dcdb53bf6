package rules_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"axleend.example/rules"
)

// meant is a pack with one rule, for what it says of whom it is for.
func meant(name, whom string) string {
	return "pack: " + name + "\nformat: 1\ntitle: t\n" + whom + `
rules:
  pull-` + name + `: {title: t, subject: hose, measure: weight, at_most: 9 lb, action: watch, advice: a, source: {grade: computed}}
`
}

// TestWhom: what a pack says of whom it is for comes through compiling, extending
// and standing beside others, and leaves nothing out.
func TestWhom(t *testing.T) {
	v := hosed(t)
	heavy := compiled(t, v, meant("heavy", "for: {country: [AT, CA-QC], use: commercial}"), meant("any", ""))
	if diff := cmp.Diff([]rules.Whom{{Pack: "heavy", Countries: []string{"AT", "CA-QC"}, Uses: []string{"commercial"}}}, heavy.For()); diff != "" || len(heavy.Rules()) != 2 {
		t.Errorf("%s, %d rules", diff, len(heavy.Rules()))
	}
	heavy.For()[0].Countries[0] = "XX"
	if got := heavy.For()[0].String(); got != "registered in AT or CA-QC, commercial use" {
		t.Errorf("a caller changed it: %s", got)
	}
	for _, x := range []struct{ extends, want string }{
		{"pack: taken\ntitle: t\nextends: [heavy]\nchange:\n  pull-heavy: {action: stop, source: {grade: computed}}\n", "heavy registered in AT"},
		{"pack: own\ntitle: t\nextends: [heavy]\nfor: {use: [private, commercial]}\n", "own private or commercial use"},
	} {
		whom := compiled(t, v, meant("heavy", "for: {country: AT}"), x.extends).For()
		if len(whom) != 1 || whom[0].Pack+" "+whom[0].String() != x.want {
			t.Errorf("%+v of\n%s", whom, x.extends)
		}
	}
	both, err := compiled(t, v, meant("any", "")).With(heavy)
	if err != nil || len(both.For()) != 1 {
		t.Errorf("%v, %+v", err, both.For())
	}
	if got := (rules.Pack{}).For(); got.String() != "" {
		t.Errorf("of no pack: %+v", got)
	}
}

func TestWhomRefused(t *testing.T) {
	for _, x := range []struct{ whom, want string }{
		{"{}", "neither country nor use"},
		{"AT", "want keys with values"},
		{"{country: []}", "nothing in it"},
		{"{country: at}", "letters of ISO 3166"},
		{"{country: AUT}", "letters of ISO 3166"},
		{"{country: A}", "letters of ISO 3166"},
		{"{country: CA-}", "letters of ISO 3166"},
		{"{country: CA-QUEB}", "letters of ISO 3166"},
		{"{country: CA-qc}", "letters of ISO 3166"},
		{"{country: [AT, AT]}", "named twice"},
		{"{use: hire}", "unknown word"},
		{"{use: [private, private]}", "named twice"},
		{"{usage: private}", "usage"},
	} {
		_, err := rules.ReadPack("p.yaml", []byte(meant("p", "for: "+x.whom)))
		if err == nil || !strings.Contains(err.Error(), x.want) {
			t.Errorf("%s: got %v, want %q", x.whom, err, x.want)
		}
	}
	for _, good := range []string{"{country: US}", "{country: [US, CA-QC, FR-75, AU-NSW]}", "{use: private}"} {
		if p, err := rules.ReadPack("p.yaml", []byte(meant("p", "for: "+good))); err != nil || p.For().String() == "" {
			t.Errorf("%s: %v", good, err)
		}
	}
}

func ExampleProgram_For() {
	program, err := exampleProgram()
	if err != nil {
		fmt.Println(err)
		return
	}
	pack, err := rules.ReadPack("yard.yaml", []byte("format: 1\npack: yard\ntitle: Our own\nfor: {country: CA-QC, use: private}\nrules:\n"+
		"  cap: {title: pulls, subject: valve, measure: pull, at_most: 2 lb, action: watch, advice: Look., source: {grade: invented, title: made up}}\n"))
	if err != nil {
		fmt.Println(err)
		return
	}
	own, err := rules.Compile(program.Vocabulary(), pack)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(pack.For())
	for _, whom := range own.For() {
		fmt.Println(whom.Pack, whom.Countries, whom.Uses)
	}
	// Output:
	// registered in CA-QC, private use
	// yard [CA-QC] [private]
}
