// Package problem holds what every reader of files here says alike: the codes
// and causes of what can be wrong.
//
//	err := fmt.Errorf("size: %w", problem.ErrMissing)
package problem

import "errors"

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
	CodeVersion   = "version"  // of the format
	CodePosition  = "position" // no such place
	CodeTwice     = "twice"
	CodeRange     = "range"
)

// Codes of what is wrong with the figures of a load and inflation table.
const (
	CodeOrder = "order"
	CodeBasis = "basis"
	CodeTable = "table"
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
