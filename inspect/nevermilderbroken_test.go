package inspect_test

import (
	"slices"
	"strings"
	"testing"

	"axleend.example/inflation"
	"axleend.example/inspect"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/internal/testsize"
	"axleend.example/rules"
)

// A broken is a judge that was broken on purpose, and what the relations have to
// find of it.
type broken struct {
	name string
	by   assessor
	want string // a part of the key of some failure
}

// after is the library's answer with something done to it.
func after(do func(*record.Visit, *report.Report)) assessor {
	return func(v *record.Visit, s inspect.Setup) (report.Report, error) {
		r, err := inspect.Assess(v, s)
		if err == nil {
			r.Tires, r.Settings, r.Todo, r.Unjudged = slices.Clone(r.Tires), slices.Clone(r.Settings), slices.Clone(r.Todo), slices.Clone(r.Unjudged)
			do(v, &r)
		}
		return r, err
	}
}

// eachLow changes how each tire stands.
func eachLow(do func(v *record.Visit, t *report.TireLine)) assessor {
	return after(func(v *record.Visit, r *report.Report) {
		for i := range r.Tires {
			do(v, &r.Tires[i])
		}
	})
}

func brokenJudges(t *testing.T) []broken {
	t.Helper()
	wrongWay := housePack(t, "rules:\n  tread-wrong: {title: Wrong, subject: tire, measure: tread, at_most: 6/32 in, action: plan, advice: None., source: {grade: common practice}}\n")
	return []broken{
		{"a warm reading is no reading", func(v *record.Visit, s inspect.Setup) (report.Report, error) {
			w := *v
			w.Tires = slices.Clone(v.Tires)
			for i := range w.Tires {
				if record.Yes(w.Tires[i].Hot) {
					w.Tires[i].Found = record.Recorded[inflation.Pressure]{}
				}
			}
			return inspect.Assess(&w, s)
		}, "worse, warm when read: low"},
		{"what was not read is good", eachLow(func(_ *record.Visit, t *report.TireLine) {
			if t.Low == report.LowUnknown || t.Low == report.LowAsked || !t.Found.Is() {
				t.Low, t.Air = report.NotLow, report.AirFree
			}
		}), "forgotten, tires[].found: low"},
		{"nothing is said of what was not judged", after(func(_ *record.Visit, r *report.Report) { r.Unjudged, r.NotJudged = nil, 0 }), "forgotten, tires[].number: item"},
		{"79 fares better than 80", eachLow(func(_ *record.Visit, t *report.TireLine) {
			if p, ok := t.Found.Get(); ok && p < 40*inflation.PSI {
				t.Low, t.Air = report.NotLow, report.AirFree
			}
		}), "worse, less air: low"},
		{"only the last set counts", eachLow(func(v *record.Visit, t *report.TireLine) {
			if !t.Found.Is() || t.Low == report.NotLow {
				return
			}
			for _, w := range v.Tires {
				if set, found, ok := record.Both(w.LastSet, w.Found); ok && w.At == t.At && found*10 > set*8 {
					t.Low = report.NotLow
				}
			}
		}), "every visit, not low"},
		{"a flat is to be aired", after(func(_ *record.Visit, r *report.Report) {
			for i := range r.Tires {
				if r.Tires[i].Air != report.AirFree {
					r.Todo = append(r.Todo, report.Item{Action: report.BeforeTrip, Verdict: rules.Breached, Where: r.Tires[i].At, Rules: []string{"coach-care/below-set"}, Advice: adviceOf()["coach-care/below-set"]})
				}
			}
		}), "every visit, as it is: air advised"},
		{"a flat is not on the list", after(func(_ *record.Visit, r *report.Report) {
			r.Todo = slices.DeleteFunc(r.Todo, func(it report.Item) bool { return strings.HasPrefix(it.What, "Flat") })
		}), "every visit, as it is: flat unsaid"},
		{"more load wants less air", after(func(_ *record.Visit, r *report.Report) {
			for i := range r.Settings {
				if s := &r.Settings[i]; s.Set > 0 && s.TireLoad > 0 {
					s.Set = 200*inflation.PSI - s.Set
				}
			}
		}), "worse, more load on an end: set"},
		{"the more is open, the better", after(func(_ *record.Visit, r *report.Report) {
			if r.NotJudged > 12 {
				r.Drive = report.NothingFound
			}
		}), ": nothing found"},
		{"a stop that is forgotten", after(func(v *record.Visit, r *report.Report) {
			if !v.Ratings.GVWR.Is() {
				r.Drive = report.NothingFound
			}
		}), "forgotten, ratings.gvwr: stop"},
		{"a rule that looks the wrong way", func(v *record.Visit, s inspect.Setup) (report.Report, error) {
			s.Program = wrongWay
			return inspect.Assess(v, s)
		}, "worse, less tread: verdict of house/tread-wrong"},
	}
}

// TestNeverMilderCanFail: each relation finds the judge that was broken for it.
func TestNeverMilderCanFail(t *testing.T) {
	if !testsize.Full() {
		t.Skip("up to 400 coaches for each broken judge")
	}
	t.Parallel()
	for _, b := range brokenJudges(t) {
		t.Run(b.name, func(t *testing.T) {
			t.Parallel()
			for seed := uint64(1); seed <= 400; seed += 20 {
				got := runOf(20, seed, b.by, false)
				for key := range got.count {
					if strings.Contains(key, b.want) {
						return
					}
				}
			}
			t.Errorf("400 coaches do not show it: want a failure like %q", b.want)
		})
	}
}
