package main

import (
	"bytes"
	"io/fs"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"golang.org/x/mod/modfile"
	"golang.org/x/mod/module"
	"golang.org/x/mod/zip"
)

// sh runs one command with more environment; it fails the test.
func sh(t *testing.T, dir string, env []string, args ...string) string {
	t.Helper()
	out, err := try(dir, env, args...)
	if err != nil {
		t.Fatalf("%s in %s: %v\n%s", strings.Join(args, " "), dir, err, out)
	}
	return out
}

func try(dir string, env []string, args ...string) (string, error) {
	cmd := exec.Command(args[0], args[1:]...)
	cmd.Dir = dir
	cmd.Env = append(os.Environ(), env...)
	out, err := cmd.CombinedOutput()
	return string(out), err
}

func goenv(t *testing.T, name string) string {
	return strings.TrimSpace(sh(t, ".", nil, "go", "env", name))
}

// commit makes a repository of a folder, or adds a commit to it.
func commit(t *testing.T, dir string) {
	t.Helper()
	day := "2026-10-03T12:00:00+02:00"
	env := []string{"GIT_AUTHOR_DATE=" + day, "GIT_COMMITTER_DATE=" + day, "GIT_CONFIG_GLOBAL=/dev/null",
		"GIT_AUTHOR_NAME=test", "GIT_AUTHOR_EMAIL=test@shop.example", "GIT_COMMITTER_NAME=test", "GIT_COMMITTER_EMAIL=test@shop.example"}
	sh(t, dir, env, "git", "init", "-q")
	sh(t, dir, env, "git", "add", "-A")
	sh(t, dir, env, "git", "commit", "-q", "-m", "as it is now")
}

// snapshot is a repository of its own with all that is in this one's folder,
// so that what is tried is what is written here, committed or not.
func snapshot(t *testing.T) string {
	t.Helper()
	top, err := git(".", "rev-parse", "--show-toplevel")
	if err != nil {
		t.Fatal(err)
	}
	names, err := git(top, "ls-files", "-z", "--cached", "--others", "--exclude-standard")
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	for name := range strings.SplitSeq(strings.TrimSuffix(names, "\x00"), "\x00") {
		data, err := os.ReadFile(filepath.Join(top, name))
		if os.IsNotExist(err) {
			continue
		}
		stat, err2 := os.Stat(filepath.Join(top, name))
		if err != nil || err2 != nil {
			t.Fatal(err, err2)
		}
		write(t, filepath.Join(dir, name), string(data))
		if err := os.Chmod(filepath.Join(dir, name), stat.Mode().Perm()); err != nil {
			t.Fatal(err)
		}
	}
	commit(t, dir)
	return dir
}

func write(t *testing.T, name, text string) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

func modulePath(t *testing.T, root string) string {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(root, "go.mod"))
	if err != nil {
		t.Fatal(err)
	}
	return modfile.ModulePath(data)
}

// tree gives every file below a folder with its content.
func tree(t *testing.T, dir string) map[string]string {
	t.Helper()
	out := map[string]string{}
	err := filepath.WalkDir(dir, func(name string, d fs.DirEntry, err error) error {
		if os.IsNotExist(err) {
			return nil
		}
		if err != nil || d.IsDir() {
			return err
		}
		data, err := os.ReadFile(name)
		rel, _ := filepath.Rel(dir, name)
		out[filepath.ToSlash(rel)] = string(data)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// called runs the command as a shell would.
func called(t *testing.T, want int, args ...string) string {
	t.Helper()
	var out, errw bytes.Buffer
	if code := run(args, &out, &errw); code != want {
		t.Errorf("release %s: exit %d, want %d\n%s%s", strings.Join(args, " "), code, want, &out, &errw)
	}
	return errw.String()
}

func TestPublish(t *testing.T) {
	root, to := snapshot(t), t.TempDir()
	m := modulePath(t, root)
	called(t, 0, "publish", "-from", root, "-version", "v0.1.0", "-to", to)
	first := tree(t, to)
	at := m + "/@v/"
	if got := slices.Sorted(keys(first)); !slices.Equal(got, []string{at + "list", at + "v0.1.0.info", at + "v0.1.0.mod", at + "v0.1.0.zip"}) {
		t.Fatalf("the folder holds %q", got)
	}
	if got := first[at+"list"]; got != "v0.1.0\n" {
		t.Errorf("list: %q", got)
	}
	// The commit's time in UTC, whoever publishes and when.
	if got := first[at+"v0.1.0.info"]; got != `{"Version":"v0.1.0","Time":"2026-10-03T10:00:00Z"}` {
		t.Errorf("info: %s", got)
	}
	if got, want := first[at+"v0.1.0.mod"], tree(t, root)["go.mod"]; got != want {
		t.Errorf("mod:\n%s\nwant\n%s", got, want)
	}
	checked, err := zip.CheckZip(module.Version{Path: m, Version: "v0.1.0"}, filepath.Join(to, m, "@v", "v0.1.0.zip"))
	if err != nil || checked.Err() != nil {
		t.Fatalf("the go command would refuse the zip: %v %v", err, checked.Err())
	}
	if len(checked.Valid) < 100 {
		t.Errorf("only %d files in the zip", len(checked.Valid))
	}
	for _, name := range checked.Valid {
		if strings.Contains(name, "/internal/release/") || strings.Contains(name, "/internal/schemacheck/") || strings.Contains(name, "/internal/browsercheck/") || strings.Contains(name, "/internal/compare/") {
			t.Errorf("a nested module's file is in the zip: %s", name)
		}
	}

	// Again, and elsewhere: the same bytes.
	called(t, 0, "publish", "-from", root, "-version", "v0.1.0", "-to", to)
	other := t.TempDir()
	called(t, 0, "publish", "-from", root, "-version", "v0.1.0", "-to", other)
	for name, dir := range map[string]string{"again": to, "elsewhere": other} {
		for file, data := range tree(t, dir) {
			if first[file] != data {
				t.Errorf("published %s, %s is another", name, file)
			}
		}
	}

	// Other versions beside it, in the order of versions and not of letters.
	for _, v := range []string{"v0.10.0", "v0.2.0-rc.1", "v0.2.0"} {
		called(t, 0, "publish", "-from", root, "-version", v, "-to", to)
	}
	if got := tree(t, to)[at+"list"]; got != "v0.1.0\nv0.2.0-rc.1\nv0.2.0\nv0.10.0\n" {
		t.Errorf("list: %q", got)
	}
}

func keys(m map[string]string) func(func(string) bool) {
	return func(yield func(string) bool) {
		for k := range m {
			if !yield(k) {
				return
			}
		}
	}
}

// A path with capitals is escaped as the go command asks for it.
func TestPublishEscapes(t *testing.T) {
	root, to := t.TempDir(), t.TempDir()
	write(t, filepath.Join(root, "go.mod"), "module shop.example/Tools\n\ngo 1.26\n")
	write(t, filepath.Join(root, "tools.go"), "package tools\n")
	commit(t, root)
	called(t, 0, "publish", "-from", root, "-version", "v0.1.0-RC.1", "-to", to)
	if got := tree(t, to)["shop.example/!tools/@v/v0.1.0-!r!c.1.info"]; got == "" {
		t.Errorf("the folder holds %q", slices.Sorted(keys(tree(t, to))))
	}
	if got := tree(t, to)["shop.example/!tools/@v/list"]; got != "v0.1.0-RC.1\n" {
		t.Errorf("list: %q", got)
	}
}

func TestPublishRefuses(t *testing.T) {
	root, to := t.TempDir(), t.TempDir()
	write(t, filepath.Join(root, "go.mod"), "module shop.example/tools\n\ngo 1.26\n")
	write(t, filepath.Join(root, "tools.go"), "package tools\n")
	commit(t, root)
	for _, v := range []string{"0.1.0", "v1", "v0.1", "latest", "v2.0.0", "v0.1.0+build", "v0.0.0-20261003120000-0123456789ab", "../v0.1.0"} {
		called(t, 1, "publish", "-from", root, "-version", v, "-to", to)
	}
	called(t, 2, "publish", "-from", root, "-to", to)
	called(t, 2, "publish", "-from", root, "-version", "v0.1.0")
	called(t, 2, "publish", "-from", root, "-version", "v0.1.0", "-to", to, "more")
	called(t, 2, "publish", "-from", root, "-version", "v0.1.0", "-to", to, "-into", to)
	called(t, 2, "move", "-from", root)
	called(t, 2, "move", "-from", root, "-to", "a.example/b", "-version", "v0.1.0")
	called(t, 2, "unpublish")
	called(t, 2)

	write(t, filepath.Join(root, "new.go"), "package tools\n")
	if said := called(t, 1, "publish", "-from", root, "-version", "v0.1.0", "-to", to); !strings.Contains(said, "new.go") {
		t.Errorf("a new file: %s", said)
	}
	if got := tree(t, to); len(got) > 0 {
		t.Errorf("refused, and wrote %q", slices.Sorted(keys(got)))
	}
	commit(t, root)
	called(t, 0, "publish", "-from", root, "-version", "v0.1.0", "-to", to)
	before := tree(t, to)
	write(t, filepath.Join(root, "tools.go"), "package tools // changed\n")
	if said := called(t, 1, "publish", "-from", root, "-version", "v0.1.1", "-to", to); !strings.Contains(said, "tools.go") {
		t.Errorf("a changed file: %s", said)
	}
	commit(t, root)
	if said := called(t, 1, "publish", "-from", root, "-version", "v0.1.0", "-to", to); !strings.Contains(said, "already published") {
		t.Errorf("another content: %s", said)
	}
	for file, data := range tree(t, to) {
		if before[file] != data {
			t.Errorf("refused, and changed %s", file)
		}
	}
}

// readme gives the lines of the sh block that holds a text, in the README or in this
// folder's, with the folders of this machine in the place of those there.
func readme(t *testing.T, root, holds string, places ...string) string {
	t.Helper()
	text := ""
	for _, name := range []string{"README.md", "internal/release/README.md"} {
		data, err := os.ReadFile(filepath.Join(root, name))
		if err != nil {
			t.Fatal(err)
		}
		text += string(data)
	}
	for _, block := range regexp.MustCompile("(?s)```sh\n(.*?)```").FindAllStringSubmatch(text, -1) {
		if strings.Contains(block[1], holds) {
			for i := 0; i < len(places); i += 2 {
				if !strings.Contains(block[1], places[i]) {
					t.Fatalf("README: no %s in\n%s", places[i], block[1])
				}
			}
			return "set -e\n" + strings.NewReplacer(places...).Replace(block[1])
		}
	}
	t.Fatalf("README: no sh block with %q", holds)
	return ""
}

// outside makes a fresh module with a program for each public package, and
// checks that none is forgotten.
func outside(t *testing.T, root string) string {
	t.Helper()
	dir := t.TempDir()
	sh(t, dir, nil, "go", "mod", "init", "dealer.example/shop")
	programs := tree(t, filepath.Join(root, "internal", "release", "testdata", "outside"))
	all := ""
	for name, text := range programs {
		write(t, filepath.Join(dir, name), text)
		all += text
	}
	for name := range strings.FieldsSeq(sh(t, root, nil, "go", "list", "./...")) {
		if !strings.Contains(name, "/internal/") && !strings.Contains(name, "/examples/") && !strings.Contains(all, `"`+name+`"`) {
			t.Errorf("testdata/outside has no program that imports %s", name)
		}
	}
	return dir
}

// tried builds and runs the programs and holds them to what they print.
func tried(t *testing.T, dir string, env []string) {
	t.Helper()
	programs := tree(t, dir)
	for name, text := range programs {
		if !strings.HasSuffix(name, "main.go") {
			continue
		}
		want, _, _ := strings.Cut(strings.TrimPrefix(text, "// Prints: "), "\n")
		got, err := try(dir, env, "go", "run", "./"+filepath.Dir(name))
		if err != nil || got != want+"\n" {
			t.Errorf("%s prints %q, want %q; %v", name, got, want, err)
		}
	}
}

// TestGoGet does what the README tells a team to do, word for word.
func TestGoGet(t *testing.T) {
	if testing.Short() {
		t.Skip("runs the go command for each package")
	}
	root, proxy := snapshot(t), t.TempDir()
	m := modulePath(t, root)
	// A module cache of its own, so that no run sees what another one got; what
	// this machine has of other modules comes from its cache, as from a proxy.
	real := goenv(t, "GOPROXY")
	chain := "file://" + filepath.ToSlash(goenv(t, "GOMODCACHE")) + "/cache/download," + real
	env := []string{"GOMODCACHE=" + t.TempDir(), "GOFLAGS=-modcacherw"}
	sh(t, root, env[1:], "bash", "-c", readme(t, root, "run . publish", "/srv/goproxy", proxy))

	dir := outside(t, root)
	sh(t, dir, env, "bash", "-c", readme(t, root, "go get "+m+"@", "/srv/goproxy", proxy, "$(go env GOPROXY)", chain))
	get := append(env, "GOPROXY=file://"+proxy+","+chain, "GONOSUMDB="+m)
	tried(t, dir, get)

	// Only what you use.
	behind := func(program string) (out []string) {
		for name := range strings.FieldsSeq(sh(t, dir, get, "go", "list", "-deps", "-f", "{{if not .Standard}}{{.ImportPath}}{{end}}", program)) {
			out = append(out, name)
		}
		return out
	}
	if got := behind("./dotcode"); !slices.Equal(got, []string{m + "/internal/word", m + "/dotcode", "dealer.example/shop/dotcode"}) {
		t.Errorf("behind a program that imports dotcode alone: %q", got)
	}
	for _, name := range behind("./weight") {
		if strings.HasPrefix(name, "gopkg.in") {
			t.Errorf("behind a program that imports weight alone: %s", name)
		}
	}

	// From a web server inside a network.
	server := httptest.NewServer(http.FileServer(http.Dir(proxy)))
	defer server.Close()
	web := t.TempDir()
	sh(t, web, nil, "go", "mod", "init", "dealer.example/shop")
	over := []string{"GOMODCACHE=" + t.TempDir(), "GOFLAGS=-modcacherw", "GOPROXY=" + server.URL + "," + chain, "GONOSUMDB=" + m}
	sh(t, web, over, "go", "get", m+"@v0.1.0")
	if got := sh(t, web, over, "go", "list", "-m", m+"@latest"); got != m+" v0.1.0\n" {
		t.Errorf("the latest version over HTTP: %q", got)
	}

	// What the README warns of: without GONOSUMDB the checksum database is asked
	// for a path that it cannot know, and GOPRIVATE goes past the proxy.
	for name, more := range map[string]string{"no GONOSUMDB": "GONOSUMDB=", "GOPRIVATE in its place": "GOPRIVATE=" + m} {
		fresh := t.TempDir()
		sh(t, fresh, nil, "go", "mod", "init", "dealer.example/shop")
		vars := []string{"GOMODCACHE=" + t.TempDir(), "GOFLAGS=-modcacherw", "GOPROXY=file://" + proxy + "," + real, "GONOSUMDB=", more}
		if out, err := try(fresh, vars, "go", "get", m+"@v0.1.0"); err == nil {
			t.Errorf("%s: go get works, and the README says that it does not:\n%s", name, out)
		}
	}
}

// TestReplace does what the README says of a copy beside one's own module.
func TestReplace(t *testing.T) {
	if testing.Short() {
		t.Skip("runs the go command for each package")
	}
	root := snapshot(t)
	dir := outside(t, root)
	sh(t, dir, nil, "bash", "-c", readme(t, root, "-replace="+modulePath(t, root), "../axleend", root))
	tried(t, dir, nil)
}

func TestMove(t *testing.T) {
	root := snapshot(t)
	old := modulePath(t, root)
	for _, to := range []string{"", "axleend", "git.shop.example/tools/axleend/v2", "git.shop.example/" + old, "Git shop/tools"} {
		want := 1
		if to == "" {
			want = 2
		}
		called(t, want, "move", "-from", root, "-to", to)
	}
	called(t, 1, "move", "-from", root, "-to", "git.shop.example/tools/axleend", "-into", root)
	if status := sh(t, root, nil, "git", "status", "--porcelain"); status != "" {
		t.Fatalf("refused, and changed:\n%s", status)
	}

	into := filepath.Join(t.TempDir(), "moved")
	script := readme(t, root, "run . move", "../../../moved", into)
	if !strings.Contains(script, " -to ") {
		t.Fatalf("README: %s", script)
	}
	to, _, _ := strings.Cut(script[strings.Index(script, " -to ")+5:], " ")
	sh(t, root, nil, "bash", "-c", script)
	if status := sh(t, root, nil, "git", "status", "--porcelain"); status != "" {
		t.Errorf("moving into another folder changed this one:\n%s", status)
	}
	got := modulePath(t, into)
	if got != to {
		t.Errorf("the moved module is %s, want %s", got, to)
	}
	before, moved := tree(t, root), tree(t, into)
	for name, text := range moved {
		if strings.Contains(text, old) {
			t.Errorf("%s still says %s", name, old)
		}
		if _, is := before[name]; !is {
			t.Errorf("%s is new", name)
		}
	}
	for name := range before {
		if _, is := moved[name]; !is && !strings.HasPrefix(name, ".git/") {
			t.Errorf("%s is not there any more", name)
		}
	}

	// In place the same, and only where the work tree is clean.
	write(t, filepath.Join(root, "new.txt"), "new\n")
	called(t, 1, "move", "-from", root, "-to", to)
	if err := os.Remove(filepath.Join(root, "new.txt")); err != nil {
		t.Fatal(err)
	}
	called(t, 0, "move", "-from", root, "-to", to)
	for name, text := range tree(t, root) {
		if !strings.HasPrefix(name, ".git/") && moved[name] != text {
			t.Errorf("%s is another when moved in place", name)
		}
	}

	if testing.Short() {
		t.Skip("builds every module at its new path")
	}
	if bad := sh(t, into, nil, "gofmt", "-l", "."); bad != "" {
		t.Errorf("gofmt would change %s", bad)
	}
	mods := 0
	for name := range moved {
		if filepath.Base(name) != "go.mod" {
			continue
		}
		mods++
		dir := filepath.Join(into, filepath.Dir(name))
		sh(t, dir, nil, "go", "mod", "tidy", "-diff")
		sh(t, dir, nil, "go", "build", "-o", os.DevNull, "./...")
		sh(t, dir, nil, "go", "vet", "./...")
	}
	if mods < 3 {
		t.Errorf("only %d modules were moved", mods)
	}
}
