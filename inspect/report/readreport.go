package report

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"

	"axleend.example/inspect/record"
	"axleend.example/internal/strictyaml"
	"axleend.example/rules/origin"
)

// ErrWord says that a word of a report is none of those that may stand there.
var ErrWord = errors.New("unknown word")

// MaxSize is how many bytes of a report are read. The report of a coach
// with twelve axles has a tenth of it.
const MaxSize = 2 << 20

// Read reads a report from its JSON, as json.Marshal wrote it; name is
// the file's name for messages. A report without a version, or of a newer one
// than [Version], is refused ([record.ErrVersion]): its words could mean
// something else by then. A key that is not known is passed over, since a
// later release may add one within a version. The error is an
// [*origin.Problems] with the one problem that was found first.
func Read(name string, data []byte) (Report, error) {
	fail := func(offset int64, path, code string, err error) (Report, error) {
		var ps origin.Problems
		ps.Add(origin.Problem{Position: place(name, data, offset), Path: path, Code: code, Err: err})
		return Report{}, ps.Err()
	}
	if len(data) > MaxSize {
		return fail(-1, "", strictyaml.CodeSize, fmt.Errorf("%w: %d bytes, at most %d", strictyaml.ErrSize, len(data), MaxSize))
	}
	broken := func(err error) (Report, error) {
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
	var head struct {
		Version record.Recorded[json.Number] `json:"report"`
	}
	if err := json.Unmarshal(data, &head); err != nil {
		return broken(err)
	}
	switch v, ok := head.Version.Get(); {
	case !ok:
		return fail(-1, "report", strictyaml.CodeMissing, strictyaml.ErrMissing)
	case v.String() != fmt.Sprint(Version):
		return fail(-1, "report", strictyaml.CodeVersion,
			fmt.Errorf("%w %q of the report format: want %d; a newer file needs a newer program", record.ErrVersion, strictyaml.Clip(v.String()), Version))
	}
	var r Report
	if err := json.Unmarshal(data, &r); err != nil {
		return broken(err)
	}
	return r, nil
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
