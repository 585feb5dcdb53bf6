// Command slipimport reads weighings from a spreadsheet's CSV and says what
// each axle end carries, and how sure that is. The weighings are invented.
//
//	go run ./examples/slipimport examples/slipimport/slips.csv
//
// The columns are slip, load and on, in any order: a name, a mass with its
// unit, and the axle or axle end ("steer-left") that stood on the plate.
package main

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"os"
	"slices"

	"axleend.example/rules/origin"
	"axleend.example/weight"
)

func main() {
	if len(os.Args) != 2 {
		fmt.Fprintln(os.Stderr, "slipimport wants one CSV file")
		os.Exit(2)
	}
	f, err := os.Open(os.Args[1])
	if err == nil {
		err = run(os.Args[1], f, os.Stdout)
		f.Close()
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(2)
	}
}

func run(name string, in io.Reader, out io.Writer) error {
	rig := weight.Rig{Axles: []weight.Axle{{ID: "steer", Fitment: weight.Single}, {ID: "drive", Fitment: weight.Dual}}}
	readings, err := read(name, in, rig)
	if err != nil {
		return err
	}
	solution, err := weight.Solve(rig, readings, weight.Scale{Kind: weight.Platform})
	if err != nil {
		return err
	}
	for _, set := range rig.Sums() {
		if e := solution.Of(set); e.Known() {
			fmt.Fprintf(out, "%-34s %s +/- %s\n", rig.Name(set), e.Load, e.PlusMinus)
		}
	}
	return solution.Err() // readings that contradict each other
}

// read gives the readings, or all that is wrong with the file at once.
func read(name string, in io.Reader, rig weight.Rig) ([]weight.Reading, error) {
	places := map[string]weight.Set{}
	for i, axle := range rig.Axles {
		places[axle.ID] = weight.AxleOf(i)
		for _, side := range []weight.Side{weight.Left, weight.Right} {
			places[axle.ID+"-"+side.String()] = weight.EndOf(i, side)
		}
	}
	const most = 16 << 10 // bytes: 64 readings is what can be solved
	r := csv.NewReader(io.LimitReader(in, most+1))
	head, err := r.Read()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	slip, load, on := slices.Index(head, "slip"), slices.Index(head, "load"), slices.Index(head, "on")
	if slip < 0 || load < 0 || on < 0 {
		return nil, fmt.Errorf("%s: want the columns slip, load and on, found %q", name, head[:min(len(head), 9)])
	}
	var out []weight.Reading
	var problems origin.Problems
	for {
		row, err := r.Read()
		if r.InputOffset() > most {
			err = fmt.Errorf("more than %d bytes", most)
		}
		if errors.Is(err, io.EOF) {
			return out, problems.Err()
		} else if err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		at := func(field int) origin.Position {
			line, column := r.FieldPos(field)
			return origin.Position{File: name, Line: line, Column: column}
		}
		m, err := weight.ParseMass(row[load])
		problems.AddError(at(load), "value", err)
		set, known := places[row[on]]
		if !known {
			problems.AddError(at(on), "place", fmt.Errorf("no such place: %.40q", row[on]))
		}
		out = append(out, weight.Reading{Name: row[slip], Load: m, On: set})
	}
}
