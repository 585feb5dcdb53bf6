package inflation_test

import (
	"fmt"
	"testing"

	"axleend.example/inflation"
	"axleend.example/inflation/caution"
	"axleend.example/inflation/tablefile"
	"axleend.example/weight"
)

// TestAnswerCautions holds every caution that a look-up can have to when it
// must be there and when it must not.
func TestAnswerCautions(t *testing.T) {
	table, err := tablefile.Read("car.yaml", []byte(`
table: 1
name: invented car tire
size: AX240/75R20
class: passenger
load_range: SL
pressure_unit: psi
load_unit: lb
single: per tire
source: {grade: invented, title: made up for this test}
columns: [pressure, single]
rows:
  - [26, 1540]
  - [29, 1650]
  - [32, 1760]
`))
	if err != nil {
		t.Fatal(err)
	}
	car := inflation.Options{LoadRange: "SL", OnPassengerCar: true}
	for _, x := range []struct {
		name   string
		answer inflation.LookUp
		share  inflation.TireShare
		table  *inflation.Table
		opt    inflation.Options
		with   []caution.Caution
		never  []caution.Caution
	}{
		{"nothing carries it", inflation.LookUp{}, inflation.TireShare{}, table, car,
			[]caution.Caution{caution.ColdOnly, caution.ThisLoadOnly, caution.TirePressureNotRead, caution.WheelPressureNotRead},
			[]caution.Caution{caution.Estimated, caution.Derated, caution.LoadRangeNotRead, caution.ShareAssumed}},
		{"on a coach, load range not read", inflation.LookUp{AtFloor: true}, inflation.TireShare{Assumed: true}, table, inflation.Options{},
			[]caution.Caution{caution.Derated, caution.LoadRangeNotRead, caution.ShareAssumed},
			[]caution.Caution{caution.NoTableFloor, caution.Estimated}},
		{"estimate", inflation.LookUp{Estimated: true}, inflation.TireShare{}, nil, inflation.Options{},
			[]caution.Caution{caution.Estimated, caution.ColdOnly, caution.WheelLoadNotRead},
			[]caution.Caution{caution.NoTableFloor, caution.TirePressureNotRead}},
		{"estimate at its floor", inflation.LookUp{Estimated: true, AtFloor: true}, inflation.TireShare{}, nil, inflation.Options{},
			[]caution.Caution{caution.Estimated, caution.NoTableFloor}, nil},
	} {
		t.Run(x.name, func(t *testing.T) {
			got := x.answer.Cautions(x.share, x.table, x.opt)
			for _, c := range x.with {
				if !got.Has(c) {
					t.Errorf("no caution %s", c)
				}
			}
			for _, c := range x.never {
				if got.Has(c) {
					t.Errorf("caution %s", c)
				}
			}
		})
	}
}

func ExampleLookUp_Cautions() {
	share, err := inflation.ShareOf(8000*weight.Pound, inflation.PerAxle, weight.Single, weight.US)
	if err != nil {
		fmt.Println(err)
		return
	}
	tire := inflation.Unlisted{Class: inflation.Truck, Rating: inflation.Rating{Load: 4940 * weight.Pound, Pressure: 110 * inflation.PSI}}
	answer, err := tire.PressureFor(share.Tire, inflation.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(answer.Pressure)
	for c := range answer.Cautions(share, nil, inflation.Options{}).All() {
		fmt.Println(c)
	}
	// Output:
	// 105 psi
	// cold-only
	// this-load-only
	// share-assumed
	// estimated
	// wheel-pressure-not-read
	// wheel-load-not-read
}
