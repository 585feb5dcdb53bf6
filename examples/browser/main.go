//go:build !js

package main

import (
	"bytes"
	"crypto/sha256"
	"embed"
	"flag"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

//go:embed page
var page embed.FS

func main() {
	to := flag.String("to", "", "`folder` to write the page to")
	flag.Parse()
	if *to == "" || flag.NArg() > 0 {
		fmt.Fprintln(os.Stderr, "browser wants -to FOLDER")
		os.Exit(2)
	}
	if err := write(*to); err != nil {
		fmt.Fprintln(os.Stderr, "browser:", err)
		os.Exit(1)
	}
}

// write puts together the page, the library as WebAssembly, packed, since a plain
// server sends files as they are, and the glue of the Go release that compiled it.
func write(to string) error {
	files := make(map[string][]byte)
	names, err := fs.Glob(page, "page/*")
	for _, name := range names {
		if files[filepath.Base(name)], err = page.ReadFile(name); err != nil {
			return err
		}
	}
	if err != nil {
		return err
	}
	root, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		return err
	}
	if files["wasm_exec.js"], err = os.ReadFile(filepath.Join(strings.TrimSpace(string(root)), "lib", "wasm", "wasm_exec.js")); err != nil {
		return err
	}
	if files["library.packed"], err = library(); err != nil {
		return err
	}
	// The worker keeps what it knows by this name: a new one fetches anew.
	edition := sha256.New()
	for _, name := range []string{"index.html", "page.css", "form.js", "page.js", "wasm_exec.js", "library.packed"} {
		edition.Write(files[name])
	}
	files["offline.js"] = bytes.ReplaceAll(files["offline.js"], []byte("EDITION"), fmt.Appendf(nil, "%x", edition.Sum(nil)[:8]))
	if err := os.MkdirAll(to, 0o755); err != nil {
		return err
	}
	for name, data := range files {
		if err := os.WriteFile(filepath.Join(to, name), data, 0o644); err != nil {
			return err
		}
	}
	return nil
}
