//go:build !js

package main

import (
	"bytes"
	"compress/gzip"
	"os"
	"os/exec"
	"path/filepath"
)

// library compiles this package to WebAssembly and packs it. Without inlining it
// is an eighth smaller.
func library() ([]byte, error) {
	dir, err := os.MkdirTemp("", "page")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(dir)
	out := filepath.Join(dir, "library.wasm")
	build := exec.Command("go", "build", "-trimpath", "-gcflags=all=-l", "-ldflags=-s -w", "-o", out, "axleend.example/examples/browser")
	build.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm")
	build.Stderr = os.Stderr
	if err := build.Run(); err != nil {
		return nil, err
	}
	data, err := os.ReadFile(out)
	if err != nil {
		return nil, err
	}
	var packed bytes.Buffer
	w, err := gzip.NewWriterLevel(&packed, gzip.BestCompression)
	if err != nil {
		return nil, err
	}
	w.Write(data) // a bytes.Buffer takes all
	err = w.Close()
	return packed.Bytes(), err
}
