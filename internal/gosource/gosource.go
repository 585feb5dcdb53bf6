// Package gosource type-checks the packages of this module from their source,
// for the tests that hold the module to its rules:
//
//	module, err := gosource.Load()
//	for _, p := range module.Packages {
//		fmt.Println(p.Name, len(p.Deps), len(p.Files))
//	}
//
// It runs the go command and needs one on the machine. No part of the library
// imports it.
package gosource

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"go/ast"
	"go/doc"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
)

// ErrNoGo says that this machine has no go command.
var ErrNoGo = errors.New("no go command on this machine")

// A Package is one package of the module without its tests.
type Package struct {
	Name    string   // import path without the module path: "rules/origin"
	Path    string   // import path
	Dir     string   // its folder
	Imports []string // import paths
	Deps    []string // import paths of all that stands behind it
	Files   []*ast.File
	Types   *types.Package
	// Examples are the files of its tests that hold Example functions.
	Examples []*ast.File
}

// Public reports whether users outside this module can import it.
func (p *Package) Public() bool {
	return !slices.Contains(strings.Split(p.Name, "/"), "internal") && p.Types.Name() != "main"
}

// A Module is all packages of one module, each after those that it imports.
// One object stands for one thing in all of them.
type Module struct {
	Path     string
	Dir      string
	Fset     *token.FileSet
	Info     *types.Info // of all packages
	Packages []*Package
}

type listed struct {
	ImportPath, Dir, Export string
	Standard                bool
	GoFiles, Imports, Deps  []string
	XTestGoFiles            []string
	Module                  *struct {
		Path, Dir string
		Main      bool
	}
}

// Load type-checks every package of the module that the current folder is in,
// with their comments. The error matches [ErrNoGo], or is the go command's, a
// reader's or the type checker's.
func Load() (*Module, error) {
	list, err := goList()
	if err != nil {
		return nil, err
	}
	m := &Module{Fset: token.NewFileSet(), Info: &types.Info{
		Uses: map[*ast.Ident]types.Object{}, Defs: map[*ast.Ident]types.Object{}, Types: map[ast.Expr]types.TypeAndValue{},
	}}
	exports := map[string]string{}
	ours := map[string]*types.Package{}
	tests := map[*Package][]string{}
	for _, l := range list {
		// Built again for a test, a package has a path such as "a [a.test]".
		exports[l.ImportPath] = l.Export
	}
	compiled := importer.ForCompiler(m.Fset, "gc", func(path string) (io.ReadCloser, error) {
		if exports[path] == "" {
			return nil, fmt.Errorf("no compiled package %s", path)
		}
		return os.Open(exports[path])
	})
	imp := importerFunc(func(path string) (*types.Package, error) {
		if p := ours[path]; p != nil {
			return p, nil
		}
		return compiled.Import(path)
	})
	for _, l := range list {
		if l.Module == nil || !l.Module.Main || strings.HasSuffix(l.ImportPath, ".test") || strings.Contains(l.ImportPath, " ") {
			continue
		}
		m.Path, m.Dir = l.Module.Path, l.Module.Dir
		p := &Package{
			Name: strings.TrimPrefix(l.ImportPath, l.Module.Path+"/"), Path: l.ImportPath, Dir: l.Dir, Imports: l.Imports, Deps: l.Deps,
		}
		for _, name := range l.GoFiles {
			f, err := parser.ParseFile(m.Fset, filepath.Join(l.Dir, name), nil, parser.ParseComments|parser.SkipObjectResolution)
			if err != nil {
				return nil, err
			}
			p.Files = append(p.Files, f)
		}
		conf := types.Config{Importer: imp}
		if p.Types, err = conf.Check(l.ImportPath, m.Fset, p.Files, m.Info); err != nil {
			return nil, err
		}
		ours[l.ImportPath] = p.Types
		m.Packages = append(m.Packages, p)
		tests[p] = l.XTestGoFiles
	}
	for p, names := range tests {
		if err := m.examples(p, names, imp); err != nil {
			return nil, err
		}
	}
	return m, m.touch()
}

// examples reads a package's example files. They may lean on other files of
// the tests, which are not read, so not every name in them is known.
func (m *Module) examples(p *Package, names []string, imp types.Importer) error {
	for _, name := range names {
		f, err := parser.ParseFile(m.Fset, filepath.Join(p.Dir, name), nil, parser.ParseComments|parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		if len(doc.Examples(f)) > 0 {
			p.Examples = append(p.Examples, f)
		}
	}
	conf := types.Config{Importer: imp, Error: func(error) {}}
	conf.Check(p.Path+"_test", m.Fset, p.Examples, m.Info)
	return nil
}

// touch opens every folder of the module here, since the test cache does not
// see what the go command reads: a new file must run the tests again.
func (m *Module) touch() error {
	return filepath.WalkDir(m.Dir, func(path string, d fs.DirEntry, err error) error {
		if err == nil && d.IsDir() && path != m.Dir && (strings.HasPrefix(d.Name(), ".") || d.Name() == "testdata") {
			return fs.SkipDir
		}
		return err
	})
}

type importerFunc func(string) (*types.Package, error)

func (f importerFunc) Import(path string) (*types.Package, error) { return f(path) }

func goList() ([]listed, error) {
	root, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}").Output()
	if err != nil {
		if errors.Is(err, exec.ErrNotFound) {
			return nil, ErrNoGo
		}
		return nil, fmt.Errorf("go list -m: %w", err)
	}
	cmd := exec.Command("go", "list", "-export", "-deps", "-test", "-json=ImportPath,Dir,Export,Standard,GoFiles,XTestGoFiles,Imports,Deps,Module", "./...")
	cmd.Dir = strings.TrimSpace(string(root))
	var errw bytes.Buffer
	cmd.Stderr = &errw
	out, err := cmd.Output()
	if err != nil {
		return nil, fmt.Errorf("go list: %w\n%s", err, errw.Bytes())
	}
	var all []listed
	for dec := json.NewDecoder(bytes.NewReader(out)); ; {
		var l listed
		if err := dec.Decode(&l); errors.Is(err, io.EOF) {
			return all, nil
		} else if err != nil {
			return nil, err
		}
		all = append(all, l)
	}
}
