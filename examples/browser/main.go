//go:build !js

package main

import (
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

// write puts together the page, the library as WebAssembly, and the glue that
// belongs to the Go release which compiled it.
func write(to string) error {
	if err := os.MkdirAll(to, 0o755); err != nil {
		return err
	}
	static, err := fs.Sub(page, "page")
	if err != nil {
		return err
	}
	names, err := fs.Glob(static, "*")
	if err != nil {
		return err
	}
	for _, name := range names {
		data, err := fs.ReadFile(static, name)
		if err != nil {
			return err
		}
		if err := os.WriteFile(filepath.Join(to, name), data, 0o644); err != nil {
			return err
		}
	}
	root, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		return err
	}
	glue, err := os.ReadFile(filepath.Join(strings.TrimSpace(string(root)), "lib", "wasm", "wasm_exec.js"))
	if err != nil {
		return err
	}
	if err := os.WriteFile(filepath.Join(to, "wasm_exec.js"), glue, 0o644); err != nil {
		return err
	}
	out, err := filepath.Abs(filepath.Join(to, "library.wasm"))
	if err != nil {
		return err
	}
	build := exec.Command("go", "build", "-trimpath", "-ldflags=-s -w", "-o", out, "axleend.example/examples/browser")
	build.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm")
	build.Stderr = os.Stderr
	return build.Run()
}
