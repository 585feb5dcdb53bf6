package inspect_test

import (
	"errors"
	"io/fs"
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"axleend.example/inspect"
	"axleend.example/rules/origin"
)

// TestCheckPackOfFiles: a pack with what it extends, its cases, and its list of clauses
// where there is one; what is wrong with any of them is said, and of a case that says
// something else the report speaks.
func TestCheckPackOfFiles(t *testing.T) {
	t.Parallel()
	const (
		pack = "format: 1\npack: own\ntitle: Own\nrules:\n  cut: {title: Cut, subject: tire, measure: cut_depth, at_most: 1/32 in, action: plan, advice: Look., source: {grade: invented, title: a house rule, locator: '1'}}\n"
		good = "cases: own\nformat: 1\nlist:\n  - given: {subject: tire, cut_depth: 2/32 in}\n    expect: {cut: plan}\n    source: {grade: invented, title: a house rule}\n"
		list = "clauses: own\nformat: 1\nsources:\n  - title: a house rule\n    edition: invented\n    list:\n      - at: '1'\n        says: 1/32 in\n        rules: [cut]\n"
	)
	for name, c := range map[string]struct {
		files map[string]string
		fails int    // cases
		want  string // of the error
	}{
		"all right":          {map[string]string{"own.yaml": pack, "own.cases.yaml": good, "own.clauses.yaml": list}, 0, ""},
		"no clauses":         {map[string]string{"own.yaml": pack, "own.cases.yaml": good}, 0, ""},
		"another verdict":    {map[string]string{"own.yaml": pack, "own.cases.yaml": strings.Replace(good, "2/32 in", "1/32 in", 1)}, 1, ""},
		"no pack":            {map[string]string{"own.cases.yaml": good}, 0, "own.yaml"},
		"a broken pack":      {map[string]string{"own.yaml": strings.Replace(pack, "at_most", "at_mots", 1), "own.cases.yaml": good}, 0, "at_mots"},
		"no cases":           {map[string]string{"own.yaml": pack}, 0, "own.cases.yaml"},
		"broken cases":       {map[string]string{"own.yaml": pack, "own.cases.yaml": strings.Replace(good, "expect", "expcet", 1)}, 0, "expcet"},
		"broken clauses":     {map[string]string{"own.yaml": pack, "own.cases.yaml": good, "own.clauses.yaml": strings.Replace(list, "says", "syas", 1)}, 0, "syas"},
		"a clause too many":  {map[string]string{"own.yaml": pack, "own.cases.yaml": good, "own.clauses.yaml": strings.Replace(list, "[cut]", "[cut, crack]", 1)}, 0, "crack"},
		"extends what ships": {map[string]string{"own.yaml": strings.Replace(pack, "title: Own\n", "title: Own\nextends: [dual-matching]\n", 1), "own.cases.yaml": good}, 0, ""},
	} {
		fsys := fstest.MapFS{}
		for file, text := range c.files {
			fsys[file] = &fstest.MapFile{Data: []byte(text)}
		}
		r, err := inspect.CheckPack(fsys, "own")
		var problems *origin.Problems
		switch {
		case c.want == "" && (err != nil || r.Pack != "own" || r.Cases != 1 || len(r.Failures) != c.fails):
			t.Errorf("%s: %+v, %v", name, r, err)
		case c.want != "" && (!errors.As(err, &problems) || !strings.Contains(err.Error(), c.want) || r.Cases != 0):
			t.Errorf("%s: %+v, %v, want %q", name, r, err, c.want)
		}
	}
	if _, err := inspect.CheckPack(os.DirFS("testdata"), "no-such-pack"); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("no such pack: %v", err)
	}
}
