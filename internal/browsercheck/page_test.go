package browsercheck

import (
	"encoding/json"
	"net/http"
	"net/http/httptest"
	"os/exec"
	"strings"
	"testing"
	"time"

	"axleend.example/inspect"
	"axleend.example/inspect/record"
	"axleend.example/inspect/sheet"
)

// TestPageOfStaticFiles opens the page of examples/browser: the library,
// compiled to WebAssembly, says in the browser what it says here.
func TestPageOfStaticFiles(t *testing.T) {
	browser := start(t)
	dir := t.TempDir()
	if out, err := exec.Command("go", "run", "axleend.example/examples/browser", "-to", dir).CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	server := httptest.NewServer(http.FileServer(http.Dir(dir)))
	defer server.Close()
	page := open(t, browser)
	page.visit(t, server.URL)
	for until := time.Now().Add(time.Minute); eval[bool](t, page, `document.getElementById("judge").disabled`); time.Sleep(50 * time.Millisecond) {
		if time.Now().After(until) {
			t.Fatalf("the library did not come up: %q", eval[string](t, page, `document.getElementById("wrong").textContent`))
		}
	}
	judged := func(visit string) (sheet, wrong string) {
		text, err := json.Marshal(visit)
		if err != nil {
			t.Fatal(err)
		}
		eval[bool](t, page, `document.getElementById("visit").value = `+string(text)+`, document.getElementById("judge").click(), true`)
		return eval[string](t, page, `document.getElementById("sheet").textContent`), eval[string](t, page, `document.getElementById("wrong").textContent`)
	}

	own := eval[string](t, page, `document.getElementById("visit").value`)
	hostile := strings.Replace(own, "Invented coach", `<img src=x onerror="document.title='taken'">`, 1)
	for name, visit := range map[string]string{"the page's own visit": own, "a hostile visit": hostile} {
		v, err := record.Read("visit", []byte(visit))
		if err != nil {
			t.Fatal(err)
		}
		report, err := inspect.Assess(v, inspect.Setup{})
		if err != nil {
			t.Fatal(err)
		}
		if got, wrong := judged(visit); got != sheet.Text(report, sheet.TextOptions{Full: true}) || wrong != "" {
			t.Errorf("%s: the browser says %q and\n%s\nwant\n%s", name, wrong, got, sheet.Text(report, sheet.TextOptions{Full: true}))
		}
	}
	if got, wrong := judged("visit: 1\ndate: today\n"); got != "" || !strings.Contains(wrong, "visit:2:7: date") || !strings.Contains(wrong, "axles: missing") {
		t.Errorf("a bad visit: %q and\n%s", wrong, got)
	}
	if eval[string](t, page, `document.title`) == "taken" || eval[int](t, page, `document.querySelectorAll("img").length`) != 0 {
		t.Error("the visit's markup became the page's")
	}
	for _, url := range page.asked() {
		if !strings.HasPrefix(url, server.URL+"/") {
			t.Errorf("the page asked for %s", url)
		}
	}
	for _, complaint := range page.complaints() {
		t.Error(complaint)
	}
}
