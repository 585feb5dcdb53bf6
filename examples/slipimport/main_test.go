package main

import (
	"io"
	"os"
	"strings"
	"testing"
)

func TestSlips(t *testing.T) {
	f, err := os.Open("slips.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var out strings.Builder
	if err := run("slips.csv", f, &out); err != nil {
		t.Fatal(err)
	}
	// 4,380 + 4,120 + 8,960 + 7,900 lb, added by hand.
	for _, want := range []string{"the left end of the drive axle", "8960 lb", "25360 lb"} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("no %q in\n%s", want, out.String())
		}
	}
}

// An end found by subtraction carries both tolerances (20 and 20 lb), and what
// a plate 2 % out of level may have moved: 9,000 lb x 2 % x 54 in / 78 in =
// 124.62 lb, rounded up (computed from moments).
func TestSubtractedEnd(t *testing.T) {
	var out strings.Builder
	if err := run("s.csv", strings.NewReader("slip,load,on\nwhole,9000 lb,steer\nleft,4600 lb,steer-left\n"), &out); err != nil {
		t.Fatal(err)
	}
	if want := "4400 lb +/- 164.62 lb"; !strings.Contains(out.String(), want) {
		t.Errorf("no %q in\n%s", want, out.String())
	}
}

func TestBadSlips(t *testing.T) {
	for text, want := range map[string]string{
		"":                           "EOF",
		"slip,load\n":                "want the columns",
		"slip,load,on\na,b\n":        "wrong number of fields",
		"slip,load,on\na,12,front\n": "s.csv:2:3: mass \"12\": no unit: want a number and lb or kg, such as \"3640 lb\"\ns.csv:2:6: no such place: \"front\"",
		"slip,load,on\na,26000 lb,steer\nb,5000 lb,steer\n": `readings "a", "b" are 21000 lb apart`,
	} {
		err := run("s.csv", strings.NewReader(text), &strings.Builder{})
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want %q", text, err, want)
		}
	}
}

// TestLargeSlips: however large a file is, no more of it is read than the slips
// that can be solved take, and the error is short.
func TestLargeSlips(t *testing.T) {
	row := "a,1 lb,steer\n"
	for name, x := range map[string]struct{ head, part, want string }{
		"commas":         {"", ",", "want the columns slip, load and on"},
		"rows of commas": {"slip,load,on\n", ",,\n", "more than 16384 bytes"},
		"rows":           {"slip,load,on\n", row, "more than 16384 bytes"},
		"one cell":       {"slip,load,on\n", "a", "more than 16384 bytes"},
		"an open quote":  {"slip,load,on\n\"", "a\n", "more than 16384 bytes"},
	} {
		in := &counted{text: x.part}
		err := run("s.csv", io.MultiReader(strings.NewReader(x.head), in), &strings.Builder{})
		if err == nil || !strings.Contains(err.Error(), x.want) || len(err.Error()) > 200 || in.n > 64<<10 {
			t.Errorf("%s: %d bytes read: %.300v", name, in.n, err)
		}
	}
	if err := run("s.csv", strings.NewReader("slip,load,on\n"+strings.Repeat(row, 64)), &strings.Builder{}); err != nil {
		t.Errorf("64 slips: %v", err)
	}
}

// A counted input never ends.
type counted struct {
	text string
	n    int
}

func (c *counted) Read(p []byte) (int, error) {
	for i := range p {
		p[i] = c.text[(c.n+i)%len(c.text)]
	}
	c.n += len(p)
	return len(p), nil
}

func FuzzSlips(f *testing.F) {
	f.Add("slip,load,on\na,4380 lb,steer\n")
	f.Add("on,load,slip\ndrive-left,\"4,380 lb\",a\n")
	f.Add("slip,load,on\n\"a,1 lb,steer\n")
	f.Add("slip,load,on\na,26000 lb,steer\nb,5000 lb,steer-left\nc,-1 lb,drive\n")
	f.Fuzz(func(t *testing.T, text string) {
		var out strings.Builder
		err := run("s.csv", strings.NewReader(text), &out)
		if err != nil && len(err.Error()) > 64<<10 {
			t.Errorf("an error of %d bytes", len(err.Error()))
		}
		for line := range strings.Lines(out.String()) {
			if !strings.Contains(line, " +/- ") {
				t.Errorf("a load without its doubt: %q", line)
			}
		}
	})
}
