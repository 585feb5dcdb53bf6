package inflation_test

import (
	"errors"
	"strings"
	"testing"

	"axleend.example/inflation"
)

// The least and the greatest of each figure of a size, and one more on each side. The
// bounds are common practice.
func TestSizeAtItsBounds(t *testing.T) {
	for _, c := range []struct{ taken, refused string }{
		// Metric: a width in millimeters with an aspect ratio.
		{"100/75R16, 999/75R16", "99/75R16, 1000/75R16, 100.5/75R16"},
		{"225/20R16, 225/100R16", "225/19R16, 225/101R16, 225/20.5R16, 225/R16, 225/75.0R16"},
		// Numeric: a width in inches, an aspect ratio only up to 14.
		{"4.00-15, 25.00-15, 4-15, 25-15", "3.99-15, 25.01-15, 3-15, 26-15"},
		{"14.00/80R20, 14/80R20, 14.00/20R20, 14.00/100R20", "14.01/80R20, 15/80R20"},
		{"LT7.50R16, ST7.50R16, LT225/75R16, ST225/75R16, HL225/75R16, P225/75R16, T225/75R16", "HL7.50R16, P7.50R16, T7.50R16"},
		// Flotation: overall by halves, width, no prefix.
		{"20x5.00R10, 60x25.00R20, 20.5x10R10, 60.0x10R10", "19.5x5.00R10, 60.5x25.00R20, 20.25x10R10, 20x4.99R10, 20x25.01R10"},
		{"31x10.50R15, 31X10.5R15, 31×10.50R15, 31 x 10.50 R15, 31x10.50 R15, 31x10.5 -15", "P31x10.50R15, LT31x10.50R15, ST31x10.50R15, T31x10.50R15, HL31x10.50R15"},
		// Rim: by halves.
		{"7.50R4, 7.50R63, 7.50R4.5, 7.50R22.5", "7.50R3.5, 7.50R63.5, 7.50R16.25, 7.50R16.50, 7.50R16.1"},
		// Numbers: four digits and two decimals at most.
		{"7.5R16, 7.50R16, 0225/75R16", "7.500R16, 00225/75R16, 7.R16, .5R16"},
		// A speed symbol before the R is a letter, and not A, I, O or X.
		{"225/50BR17, 225/50ZR17, 225/50zr17, 225/50DR17", "225/50AR17, 225/50IR17, 225/50OR17, 225/50XR17, 225/50ZZR17, 225/50Z17, 225/50Z-17, 225/50Z, 7.50Z, 225/50R, 225/50ZR"},
		{"225/50R17, 225/50-17, 225/50D17, 225/50B17", "225/50C17, 225/5017, 225/50 17"},
		// What stands behind: LT, ST or MH after a size without a prefix, C right behind it.
		{"7.50R16LT, 7.50R16 ST, 7.50R16MH, 7.50R16C, 225/75R16C, 31x10.50R15LT", "7.50R16LTX, 7.50R16LT5, 7.50R16 C, 31x10.50R15C, LT225/75R16LT, ST225/75R16C, 7.50R16P"},
	} {
		for _, text := range strings.Split(c.taken, ", ") {
			s, err := inflation.ParseSize(text)
			if err != nil {
				t.Errorf("%s: %v", text, err)
				continue
			}
			if again, err := inflation.ParseSize(s.String()); err != nil || again != s {
				t.Errorf("%s: %s reads back as %s, %v", text, s, again, err)
			}
		}
		for _, text := range strings.Split(c.refused, ", ") {
			if s, err := inflation.ParseSize(text); !errors.Is(err, inflation.ErrSize) {
				t.Errorf("%s: taken for %s, %v", text, s, err)
			}
		}
	}
	// As long a text as is read, and one byte more.
	const size = "11R22.5"
	if _, err := inflation.ParseSize(strings.Repeat(" ", 512-len(size)) + size); err != nil {
		t.Errorf("512 bytes: %v", err)
	}
	if _, err := inflation.ParseSize(strings.Repeat(" ", 513-len(size)) + size); !errors.Is(err, inflation.ErrSize) {
		t.Errorf("513 bytes: %v", err)
	}
}

// How a size is written, whatever way it came. Decimals stay those of the designation.
func TestSizeIsWritten(t *testing.T) {
	for text, want := range map[string]string{
		"12.99-16": "12.99-16", "22.99R22.5": "22.99R22.5", "4.05-15": "4.05-15", "10-20": "10-20", "10.0-20": "10.00-20", "9.5-20": "9.50-20",
		"31.0x10R15": "31x10R15", "31.5x9.99R15": "31.5x9.99R15", "59.5x24.09R20": "59.5x24.09R20", "7.50R16.0": "7.50R16", "7.50R62.5": "7.50R62.5",
		"225/75D16": "225/75D16", "225/75-16": "225/75D16", "7.50D16": "7.50-16", "7.50B16": "7.50B16", "225/50HB17": "",
		"\t225/75R16\t": "225/75R16", "225/ 75\tr16": "225/75R16", "z": "",
	} {
		s, err := inflation.ParseSize(text)
		if got := s.String(); got != want || (err != nil) != (want == "") {
			t.Errorf("%q: %q, %v, want %q", text, got, err, want)
		}
	}
}

// What a size's class rests on: its prefix or suffix, else its rim and width. The bounds
// are common practice.
func TestSizeTellsItsClass(t *testing.T) {
	for class, sizes := range map[inflation.Class]string{
		inflation.Trailer:    "ST205/75R15 ST7.50R16 7.50R16ST",
		inflation.LightTruck: "LT225/75R16 LT7.50R16 7.50R16LT 7.50R16C 225/75R16C 37x12.50R17LT",
		inflation.Passenger:  "P225/75R16 T145/80D16 HL245/40R19 225/75R16 324/75R16 P345/75R22.5",
		inflation.Truck:      "11R22.5 11R17.5 8R19.5 225/70R19.5 225/70R17.5 8.00R20 10.00-20 325/80R22.5",
		0:                    "7.50-16 325/75R16 8R16.5 8-14.5 7.99R20 8.00R19 31x10.50R15 31x10.50R20 225/75R16MH 7.50R16MH",
	} {
		for _, text := range strings.Fields(sizes) {
			if s, err := inflation.ParseSize(text); err != nil || s.Class() != class {
				t.Errorf("%s: %s, %v, want %s", text, s.Class(), err, class)
			}
		}
	}
}

// What follows a size is left over, to the byte; what is no size takes nothing.
func TestCutSize(t *testing.T) {
	for _, c := range []struct{ text, size, rest string }{
		{"11R22.5", "11R22.5", ""},
		{"11R22.5 ", "11R22.5", " "},
		{"11R22.5 144/142L 14PR", "11R22.5", " 144/142L 14PR"},
		{" lt225/75 r16 E", "LT225/75R16", " E"},
		{"7.50R16LT 112N", "7.50R16LT", " 112N"},
		{"7.50R16LTX", "7.50R16", "LTX"},
		{"7.50R16LT5", "7.50R16", "LT5"},
		{"7.50R16 LT/C", "7.50R16LT", "/C"},
		{"7.50R16C 112N", "7.50R16C", " 112N"},
		{"7.50R16C8", "7.50R16", "C8"},
		{"7.50R16 C", "7.50R16", " C"},
		{"31x10.50R15C", "31x10.50R15", "C"},
		{"LT225/75R16LT", "LT225/75R16", "LT"},
		{"225/75R16\tST", "225/75R16ST", ""},
		{"", "", ""}, {"x11R22.5", "", ""}, {"11R", "", ""}, {"11R22.55", "", ""},
	} {
		s, rest, err := inflation.CutSize(c.text)
		if s.String() != c.size || rest != c.rest || (err != nil) != (c.size == "") || err != nil && !errors.Is(err, inflation.ErrSize) {
			t.Errorf("%q: %q and %q, %v", c.text, s, rest, err)
		}
	}
}
