// Package problem holds what every reader of files here says alike: the codes
// and causes of what can be wrong, and how text from outside is shortened.
//
//	err := fmt.Errorf("size %q: %w", problem.Clip(text), problem.ErrMissing)
package problem

import (
	"errors"
	"unicode/utf8"
)

// Codes of the problems that any file can have.
const (
	CodeSize      = "size"
	CodeSyntax    = "syntax"
	CodeEncoding  = "encoding"
	CodeForbidden = "forbidden"
	CodeShape     = "shape"
	CodeUnknown   = "unknown-key"
	CodeDuplicate = "duplicate-key"
	CodeMissing   = "missing"
	CodeValue     = "value"
)

// Sentinel causes of the problems that any file can have.
var (
	ErrSize      = errors.New("file is too large")
	ErrSyntax    = errors.New("not valid YAML")
	ErrEncoding  = errors.New("not plain UTF-8 text")
	ErrForbidden = errors.New("not allowed here")
	ErrShape     = errors.New("wrong shape")
	ErrUnknown   = errors.New("unknown key")
	ErrDuplicate = errors.New("duplicate key")
	ErrMissing   = errors.New("missing")
)

// Clip shortens text from outside to 40 bytes before it is printed, so that a
// hostile file cannot fill the screen.
func Clip(s string) string {
	const most = 40
	if len(s) <= most {
		return s
	}
	cut := most
	for cut > 0 && !utf8.RuneStart(s[cut]) {
		cut--
	}
	return s[:cut] + "…"
}
