package batch_test

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"runtime"
	"slices"
	"strings"
	"sync/atomic"
	"testing"
	"testing/fstest"
	"time"

	"axleend.example/inspect"
	"axleend.example/inspect/batch"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/internal/testsize"
	"axleend.example/internal/visittest"
	"axleend.example/rules"
)

// again is an input of the same lines over and over, n of them.
type again struct {
	text []byte
	at   int
	n    int
}

func (r *again) Read(p []byte) (int, error) {
	n := 0
	for n < len(p) && r.n > 0 {
		end := bytes.IndexByte(r.text[r.at:], '\n') + r.at + 1
		k := copy(p[n:], r.text[r.at:end])
		n += k
		if r.at += k; r.at == end {
			r.n--
			r.at %= len(r.text)
		}
	}
	if n == 0 {
		return 0, io.EOF
	}
	return n, nil
}

func batchVisits(t testing.TB, in []byte, setup inspect.Setup, opts batch.Options) (string, batch.Result) {
	t.Helper()
	var out bytes.Buffer
	res, err := batch.Run(context.Background(), bytes.NewReader(in), &out, setup, opts)
	if err != nil {
		t.Fatal(err)
	}
	return out.String(), res
}

const good = `{"visit":1,"date":"2026-10-03","axles":[{"id":"steer","fitment":"single"}],"tires":[{"at":"steer-left","found":"80 psi"}]}`

// TestBatchAnswersInOrder holds every line to what ReadVisit, Assess and
// encoding/json give for it, with one worker and with several.
func TestBatchAnswersInOrder(t *testing.T) {
	_, setup := visittest.Demo(t)
	var in []byte
	type want struct {
		line int
		text string
	}
	var wants []want
	line := 0
	stops, bad := 0, 0
	for i, text := range bytes.Split(bytes.TrimSpace(visittest.DemoLines(t, 120)), []byte("\n")) {
		switch i % 10 {
		case 3:
			in = append(in, "\n \t\r\n"...)
			line += 2
		case 6:
			in = append(in, `{"visit":1}`+"\n"...)
			line++
			wants = append(wants, want{line, ""})
			bad++
		}
		in = append(append(in, text...), '\n')
		line++
		v, err := record.Read("a", text)
		if err != nil {
			t.Fatal(err)
		}
		r, err := inspect.Assess(v, setup)
		if err != nil {
			t.Fatal(err)
		}
		if r.Drive.Stops() {
			stops++
		}
		report, err := json.Marshal(r)
		if err != nil {
			t.Fatal(err)
		}
		wants = append(wants, want{line, string(report)})
	}
	var first string
	for _, workers := range []int{1, 2, 7, 0} {
		var told batch.Result
		text, res := batchVisits(t, in, setup, batch.Options{Workers: workers, Progress: func(r batch.Result) { told = r }})
		if want := (batch.Result{Records: len(wants), Stops: stops, Bad: bad, Bytes: int64(len(in))}); res != want || told != want {
			t.Errorf("result %+v, last told %+v, want %+v", res, told, want)
		}
		if first == "" {
			first = text
		}
		if text != first {
			t.Errorf("%d workers give something else", workers)
		}
	}
	lines := strings.Split(strings.TrimSuffix(first, "\n"), "\n")
	if len(lines) != len(wants) {
		t.Fatalf("%d lines, want %d", len(lines), len(wants))
	}
	for i, w := range wants {
		if w.text != "" && lines[i] != w.text {
			t.Errorf("record %d: got\n%.200s\nwant\n%.200s", i, lines[i], w.text)
		}
		if w.text == "" && !strings.HasPrefix(lines[i], fmt.Sprintf(`{"bad_record":1,"line":%d,"problems":[{"line":%d,"column":1,"path":"date","code":"missing","error":"missing: want one, such as 2026-10-03"}`, w.line, w.line)) {
			t.Errorf("record %d: %s", i, lines[i])
		}
	}
}

func TestBadRecords(t *testing.T) {
	long := func(n int) string { return good + strings.Repeat(" ", n-len(good)) }
	for _, tc := range []struct{ name, in, want string }{
		{"no JSON", "visit: 1", `{"bad_record":1,"line":1,"problems":[{"line":1,"column":1,"code":"syntax","error":"not valid JSON: want a value: a text in double quotes, a number, true, false, { or ["}]}`},
		{"not UTF-8", "\n{\"\xff", `{"bad_record":1,"line":2,"problems":[{"line":2,"column":3,"code":"encoding","error":"not plain UTF-8 text: byte 0xff is no UTF-8"}]}`},
		{"two values", "{}{}", `{"bad_record":1,"line":1,"problems":[{"line":1,"column":3,"code":"syntax","error":"not valid JSON: more text after the end of the document"}]}`},
		{"half a pair", `{"visit":"\ud800"}`, `{"bad_record":1,"line":1,"problems":[{"line":1,"column":11,"code":"syntax","error":"not valid JSON: half of a pair of surrogates"}]}`},
		{"unknown and duplicate keys", strings.Replace(good, `"date"`, `"dates":1,"visit":2,"date"`, 1), `{"bad_record":1,"line":1,"problems":[` +
			`{"line":1,"column":12,"code":"unknown-key","error":"unknown key \"dates\": did you mean \"date\"?"},` +
			`{"line":1,"column":22,"code":"duplicate-key","error":"duplicate key \"visit\", first on line 1"}]}`},
		{"wrong kind", strings.Replace(good, `"2026-10-03"`, `{}`, 1), `{"bad_record":1,"line":1,"problems":[{"line":1,"column":19,"path":"date","code":"shape","error":"wrong shape: want one value, such as 2026-10-03, found keys with values"}]}`},
		{"no such place", "\n\n\n" + strings.Replace(good, "steer-left", "steer-lefty", 1), `{"bad_record":1,"line":4,"problems":[{"line":4,"column":91,"path":"steer-lefty.at","code":"position","error":"no such place on this coach: \"steer-lefty\": did you mean \"steer-left\"?"}]}`},
		{"nothing to judge", `{"visit":1,"date":"2026-10-03","axles":[{"id":"steer","fitment":"single"}]}`, `{"bad_record":1,"line":1,"problems":[{"line":1,"code":"nothing","error":"nothing to judge: the visit records no tire and no scale reading"}]}`},
		{"a byte too long", long(record.MaxSize + 1), `{"bad_record":1,"line":1,"problems":[{"line":1,"code":"read","error":"file is too large: a line of more than 65536 bytes"}]}`},
		{"far too long", strings.Repeat("[", 300_000), `{"bad_record":1,"line":1,"problems":[{"line":1,"code":"read","error":"file is too large: a line of more than 65536 bytes"}]}`},
		{"as long as can be", long(record.MaxSize), `{"report":1,`},
		{"as long as can be, with a carriage return", long(record.MaxSize) + "\r", `{"report":1,`},
	} {
		for _, end := range []string{"", "\n", "\n" + good + "\n"} {
			out, res := batchVisits(t, []byte(tc.in+end), inspect.Setup{}, batch.Options{})
			first, rest, _ := strings.Cut(out, "\n")
			whole := first == tc.want || strings.HasSuffix(tc.want, ",") && strings.HasPrefix(first, tc.want)
			if !whole || (rest != "") != (len(end) > 1) || rest != "" && !strings.HasPrefix(rest, `{"report":1,`) {
				t.Errorf("%s: got\n%.600s\nwant\n%s", tc.name, out, tc.want)
			}
			if res.Bytes != int64(len(tc.in+end)) {
				t.Errorf("%s: %d bytes, want %d", tc.name, res.Bytes, len(tc.in+end))
			}
			var bad batch.BadRecord
			if err := json.Unmarshal([]byte(first), &bad); err != nil || (bad.Version == batch.BadRecordVersion) != (res.Bad == 1) {
				t.Errorf("%s: %v, %+v, %+v", tc.name, err, bad, res)
			}
		}
	}
}

func TestManyProblemsAreCounted(t *testing.T) {
	out, _ := batchVisits(t, []byte(`{`+strings.Repeat(`"a":1,`, 200)+`"a":1}`), inspect.Setup{}, batch.Options{})
	var bad batch.BadRecord
	// 200 keys twice, one unknown; three missing, told twice where nothing is kept any more.
	if err := json.Unmarshal([]byte(out), &bad); err != nil || len(bad.Problems) != 100 || bad.More != 107 {
		t.Errorf("%v: %d problems and %d more", err, len(bad.Problems), bad.More)
	}
}

func TestEmptyBatch(t *testing.T) {
	for _, in := range []string{"", "\n", " \n\t\r\n"} {
		if out, res := batchVisits(t, []byte(in), inspect.Setup{}, batch.Options{}); out != "" || res.Records != 0 {
			t.Errorf("%q: %q, %+v", in, out, res)
		}
	}
}

// stopAfter cancels once so much is written.
type stopAfter struct {
	bytes.Buffer
	most   int
	cancel func()
}

func (w *stopAfter) Write(p []byte) (int, error) {
	n, err := w.Buffer.Write(p)
	if w.Len() >= w.most {
		w.cancel()
	}
	return n, err
}

// TestInterruptAndResume interrupts at many places, cuts the output anywhere,
// and goes on: nothing is lost, nothing stands twice.
func TestInterruptAndResume(t *testing.T) {
	_, setup := visittest.Demo(t)
	in := []byte(strings.ReplaceAll(string(visittest.DemoLines(t, 60)), "\n", "\n\n{}\n"))
	whole, all := batchVisits(t, in, setup, batch.Options{})
	for _, at := range []int{1, 70_000, 200_000, len(whole) - 1} {
		ctx, cancel := context.WithCancel(context.Background())
		out := &stopAfter{most: at, cancel: cancel}
		res, err := batch.Run(ctx, bytes.NewReader(in), out, setup, batch.Options{Workers: 2})
		text := out.String()
		if err != nil && !errors.Is(err, context.Canceled) || err == nil && text != whole {
			t.Fatalf("at %d: %v", at, err)
		}
		if !strings.HasPrefix(whole, text) || text == "" || text[len(text)-1] != '\n' || strings.Count(text, "\n") != res.Records {
			t.Fatalf("at %d: %d records, but %d bytes are not the first lines", at, res.Records, len(text))
		}
		// As a machine that loses its power leaves it.
		for _, cut := range []int{len(text), len(text) - 1, len(text) / 2, 5, 0} {
			rest, res := batchVisits(t, in, setup, batch.Options{Workers: 1 + cut%3, Earlier: strings.NewReader(text[:cut])})
			if text[:cut]+rest != whole || res != all {
				t.Errorf("cut at %d: not the whole, %+v, want %+v", cut, res, all)
			}
		}
	}
}

// TestInterruptedWhileWaiting: an input that ends with the context keeps nobody
// waiting.
func TestInterruptedWhileWaiting(t *testing.T) {
	in, feed := io.Pipe()
	ctx, cancel := context.WithCancel(context.Background())
	var out bytes.Buffer
	go fmt.Fprintln(feed, good)
	context.AfterFunc(ctx, func() { feed.CloseWithError(ctx.Err()) })
	res, err := batch.Run(ctx, in, &out, inspect.Setup{}, batch.Options{Progress: func(batch.Result) { cancel() }})
	if !errors.Is(err, context.Canceled) || res.Records != 1 || strings.Count(out.String(), "\n") != 1 {
		t.Errorf("%v, %+v, %q", err, res, out.String())
	}
}

// A tidy input and output say whether somebody uses them behind the end.
type tidy struct {
	io.Reader
	io.Writer
	over atomic.Bool
	late atomic.Int32
}

func (u *tidy) Read(p []byte) (int, error) {
	time.Sleep(time.Millisecond) // so that somebody is reading at the end
	if u.over.Load() {
		u.late.Add(1)
	}
	n, err := u.Reader.Read(p[:min(len(p), 500)])
	if u.over.Load() {
		u.late.Add(1)
	}
	return n, err
}

func (u *tidy) Write(p []byte) (int, error) {
	if u.over.Load() {
		u.late.Add(1)
	}
	return u.Writer.Write(p)
}

// TestNobodyUsesItBehindTheEnd: however a batch ends, its input and its output
// are its caller's again.
func TestNobodyUsesItBehindTheEnd(t *testing.T) {
	_, setup := visittest.Demo(t)
	text := visittest.DemoLines(t, 60)
	for name, room := range map[string]int{"a full disk": 100, "an interrupt": 1 << 30, "another run": 1 << 30} {
		ctx, cancel := context.WithCancel(context.Background())
		u := &tidy{Reader: &again{text: text, n: 1000}, Writer: &broken{room: room}}
		opts := batch.Options{Workers: 3, Progress: func(batch.Result) {
			if name == "an interrupt" {
				cancel()
			}
		}, Refuse: func(*record.Visit) error {
			if u.over.Load() {
				u.late.Add(1)
			}
			return nil
		}}
		if name == "another run" {
			opts.Earlier = strings.NewReader("{}")
		}
		_, err := batch.Run(ctx, u, u, setup, opts)
		u.over.Store(true)
		if err == nil {
			t.Errorf("%s: no error", name)
		}
		time.Sleep(5 * time.Millisecond)
		if n := u.late.Load(); n > 0 {
			t.Errorf("%s: used %d times behind the end", name, n)
		}
		cancel()
	}
}

func TestCanceledBeforeItBegan(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	var out bytes.Buffer
	res, err := batch.Run(ctx, strings.NewReader(strings.Repeat(good+"\n", 1000)), &out, inspect.Setup{}, batch.Options{})
	if !errors.Is(err, context.Canceled) || res.Records != strings.Count(out.String(), "\n") || res.Records > 100 {
		t.Errorf("%v, %+v, %d bytes", err, res, out.Len())
	}
}

// broken is a disk that is full after some bytes.
type broken struct {
	bytes.Buffer
	room int
}

var errFull = errors.New("no space left")

func (w *broken) Write(p []byte) (int, error) {
	if w.Len()+len(p) > w.room {
		n, _ := w.Buffer.Write(p[:w.room-w.Len()])
		return n, errFull
	}
	return w.Buffer.Write(p)
}

func TestCouldNotWrite(t *testing.T) {
	_, setup := visittest.Demo(t)
	in := visittest.DemoLines(t, 60)
	whole, _ := batchVisits(t, in, setup, batch.Options{})
	out := &broken{room: 300_000}
	res, err := batch.Run(context.Background(), bytes.NewReader(in), out, setup, batch.Options{})
	if !errors.Is(err, batch.ErrWrite) || !errors.Is(err, errFull) {
		t.Errorf("%v", err)
	}
	text := out.String()
	if n := strings.Count(text, "\n"); n < res.Records || res.Records == 0 {
		t.Fatalf("%d records written, %d told", n, res.Records)
	}
	if rest, _ := batchVisits(t, in, setup, batch.Options{Earlier: strings.NewReader(text)}); text+rest != whole {
		t.Error("not the whole after going on")
	}
}

func TestUnreadableInput(t *testing.T) {
	_, setup := visittest.Demo(t)
	in := visittest.DemoLines(t, 5)
	var out bytes.Buffer
	res, err := batch.Run(context.Background(), io.MultiReader(bytes.NewReader(in), iotestErr{}), &out, setup, batch.Options{})
	if !errors.Is(err, errFull) || errors.Is(err, batch.ErrWrite) || res.Records != 5 || strings.Count(out.String(), "\n") != 5 {
		t.Errorf("%v, %+v", err, res)
	}
}

type iotestErr struct{}

func (iotestErr) Read([]byte) (int, error) { return 0, errFull }

// TestProgramThatDoesNotFit: a program that speaks of something else judges
// no record at all.
func TestProgramThatDoesNotFit(t *testing.T) {
	other, err := rules.NewVocabulary(rules.Definition{
		Subjects: []rules.Subject{{Name: "boat", Doc: "a boat", Measures: []rules.Measure{{Name: "leaks", Doc: "its leaks", Dimension: rules.Count()}}}},
		Actions:  []rules.Action{{Name: "bail", Doc: "the water is taken out"}},
	})
	if err != nil {
		t.Fatal(err)
	}
	pack, err := rules.ReadPack("boats.yaml", []byte("format: 1\npack: boats\ntitle: boats\nrules: {dry: {title: it leaks, subject: boat, "+
		"measure: leaks, at_most: 0, action: bail, advice: Bail., source: {grade: invented, title: this test}}}"))
	if err != nil {
		t.Fatal(err)
	}
	program, err := rules.Compile(other, pack)
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	res, err := batch.Run(context.Background(), strings.NewReader(good), &out, inspect.Setup{Program: program}, batch.Options{})
	if err == nil || res.Records != 0 || out.Len() != 0 {
		t.Errorf("%v, %+v, %s", err, res, out.String())
	}
}

// TestGoesOnBehindNothingElse: what an earlier run wrote is compared to its last
// byte, and where it is anything else nothing is written.
func TestGoesOnBehindNothingElse(t *testing.T) {
	_, setup := visittest.Demo(t)
	in := visittest.DemoLines(t, 20)
	whole, _ := batchVisits(t, in, setup, batch.Options{})
	lines := strings.SplitAfter(whole, "\n")
	changed := []byte(whole)
	changed[strings.LastIndex(whole, "psi")] = 'q'
	second := []byte(whole)
	second[len(lines[0])+strings.Index(lines[1], "psi")] = 'q'
	for _, tc := range []struct {
		name    string
		in      []byte
		earlier string
		setup   inspect.Setup
		says    string
	}{
		{"one visit", in, string(bytes.SplitAfter(in, []byte("\n"))[0]), setup, "line 1 is not what record 1 gives"},
		{"half a visit", in, `{"visit"`, setup, "line 1 is"},
		{"text", in, "no answers\n", setup, "line 1 is"},
		{"an empty line", in, "\n", setup, "line 1 is"},
		{"zeros behind whole lines", in, lines[0] + lines[1] + "\x00\x00", setup, "line 3 is"},
		{"a line twice", in, lines[0] + lines[0], setup, "line 2 is"},
		{"a byte of the last line", in, string(changed), setup, "line 20 is"},
		{"a byte of the second line", in, string(second), setup, "line 2 is"},
		{"without its first line", in, whole[len(lines[0]):], setup, "line 1 is"},
		{"another input", visittest.DemoLines(t, 21)[len(bytes.SplitAfter(in, []byte("\n"))[0]):], whole, setup, "line 1 is"},
		{"a shorter input", in[:bytes.LastIndexByte(in[:len(in)-1], '\n')+1], whole, setup, "the output goes on after the 19 records"},
		{"a line more", in, whole + "{", setup, "the output goes on after the 20 records"},
		{"no input", nil, whole, setup, "the output goes on after the 0 records"},
		{"without the tables", in, whole, inspect.Setup{}, " is not what record "},
	} {
		for _, workers := range []int{1, 3} {
			var out bytes.Buffer
			_, err := batch.Run(context.Background(), bytes.NewReader(tc.in), &out, tc.setup, batch.Options{Workers: workers, Earlier: strings.NewReader(tc.earlier)})
			if !errors.Is(err, batch.ErrEarlier) || !strings.Contains(err.Error(), tc.says) || out.Len() != 0 {
				t.Errorf("%s: %v, %d bytes", tc.name, err, out.Len())
			}
		}
	}
	var out bytes.Buffer
	if _, err := batch.Run(context.Background(), bytes.NewReader(in), &out, setup, batch.Options{Earlier: iotestErr{}}); !errors.Is(err, errFull) || errors.Is(err, batch.ErrWrite) || out.Len() != 0 {
		t.Errorf("an output that cannot be read: %v", err)
	}
}

// TestBatchRefuse: what a program refuses stands among the answers with its error,
// and is handed on with the visit; the others are judged.
func TestBatchRefuse(t *testing.T) {
	other := strings.ReplaceAll(good, "steer", "drive")
	const bare = `{"visit":1,"date":"2026-10-03","axles":[{"id":"steer","fitment":"single"}]}`
	refuse := func(v *record.Visit) error {
		if v.Axles[0].ID == "drive" {
			return errors.New("not today")
		}
		return nil
	}
	var each []batch.Answer
	out, res := batchVisits(t, []byte(good+"\n"+other+"\n{}\n"+bare+"\n"), inspect.Setup{}, batch.Options{Workers: 2, Refuse: refuse, Each: func(a batch.Answer) error {
		each = append(each, a)
		return nil
	}})
	lines := strings.Split(out, "\n")
	if res.Records != 4 || res.Bad != 3 || len(each) != 4 {
		t.Fatalf("%+v, %d handed on", res, len(each))
	}
	if !strings.HasPrefix(lines[0], `{"report":`) || lines[1] != `{"bad_record":1,"line":2,"problems":[{"line":2,"code":"refused","error":"not today"}]}` || !strings.HasPrefix(lines[2], `{"bad_record":`) {
		t.Error(out)
	}
	if a := each[1]; a.Err == nil || a.Visit == nil || a.Report != nil {
		t.Errorf("%+v", a)
	}
	if a := each[3]; !errors.Is(a.Err, record.ErrNothing) || a.Visit == nil || a.Report != nil { // nothing to judge is no report
		t.Errorf("%+v", a)
	}
}

func TestBatchFolder(t *testing.T) {
	table, err := os.ReadFile("../../examples/demo/xv250.yaml")
	if err != nil {
		t.Fatal(err)
	}
	file := func(text string) *fstest.MapFile { return &fstest.MapFile{Data: []byte(text)} }
	yaml := "visit: 1\ndate: 2026-10-03\naxles: [{id: steer, fitment: single}]\ntires: [{at: steer-left, found: 80 psi}]\n"
	fsys := fstest.MapFS{
		"c.json":     file(good),
		"a.yml":      file(yaml),
		"b.yaml":     file("visit: 1\ndate: 2026-10-03\naxles: []\n"),
		"d.YAML":     file("coach: x" + strings.Repeat(" ", record.MaxSize)),
		"notes.txt":  file("no visit"),
		"x.csv":      file("table,1"),
		"xv250.yaml": file(string(table)),
		"sub/e.yaml": file(yaml),
	}
	var out bytes.Buffer
	res, err := batch.RunFolder(context.Background(), fsys, &out, inspect.Setup{}, batch.Options{})
	if err != nil {
		t.Fatal(err)
	}
	// What is read of a file that is too large is a byte more than may be.
	if read := int64(len(good) + len(yaml) + len(fsys["b.yaml"].Data) + record.MaxSize + 1); res.Records != 4 || res.Of != 4 || res.Bad != 2 || res.Bytes != read {
		t.Errorf("%+v", res)
	}
	lines := strings.Split(out.String(), "\n")
	report, _, _ := strings.Cut(lines[0], "\n")
	if !strings.HasPrefix(report, `{"report":1,`) || lines[2] != report {
		t.Errorf("YAML and JSON differ:\n%s\n%s", report, lines[2])
	}
	for i, want := range map[int]string{
		1: `{"bad_record":1,"file":"b.yaml","problems":[{"line":3,"column":8,"path":"axles","code":"missing","error":"missing: want at least one axle"}]}`,
		3: `{"bad_record":1,"file":"d.YAML","problems":[{"code":"size","error":"file is too large: 65537 bytes, at most 65536 are read"}]}`,
	} {
		if lines[i] != want {
			t.Errorf("got\n%s\nwant\n%s", lines[i], want)
		}
	}
	earlier := strings.NewReader(strings.Join(lines[:2], "\n") + "\n")
	var rest bytes.Buffer
	if _, err := batch.RunFolder(context.Background(), fsys, &rest, inspect.Setup{}, batch.Options{Earlier: earlier}); err != nil || rest.String() != strings.Join(lines[2:], "\n") {
		t.Errorf("resumed: %v\n%s", err, rest.String())
	}
	if _, err := batch.RunFolder(context.Background(), fstest.MapFS{".": file("")}, &rest, inspect.Setup{}, batch.Options{}); err == nil {
		t.Error("a file is no folder")
	}
}

// locked is a folder in which one file cannot be opened.
type locked struct{ fs.FS }

func (f locked) Open(name string) (fs.File, error) {
	if name == "b.yaml" {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrPermission}
	}
	return f.FS.Open(name)
}

func TestUnreadableFileIsABadRecord(t *testing.T) {
	fsys := locked{fstest.MapFS{"a.json": {Data: []byte(good)}, "b.yaml": {}, "c.json": {Data: []byte(good)}}}
	var out bytes.Buffer
	res, err := batch.RunFolder(context.Background(), fsys, &out, inspect.Setup{}, batch.Options{})
	want := `{"bad_record":1,"file":"b.yaml","problems":[{"code":"read","error":"open b.yaml: permission denied"}]}`
	if lines := strings.Split(out.String(), "\n"); err != nil || res.Records != 3 || res.Bad != 1 || lines[1] != want {
		t.Errorf("%v, %+v\n%s", err, res, out.String())
	}
}

// TestBatchMemory: however long the input, what is held stays the same. If
// 100 bytes of each visit were kept, 20,000 visits would hold 2 MB more at
// their end than at their beginning.
func TestBatchMemory(t *testing.T) {
	n := 20_000
	if !testsize.Full() {
		n = 1_500
	}
	_, setup := visittest.Demo(t)
	in := &again{text: visittest.DemoLines(t, 64), n: n}
	heap := func() uint64 {
		var m runtime.MemStats
		runtime.GC()
		runtime.ReadMemStats(&m)
		return m.HeapAlloc
	}
	before, next := heap(), 500
	var seen []uint64 // what is held, again and again
	res, err := batch.Run(context.Background(), in, io.Discard, setup, batch.Options{Workers: 2, Progress: func(r batch.Result) {
		if r.Records < next {
			return
		}
		next += max(250, n/40)
		seen = append(seen, heap())
	}})
	if err != nil || res.Records != n || res.Bad != 0 {
		t.Fatalf("%v, %+v", err, res)
	}
	// What is on its way at one moment differs; the least of several does not.
	third := len(seen) / 3
	first, last, most := slices.Min(seen[:third+1]), slices.Min(seen[len(seen)-third-1:]), slices.Max(seen)
	t.Logf("%d kB before, %d kB first, %d kB last, %d kB most", before>>10, first>>10, last>>10, most>>10)
	if last > first+1<<20 || most > before+16<<20 {
		t.Errorf("%d kB before it began, %d kB at its beginning, %d kB at its end, %d kB at most", before>>10, first>>10, last>>10, most>>10)
	}
}

// FuzzBatch: whatever comes in, each record is answered by one line of JSON.
func FuzzBatch(f *testing.F) {
	f.Add([]byte(good+"\n\n{\n"), 2)
	f.Add([]byte("{}\r\n \r\n[]\nnull"), 1)
	f.Add(bytes.Repeat([]byte(" x"), record.MaxSize), 1)
	f.Add(visittest.DemoLines(f, 2), 3)
	f.Fuzz(func(t *testing.T, in []byte, workers int) {
		records := 0
		for line := range bytes.Lines(in) {
			if len(line) > record.MaxSize+2 || strings.Trim(string(line), " \t\r\n") != "" {
				records++
			}
		}
		var out bytes.Buffer
		res, err := batch.Run(context.Background(), bytes.NewReader(in), &out, inspect.Setup{}, batch.Options{Workers: workers % 8})
		if err != nil || res.Records != records || bytes.Count(out.Bytes(), []byte("\n")) != records {
			t.Fatalf("%v, %+v, %d lines out, want %d", err, res, bytes.Count(out.Bytes(), []byte("\n")), records)
		}
		for line := range bytes.Lines(out.Bytes()) {
			if !json.Valid(line) {
				t.Errorf("not JSON: %s", line)
			}
		}
		if out.Len() == 0 {
			return
		}
		cut := int(byte(workers)) * out.Len() / 255
		var rest bytes.Buffer
		again, err := batch.Run(context.Background(), bytes.NewReader(in), &rest, inspect.Setup{}, batch.Options{Earlier: bytes.NewReader(out.Bytes()[:cut])})
		if err != nil || again != res || !bytes.Equal(rest.Bytes(), out.Bytes()[cut:]) {
			t.Errorf("cut at %d: %v: %+v, want %+v", cut, err, again, res)
		}
	})
}

// FuzzVisitJSON: a visit reads the same as JSON and as YAML, and has the same
// problems at the same places.
func FuzzVisitJSON(f *testing.F) {
	f.Add([]byte(good))
	f.Add(visittest.DemoLines(f, 1))
	f.Add([]byte(strings.Replace(good, "steer-left", "tag-left", 1)))
	f.Fuzz(func(t *testing.T, in []byte) {
		var b bytes.Buffer
		if json.Indent(&b, bytes.TrimSpace(in), "", " ") != nil || b.Len() == 0 || b.Bytes()[0] != '{' || b.Len() > record.MaxSize-10 {
			return
		}
		asJSON, err1 := record.Read("a", b.Bytes())
		if strings.Contains(fmt.Sprint(err1), "not valid") {
			return // its surrogates
		}
		b.WriteString(" # YAML")
		asYAML, err2 := record.Read("a", b.Bytes())
		if strings.Contains(fmt.Sprint(err2), "not valid YAML") {
			return // strictyaml tests what YAML has not
		}
		if fmt.Sprint(err1) != fmt.Sprint(err2) {
			t.Fatalf("%s\nas JSON: %v\nas YAML: %v", b.Bytes(), err1, err2)
		}
		text1, err1 := json.Marshal(asJSON)
		text2, err2 := json.Marshal(asYAML)
		if string(text1) != string(text2) || fmt.Sprint(err1) != fmt.Sprint(err2) {
			t.Errorf("%s\nas JSON: %s %v\nas YAML: %s %v", b.Bytes(), text1, err1, text2, err2)
		}
	})
}

func BenchmarkBatch(b *testing.B) {
	_, setup := visittest.Demo(b)
	text := visittest.DemoLines(b, 64)
	for _, workers := range []int{1, 2} {
		b.Run(fmt.Sprintf("workers=%d", workers), func(b *testing.B) {
			b.ReportAllocs()
			b.SetBytes(int64(len(text) / 64))
			res, err := batch.Run(context.Background(), &again{text: text, n: b.N}, io.Discard, setup, batch.Options{Workers: workers})
			if err != nil || res.Records != b.N {
				b.Fatal(err, res)
			}
		})
	}
}

// BenchmarkStdJSON is what BenchmarkBatch is held against: the same visits
// only decoded, and their reports only encoded, by encoding/json. Parts names
// what each step of the batch takes.
func BenchmarkStdJSON(b *testing.B) {
	_, setup := visittest.Demo(b)
	text := visittest.DemoLines(b, 64)
	var lines [][]byte
	var visits []*record.Visit
	var reports []report.Report
	for line := range bytes.Lines(text) {
		v, err := record.Read("a", line)
		if err != nil {
			b.Fatal(err)
		}
		r, err := inspect.Assess(v, setup)
		if err != nil {
			b.Fatal(err)
		}
		lines, visits, reports = append(lines, line), append(visits, v), append(reports, r)
	}
	decode := func(i int) error { return json.Unmarshal(lines[i%64], new(record.Visit)) }
	encode := func(i int) error { _, err := json.Marshal(reports[i%64]); return err }
	for _, part := range []struct {
		name string
		do   func(i int) error
	}{
		{"both", func(i int) error { return errors.Join(decode(i), encode(i)) }},
		{"decode", decode},
		{"encode", encode},
		{"parts/read", func(i int) error { _, err := record.Read("a", lines[i%64]); return err }},
		{"parts/assess", func(i int) error { _, err := inspect.Assess(visits[i%64], setup); return err }},
	} {
		b.Run(part.name, func(b *testing.B) {
			b.ReportAllocs()
			for i := 0; b.Loop(); i++ {
				if err := part.do(i); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// TestFolderOpensOnlyFiles: a pipe or a device is a bad record, and nobody waits
// for it.
func TestFolderOpensOnlyFiles(t *testing.T) {
	fsys := fstest.MapFS{"a.json": {Data: []byte(good)}, "b.yaml": {Mode: fs.ModeNamedPipe}, "c.json": {Mode: fs.ModeDevice}}
	var out bytes.Buffer
	res, err := batch.RunFolder(context.Background(), fsys, &out, inspect.Setup{}, batch.Options{})
	if err != nil || res.Records != 3 || res.Bad != 2 || strings.Count(out.String(), "not a file but a ") != 2 {
		t.Errorf("%v, %+v\n%s", err, res, out.String())
	}
}

// FuzzEarlier: whatever stands in the output, a batch adds what makes it the
// whole, or writes nothing.
func FuzzEarlier(f *testing.F) {
	in := []byte(good + "\n{}\n" + strings.Replace(good, "80 psi", "60 psi", 1) + "\n")
	whole, _ := batchVisits(f, in, inspect.Setup{}, batch.Options{})
	f.Add(whole, len(whole))
	f.Add(whole, 10)
	f.Add("", 0)
	f.Add(good, len(good))
	f.Add(whole+"\x00", len(whole)+1)
	f.Add(`{"report":1,"kept":1}`+"\n", 20)
	f.Fuzz(func(t *testing.T, earlier string, cut int) {
		earlier = earlier[:max(0, min(cut, len(earlier)))]
		var rest bytes.Buffer
		_, err := batch.Run(context.Background(), bytes.NewReader(in), &rest, inspect.Setup{}, batch.Options{Earlier: strings.NewReader(earlier)})
		switch {
		case strings.HasPrefix(whole, earlier):
			if err != nil || earlier+rest.String() != whole {
				t.Errorf("%v: not the whole: %q", err, rest.String())
			}
		case !errors.Is(err, batch.ErrEarlier) || rest.Len() > 0:
			t.Errorf("%v: %d bytes written behind %q", err, rest.Len(), earlier)
		}
	})
}
