package browsercheck

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"axleend.example/inflation/tablefile"
	"axleend.example/inspect"
	"axleend.example/inspect/batch"
	"axleend.example/inspect/history"
	"axleend.example/inspect/sheet"
	"axleend.example/internal/visittest"
)

// The histories that are looked at, both invented: three visits of the demo, and
// six to a coach with ten tires.
var histories = map[string]string{
	"demo": "../../examples/demo/history", "ten tires": "../../inspect/sheet/testdata/history",
}

func historyPage(t *testing.T, folder string) []byte {
	t.Helper()
	files, err := batch.Files(os.DirFS(folder))
	if err != nil {
		t.Fatal(err)
	}
	tables, err := tablefile.LoadFolder(os.DirFS("../../examples/demo"))
	if err != nil {
		t.Fatal(err)
	}
	paths := make([]string, len(files))
	for i, name := range files {
		paths[i] = filepath.Join(folder, name)
	}
	visits := visittest.Files(t, paths...)
	h, err := history.Compare(visits, inspect.Setup{Tables: tables})
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := sheet.HistoryHTML(&b, h); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// TestHistoryInTheBrowser prints each history on one sheet of both papers, in type
// of 9 points, which is 12 px, and looks at it on a desk and in a hand.
func TestHistoryInTheBrowser(t *testing.T) {
	browser := start(t)
	for name, folder := range histories {
		t.Run(name, func(t *testing.T) {
			address := saved(t, historyPage(t, folder))
			tab := open(t, browser)
			tab.visit(t, address)
			for paper, size := range papers {
				if n := pages(tab.pdf(t, size)); n != 1 {
					t.Errorf("%s: %d sheets, want one", paper, n)
				}
				tab.media(t, "print", int64((size.Width-2*marginInches)*96), int64((size.Height-2*marginInches)*96))
				got := eval[found](t, tab, layout)
				got.report(t, paper)
				if got.Small < 10 {
					t.Errorf("%s: type of %.1f px, want at least 10: %s", paper, got.Small, got.Smallest)
				}
			}
			for where, size := range map[string][2]int64{"desk": {1280, 900}, "phone": {390, 844}} {
				tab.media(t, "screen", size[0], size[1])
				eval[found](t, tab, layout).report(t, where)
			}
			quiet(t, tab, address)
		})
	}
}
