package main

import (
	"context"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestAssessAsHTML: the page goes to standard output, or whole into a file
// that was not there.
func TestAssessAsHTML(t *testing.T) {
	code, page, errw := axleend(t, "", "assess", "-as", "html", demoVisit)
	if code != exitStop || errw != "" || !strings.HasPrefix(page, "<!DOCTYPE html>") || !strings.HasSuffix(page, "</html>\n") {
		t.Fatalf("exit status %d, %d bytes, %s", code, len(page), errw)
	}
	if _, one, _ := axleend(t, "", "assess", "-as", "html", "-one-sheet", demoVisit); strings.Contains(one, `id="details"`) || !strings.Contains(page, `id="details"`) {
		t.Error("-one-sheet does not decide whether there are details")
	}
	dir := t.TempDir()
	file := filepath.Join(dir, "sheet.html")
	code, out, errw := axleend(t, "", "assess", "-as", "html", "-o", file, demoVisit)
	if code != exitStop || out != "wrote "+file+"\n" || errw != "" {
		t.Errorf("exit status %d, %s%s", code, out, errw)
	}
	if got, err := os.ReadFile(file); err != nil || string(got) != page {
		t.Errorf("the file is not the page: %d bytes, %v", len(got), err)
	}
	if code, out, errw = axleend(t, "", "assess", "-o", file, demoVisit); code != exitMisuse || out != "" || !strings.Contains(errw, "-force") {
		t.Errorf("over a file that is there: exit status %d, %s%s", code, out, errw)
	}
	if code, _, _ = axleend(t, "", "assess", "-o", file, "-force", demoVisit); code != exitStop {
		t.Errorf("with -force: exit status %d", code)
	}
	if got, err := os.ReadFile(file); err != nil || !strings.HasPrefix(string(got), "DO NOT DRIVE") {
		t.Errorf("the file is not the text page: %v", err)
	}
	if code, _, errw = axleend(t, "", "assess", "-o", filepath.Join(dir, "none", "sheet.html"), demoVisit); code != exitWrite || errw == "" {
		t.Errorf("into no folder: exit status %d, %s", code, errw)
	}
	if left, err := os.ReadDir(dir); err != nil || len(left) != 1 {
		t.Errorf("files left behind: %v, %v", left, err)
	}
	if code, _, errw = axleend(t, "", "assess", "-as", "pdf", demoVisit); code != exitMisuse || !strings.Contains(errw, "want text or json or html") {
		t.Errorf("exit status %d, %s", code, errw)
	}
	if code, _, errw = axleend(t, "", "date", "-as", "html", "2313"); code != exitMisuse || !strings.Contains(errw, "want text or json") {
		t.Errorf("exit status %d, %s", code, errw)
	}
	if code := run(context.Background(), []string{"assess", "-as", "html", demoVisit}, nil, full{}, io.Discard); code != exitWrite {
		t.Errorf("nowhere to write: exit status %d", code)
	}
}

// TestOneBrokenTable: a table that is wrong is told of, and refuses the visit only
// where a tire may need it; the answer is then that without the file.
func TestOneBrokenTable(t *testing.T) {
	demo, err := os.ReadFile(demoVisit)
	if err != nil {
		t.Fatal(err)
	}
	table, err := os.ReadFile("../demo/xv250.yaml")
	if err != nil {
		t.Fatal(err)
	}
	broken := strings.Replace(string(table), "table: 1", "table: 2", 1)
	dir := folderOf(t, map[string]string{"visit.yaml": string(demo), "xv250.yaml": string(table)})
	t.Chdir(dir)
	_, want, _ := axleend(t, "", "assess", "visit.yaml")
	write := func(name, text string) {
		t.Helper()
		if err := os.WriteFile(name, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	for _, text := range []string{broken, "table: 1\nname: [", "table: 1\n", "table: 9\n"} {
		write("more.yaml", text)
		for _, line := range []string{"assess visit.yaml", "place visit.yaml", "history visit.yaml"} {
			code, out, errw := axleend(t, "", strings.Fields(line)...)
			if code != exitStop || !strings.Contains(errw, "more.yaml") || !strings.Contains(errw, "left out") || line == "assess visit.yaml" && out != want {
				t.Errorf("%q beside it: %s: exit status %d, %s", text[:10], line, code, errw)
			}
		}
		code, out, errw := axleend(t, "", "pressure", "-tables", ".", "-size", "XV250/72R21", "-fit", "dual", "-load", "8200lb", "-per", "end", "-load-range", "G")
		if code != exitDone || out == "" || !strings.Contains(errw, "more.yaml") {
			t.Errorf("pressure: exit status %d, %s%s", code, out, errw)
		}
		if code, out, errw := axleend(t, "", "batch", "."); code != exitStop || !strings.HasPrefix(out, `{"report":`) || !strings.Contains(errw, "more.yaml") {
			t.Errorf("batch: exit status %d, %s%s", code, out, errw)
		}
	}
	// Without the table of its size the visit would be answered by an estimate.
	write("xv250.yaml", broken)
	for _, line := range []string{"assess visit.yaml", "place visit.yaml", "history visit.yaml"} {
		code, out, errw := axleend(t, "", strings.Fields(line)...)
		if code != exitMisuse || out != "" || !strings.Contains(errw, "xv250.yaml") || !strings.Contains(errw, "no other table is for size") {
			t.Errorf("%s: exit status %d, %s%s", line, code, out, errw)
		}
	}
	if code, out, errw := axleend(t, "", "batch", "."); code != exitStop || !strings.HasPrefix(out, `{"bad_record":`) || !strings.Contains(errw, "xv250.yaml") {
		t.Errorf("batch: exit status %d, %s%s", code, out, errw)
	}
}
