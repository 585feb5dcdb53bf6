package dotcode_test

import (
	"math"
	"slices"
	"testing"

	"axleend.example/dotcode"
)

// 2313 is 9 to 15 June 2013 (reference table).
func TestAge(t *testing.T) {
	for _, c := range []struct{ text, on, oldest, youngest, least, most, say string }{
		{"2313", "2026-11-25", "2013-06-09", "2013-06-15", "13 years 5 months", "13 years 5 months", "13 years 5 months"},
		{"2313", "2023-06-08", "2013-06-09", "2013-06-15", "9 years 11 months", "9 years 11 months", "9 years 11 months"},
		{"2313", "2023-06-09", "2013-06-09", "2013-06-15", "9 years 11 months", "10 years", "9 years 11 months to 10 years"},
		{"2313", "2023-06-15", "2013-06-09", "2013-06-15", "10 years", "10 years", "10 years"},
		{"2313", "2013-06-11", "2013-06-09", "2013-06-11", "less than a month", "less than a month", "less than a month"},
		{"439", "2026-11-25", "1979-10-28", "1999-10-30", "27 years", "47 years", "27 years to 47 years"},
		{"439▲", "2026-11-25", "1979-10-28", "1999-10-30", "27 years", "47 years", "27 years to 47 years"}, // only suggests
		{"1M3ABCDEF5320", "2026-11-25", "2020-12-27", "2021-01-03", "5 years 10 months", "5 years 10 months", "5 years 10 months"},
	} {
		on := date(c.on)
		age := parse(t, c.text).AgeOn(on)
		least, okLeast := age.AtLeast()
		most, okMost := age.AtMost()
		if age != (dotcode.Age{On: on, Oldest: date(c.oldest), Youngest: date(c.youngest)}) || !age.Known() || !okLeast || !okMost ||
			least.String() != c.least || most.String() != c.most || age.String() != c.say {
			t.Errorf("%s on %s: got %+v, %v, %v, %v", c.text, c.on, age, least, most, age)
		}
	}
}

func TestTurns(t *testing.T) {
	age := parse(t, "2313").AgeOn(date("2023-06-09"))
	for years, want := range map[int]string{5: "2018-06-09", 7: "2020-06-09", 10: "2023-06-09"} {
		if day, ok := age.ReachesOn(years); !ok || day != date(want) {
			t.Errorf("%d years: got %v, %v", years, day, ok)
		}
	}
	for _, c := range []struct {
		text, on      string
		years         int
		turned, known bool
	}{
		{"2313", "2023-06-08", 10, false, true},
		{"2313", "2023-06-09", 10, true, true}, // the oldest day decides
		{"2313", "2023-06-09", math.MaxInt, false, true},
		{"439", "2026-11-25", 40, true, true},
		{"1M3ABCDEF4375", "2026-11-25", 10, false, false}, // not known is not young
		{"1M3ABCDEF", "2026-11-25", 10, false, false},
		{"DOT-R ABC 2313", "2020-06-09", 7, true, true},
		{"DOT-R ABC 2313", "2020-06-08", 7, false, false}, // the casing is older
		{"ABC 2313", "2020-06-08", 7, false, false},       // seven symbols may be a retread's
		{"DOT-R 2313", "2020-06-08", 7, false, false},
	} {
		if turned, known := parse(t, c.text).AgeOn(date(c.on)).Reached(c.years); turned != c.turned || known != c.known {
			t.Errorf("%s on %s, %d years: got %v, %v", c.text, c.on, c.years, turned, known)
		}
	}
}

// 0820 ends on 29 February 2020, 0604 to 0904 hold 29 February 2004.
func TestAgeOfLeapDay(t *testing.T) {
	n := parse(t, "0820")
	candidates := n.Candidates(date("2026-11-25"))
	if last := candidates[0].Last; last != date("2020-02-29") {
		t.Fatalf("got %v", last)
	}
	least, _ := n.AgeOn(date("2025-02-28")).AtLeast()
	if least != (dotcode.Span{Years: 5}) {
		t.Errorf("got %+v", least)
	}
}

func TestAgeUnknown(t *testing.T) {
	var never dotcode.Age
	after := parse(t, "1M3ABCDEF4375").AgeOn(date("2026-11-25"))
	noDay := parse(t, "2313").AgeOn(dotcode.Date{})
	badDay := parse(t, "2313").AgeOn(dotcode.Date{Year: 2026, Month: 2, Day: 30})
	for name, age := range map[string]dotcode.Age{"zero": never, "after": after, "no day": noDay, "bad day": badDay} {
		_, least := age.AtLeast()
		_, most := age.AtMost()
		_, turns := age.ReachesOn(0)
		turned, known := age.Reached(0)
		if age.Known() || least || most || turns || turned || known || age.String() != "not known" || age.After != (name == "after") {
			t.Errorf("%s: got %+v, %v", name, age, age)
		}
	}
}

// A reading that lies after the day is flagged and makes nothing younger.
func TestAgeFlagsAfter(t *testing.T) {
	on := date("2026-11-25")
	age := parse(t, "5026").AgeOn(on)
	if !age.After || age.Oldest != date("1976-01-11") || age.Youngest != date("1996-01-20") {
		t.Errorf("got %+v", age)
	}
	if parse(t, "4726").AgeOn(on).After {
		t.Error("the week of the day of reading is not after it")
	}
}

// The order of candidates does not matter, those of another day are judged by the day given.
func TestAgeOnCandidates(t *testing.T) {
	candidates := parse(t, "439").Candidates(date("2026-11-25"))
	want := dotcode.AgeOn(candidates, date("1996-06-01"))
	slices.Reverse(candidates)
	if got := dotcode.AgeOn(candidates, date("1996-06-01")); got != want || !got.After || got.Youngest != date("1989-10-28") || got.Oldest != date("1979-10-28") {
		t.Errorf("got %+v, want %+v", got, want)
	}
	if got := dotcode.AgeOn(nil, date("1996-06-01")); got.Known() {
		t.Errorf("got %+v", got)
	}
}

// Every code, on many days: the age is never younger than a candidate supports, and grows with the day.
func TestAgeProperties(t *testing.T) {
	days := []dotcode.Date{}
	for day := date("1972-01-01"); day.Year < 2100; day = day.AddDays(1 + 997) {
		days = append(days, day)
	}
	text := []byte("0000")
	for i := range 11000 {
		code := text
		for j, n := 3, i; j >= 0; j, n = j-1, n/10 {
			code[j] = '0' + byte(n%10)
		}
		if i >= 10000 {
			code = code[1:]
		}
		n, _ := dotcode.Parse(string(code))
		var before dotcode.Age
		for _, on := range days {
			age := n.AgeOn(on)
			checkAge(t, n, age)
			if before.Known() && !before.After && age.Oldest.After(before.Oldest) {
				t.Fatalf("%s: younger on %v than on %v", code, on, before.On)
			}
			before = age
		}
	}
}

func checkAge(t *testing.T, n dotcode.Number, age dotcode.Age) {
	t.Helper()
	possible := false
	var previous dotcode.Candidate
	for _, c := range n.Candidates(age.On) {
		if !c.First.IsValid() || c.Last != c.First.AddDays(6) || c.First.Before(previous.First) || c.After != (c.First.After(age.On) && age.On.IsValid()) {
			t.Fatalf("%q on %v: candidate %+v", n.Text(), age.On, c)
		}
		previous = c
		if c.After {
			if !age.After {
				t.Fatalf("%q on %v: not flagged", n.Text(), age.On)
			}
			continue
		}
		if !age.On.IsValid() {
			continue
		}
		possible = true
		if age.Oldest.After(c.First) || age.Youngest.Before(c.Last) && age.Youngest != age.On || age.Youngest.After(age.On) {
			t.Fatalf("%q on %v: %+v is younger than %+v", n.Text(), age.On, age, c)
		}
		if most, _ := age.AtMost(); most.Years < dotcode.Between(c.First, age.On).Years {
			t.Fatalf("%q on %v: %v years at most, %+v", n.Text(), age.On, most, c)
		}
		if c.Retread && !age.Retread {
			t.Fatalf("%q: the retread is lost", n.Text())
		}
	}
	if age.Known() != possible {
		t.Fatalf("%q on %v: known is %v", n.Text(), age.On, age.Known())
	}
}
