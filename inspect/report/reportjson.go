package report

import (
	"strconv"
	"unicode/utf8"
)

// AppendJSON appends what [encoding/json.Marshal] gives for the report, to the
// byte, in a fraction of its time. An error is that of a value that has no
// text; [inspect.Assess] makes none. dst is then returned as it was.
func (r *Report) AppendJSON(dst []byte) ([]byte, error) {
	w := jsonWriter{b: dst}
	w.reportReport(r)
	if w.err != nil {
		return dst, w.err
	}
	return w.b, nil
}

// A jsonWriter writes what encoding/json writes. Its methods for the types of
// a report are in reportfields.go, made from the types by a test.
type jsonWriter struct {
	b   []byte
	err error // the first one
}

// key writes the key of a mapping that was opened, with quotes and colon, and
// the comma before it.
func (w *jsonWriter) key(k string) {
	if w.b[len(w.b)-1] != '{' {
		w.b = append(w.b, ',')
	}
	w.b = append(w.b, k...)
}

func (w *jsonWriter) byte(b byte) { w.b = append(w.b, b) }

// element writes the comma before an element of a list but the first.
func (w *jsonWriter) element(i int) {
	if i > 0 {
		w.b = append(w.b, ',')
	}
}

func (w *jsonWriter) bool(v bool) { w.b = strconv.AppendBool(w.b, v) }

func (w *jsonWriter) int(v int64) { w.b = strconv.AppendInt(w.b, v, 10) }

func (w *jsonWriter) string(s string) { w.b = appendJSONString(w.b, s) }

// text takes what MarshalText gives.
func (w *jsonWriter) text(text []byte, err error) {
	w.fail(err)
	w.b = appendJSONString(w.b, text)
}

// raw takes what MarshalJSON gives.
func (w *jsonWriter) raw(text []byte, err error) {
	w.fail(err)
	w.b = append(w.b, text...)
}

// quote opens the quotes of a quantity, whose text needs no escape; unquote
// takes what AppendText gives and closes them.
func (w *jsonWriter) quote() []byte { return append(w.b, '"') }

func (w *jsonWriter) unquote(b []byte, err error) {
	w.fail(err)
	w.b = append(b, '"')
}

func (w *jsonWriter) fail(err error) {
	if w.err == nil {
		w.err = err
	}
}

// The bytes of ASCII that stand in JSON as they are, a bit each: all from the
// space on but those that end or escape a text, or are markup in HTML.
const (
	plainTo3F   = uint64(0xffffffff_00000000) &^ (1<<'"' | 1<<'&' | 1<<'<' | 1<<'>')
	plainFrom40 = ^uint64(0) &^ (1 << ('\\' - 0x40))
)

func plainInJSON(b byte) bool {
	if b < 0x40 {
		return plainTo3F>>b&1 != 0
	}
	return b < utf8.RuneSelf && plainFrom40>>(b-0x40)&1 != 0
}

const hexDigits = "0123456789abcdef"

// appendJSONString appends s in quotes; what is no UTF-8 becomes U+FFFD.
func appendJSONString[T string | []byte](dst []byte, s T) []byte {
	dst = append(dst, '"')
	start := 0 // of what is not copied yet
	for i := 0; i < len(s); {
		b := s[i]
		if plainInJSON(b) {
			i++
			continue
		}
		if b >= utf8.RuneSelf {
			r, n := utf8.DecodeRuneInString(string(s[i:min(i+utf8.UTFMax, len(s))]))
			if r != '\u2028' && r != '\u2029' && (r != utf8.RuneError || n > 1) {
				i += n
				continue
			}
			dst = append(dst, s[start:i]...)
			if r == utf8.RuneError {
				dst = append(dst, `\ufffd`...)
			} else {
				dst = append(append(dst, `\u202`...), hexDigits[r&0xf])
			}
			i += n
			start = i
			continue
		}
		dst = append(append(dst, s[start:i]...), '\\')
		switch b {
		case '"', '\\':
			dst = append(dst, b)
		case '\b':
			dst = append(dst, 'b')
		case '\f':
			dst = append(dst, 'f')
		case '\n':
			dst = append(dst, 'n')
		case '\r':
			dst = append(dst, 'r')
		case '\t':
			dst = append(dst, 't')
		default:
			dst = append(dst, 'u', '0', '0', hexDigits[b>>4], hexDigits[b&0xf])
		}
		i++
		start = i
	}
	return append(append(dst, s[start:]...), '"')
}
