//go:build !js

package main

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// The visit that stands in the page is one that can be judged.
func TestPagesOwnVisit(t *testing.T) {
	html, err := page.ReadFile("page/index.html")
	if err != nil {
		t.Fatal(err)
	}
	visit := regexp.MustCompile(`(?s)<textarea[^>]*>(.*?)</textarea>`).FindSubmatch(html)
	if visit == nil {
		t.Fatal("no text area")
	}
	got, err := judge(string(visit[1]))
	if err != nil || !strings.Contains(got, "Do not air it up") {
		t.Errorf("%v\n%s", err, got)
	}
	if _, err := judge("visit: 1\ndate: today\n"); err == nil || !strings.Contains(err.Error(), "visit:2:7: date") {
		t.Errorf("a wrong date: %v", err)
	}
}

// What a browser makes of the files is tried in internal/browsercheck.
func TestWrite(t *testing.T) {
	if testing.Short() {
		t.Skip("compiles the library to WebAssembly")
	}
	dir := filepath.Join(t.TempDir(), "page")
	if err := write(dir); err != nil {
		t.Fatal(err)
	}
	for name, start := range map[string]string{"index.html": "<!DOCTYPE html>", "page.js": `"use strict"`, "page.css": ":root", "wasm_exec.js": "//", "library.wasm": "\x00asm"} {
		data, err := os.ReadFile(filepath.Join(dir, name))
		if err != nil || !strings.HasPrefix(string(data), start) {
			t.Errorf("%s: %v, starts with %.20q", name, err, data)
		}
	}
	if err := write(filepath.Join(dir, "index.html")); err == nil {
		t.Error("a folder that is a file")
	}
}
