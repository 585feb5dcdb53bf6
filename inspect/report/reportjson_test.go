package report_test

import (
	"bytes"
	"encoding/json"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"axleend.example/dotcode"
	"axleend.example/inspect"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/internal/visittest"
)

func recorded(t reflect.Type) bool {
	return strings.HasSuffix(t.PkgPath(), "/inspect/record") && strings.HasPrefix(t.Name(), "Recorded[")
}

// element is the type of the value that a Recorded holds.
func element(t reflect.Type) reflect.Type {
	get, _ := t.MethodByName("Get")
	return get.Type.Out(0)
}

// sameAsStandard holds AppendJSON to encoding/json.
func sameAsStandard(t *testing.T, r *report.Report) {
	t.Helper()
	want, err1 := json.Marshal(r)
	got, err2 := r.AppendJSON([]byte("before"))
	if err1 != nil {
		want = nil
	}
	if (err1 == nil) != (err2 == nil) || string(got) != "before"+string(want) {
		same := 0
		for got = bytes.TrimPrefix(got, []byte("before")); same < min(len(got), len(want)) && got[same] == want[same]; same++ {
		}
		t.Fatalf("AppendJSON gives %v, encoding/json %v; from byte %d on\n%.200s\nwant\n%.200s", err2, err1, same, got[same:], want[same:])
	}
}

func TestReportsAsStandard(t *testing.T) {
	sameAsStandard(t, new(report.Report))
	_, setup := visittest.Demo(t)
	for line := range bytes.Lines(visittest.DemoLines(t, 100)) {
		v, err := record.Read("a", line)
		if err != nil {
			t.Fatal(err)
		}
		r, err := inspect.Assess(v, setup)
		if err != nil {
			t.Fatal(err)
		}
		sameAsStandard(t, &r)
	}
}

// nasty are texts that JSON or HTML has to escape.
var nasty = []string{"", "plain", `"quotes" and \backslashes\`, "<b>&amp;</b>", "\x00\x01\x1f\b\f\n\r\t\x7f", "é€😀", "\u2028\u2029\ufffd", "cut \xe2\x82", "\xff\xc0\x80\xed\xa0\x80"}

// fill puts random values into everything that JSON shows of v.
func fill(rnd *rand.Rand, v reflect.Value, depth int) {
	t := v.Type()
	switch {
	case rnd.IntN(4) == 0:
		return // stays zero
	case recorded(t):
		e := reflect.New(element(t))
		fill(rnd, e.Elem(), depth)
		if text, err := json.Marshal(e.Interface()); err == nil {
			v.Addr().Interface().(json.Unmarshaler).UnmarshalJSON(text)
		}
		return
	case t == reflect.TypeFor[dotcode.Date]():
		v.Set(reflect.ValueOf(dotcode.Date{Year: rnd.IntN(12_000) - 100, Month: time.Month(rnd.IntN(15)), Day: rnd.IntN(33)}))
		return
	}
	switch t.Kind() {
	case reflect.Bool:
		v.SetBool(rnd.IntN(2) == 0)
	case reflect.String:
		v.SetString(nasty[rnd.IntN(len(nasty))] + nasty[rnd.IntN(len(nasty))])
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		n := rnd.Int64() >> rnd.IntN(64)
		if rnd.IntN(20) > 0 {
			n -= n % 10_000_000 // more likely to be on a grid
		}
		v.SetInt(n)
	case reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64:
		n := uint64(rnd.IntN(9)) << rnd.IntN(5)
		if _, list := v.Interface().(json.Marshaler); !list && rnd.IntN(200) > 0 {
			n %= 4 // more likely to be a word
		}
		v.SetUint(n)
	case reflect.Slice:
		v.Set(reflect.MakeSlice(t, rnd.IntN(3), 3))
		for i := range v.Len() {
			fill(rnd, v.Index(i), depth+1)
		}
	case reflect.Struct:
		for i := range t.NumField() {
			if t.Field(i).IsExported() {
				fill(rnd, v.Field(i), depth+1)
			}
		}
	}
}

func TestAnyReportAsStandard(t *testing.T) {
	n := 3000
	if testing.Short() {
		n = 300
	}
	good := 0
	for seed := range n {
		rnd := rand.New(rand.NewPCG(uint64(seed), 1))
		r := new(report.Report)
		v := reflect.ValueOf(r).Elem()
		// A few fields at a time, so that not every report has a value without
		// a text in it.
		fields := rnd.Perm(v.NumField())[:1+rnd.IntN(4)]
		for _, i := range fields {
			fill(rnd, v.Field(i), 0)
		}
		sameAsStandard(t, r)
		if _, err := json.Marshal(r); err == nil {
			good++
		}
	}
	if good < n/10 || good == n {
		t.Errorf("%d of %d reports have a text: want both", good, n)
	}
}

func FuzzReportText(f *testing.F) {
	for _, s := range nasty {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		sameAsStandard(t, &report.Report{Coach: s, Packs: slices.Repeat([]string{s}, 2), Todo: []report.Item{{Advice: s + s}}})
	})
}

func BenchmarkReportAppendJSON(b *testing.B) {
	v, setup := visittest.Demo(b)
	r, err := inspect.Assess(v, setup)
	if err != nil {
		b.Fatal(err)
	}
	var dst []byte
	b.ReportAllocs()
	for b.Loop() {
		if dst, err = r.AppendJSON(dst[:0]); err != nil {
			b.Fatal(err)
		}
		b.SetBytes(int64(len(dst)))
	}
}
