package loading_test

import (
	"context"
	"encoding/json"
	"fmt"

	"axleend.example/inspect"
	"axleend.example/inspect/loading"
	"axleend.example/inspect/record"
)

// bay is an invented coach with one bay behind its drive axle.
const bay = `
visit: 1
date: 2026-10-02
axles:
  - {id: steer, fitment: single, gawr: 9500 lb}
  - {id: drive, fitment: dual, gawr: 17500 lb, behind_steer: 200 in}
weighing:
  scale: pads
  as_driven: all
  level: yes
  tolerance: 10 lb
  readings:
    - {load: 4000 lb, on: steer-left}
    - {load: 4100 lb, on: steer-right}
    - {load: 8100 lb, on: drive-left}
    - {load: 8500 lb, on: drive-right}
trip:
  stations: [{name: rear bay, behind_steer: 250 in}]
`

func ExampleWeigh() {
	v, err := record.Read("visit.yaml", []byte(bay))
	if err != nil {
		fmt.Println(err)
		return
	}
	r, err := loading.Weigh(v, inspect.Setup{})
	if err != nil {
		fmt.Println(err)
		return
	}
	l := r.Load("drive-right")
	fmt.Println(l.Name, l.Estimate.Load, "+/-", l.Estimate.PlusMinus)
	for _, m := range l.Margins {
		fmt.Println(m.What, m.Rating, m.Verdict, "room", m.Room)
	}
	// Output:
	// drive-right 8500 lb +/- 10 lb
	// half GAWR 8750 lb kept room 240 lb
}

func ExamplePlan() {
	v, err := record.Read("visit.yaml", []byte(bay))
	if err != nil {
		fmt.Println(err)
		return
	}
	r, err := loading.Plan(context.Background(), v, inspect.Setup{})
	if err != nil {
		fmt.Println(err)
		return
	}
	s := r.Stations[0]
	fmt.Println(s.Name, "takes", s.Room.Mass, "before", s.Room.LimitedBy)
	fmt.Println("the drive axle will carry", r.Load("drive").Expected.Load)
	// Output:
	// rear bay takes 384 lb before half GAWR, drive, right end
	// the drive axle will carry 16600 lb
}

func ExampleReadWeighing() {
	v, err := record.Read("visit.yaml", []byte(bay))
	if err != nil {
		fmt.Println(err)
		return
	}
	weighed, err := loading.Weigh(v, inspect.Setup{})
	if err != nil {
		fmt.Println(err)
		return
	}
	data, err := json.Marshal(weighed)
	if err != nil {
		fmt.Println(err)
		return
	}
	back, err := loading.ReadWeighing("weighing.json", data)
	fmt.Println(back.Loads[0].Name, back.Loads[0].Estimate.Load, err)
	_, err = loading.ReadPlan("weighing.json", data)
	fmt.Println(err)
	// Output:
	// steer-left 4000 lb <nil>
	// weighing.json: load: missing: this is another document, by its key "weighing"
}
