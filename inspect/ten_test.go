package inspect_test

import (
	"os"
	"testing"

	"axleend.example/inflation/tablefile"
	"axleend.example/inspect"
	"axleend.example/inspect/record"
	"axleend.example/rules/packs"
)

// ten is an invented coach on ten tires with everything written down.
const ten = `
visit: 1
invented: yes
date: 2026-10-03
units: us
coach: Ten tires (invented)
air_temperature: 64 F
gauge_tolerance: 0.5 psi
gauge_step: 1 psi
ratings: {gvwr: 38000 lb}
cold: yes
tows: nothing
axles:
  - {id: steer, fitment: single, gawr: 8000 lb, placard: 95 psi, placard_size: XV250/72R21, placard_load_range: G}
  - {id: drive, fitment: dual, gawr: 15000 lb, placard: 95 psi, placard_size: XV250/72R21, placard_load_range: G, behind_steer: 250 in}
  - {id: rear, fitment: dual, gawr: 15000 lb, placard: 95 psi, placard_size: XV250/72R21, placard_load_range: G, behind_steer: 300 in}
weighing:
  scale: segmented
  division: 20 lb
  level: yes
  ride_height: yes
  levelers_up: yes
  slides_in: yes
  tanks_as_driven: yes
  fuel_as_driven: yes
  people_as_driven: yes
  readings:
    - {load: 3200 lb, on: [steer-left]}
    - {load: 3100 lb, on: [steer-right]}
    - {load: 5200 lb, on: [drive-left]}
    - {load: 5300 lb, on: [drive-right]}
    - {load: 5100 lb, on: [rear-left]}
    - {load: 5000 lb, on: [rear-right]}
every_tire:
  size: XV250/72R21
  load_range: G
  class: truck
  construction: radial
  retread: no
  single: 4100 lb at 110 psi
  dual: 3800 lb at 110 psi
  wheel: 4500 lb at 120 psi
  last_set: 95 psi
  read_at: stem
  sidewalls: both
  seen: []
tires:
  - {at: steer-left, found: 95 psi, left: 95 psi, lowest: 95 psi, number: 1M3 ABCDEF 2323, tread: 12/32 in, diameter: 37.2 in}
  - {at: steer-right, found: 95 psi, left: 95 psi, lowest: 95 psi, number: 1M3 ABCDEF 2323, tread: 12/32 in, diameter: 37.2 in}
  - {at: drive-left-outer, found: 95 psi, left: 95 psi, lowest: 95 psi, number: 1M3 ABCDEF 2323, tread: 12/32 in, diameter: 37.2 in}
  - {at: drive-left-inner, found: 95 psi, left: 95 psi, lowest: 95 psi, number: 1M3 ABCDEF 2323, tread: 12/32 in, diameter: 37.2 in}
  - {at: drive-right-inner, found: 95 psi, left: 95 psi, lowest: 95 psi, number: 1M3 ABCDEF 2323, tread: 12/32 in, diameter: 37.2 in}
  - {at: drive-right-outer, found: 95 psi, left: 95 psi, lowest: 95 psi, number: 1M3 ABCDEF 2323, tread: 12/32 in, diameter: 37.2 in}
  - {at: rear-left-outer, found: 95 psi, left: 95 psi, lowest: 95 psi, number: 1M3 ABCDEF 2323, tread: 12/32 in, diameter: 37.2 in}
  - {at: rear-left-inner, found: 95 psi, left: 95 psi, lowest: 95 psi, number: 1M3 ABCDEF 2323, tread: 12/32 in, diameter: 37.2 in}
  - {at: rear-right-inner, found: 95 psi, left: 95 psi, lowest: 95 psi, number: 1M3 ABCDEF 2323, tread: 12/32 in, diameter: 37.2 in}
  - {at: rear-right-outer, found: 95 psi, left: 95 psi, lowest: 95 psi, number: 1M3 ABCDEF 2323, tread: 12/32 in, diameter: 37.2 in}
`

// BenchmarkAssessTenTires assesses a coach that is in order with all the packs.
func BenchmarkAssessTenTires(b *testing.B) {
	v, err := record.Read("ten.yaml", []byte(ten))
	if err != nil {
		b.Fatal(err)
	}
	tables, err := tablefile.LoadFolder(os.DirFS("../examples/demo"))
	if err != nil {
		b.Fatal(err)
	}
	program, err := inspect.CompilePacks(packs.FS(), packs.Names()...)
	if err != nil {
		b.Fatal(err)
	}
	setup := inspect.Setup{Program: program, Tables: tables}
	r, err := inspect.Assess(v, setup)
	if err != nil {
		b.Fatal(err)
	}
	if len(r.Todo) > 0 || len(r.Unjudged) > 0 {
		b.Fatalf("want everything written down and nothing found, got %v and %v", r.Todo, r.Unjudged)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := inspect.Assess(v, setup); err != nil {
			b.Fatal(err)
		}
	}
}
