package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"axleend.example/inspect/batch"
)

const (
	jsonKept = `{"visit":1,"date":"2026-10-03","axles":[{"id":"steer","fitment":"single","gawr":"9000 lb"}],` +
		`"weighing":{"scale":"pads","readings":[{"load":"2000 lb","on":"steer-left"},{"load":"2000 lb","on":"steer-right"}]}}`
	jsonFlat = `{"visit":1,"date":"2026-10-03","axles":[{"id":"steer","fitment":"single"}],` +
		`"tires":[{"at":"steer-left","last_set":"100 psi","found":"50 psi"}]}`
)

func TestBatchStatuses(t *testing.T) {
	dir := t.TempDir()
	write := func(name, text string) string {
		path := filepath.Join(dir, name)
		if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	good := write("good.jsonl", jsonKept+"\n\n"+jsonKept)
	write("folder/a.yaml", kept)
	write("folder/b.json", jsonKept)
	write("bad-folder/a.yaml", "visit: 1\n")
	write("tables/bad.yaml", "table: 1\n")
	empty := write("empty.jsonl", "\n\n")
	taken := write("taken.jsonl", "{}\n")
	for _, x := range []struct {
		name string
		in   string
		args []string
		code int
		out  string // what standard output starts with
		n    int    // its lines
		errw string
	}{
		{"all kept", "", []string{good}, 0, `{"report":1,`, 2, ""},
		{"a folder", "", []string{filepath.Join(dir, "folder")}, 0, `{"report":1,`, 2, ""},
		{"a bad file", "", []string{filepath.Join(dir, "bad-folder")}, 1, `{"bad_record":1,"file":"a.yaml","problems":[{"line":1,"column":1,`, 1, ""},
		{"the demo", "", []string{"../demo"}, 1, `{"report":1,`, 2, ""},
		{"standard input", jsonKept, []string{"-"}, 0, `{"report":1,`, 1, ""},
		{"must stop", jsonFlat + "\n" + jsonKept, []string{"-"}, 1, `{"report":1,`, 2, ""},
		{"a bad record", jsonKept + "\nvisit: 1\n" + jsonKept, []string{"-", "-workers", "1"}, 1, `{"report":1,`, 3, ""},
		{"no record", "", []string{empty}, 2, "", 0, "no visit in it"},
		{"empty input", "", []string{"-"}, 2, "", 0, "-: no visit in it"},
		{"no input", "", nil, 2, "", 0, "wants one file"},
		{"two inputs", "", []string{good, good}, 2, "", 0, "wants one file"},
		{"no such file", "", []string{"none.jsonl"}, 2, "", 0, "none.jsonl"},
		{"a bad table that no tire needs", "", []string{good, "-tables", filepath.Join(dir, "tables")}, 0, `{"report":1,`, 2, "bad.yaml"},
		{"no folder of tables", "", []string{good, "-tables", filepath.Join(dir, "none")}, 2, "", 0, "none"},
		{"no such pack", "", []string{good, "-packs", "none"}, 2, "", 0, "none"},
		{"resume what", "", []string{good, "-resume"}, 2, "", 0, "which one?"},
		{"too many workers", "", []string{good, "-workers", "9999"}, 2, "", 0, "-workers 9999"},
		{"output is there", "", []string{good, "-o", taken}, 2, "", 0, "is there already"},
		{"resume on something else", "", []string{good, "-o", taken, "-resume"}, 2, "", 0, "line 1 is not what record 1 gives"},
		{"resume on the input", "", []string{good, "-o", good, "-resume"}, 2, "", 0, "is what was read"},
		{"no such folder", "", []string{good, "-o", filepath.Join(dir, "none", "out.jsonl")}, 3, "", 0, "could not write"},
		{"into a file", "", []string{good, "-o", filepath.Join(dir, "new.jsonl")}, 0, filepath.Join(dir, "new.jsonl") + ": 2 records, 0 must not move or go on, 0 could not be judged", 1, ""},
		{"resume the whole", "", []string{good, "-o", filepath.Join(dir, "new.jsonl"), "-resume"}, 0, filepath.Join(dir, "new.jsonl") + ": 2 records,", 1, ""},
		{"resume nothing", "", []string{good, "-o", filepath.Join(dir, "newer.jsonl"), "-resume"}, 0, filepath.Join(dir, "newer.jsonl") + ": 2 records,", 1, ""},
		{"resume on another input", jsonFlat, []string{"-", "-o", filepath.Join(dir, "new.jsonl"), "-resume"}, 2, "", 0, "line 1 is not what record 1 gives"},
	} {
		t.Run(x.name, func(t *testing.T) {
			code, out, errw := axleend(t, x.in, append([]string{"batch"}, x.args...)...)
			if code != x.code || !strings.HasPrefix(out, x.out) || strings.Count(out, "\n") != x.n {
				t.Errorf("exit status %d, want %d; want %d lines that start with %q\n%s%s", code, x.code, x.n, x.out, out, errw)
			}
			if !strings.Contains(errw, x.errw) || (x.errw == "") != (errw == "") {
				t.Errorf("standard error %q, want %q in it", errw, x.errw)
			}
		})
	}
	if data, err := os.ReadFile(taken); err != nil || string(data) != "{}\n" {
		t.Errorf("a file that was refused is now %q", data)
	}
}

// TestBatchBrokenTable: one table that is wrong is told of and left out. What has a
// tire that another table is for is answered as without it; what may need it is not
// judged, in a batch as alone; nothing else is in the way.
func TestBatchBrokenTable(t *testing.T) {
	dir := t.TempDir()
	sized := func(size string) string {
		return strings.Replace(jsonFlat, `"found":"50 psi"`, `"found":"100 psi","size":"`+size+`"`, 1)
	}
	demo, err := os.ReadFile("../demo/xv250.yaml")
	if err != nil {
		t.Fatal(err)
	}
	files := map[string]string{"tables/whole.yaml": string(demo), "both/whole.yaml": string(demo), "both/broken.yaml": strings.Replace(string(demo), "XV250/72R21", "XV9/70R20", 1) + "nonsense: 1\n"}
	visits := []string{jsonKept, sized("XV250/72R21"), sized("XV9/70R20"), sized("XV250/72R21")}
	for i, text := range visits {
		files[fmt.Sprintf("visits/%d.json", i)] = text
	}
	files["visits.jsonl"] = strings.Join(visits, "\n")
	at := func(name string) string { return filepath.Join(dir, name) }
	for name, text := range files {
		if err := errors.Join(os.MkdirAll(filepath.Dir(at(name)), 0o777), os.WriteFile(at(name), []byte(text), 0o666)); err != nil {
			t.Fatal(err)
		}
	}
	for _, input := range []string{"visits", "visits.jsonl"} {
		_, whole, errw := axleend(t, "", "batch", at(input), "-tables", at("tables"))
		if errw != "" {
			t.Fatal(errw)
		}
		code, out, errw := axleend(t, "", "batch", at(input), "-tables", at("both"))
		if code != exitStop || !strings.Contains(errw, "broken.yaml") || !strings.Contains(errw, "left out") {
			t.Errorf("%s: %d, %s", input, code, errw)
		}
		got, want := strings.Split(out, "\n"), strings.Split(whole, "\n")
		if len(got) != len(want) {
			t.Fatalf("%s: %d lines, want %d", input, len(got), len(want))
		}
		for i := range want {
			if i != 2 && got[i] != want[i] {
				t.Errorf("%s, record %d: it depends on a table for another size\n%s\n%s", input, i, got[i], want[i])
			}
		}
		if !strings.HasPrefix(got[2], `{"bad_record":1,`) || !strings.Contains(got[2], `no table for the size \"XV9/70R20\"`) || !strings.Contains(got[2], `"code":"refused"`) {
			t.Errorf("%s: %s", input, got[2])
		}
		_, list, _ := axleend(t, "", "batch", "-as", "list", at(input), "-tables", at("both"))
		if !strings.Contains(list, "XV9/70R20") {
			t.Errorf("%s: the list does not say what was not judged:\n%s", input, list)
		}
	}
	for i := range visits {
		code, _, errw := axleend(t, "", "assess", at(fmt.Sprintf("visits/%d.json", i)), "-tables", at("both"))
		if (i == 2) != (code == exitMisuse) || !strings.Contains(errw, "broken.yaml") {
			t.Errorf("%d alone: %d, %s", i, code, errw)
		}
	}
}

// TestBatchInterruptedAndResumed: an interrupt, half a line at the end, the
// same command with -resume: the file is that of a run without an interrupt.
func TestBatchInterruptedAndResumed(t *testing.T) {
	dir := t.TempDir()
	in, whole, out := filepath.Join(dir, "in.jsonl"), filepath.Join(dir, "whole.jsonl"), filepath.Join(dir, "out.jsonl")
	var text strings.Builder
	for i := range 40 {
		text.WriteString([]string{jsonKept, jsonFlat, "{}"}[i%3] + "\n")
	}
	if err := os.WriteFile(in, []byte(text.String()), 0o600); err != nil {
		t.Fatal(err)
	}
	if code, _, errw := axleend(t, "", "batch", in, "-o", whole); code != exitStop {
		t.Fatal(code, errw)
	}
	want, err := os.ReadFile(whole)
	if err != nil {
		t.Fatal(err)
	}
	// Interrupted while the input keeps it waiting.
	ctx, cancel := context.WithCancel(context.Background())
	r, w := io.Pipe()
	go func() {
		io.WriteString(w, strings.Join(strings.SplitAfter(text.String(), "\n")[:10], ""))
		for { // until the records so far are in the file
			if info, err := os.Stat(out); err == nil && info.Size() > 0 {
				break
			}
			time.Sleep(time.Millisecond)
		}
		cancel()
	}()
	var errw bytes.Buffer
	code := run(ctx, []string{"batch", "-", "-o", out}, r, io.Discard, &errw)
	if code != exitWrite || !strings.Contains(errw.String(), "axleend: interrupted; ") || !strings.Contains(errw.String(), "-resume") {
		t.Fatalf("exit status %d, %s", code, errw.String())
	}
	got, err := os.ReadFile(out)
	if err != nil || !bytes.HasPrefix(want, got) || len(got) == 0 || got[len(got)-1] != '\n' {
		t.Fatalf("%v: not the first lines: %s", err, got)
	}
	if err := os.WriteFile(out, append(got, `{"report":1,"da`...), 0o600); err != nil {
		t.Fatal(err)
	}
	code, said, _ := axleend(t, "", "batch", in, "-o", out, "-resume")
	if code != exitStop || said != out+": 40 records, 13 must not move or go on, 13 could not be judged\n" {
		t.Errorf("exit status %d, %s", code, said)
	}
	if got, err = os.ReadFile(out); err != nil || !bytes.Equal(got, want) {
		t.Errorf("%v: resumed, the file is\n%s\nwant\n%s", err, got, want)
	}
	// Another setup would give other reports.
	if code, _, e := axleend(t, "", "batch", in, "-o", out, "-resume", "-packs", "label"); code != exitMisuse || !strings.Contains(e, "is not what record") {
		t.Errorf("exit status %d, %s", code, e)
	}
}

func TestBatchCouldNotWrite(t *testing.T) {
	var errw bytes.Buffer
	if code := run(context.Background(), []string{"batch", "-"}, strings.NewReader(jsonKept), full{}, &errw); code != exitWrite || !strings.Contains(errw.String(), "no space left; 0 records finished") {
		t.Errorf("exit status %d, %s", code, errw.String())
	}
}

// TestBatchIsAssess: a record's line is what assess prints of it.
func TestBatchIsAssess(t *testing.T) {
	_, lines, _ := axleend(t, "", "batch", "../demo")
	for i, name := range []string{"trip.yaml", "visit.yaml"} {
		var want, got bytes.Buffer
		_, page, _ := axleend(t, "", "assess", "-as", "json", filepath.Join("../demo", name))
		if err := json.Compact(&want, []byte(page)); err != nil {
			t.Fatal(err)
		}
		if err := json.Compact(&got, []byte(strings.Split(lines, "\n")[i])); err != nil || got.String() != want.String() {
			t.Errorf("%s: %v: got\n%s\nwant\n%s", name, err, got.String(), want.String())
		}
	}
}

func TestMeter(t *testing.T) {
	var out bytes.Buffer
	at := time.Unix(0, 0)
	m := &meter{out: &out, size: 100_000, now: func() time.Time { return at }}
	for i, x := range []struct {
		after time.Duration
		r     batch.Result
		want  string
	}{
		{0, batch.Result{Records: 1000, Bytes: 10_000}, ""}, // what a resumed run starts with
		{100 * time.Millisecond, batch.Result{Records: 1100, Bytes: 11_000}, ""},
		{1900 * time.Millisecond, batch.Result{Records: 3000, Bytes: 30_000}, "\r3,000 records, 1,000 a second, 7s left"},
		{time.Second, batch.Result{Records: 7000, Bytes: 70_000}, "\r7,000 records, 2,000 a second, 1s left"},
		{time.Second, batch.Result{Records: 10_000, Bytes: 100_000}, "\r10,000 records, 2,250 a second        "},
	} {
		out.Reset()
		at = at.Add(x.after)
		m.show(x.r)
		if got := out.String(); got != x.want {
			t.Errorf("%d: %q, want %q", i, got, x.want)
		}
	}
	out.Reset()
	m.clear()
	if got, want := out.String(), "\r"+strings.Repeat(" ", 38)+"\r"; got != want {
		t.Errorf("cleared by %q", got)
	}
	// Files of a folder are counted, not measured; before anything is known
	// nothing is promised.
	out.Reset()
	m = &meter{out: &out, now: func() time.Time { return at }}
	m.show(batch.Result{Of: 100})
	at = at.Add(10 * time.Second)
	m.show(batch.Result{Of: 100})
	at = at.Add(10 * time.Second)
	m.show(batch.Result{Records: 20, Of: 100})
	if got, want := out.String(), "\r0 records, 0 a second\r20 records, 1 a second, 1m20s left"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	var none bytes.Buffer
	(&meter{out: &none}).clear()
	if none.Len() != 0 || isTerminal(&none) {
		t.Error("nothing was shown, but something is cleared")
	}
}

func TestThousands(t *testing.T) {
	for n, want := range map[int]string{0: "0", 999: "999", 1000: "1,000", 1234567: "1,234,567"} {
		if got := thousands(n); got != want {
			t.Errorf("%d: %s", n, got)
		}
	}
	if got := fmt.Sprint(records(1), records(2)); got != "1 record2 records" {
		t.Error(got)
	}
}

// TestBatchSheets: each record has a sheet of its own, whatever its file's ending,
// and none is written over another.
func TestBatchSheets(t *testing.T) {
	dir := t.TempDir()
	for _, name := range []string{"a.yaml", "a.json", "a.json.yaml", "b.yaml", "C.yaml", "c.json"} {
		text := strings.Replace(jsonKept, `"visit":1,`, `"visit":1,"coach":"of `+name+`",`, 1)
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	sheets := filepath.Join(t.TempDir(), "sheets")
	if code, _, errw := axleend(t, "", "batch", "-sheets", sheets, dir); code != 0 {
		t.Fatalf("%d, %s", code, errw)
	}
	for file, of := range map[string]string{"a.yaml.html": "a.yaml", "a.json.html": "a.json", "a.json.yaml.html": "a.json.yaml", "b.html": "b.yaml", "C.yaml.html": "C.yaml", "c.json.html": "c.json"} {
		page, err := os.ReadFile(filepath.Join(sheets, file))
		if err != nil || !strings.Contains(string(page), "of "+of) {
			t.Errorf("%s is not the sheet of %s: %v", file, of, err)
		}
	}
	// A list alone writes none, and a record that is no visit has none.
	t.Chdir(t.TempDir())
	if code, out, errw := axleend(t, "", "batch", "-as", "list", dir); code != 0 || !strings.Contains(out, "of b.yaml") {
		t.Errorf("%d, %s%s", code, out, errw)
	}
	if left, err := os.ReadDir("."); err != nil || len(left) > 0 {
		t.Errorf("a list left %v behind, %v", left, err)
	}
	if code, out, errw := axleend(t, "{}\n"+jsonKept, "batch", "-as", "list", "-sheets", "bad", "-"); code != exitStop || !strings.Contains(out, "COULD NOT") {
		t.Errorf("%d, %s%s", code, out, errw)
	}
	if left, err := os.ReadDir("bad"); err != nil || len(left) != 1 || left[0].Name() != "00002.html" {
		t.Errorf("sheets of a record that is no visit and one that is: %v, %v", left, err)
	}
	// Of a long name there is enough to tell it by.
	long := (&shop{}).sheetName(&batch.Line{Line: 7, Coach: strings.Repeat("An invented coach ", 40)})
	if !strings.HasPrefix(long, "00007-an-invented-coach-an-invented") || len(long) > 64 {
		t.Errorf("a sheet of the name %s", long)
	}
	// A second batch writes over none of them unless it is told to.
	if code, _, errw := axleend(t, "", "batch", "-sheets", sheets, dir); code != exitWrite || !strings.Contains(errw, "is there already") {
		t.Errorf("%d, %s", code, errw)
	}
	if code, _, errw := axleend(t, "", "batch", "-force", "-sheets", sheets, dir); code != 0 {
		t.Errorf("%d, %s", code, errw)
	}
}
