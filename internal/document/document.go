// Package document reads the documents that this module writes as JSON, each
// under a key and a version of its own.
//
//	r, err := document.Read[Report]("coach.json", data, document.Format{Key: "report", Version: 1, Most: 2 << 20})
//
// What its type always writes has to be there: a document that lacks a key says
// less than it seems to.
package document

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"

	"axleend.example/inspect/record"
	"axleend.example/internal/strictyaml"
	"axleend.example/rules/origin"
)

// A Format is one kind of document.
type Format struct {
	// Key is the top-level key that holds the version, and names the kind.
	Key string
	// Version is the one that is read.
	Version int
	// Most is how many bytes are read.
	Most int
}

// kinds are the keys by which the documents of this module tell themselves apart.
func kinds() []string {
	return []string{"report", "placement", "history", "weighing", "load", "visit", "bad_record", "table", "pack"}
}

// Read reads a document as json.Marshal wrote a T. Another document, another
// version ([record.ErrVersion]), and one that lacks a key which a T always has
// are refused; a key that is not known is passed over, since a later release may
// add one within a version. The error is an [*origin.Problems]: all the keys
// missing, else the one problem that was found first.
func Read[T any](name string, data []byte, format Format) (T, error) {
	var none, out T
	var ps origin.Problems
	fail := func(offset int64, path, code string, err error) (T, error) {
		ps.Add(origin.Problem{Position: place(name, data, offset), Path: path, Code: code, Err: err})
		return none, ps.Err()
	}
	if len(data) > format.Most {
		return fail(-1, "", strictyaml.CodeSize, fmt.Errorf("%w: %d bytes, at most %d", strictyaml.ErrSize, len(data), format.Most))
	}
	broken := func(err error) (T, error) {
		var syntax *json.SyntaxError
		var kind *json.UnmarshalTypeError
		switch {
		case errors.As(err, &syntax):
			return fail(syntax.Offset, "", strictyaml.CodeSyntax, fmt.Errorf("%w: %w", origin.ErrSyntax, err))
		case errors.As(err, &kind):
			return fail(kind.Offset, kind.Field, strictyaml.CodeShape, fmt.Errorf("%w: found a JSON %s", strictyaml.ErrShape, kind.Value))
		}
		return fail(-1, "", strictyaml.CodeValue, err)
	}
	var top map[string]json.RawMessage
	if err := json.Unmarshal(data, &top); err != nil {
		return broken(err)
	}
	switch version := string(top[format.Key]); version {
	case "", "null":
		return fail(-1, format.Key, strictyaml.CodeMissing, notThis(top))
	case fmt.Sprint(format.Version):
	default:
		if !number(version) {
			break // decoding says so
		}
		return fail(-1, format.Key, strictyaml.CodeVersion, fmt.Errorf("%w %q of the %s format: want %d; a newer file needs a newer program",
			record.ErrVersion, strictyaml.Clip(strings.Trim(version, `"`)), format.Key, format.Version))
	}
	if err := json.Unmarshal(data, &out); err != nil {
		return broken(err)
	}
	written, err := json.Marshal(out)
	if err != nil {
		return broken(err)
	}
	if !bytes.Equal(written, bytes.TrimSpace(data)) { // else it is whole, as most are
		missing(written, data, "", func(path string) {
			ps.Add(origin.Problem{Position: origin.Position{File: name}, Path: path, Code: strictyaml.CodeMissing, Err: strictyaml.ErrMissing})
		})
	}
	if err := ps.Err(); err != nil {
		return none, err
	}
	return out, nil
}

// notThis says that a document does not name its version, and what it is instead
// where another key says that.
func notThis(top map[string]json.RawMessage) error {
	for _, kind := range kinds() {
		if number(string(top[kind])) {
			return fmt.Errorf("%w: this is another document, by its key %q", strictyaml.ErrMissing, kind)
		}
	}
	return strictyaml.ErrMissing
}

// number reports whether a JSON value is a number.
func number(value string) bool {
	return value != "" && strings.ContainsAny(value[:1], "-0123456789")
}

// missing calls with the path of each key that written has and data, of which it
// is what was read, does not have. A key may be left out only where it is then not
// written either.
func missing(written, data json.RawMessage, path string, call func(path string)) {
	switch written[0] {
	case '[':
		var all, list []json.RawMessage
		if json.Unmarshal(written, &all) == nil && json.Unmarshal(data, &list) == nil {
			for i := range min(len(all), len(list)) {
				missing(all[i], list[i], fmt.Sprintf("%s[%d]", path, i), call)
			}
		}
	case '{':
		var all, in map[string]json.RawMessage
		if json.Unmarshal(written, &all) != nil || json.Unmarshal(data, &in) != nil {
			return
		}
		for _, key := range slices.Sorted(maps.Keys(all)) {
			at := strings.TrimPrefix(path+"."+key, ".")
			if value, there := in[key]; there {
				missing(all[key], value, at, call)
			} else {
				call(at)
			}
		}
	}
}

// place gives the line and column of an offset in JSON, in characters, or the
// file alone where none is known.
func place(name string, data []byte, offset int64) origin.Position {
	if offset < 0 || offset > int64(len(data)) {
		return origin.Position{File: name}
	}
	before := data[:max(offset-1, 0)] // of the byte that was read last
	line := before[bytes.LastIndexByte(before, '\n')+1:]
	return origin.Position{File: name, Line: bytes.Count(before, []byte("\n")) + 1, Column: len(bytes.Runes(line)) + 1}
}
