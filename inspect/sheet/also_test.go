package sheet_test

import (
	"strings"
	"testing"

	"axleend.example/inspect"
	"axleend.example/inspect/record"
	"axleend.example/inspect/sheet"
)

// everythingElse is a visit that records all that is not judged, the texts with
// markup in them.
const everythingElse = `
visit: 1
invented: yes
date: 2026-10-03
coach: Invented
names: {customer: an invented <customer>, technician: an invented technician, last_set_by: an invented <setter>, plate: INV <1>, unit_number: unit 7, work_order: order 8}
last_set_on: 2026-04-02
gauge: dial
gauge_checked: 2026-02-03
tows: trailer
axles:
  - {id: steer, fitment: single, torque_asked: 475 ft-lb, torque_applied: 470 ft-lb}
  - {id: drive, fitment: single, torque_asked: 475 ft-lb}
  - {id: trailer, fitment: single, towed: yes}
every_tire: {stem: metal, extension: flexible, stem_fitted: 2020-10-04, wheel_on: 2026-10-01, torque_checked: 2026-10-02}
every_towed_tire: {sensor_fitted: 2019-01-05}
tires:
  - {at: steer-left, found: 95 psi, left: 95 psi, next_day: 91 psi, sensor_reading: 97 psi, sensor_fitted: 2021-05-06, inspected_by: an invented <inspector>, photos: [outside.jpg, "<b>.jpg"], note: a <note> of its own}
  - {at: steer-right, found: 95 psi, stem: not read, seen: bulge}
  - {at: drive-left, found: 95 psi}
  - {at: drive-right, found: 95 psi, stem: rubber snap-in}
  - {at: trailer-left, found: 50 psi}
  - {at: trailer-right, found: 50 psi}
weighing:
  hitched: yes
  scale: whole axles
  readings: [{load: 5800 lb, on: steer}, {load: 9100 lb, on: drive}, {load: 5000 lb, on: trailer}]
  unhitched: [{load: 5920 lb, on: steer}, {load: 8810 lb, on: drive}, {load: 14720 lb, on: coach}]
towing: {tongue: 455 lb}
declined:
  - {at: steer-right, rule: seen-bulge, note: has it done <elsewhere>}
  - {at: drive-left, rule: a <wash>}
notes: [the first <note>, the second note]
torque_due: 41350 mi
next_visit: 2027-03-04
next_day_air: 55 F
`

func visitOf(t *testing.T, text string) *record.Visit {
	t.Helper()
	v, err := record.Read("visit.yaml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// alsoOn is what the sheet says of a visit, its markup taken away.
func alsoOn(t *testing.T, v *record.Visit, opt sheet.HTMLOptions) (page, text string) {
	t.Helper()
	r, err := inspect.Assess(v, inspect.Setup{})
	if err != nil {
		t.Fatal(err)
	}
	page = render(t, r, opt)
	return page, words(page)
}

// TestSheetSaysWhatElseIsRecorded: each thing by the label of its field, with where
// it holds; what nobody read stands nowhere, also where all tires share the rest.
func TestSheetSaysWhatElseIsRecorded(t *testing.T) {
	v := visitOf(t, everythingElse)
	page, text := alsoOn(t, v, sheet.HTMLOptions{OneSheet: true, Visit: v})
	_, back, _ := strings.Cut(text, "Also recorded")
	for _, want := range []string{
		"last set by an invented <setter>", "last set on 2026-04-02", "gauge checked 2026-02-03", "tongue weight 455 lb", "torque due at 41350 mi", "next visit 2027-03-04", "air next day 55 F",
		"notes the first <note>; the second note",
		"torque asked: steer, drive 475 ft-lb", "torque applied: steer 470 ft-lb", "wheel put on: steer-left, steer-right, drive-left, drive-right 2026-10-01",
		"torque rechecked: steer-left, steer-right, drive-left, drive-right 2026-10-02",
		"valve stem: steer-left, drive-left metal ; drive-right rubber snap-in", "extension: steer-left, steer-right, drive-left, drive-right flexible",
		"stem fitted: steer-left, steer-right, drive-left, drive-right 2020-10-04 (5 years 11 months)", // a day short of 6 years
		"sensor shows: steer-left 97 psi", "sensor fitted: steer-left 2021-05-06 (5 years 4 months) ; trailer-left, trailer-right 2019-01-05 (7 years 8 months)",
		"next day: steer-left 91 psi", "inspected by: steer-left an invented <inspector>", "photos: steer-left outside.jpg, <b>.jpg", "note: steer-left a <note> of its own",
		"on the plate readings, hitched unhitched steer 5,800 lb 5,920 lb drive 9,100 lb 8,810 lb trailer 5,000 lb not recorded coach not recorded 14,720 lb",
		"Declined by the owner steer-right: Bulge", "(has it done <elsewhere>) drive-left: a <wash> Handed over and explained",
	} {
		if !strings.Contains(back, want) {
			t.Errorf("%q is not on the sheet: %s", want, back)
		}
	}
	for _, raw := range []string{"<setter>", "<inspector>", "<b>.jpg", "<note>", "<elsewhere>", "<wash>", "<customer>", "INV <1>"} {
		if strings.Contains(page, raw) {
			t.Errorf("%s stands unescaped on the sheet", raw)
		}
	}
}

// TestSheetWithoutNames: what is private of a visit is on its sheet, and none of it
// where names are left out; all else stays.
func TestSheetWithoutNames(t *testing.T) {
	v := visitOf(t, everythingElse)
	private := map[string]string{
		"customer": "an invented <customer>", "technician": "an invented technician", "last_set_by": "an invented <setter>",
		"plate": "INV <1>", "unit_number": "unit 7", "work_order": "order 8", "inspected_by": "an invented <inspector>",
	}
	for _, f := range record.Fields() {
		if f.Private && private[f.Key] == "" {
			t.Errorf("the visit has no %s", f.Key)
		}
	}
	for _, one := range []bool{true, false} {
		_, with := alsoOn(t, v, sheet.HTMLOptions{OneSheet: one, Visit: v})
		_, without := alsoOn(t, v.WithoutNames(), sheet.HTMLOptions{OneSheet: one, Visit: v.WithoutNames()})
		for key, value := range private {
			if !strings.Contains(with, value) || strings.Contains(without, value) {
				t.Errorf("%s: with names %v, without %v", key, strings.Contains(with, value), strings.Contains(without, value))
			}
		}
		for _, stays := range []string{"gauge checked 2026-02-03", "Declined by the owner", "photos: steer-left", "next visit 2027-03-04"} {
			if !strings.Contains(without, stays) {
				t.Errorf("%q went with the names", stays)
			}
		}
	}
}

// TestSheetSaysNothingElse where nothing else is recorded: the page is as without
// the visit.
func TestSheetSaysNothingElse(t *testing.T) {
	for _, text := range []string{
		"visit: 1\ndate: 2026-10-03\naxles: [{id: steer, fitment: single}]\ntires: [{at: steer-left, found: 95 psi}]\n",
		"visit: 1\ndate: 2026-10-03\naxles: [{id: steer, fitment: single}]\ntires: [{at: steer-left, stem: not read, sensor_reading: not read, note: not read, photos: not read}]\nnext_visit: not read\nnotes: not read\n",
	} {
		v := visitOf(t, text)
		with, _ := alsoOn(t, v, sheet.HTMLOptions{Visit: v})
		without, _ := alsoOn(t, v, sheet.HTMLOptions{})
		if with != without {
			t.Errorf("the sheet of a visit that records nothing else differs:\n%s", text)
		}
	}
}
