// Command pressures goes from six weights, one for each end of three axles, to
// the cold pressure to set across each axle, without a file.
//
//	go run ./examples/pressures
//
// Weights, table and tire are invented, and so is the tire's size.
package main

import (
	"errors"
	"fmt"
	"io"
	"log"
	"os"

	"axleend.example/inflation"
	"axleend.example/inflation/caution"
	"axleend.example/rules/origin"
	"axleend.example/weight"
)

func main() {
	if err := run(os.Stdout, 4400, 4250, 8450, 8100, 3900, 4050); err != nil {
		log.Fatal(err)
	}
}

// run takes pounds, left before right, from the front axle to the last.
func run(out io.Writer, pounds ...weight.Mass) error {
	solution, err1 := weight.Solve(rig, ends(pounds), weight.Scale{Kind: weight.Pads})
	table, err2 := inflation.NewTable(invented)
	if err := errors.Join(err1, err2); err != nil {
		return err
	}
	settings := make([]inflation.Setting, len(rig.Axles))
	for i, axle := range rig.Axles {
		left, right := solution.Of(weight.EndOf(i, weight.Left)), solution.Of(weight.EndOf(i, weight.Right))
		var err error
		if settings[i], err = inflation.SetAxle(inflation.AxleInput{Name: axle.ID, Fitment: axle.Fitment, AsDriven: true, Placard: 95 * inflation.PSI,
			Weighed: inflation.AxleLoad{Left: inflation.LoadOf(left), Right: inflation.LoadOf(right)},
			Tires:   []inflation.Tire{{LoadRange: "G", Table: table, Single: single, Dual: dual}}, Wheels: []inflation.Wheel{wheel}}); err != nil {
			return err
		}
	}
	show(out, settings)
	return solution.Err() // readings that contradict each other
}

// ends are readings of one axle end each.
func ends(pounds []weight.Mass) []weight.Reading {
	out := make([]weight.Reading, len(pounds))
	for i, load := range pounds {
		out[i] = weight.Reading{Load: load * weight.Pound, On: weight.EndOf(i/2, weight.Left+weight.Side(i%2))}
	}
	return out
}

// show prints the pressure to set on each axle, and each caution once.
func show(out io.Writer, settings []inflation.Setting) {
	var cautions caution.Set
	for _, s := range settings {
		fmt.Fprintf(out, "%-6s %s, %s on its heavier tires", s.Name, s.Outcome, s.TireLoad)
		if s.Set > 0 { // else nobody may set it
			fmt.Fprintf(out, ": SET %s", s.Set)
		}
		fmt.Fprintln(out)
		cautions |= s.Cautions
	}
	for c := range cautions.All() {
		fmt.Fprintln(out, "-", c.Text())
	}
}

var rig = weight.Rig{Axles: []weight.Axle{{ID: "steer", Fitment: weight.Single}, {ID: "drive", Fitment: weight.Dual}, {ID: "tag", Fitment: weight.Single}}}

// What is stamped on each tire and wheel, invented too.
var (
	wheel  = inflation.Wheel{MaxLoad: 5200 * weight.Pound, MaxPressure: 120 * inflation.PSI}
	single = inflation.Rating{Load: 4940 * weight.Pound, Pressure: 110 * inflation.PSI}
	dual   = inflation.Rating{Load: 4540 * weight.Pound, Pressure: 110 * inflation.PSI}
)

// invented is a load and inflation table as it would be printed: yours comes from
// the maker of your tires.
var invented = inflation.TableData{
	Name: "invented XV250/72R21", Size: "XV250/72R21", Class: inflation.Truck,
	Source:       origin.Source{Grade: origin.Invented, Title: "made up for this example"},
	PressureUnit: inflation.PSI, LoadUnit: weight.Pound, Single: inflation.PerTire, Dual: inflation.PerTire,
	Rows: []inflation.PrintedRow{
		{Pressure: 80 * inflation.PSI, Single: 3920 * weight.Pound, Dual: 3640 * weight.Pound},
		{Pressure: 90 * inflation.PSI, Single: 4280 * weight.Pound, Dual: 3970 * weight.Pound},
		{Pressure: 100 * inflation.PSI, Single: 4620 * weight.Pound, Dual: 4300 * weight.Pound},
		{Pressure: 110 * inflation.PSI, Single: 4940 * weight.Pound, Dual: 4540 * weight.Pound},
	},
	Caps: []inflation.RangeCap{{LoadRange: "G"}},
}
