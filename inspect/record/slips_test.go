package record_test

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"axleend.example/inspect/record"
	"axleend.example/weight"
)

// TestSlips: the slips that people make most, each with what it is told; the
// problems of a file stand beside it.
func TestSlips(t *testing.T) {
	files, err := filepath.Glob("testdata/slips/*.yaml")
	if err != nil || len(files) < 40 {
		t.Fatalf("%d files, %v", len(files), err)
	}
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		_, err = record.Read("", text)
		if err == nil {
			t.Errorf("%s is no slip", file)
			continue
		}
		got := err.Error() + "\n"
		beside := strings.TrimSuffix(file, ".yaml") + ".txt"
		if *update {
			if err := os.WriteFile(beside, []byte(got), 0o644); err != nil {
				t.Error(err)
			}
			continue
		}
		want, err := os.ReadFile(beside)
		if err != nil || got != string(want) {
			t.Errorf("%s, %v:\n%s\nwant\n%s", file, err, got, want)
		}
		for _, word := range []string{"mapping", "scalar", "token", "tires[", "axles[", "readings["} {
			if strings.Contains(got, word) {
				t.Errorf("%s: nobody in a yard says %q:\n%s", file, word, got)
			}
		}
	}
}

// TestWhatIsShownCanBeWritten: where one value stands for keys or a list, what is
// shown instead is taken, though it may name places that this coach has not.
func TestWhatIsShownCanBeWritten(t *testing.T) {
	shown := regexp.MustCompile(`such as (.*), found a single value`)
	within := map[string]string{"visit": "%s", "trip": "trip: {%s}", "weighing": "weighing: {%s}"}
	count := 0
	for _, f := range record.Fields() {
		around, top := within[f.Part]
		if !top || f.Example != "" || f.Kind == "text" || f.Kind == "yes or no" || f.Kind == "word" || f.Key == "axles" {
			continue
		}
		count++
		read := func(value string) string {
			text := "visit: 1\ndate: 2026-10-03\naxles: [{id: steer, fitment: single}, {id: drive, fitment: dual, behind_steer: 228 in}]\n"
			_, err := record.Read("", []byte(text+fmt.Sprintf(around, f.Key+": "+value)+"\n"))
			return fmt.Sprint(err)
		}
		match := shown.FindStringSubmatch(read("7"))
		if match == nil {
			t.Errorf("%s: 7 is told %s", f.Key, read("7"))
		} else if said := read(match[1]); strings.Contains(said, "unknown") || strings.Contains(said, "shape") || strings.Contains(said, "missing") {
			t.Errorf("%s: %s is told %s", f.Key, match[1], said)
		}
	}
	if count < 12 {
		t.Errorf("%d keys", count)
	}
}

// TestOdometersAreWrittenAsTheyAreRead: no length is written with the three decimals
// that an odometer is asked about.
func TestOdometersAreWrittenAsTheyAreRead(t *testing.T) {
	random := rand.New(rand.NewPCG(15, 3))
	mile, km := weight.MustParseLength("1 mi"), weight.MustParseLength("1 km")
	for range 2000 {
		for _, of := range []weight.Length{mile, km} {
			l := of / 1000 * weight.Length(random.IntN(300_000))
			text := l.String()
			v, err := record.Read("", []byte("visit: 1\ndate: 2026-10-03\naxles: [{id: steer, fitment: single}]\ntires: [{at: steer-left}]\nodometer: "+text+"\n"))
			if err != nil {
				t.Fatalf("%s: %v", text, err)
			}
			if got, _ := v.Odometer.Get(); got != l {
				t.Fatalf("%s is read as %s", text, got)
			}
		}
	}
	for _, text := range []string{"41.2 mi", "41.25 mi", "41.2500 mi", "0.125 mi", "1041.250 mi", "12.345 m"} {
		if _, err := record.Read("", []byte("visit: 1\ndate: 2026-10-03\naxles: [{id: steer, fitment: single}]\ntires: [{at: steer-left}]\nodometer: "+text+"\n")); err != nil {
			t.Error(err)
		}
	}
}

// TestOffsets: what is read is written the same, but for the centerline, which has no side.
func TestOffsets(t *testing.T) {
	for text, want := range map[string]string{"30 in left": "30 in left", "0.8 m right": "800 mm right", "center": "center", "0 in left": "center"} {
		o, err := record.ParseOffset(text)
		if err != nil || o.String() != want || (o < 0) != strings.HasSuffix(want, "left") {
			t.Errorf("%s: %d, %s, %v", text, int64(o), o, err)
		}
	}
	for _, text := range []string{"30 in", "left", "30 left", " left", ""} {
		if o, err := record.ParseOffset(text); err == nil {
			t.Errorf("%q is taken for %s", text, o)
		}
	}
}
