package browsercheck

import (
	"context"
	"encoding/json"
	"fmt"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/browser"
	"github.com/chromedp/cdproto/dom"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"

	"axleend.example/inspect"
	"axleend.example/inspect/record"
	"axleend.example/inspect/report"
	"axleend.example/inspect/sheet"
)

// built is the page of examples/browser, made once for all tests.
var built = sync.OnceValues(func() (string, error) {
	dir, err := os.MkdirTemp("", "page")
	if err != nil {
		return "", err
	}
	out, err := exec.Command("go", "run", "axleend.example/examples/browser", "-to", dir).CombinedOutput()
	if err != nil {
		err = fmt.Errorf("%w\n%s", err, out)
	}
	return dir, err
})

func TestMain(m *testing.M) {
	code := m.Run()
	if dir, err := built(); code != 0 || err == nil {
		os.RemoveAll(dir)
	}
	os.Exit(code)
}

// A form is the page of static files in a tab, with the server that hands it out.
type form struct {
	*tab
	t       *testing.T
	server  *httptest.Server
	browser context.Context
}

func openForm(t *testing.T) form {
	t.Helper()
	chromium := start(t)
	dir, err := built()
	if err != nil {
		t.Fatal(err)
	}
	f := form{open(t, chromium), t, httptest.NewServer(http.FileServer(http.Dir(dir))), chromium}
	t.Cleanup(f.server.Close)
	f.load()
	return f
}

// load opens the page, or opens it again, and waits until it has its verdict.
func (f form) load() {
	f.t.Helper()
	f.visit(f.t, f.server.URL)
	f.until(`document.body?.classList.contains("ready") === true && byId("head").textContent !== "Loading …"`)
	f.run(`globalThis.fieldAt = (name) => {
		for (const line of document.querySelectorAll("#form details")) { line.open = true; line.fill?.(); }
		const field = [...document.querySelectorAll(".field[id]")].find((field) => nameOf(field.path) === name);
		if (!field) throw new Error("no field " + name);
		return field;
	}`)
}

func (f form) until(condition string) {
	f.t.Helper()
	for end := time.Now().Add(time.Minute); ; time.Sleep(20 * time.Millisecond) {
		// A page that is just being left has no answer.
		if so, err := chromedp.Run(f.tab.ctx, chromedp.Evaluate[bool](condition)); err == nil && so {
			return
		}
		if time.Now().After(end) {
			f.t.Fatalf("never so: %s; the page says %q and %q", condition, f.text("head"), f.complaints())
		}
	}
}

// run runs statements that give nothing.
func (f form) run(statements string) {
	f.t.Helper()
	eval[bool](f.t, f.tab, statements+"; true")
}

func (f form) text(id string) string {
	f.t.Helper()
	return eval[string](f.t, f.tab, fmt.Sprintf("document.getElementById(%q).textContent", id))
}

// fill types texts into the lines of a field, one each. A date is set: its parts
// are typed differently in every country.
func (f form) fill(path string, texts ...string) {
	f.t.Helper()
	for i, text := range texts {
		if eval[bool](f.t, f.tab, fmt.Sprintf(`{ const line = [...fieldAt(%q).querySelectorAll("input[type=text], input[type=date], textarea")][%d]; line.focus(); line.select(); line.type === "date" }`, path, i)) {
			f.run(fmt.Sprintf(`document.activeElement.value = %q; document.activeElement.dispatchEvent(new Event("input"))`, text))
		} else if _, err := chromedp.Call(f.ctx, input.InsertText, input.InsertTextParams{Text: text}); err != nil {
			f.t.Fatal(err)
		}
	}
}

// choose picks words of a field.
func (f form) choose(path string, words ...string) {
	f.t.Helper()
	for _, word := range words {
		f.run(fmt.Sprintf(`{ const field = fieldAt(%q); const select = field.querySelector("select");
			if (select) { select.value = %[2]q; select.dispatchEvent(new Event("input")); }
			else [...field.querySelectorAll("input")].find((one) => one.value === %[2]q).click(); }`, path, word))
	}
}

// press clicks the button that says so.
func (f form) press(label string) {
	f.t.Helper()
	f.run(fmt.Sprintf(`[...document.querySelectorAll("button")].find((one) => one.textContent === %q).click()`, label))
}

// tire opens a tire from the plan.
func (f form) tire(name string) {
	f.t.Helper()
	f.run(fmt.Sprintf(`[...document.querySelectorAll("#plan button")].find((one) => one.textContent.includes(" " + %q + ",")).click()`, name))
}

// whole gives the whole report that the page shows.
func (f form) whole() string {
	f.t.Helper()
	f.run(`byId("report").textContent = ""; byId("whole").open = true; judge()`)
	f.until(`byId("report").textContent !== ""`)
	return f.text("report")
}

// download presses the key that saves and gives the file.
func (f form) download() (name string, data []byte) {
	f.t.Helper()
	dir := f.t.TempDir()
	if _, err := chromedp.Call(f.ctx, browser.SetDownloadBehavior, browser.SetDownloadBehaviorParams{Behavior: "allow", DownloadPath: dir}); err != nil {
		f.t.Fatal(err)
	}
	f.press("Save the file")
	for end := time.Now().Add(20 * time.Second); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		files, _ := filepath.Glob(filepath.Join(dir, "visit-*"))
		if len(files) == 1 && !strings.HasSuffix(files[0], ".crdownload") {
			if data, err := os.ReadFile(files[0]); err == nil && len(data) > 0 {
				return files[0], data
			}
		}
	}
	f.t.Fatal("nothing was saved")
	return "", nil
}

// take hands a file to the key that opens one.
func (f form) take(file string) {
	f.t.Helper()
	f.run(`byId("said").textContent = ""`)
	object, err := chromedp.Call(f.ctx, runtime.Evaluate, runtime.EvaluateParams{Expression: `byId("open")`})
	if err == nil {
		_, err = chromedp.Call(f.ctx, dom.SetFileInputFiles, dom.SetFileInputFilesParams{Files: []string{file}, ObjectID: object.Result.ObjectID})
	}
	if err != nil {
		f.t.Fatal(err)
	}
	f.until(`byId("said").textContent !== ""`)
}

// quietForm fails for what the page complained of or asked of anybody else.
func (f form) quietForm() {
	f.t.Helper()
	for _, url := range f.asked() {
		if !strings.HasPrefix(url, f.server.URL+"/") && !strings.HasPrefix(url, "blob:"+f.server.URL) && !strings.HasPrefix(url, "data:") && url != "about:srcdoc" {
			f.t.Errorf("the page asked for %s", url)
		}
	}
	for _, complaint := range f.complaints() {
		f.t.Error(complaint)
	}
}

func judged(t *testing.T, file string) (*record.Visit, report.Report) {
	t.Helper()
	v, err := record.Read("visit", []byte(file))
	if err != nil {
		t.Fatal(err)
	}
	r, err := inspect.Assess(v, inspect.Setup{})
	if err != nil {
		t.Fatal(err)
	}
	return v, r
}

// A visit typed in gives the report and the file of the same visit written by
// hand; it is still there when the page is opened again, and the file saved, opened
// and saved again has the same bytes.
func TestVisitTypedIn(t *testing.T) {
	f := openForm(t)
	typeVisit(f)
	v, r := judged(t, typedVisit)
	columns := eval[int](t, f.tab, "columns()")
	if got, want := f.whole(), sheet.Text(r, sheet.TextOptions{Full: true, Columns: columns}); got != want {
		t.Errorf("the page says\n%s\nwant\n%s", got, want)
	}
	f.load()
	if got, want := f.whole(), sheet.Text(r, sheet.TextOptions{Full: true, Columns: columns}); got != want {
		t.Errorf("opened again the page says\n%s", got)
	}
	want, err := record.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	name, first := f.download()
	if string(first) != string(want) {
		t.Errorf("saved as\n%s\nwant\n%s", first, want)
	}
	f.run(`take(blank()); judge()`)
	f.take(name)
	if _, again := f.download(); string(again) != string(first) {
		t.Errorf("saved again as\n%s", again)
	}
	f.run(`byId("paper").open = true; judge()`)
	f.until(`byId("sheet").srcdoc.startsWith("<!DOCTYPE html>") && byId("print").href.startsWith("blob:")`)
	var paper strings.Builder
	if err := sheet.HTML(&paper, r, sheet.HTMLOptions{Visit: v}); err != nil {
		t.Fatal(err)
	}
	if eval[string](t, f.tab, `byId("sheet").srcdoc`) != paper.String() {
		t.Error("the sheet beside the form is another one")
	}
	f.quietForm()
}

// What is wrong is said at its field, in the list, and to who cannot see either; a
// visit with something wrong in it can still be saved and opened.
func TestWrongValueAtItsField(t *testing.T) {
	f := openForm(t)
	typeVisit(f)
	before := f.text("head")
	f.tire("drive-left-outer")
	f.fill("drive-left-outer.found", "9x9")
	f.fill("drive.gawr", "17,50 lb")
	for _, path := range []string{"drive-left-outer.found", "drive.gawr"} {
		field := fmt.Sprintf(`fieldAt(%q)`, path)
		if got := eval[string](t, f.tab, field+`.querySelector(".wrong").textContent`); !strings.Contains(got, "want") {
			t.Errorf("%s says %q", path, got)
		}
		if !eval[bool](t, f.tab, `{ const line = `+field+`.querySelector("input"); line.ariaInvalid === "true" && line.getAttribute("aria-describedby").split(" ").includes(`+field+`.querySelector(".wrong").id) }`) {
			t.Errorf("%s is not tied to what is wrong", path)
		}
	}
	if got := f.text("head"); got != "NOT JUDGED: 2 entries to fix" || f.text("bar") != got {
		t.Errorf("the head says %q, the bar %q", got, f.text("bar"))
	}
	f.until(`byId("live").textContent === byId("head").textContent`)
	name, _ := f.download()
	if !strings.HasSuffix(name, "-unfinished.json") {
		t.Errorf("saved as %s", name)
	}
	f.run(`take(blank()); judge()`)
	f.take(name)
	f.run(`[...document.querySelectorAll("#problems button")].find((one) => one.textContent.includes("drive-left-outer.found")).click()`)
	if got := eval[string](t, f.tab, `document.activeElement.value + " of " + nameOf(document.activeElement.closest(".field").path)`); got != "9x9 of drive-left-outer.found" {
		t.Errorf("the way to the field leads to %q", got)
	}
	f.fill("drive-left-outer.found", "109")
	f.fill("drive.gawr", "17500")
	if got := f.text("head"); got != before || eval[int](t, f.tab, `document.querySelectorAll(".wrong:not(:empty), [aria-invalid], #problems li").length`) != 0 {
		t.Errorf("put right, the head says %q, want %q", got, before)
	}
	f.quietForm()
}

// Pressures typed in one lap, on with the key that says next, stand at their tires;
// units are chosen once, one typed with its own keeps it, and what was typed before
// stays what it was.
func TestLapAndUnits(t *testing.T) {
	f := openForm(t)
	f.choose("units", "metric")
	f.run(`for (const line of document.querySelectorAll("details")) line.open = false; sections.lap.open = true; document.querySelector("#lap input").focus()`)
	for i, text := range []string{"655", "", "6.5 bar", "95 psi", "700", "0"} {
		if i > 0 {
			f.key("Enter", 13, "\r")
		}
		if _, err := chromedp.Call(f.ctx, input.InsertText, input.InsertTextParams{Text: text}); err != nil {
			t.Fatal(err)
		}
	}
	found := `JSON.stringify(Object.fromEntries(doc.tires.map((tire) => [tire.at, tire.found ?? "-"])))`
	want := `{"steer-left":"655 kPa","steer-right":"0 kPa","drive-left-outer":"-","drive-left-inner":"6.5 bar","drive-right-inner":"700 kPa","drive-right-outer":"95 psi"}`
	if got := eval[string](t, f.tab, found); got != want {
		t.Errorf("found %s, want %s", got, want)
	}
	f.choose("units", "us")
	f.tire("drive-left-inner")
	f.run(`fieldAt("drive-left-inner.tread").querySelectorAll(".depths button")[7].click()`)
	f.choose("pressure_unit", "bar")
	f.tire("drive-left-outer")
	f.fill("drive-left-outer.found", "6.6")
	f.choose("units", "metric")
	f.tire("drive-right-outer")
	f.run(`fieldAt("drive-right-outer.tread").querySelectorAll(".depths button")[7].click()`)
	if got := eval[string](t, f.tab, found); got != strings.Replace(want, `outer":"-"`, `outer":"6.6 bar"`, 1) {
		t.Errorf("in other units found %s", got)
	}
	if got := eval[string](t, f.tab, `doc.tires.map((tire) => tire.tread?.outer ?? "-").join()`); got != "-,-,-,7/32 in,-,7 mm" {
		t.Errorf("tread %s", got)
	}
	if got := f.text("head"); !strings.HasPrefix(got, "DO NOT DRIVE: steer-right") {
		t.Errorf("a flat tire: %s", got)
	}
}

// Duals made singles and back: what was typed is named as on no place of the coach,
// and is back with its place. A towed axle gets what towed tires share.
func TestLayoutKeepsWhatWasTyped(t *testing.T) {
	f := openForm(t)
	f.tire("drive-left-inner")
	f.fill("drive-left-inner.found", "99")
	f.choose("drive.fitment", "single")
	if got := f.text("problems"); !strings.Contains(got, "drive-left-inner.at: no such place") {
		t.Errorf("the problems are %q", got)
	}
	f.choose("drive.fitment", "dual")
	if got := eval[string](t, f.tab, `doc.tires.map((tire) => tire.at + " " + (tire.found ?? "")).join()`); f.text("problems") != "" || got != "steer-left ,steer-right ,drive-left-outer ,drive-left-inner 99 psi,drive-right-inner ,drive-right-outer " {
		t.Errorf("with duals again: %q, %q", got, f.text("problems"))
	}
	f.press("Add a tag axle")
	f.press("Add a towed axle")
	f.fill("every_towed_tire.load_range", "C")
	f.fill("every_tire.load_range", "G")
	f.tire("towed-1-left")
	if got := eval[string](t, f.tab, `[doc.axles.map((axle) => axle.id).join(), fieldAt("towed-1-left.load_range").querySelector(".hint").textContent].join()`); got != "steer,drive,tag,towed-1,as stamped; as all: C" {
		t.Errorf("%s", got)
	}
	if f.text("problems") != "" {
		t.Errorf("the problems are %q", f.text("problems"))
	}
}

// What is half said is never better than what is known: something found but not named
// is no tire looked over, whatever all tires say, and a copy takes no day and no answer.
func TestHalfSaidIsNotBetter(t *testing.T) {
	f := openForm(t)
	f.choose("every_tire.seen", "nothing")
	f.tire("drive-left-inner")
	f.choose("drive-left-inner.seen", "something found")
	tire := `JSON.stringify(JSON.parse(written()).tires[%d])`
	if got := eval[string](t, f.tab, fmt.Sprintf(tire, 3)); got != `{"at":"drive-left-inner","seen":"not read"}` {
		t.Errorf("something found: %s", got)
	}
	f.choose("drive-left-inner.seen", "cut", "cut")
	if got := eval[string](t, f.tab, fmt.Sprintf(tire, 3)); got != `{"at":"drive-left-inner","seen":"not read"}` {
		t.Errorf("ticked and not: %s", got)
	}
	f.fill("drive-left-inner.size", "XV250/72R21")
	f.fill("drive-left-inner.stem_fitted", "2026-10-01")
	f.fill("drive-left-inner.torque_checked", "2026-10-01")
	f.choose("drive-left-inner.retread", "no")
	f.fill("drive-left-inner.found", "110")
	f.tire("drive-left-outer")
	f.press("Copy stamps and last set from")
	if got := eval[string](t, f.tab, fmt.Sprintf(tire, 2)); got != `{"at":"drive-left-outer","size":"XV250/72R21"}` {
		t.Errorf("copied: %s", got)
	}
}

// What a field shows and what it writes are the same: a visit with something in every
// corner is opened, every control says once more what it says, and nothing changes.
func TestFieldsWriteWhatTheyShow(t *testing.T) {
	f := openForm(t)
	v, err := record.Read("visit", []byte(fullVisit))
	if err != nil {
		t.Fatal(err)
	}
	want, err := record.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "full.yaml")
	if err := os.WriteFile(file, want, 0o600); err != nil {
		t.Fatal(err)
	}
	f.take(file)
	written := func() string {
		return eval[string](t, f.tab, `{ const told = ask("file", written()); told.answer ?? JSON.stringify(told) }`)
	}
	opened := written()
	if back, err := record.Read("opened", []byte(opened)); err != nil || len(back.Tires) != 11 {
		t.Fatalf("%v\n%s", err, opened)
	} else if again, err := record.Marshal(back); err != nil || string(again) != opened {
		t.Errorf("%v: saved again as\n%s", err, again)
	}
	for _, line := range strings.Split(string(want), "\n") {
		if !strings.Contains(opened, line) {
			t.Errorf("opened, it lacks %s", line)
		}
	}
	for _, units := range []string{"metric", "us"} {
		f.choose("units", units)
		before := written()
		for _, tire := range v.Tires {
			f.tire(tire.At)
			said := eval[int](t, f.tab, `{ const judged = judge; judge = () => {}; let said = 0;
				for (let round = 0; round < 3; round++) for (const line of document.querySelectorAll("#form details")) { line.open = true; line.fill?.(); }
				const all = [...document.querySelectorAll("#form .field input:not([type=radio]:not(:checked)), #form .field textarea, #form .field select")];
				all.sort((a, b) => a.closest("#part-axles, #lap, #form").id.length - b.closest("#part-axles, #lap, #form").id.length); // what draws anew comes last
				for (const one of all)
					if (!["units", "pressure_unit"].includes(one.closest(".field").path?.[0]) && one.id !== "spares" && !one.disabled && one.type !== "checkbox" && one.inputMode !== "search" && one.value !== "something found" && (one.value !== "" || one.type === "text") && one.isConnected) { one.dispatchEvent(new Event("input")); said++; }
				judge = judged; judge(); said }`)
			if said < 200 {
				t.Errorf("%s: only %d controls", tire.At, said)
			}
			if after := written(); after != before {
				was := strings.Split(before, "\n")
				for _, line := range strings.Split(after, "\n") {
					if !slices.Contains(was, line) {
						t.Errorf("%s, %s: not as before: %s", units, tire.At, line)
					}
				}
				t.Fatalf("%s, %s: written anew", units, tire.At)
			}
		}
	}
}

// The next visit has the coach and its stamps, and nothing read.
func TestNextVisit(t *testing.T) {
	f := openForm(t)
	typeVisit(f)
	f.run(`confirm = () => true`)
	f.press("Next visit of this coach")
	f.tire("drive-right-outer")
	if got := eval[string](t, f.tab, `[...byId("tire").querySelectorAll("input:checked")].slice(0, 2).map((one) => one.nextSibling.textContent).join() + byId("tire").querySelector("input").value`); got != "not read,not looked over" {
		t.Errorf("the next visit's tire: %q", got)
	}
	if got := eval[string](t, f.tab, `[doc.date === blank().date, doc.tires[5].number, fieldAt("every_tire.size").querySelector("input").value, document.querySelectorAll("#problems li").length].join()`); got != "true,1819,XV250/72R21,0" {
		t.Errorf("the next visit: %s", got)
	}
	f.press("New visit")
	if got := f.text("head"); got != "NOTHING RECORDED YET" {
		t.Errorf("a new visit: %s", got)
	}
	f.quietForm()
}

// A load and inflation table is taken, kept over a new start, and taken away.
func TestTables(t *testing.T) {
	f := openForm(t)
	typeVisit(f)
	table, err := filepath.Abs("../../examples/demo/xv250.yaml")
	if err != nil {
		t.Fatal(err)
	}
	f.take(table)
	for range 2 {
		if !strings.Contains(f.whole(), "invented demo table") || !strings.Contains(f.text("tables"), "invented demo table") {
			t.Error("the table is not used")
		}
		f.load()
	}
	f.press("Take the tables away")
	f.until(`document.body?.classList.contains("ready") === true && byId("tables").textContent === ""`)
	if strings.Contains(f.whole(), "invented demo table") {
		t.Error("the table is still used")
	}
}

// A text from a file is never markup, on the page nor on the sheet.
func TestHostileFile(t *testing.T) {
	f := openForm(t)
	hostile := `<img src=x onerror="document.title='taken'"><script>document.title='taken'</script>`
	data, err := json.Marshal(map[string]any{"visit": 1, "date": "2026-10-03", "coach": hostile, "notes": []string{hostile}, "axles": []any{map[string]any{"id": "steer", "fitment": "single"}},
		"tires": []any{map[string]any{"at": "steer-left", "size": hostile, "model": hostile, "note": hostile}}, "names": map[string]any{"customer": hostile},
		"weighing": map[string]any{"place": hostile, "readings": []any{map[string]any{"name": hostile, "load": "4000 lb", "on": "steer-left"}}}})
	if err != nil {
		t.Fatal(err)
	}
	wrong := strings.Replace(string(data), `"single"`, `"<i>single</i>"`, 1)
	for name, text := range map[string]string{"hostile.json": string(data), "<b>wrong.json": wrong, "no <u>visit.yaml": "<u>: {", "old.json": `{"axles": "<s>"}`,
		"odd.json": `{"axles": [1], "tires": ["x"]}`, "empty.json": `{"axles": [null], "tires": [null], "weighing": null}`, "deep.json": `{"axles": [{"id": {"a": []}}], "tires": [{"at": [1]}], "seen": {}}`} {
		file := filepath.Join(t.TempDir(), name)
		if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		f.take(file)
		f.run(`byId("whole").open = byId("paper").open = true; judge(); for (const line of document.querySelectorAll("#form details")) { line.open = true; line.fill?.(); }`)
		time.Sleep(700 * time.Millisecond) // the sheet comes once the keys rest
		if eval[string](t, f.tab, `document.title`) != "Write down a visit" || eval[int](t, f.tab, `document.querySelectorAll("img, b:not(header b, #plan b), i, u, s, body script").length`) != 0 {
			t.Errorf("%s: its markup became the page's", name)
		}
	}
	f.load()
	f.fill("coach", "still takes what is typed")
	if got := eval[string](t, f.tab, `doc.coach`); got != "still takes what is typed" {
		t.Errorf("after odd files the coach is %q", got)
	}
	if got := eval[string](t, f.tab, `byId("sheet").sandbox.value + document.querySelector("meta[http-equiv]").content`); strings.Contains(got, "allow-") || strings.Contains(got, "script-src 'self' 'unsafe") {
		t.Errorf("what opens may run: %s", got)
	}
}

// Once it was there, the page comes up and judges with nobody to ask.
func TestWithoutNetwork(t *testing.T) {
	f := openForm(t)
	f.until(`(globalThis.stays ??= (navigator.serviceWorker.ready.then((all) => { stays = all.active?.state; }), "waiting"), stays) === "activated"`)
	f.server.CloseClientConnections()
	f.server.Close()
	if response, err := http.Get(f.server.URL); err == nil {
		response.Body.Close()
		t.Fatal("the server still answers")
	}
	f.load()
	typeVisit(f)
	_, r := judged(t, typedVisit)
	if got, want := f.whole(), sheet.Text(r, sheet.TextOptions{Full: true, Columns: eval[int](t, f.tab, "columns()")}); got != want {
		t.Errorf("without a network the page says\n%s", got)
	}
	if got := slices.DeleteFunc(f.complaints(), func(s string) bool { return strings.Contains(s, "offline.js") }); len(got) != 0 { // the browser looks for a newer worker
		t.Errorf("%q", got)
	}
}
