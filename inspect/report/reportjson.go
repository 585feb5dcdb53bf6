package report

import (
	"encoding"
	"encoding/json"
	"reflect"
	"strconv"
	"strings"
	"unicode/utf8"
)

// AppendJSON appends what [encoding/json.Marshal] gives for the report, to the
// byte, in a fraction of its time. An error is that of a value that has no
// text; [inspect.Assess] makes none. dst is then returned as it was.
func (r *Report) AppendJSON(dst []byte) ([]byte, error) {
	out, err := writeReport(dst, reflect.ValueOf(r).Elem())
	if err != nil {
		return dst, err
	}
	return out, nil
}

// How a report is written follows from its types, once. What it does not know
// goes to encoding/json.
var writeReport = writerOf(reflect.TypeFor[Report]())

// A writer appends a value that can be addressed.
type writer func(dst []byte, v reflect.Value) ([]byte, error)

// writerOf finds out how values of a type, which does not hold itself, are written.
func writerOf(t reflect.Type) writer {
	switch to := reflect.PointerTo(t); {
	case to.Implements(reflect.TypeFor[json.Marshaler]()):
		return func(dst []byte, v reflect.Value) ([]byte, error) {
			text, err := v.Addr().Interface().(json.Marshaler).MarshalJSON()
			return append(dst, text...), err
		}
	case to.Implements(reflect.TypeFor[encoding.TextAppender]()):
		return func(dst []byte, v reflect.Value) ([]byte, error) {
			from := len(dst) + 1
			out, err := v.Addr().Interface().(encoding.TextAppender).AppendText(append(dst, '"'))
			for _, b := range out[min(from, len(out)):] {
				if !plainInJSON(b) {
					return appendJSONString(dst, string(out[from:])), err
				}
			}
			return append(out, '"'), err
		}
	case to.Implements(reflect.TypeFor[encoding.TextMarshaler]()):
		return func(dst []byte, v reflect.Value) ([]byte, error) {
			text, err := v.Addr().Interface().(encoding.TextMarshaler).MarshalText()
			return appendJSONString(dst, text), err
		}
	}
	switch t.Kind() {
	case reflect.Bool:
		return func(dst []byte, v reflect.Value) ([]byte, error) { return strconv.AppendBool(dst, v.Bool()), nil }
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		return func(dst []byte, v reflect.Value) ([]byte, error) { return strconv.AppendInt(dst, v.Int(), 10), nil }
	case reflect.String:
		return func(dst []byte, v reflect.Value) ([]byte, error) { return appendJSONString(dst, v.String()), nil }
	case reflect.Slice:
		if t.Elem().Kind() != reflect.Uint8 {
			return listWriter(t)
		}
	case reflect.Struct:
		if fields, ok := fieldsOf(t, nil); ok {
			return fields.write
		}
	}
	return func(dst []byte, v reflect.Value) ([]byte, error) {
		text, err := json.Marshal(v.Addr().Interface())
		return append(dst, text...), err
	}
}

func listWriter(t reflect.Type) writer {
	element := writerOf(t.Elem())
	return func(dst []byte, v reflect.Value) ([]byte, error) {
		if v.IsNil() {
			return append(dst, "null"...), nil
		}
		dst = append(dst, '[')
		for i := range v.Len() {
			if i > 0 {
				dst = append(dst, ',')
			}
			var err error
			if dst, err = element(dst, v.Index(i)); err != nil {
				return dst, err
			}
		}
		return append(dst, ']'), nil
	}
}

// A field is one key of a struct.
type field struct {
	index []int
	key   string // with quotes and colon
	write writer
	leave func(reflect.Value) bool // whether its key is left out
}

type fields []field

// fieldsOf lists the fields of a struct and of those embedded in it; not if two
// have one key, or one has a key or an option that is not written here.
func fieldsOf(t reflect.Type, in []int) (out fields, ok bool) {
	keys := make(map[string]bool)
	for i := range t.NumField() {
		f := t.Field(i)
		index := append(in[:len(in):len(in)], i)
		tag, tagged := f.Tag.Lookup("json")
		name, options, _ := strings.Cut(tag, ",")
		list := fields{{index: index, key: `"` + name + `":`, leave: leaves(f.Type, options)}}
		switch {
		case f.Anonymous && f.IsExported() && !tagged && f.Type.Kind() == reflect.Struct:
			if list, ok = fieldsOf(f.Type, index); !ok {
				return nil, false
			}
		case !f.IsExported() && !f.Anonymous || tag == "-":
			continue
		case f.Anonymous || strings.Trim(name, "abcdefghijklmnopqrstuvwxyz0123456789_") != "" || name == "" || strings.Contains(options, "string"):
			return nil, false
		default:
			list[0].write = writerOf(f.Type)
		}
		for _, x := range list {
			if keys[x.key] {
				return nil, false
			}
			keys[x.key] = true
		}
		out = append(out, list...)
	}
	return out, true
}

// leaves says when the options of a key leave it out; nil: never.
func leaves(t reflect.Type, options string) func(reflect.Value) bool {
	type zeroer interface{ IsZero() bool }
	switch {
	case strings.Contains(options, "omitzero") && reflect.PointerTo(t).Implements(reflect.TypeFor[zeroer]()):
		return func(v reflect.Value) bool { return v.Addr().Interface().(zeroer).IsZero() }
	case strings.Contains(options, "omitempty") && t.Kind() == reflect.Slice:
		return func(v reflect.Value) bool { return v.Len() == 0 }
	case strings.Contains(options, "omitzero"), strings.Contains(options, "omitempty") && t.Kind() != reflect.Struct:
		return reflect.Value.IsZero
	}
	return nil
}

func (list fields) write(dst []byte, v reflect.Value) ([]byte, error) {
	dst = append(dst, '{')
	for i := range list {
		f := &list[i]
		x := v.Field(f.index[0])
		for _, k := range f.index[1:] {
			x = x.Field(k)
		}
		if f.leave != nil && f.leave(x) {
			continue
		}
		if dst[len(dst)-1] != '{' {
			dst = append(dst, ',')
		}
		var err error
		if dst, err = f.write(append(dst, f.key...), x); err != nil {
			return dst, err
		}
	}
	return append(dst, '}'), nil
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
