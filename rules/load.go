package rules

import (
	"errors"
	"fmt"
	"hash/fnv"
	"io"
	"io/fs"
	"path"
	"strings"

	"axleend.example/internal/strictyaml"
	"axleend.example/rules/origin"
)

// MaxBytes is the size of the largest file that is read unless a [Loader]
// says otherwise.
const MaxBytes = 256 << 10

// A Loader reads packs and cases within a limit of the caller's. Its zero
// value has the limit of the functions [Load], [ReadPack], [LoadCases] and
// [ReadCases].
type Loader struct {
	MaxBytes int // most bytes of one file; 0 means the constant MaxBytes
}

func (l Loader) limit() int {
	if l.MaxBytes > 0 {
		return l.MaxBytes
	}
	return MaxBytes
}

// Load reads packs by name: "valve-care" is the file valve-care.yaml at the
// top of fsys, "shop/valve-care" the one in that folder. Packs that they
// extend are read too where they stand in the same folder. Each pack comes
// once, and after those that it extends; no more than 64 are read. The error is
// an *origin.Problems with all that is wrong with all the files; even then the
// packs may be given to [Compile], which reports the same and what else is wrong.
func Load(fsys fs.FS, names ...string) ([]Pack, error) { return Loader{}.Load(fsys, names...) }

// Load is the function [Load] within the loader's limit.
func (l Loader) Load(fsys fs.FS, names ...string) ([]Pack, error) {
	var packs []Pack
	var problems origin.Problems
	seen := make(map[string]bool)
	var read func(name string, asked bool)
	read = func(name string, asked bool) {
		name = strings.TrimSuffix(name, ".yaml")
		if seen[name] {
			return
		}
		seen[name] = true
		file := name + ".yaml"
		if len(seen) > maxPacks {
			if len(seen) == maxPacks+1 {
				problems.AddError(origin.Position{File: file}, codeLimit, fmt.Errorf("%w packs: %d are read at most", ErrLimit, maxPacks))
			}
			return
		}
		data, err := l.read(fsys, file)
		if err != nil {
			if asked || !errors.Is(err, fs.ErrNotExist) {
				problems.AddError(origin.Position{File: file}, codeName, err)
			}
			return
		}
		p, err := l.readPack(file, data, path.Base(name))
		problems.AddError(origin.Position{File: file}, codeName, err)
		for _, e := range p.file.extends {
			read(path.Join(path.Dir(name), e.text), false)
		}
		packs = append(packs, p)
	}
	for _, name := range names {
		read(name, true)
	}
	return packs, problems.Err()
}

// read reads one byte more than the limit at most: enough to be refused.
func (l Loader) read(fsys fs.FS, file string) ([]byte, error) {
	f, err := strictyaml.Open(fsys, file)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, int64(l.limit())+1))
}

// ReadPack reads one pack from data; file is its name for positions. The
// error is an *origin.Problems with all that is wrong with it; even then the
// pack may be given to [Compile], which reports the same and what else is
// wrong.
func ReadPack(file string, data []byte) (Pack, error) { return Loader{}.ReadPack(file, data) }

// ReadPack is the function [ReadPack] within the loader's limit.
func (l Loader) ReadPack(file string, data []byte) (Pack, error) { return l.readPack(file, data, "") }

func (l Loader) readPack(file string, data []byte, name string) (Pack, error) {
	p := &packFile{name: name, at: origin.Position{File: file}, sum: summed(data)}
	doc, err := strictyaml.Parse(file, data, l.limit())
	if err != nil {
		p.problems = new(origin.Problems)
		p.problems.AddError(p.at, strictyaml.CodeSyntax, err)
		return Pack{p}, err
	}
	p.read(doc.Root(), name)
	if doc.Probs.Len() == 0 {
		return Pack{p}, nil
	}
	p.problems = &doc.Probs
	return Pack{p}, p.problems.Err()
}

// summed tells the files of packs apart that have one name.
func summed(data []byte) (sum [16]byte) {
	h := fnv.New128a()
	h.Write(data) // never fails
	h.Sum(sum[:0])
	return sum
}
