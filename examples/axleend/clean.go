package main

import (
	"fmt"
	"io"
	"unicode"
	"unicode/utf16"
	"unicode/utf8"
)

// A cleanWriter shows what nobody can see as an escape, so that no text of a
// file, of its name or of an argument moves a terminal's cursor, colors it or
// turns the order of what is read around. The escapes are those of JSON, so
// that JSON stays what it was. Every Write has to end with a whole character.
type cleanWriter struct{ out io.Writer }

// Write says that it wrote all of p, or none where the writer behind it failed.
func (w cleanWriter) Write(p []byte) (int, error) {
	if _, err := w.out.Write(clean(p)); err != nil {
		return 0, err
	}
	return len(p), nil
}

// clean is the text without control, escape and direction characters; where
// there are none, it is the text itself.
func clean(p []byte) []byte {
	var out []byte
	kept := 0 // up to here p is in out
	for i := 0; i < len(p); {
		if c := p[i]; c >= ' ' && c < 0x7f || c == '\n' || c == '\t' {
			i++
			continue
		}
		r, n := utf8.DecodeRune(p[i:])
		whole := r != utf8.RuneError || n > 1
		if whole && unicode.IsGraphic(r) {
			i += n
			continue
		}
		out = append(out, p[kept:i]...)
		switch hi, lo := utf16.EncodeRune(r); {
		case !whole:
			out = utf8.AppendRune(out, utf8.RuneError)
		case hi != utf8.RuneError:
			out = fmt.Appendf(out, `\u%04x\u%04x`, hi, lo)
		default:
			out = fmt.Appendf(out, `\u%04x`, r)
		}
		i += n
		kept = i
	}
	if kept == 0 {
		return p
	}
	return append(out, p[kept:]...)
}
