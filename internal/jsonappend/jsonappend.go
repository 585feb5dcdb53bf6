package jsonappend

import (
	"encoding"
	"encoding/json"
	"reflect"
	"strconv"
	"strings"
)

// An Appender appends what its MarshalJSON returns. Its pointer has the method, so
// that the value stays where it is.
type Appender interface {
	AppendJSON(dst []byte) ([]byte, error)
}

// A Plan knows how values of T are written. It is safe for concurrent use.
type Plan[T any] struct{ write writer }

// A writer appends the JSON of an addressable value.
type writer func(dst []byte, v reflect.Value) ([]byte, error)

// For works out how a T is written, by its fields or elements: a method of its own may
// call the plan.
func For[T any]() *Plan[T] {
	return &Plan[T]{kindWriter(reflect.TypeFor[T](), nil)}
}

// Append appends v to dst. After an error, which is that of [json.Marshal], dst is as
// it was.
func (p *Plan[T]) Append(dst []byte, v *T) ([]byte, error) {
	out, err := p.write(dst, reflect.ValueOf(v).Elem())
	if err != nil {
		return whole(dst, reflect.ValueOf(v))
	}
	return out, nil
}

// whole leaves a value to encoding/json.
func whole(dst []byte, v reflect.Value) ([]byte, error) {
	text, err := json.Marshal(v.Interface())
	if err != nil {
		return dst, err
	}
	return append(dst, text...), nil
}

// writerOf gives the writer of a type that stands inside those of outer.
func writerOf(t reflect.Type, outer []reflect.Type) writer {
	for _, o := range outer {
		if o == t {
			return whole // it holds itself: no plan of finite size
		}
	}
	p := reflect.PointerTo(t)
	switch {
	case p.Implements(reflect.TypeFor[Appender]()):
		return ownJSON
	case p.Implements(reflect.TypeFor[json.Marshaler]()):
		return whole
	case p.Implements(reflect.TypeFor[encoding.TextAppender]()) && p.Implements(reflect.TypeFor[encoding.TextMarshaler]()):
		return ownText
	case p.Implements(reflect.TypeFor[encoding.TextMarshaler]()):
		return whole
	}
	return kindWriter(t, outer)
}

// kindWriter is [writerOf] for what is written by its kind.
func kindWriter(t reflect.Type, outer []reflect.Type) writer {
	inside := append(outer[:len(outer):len(outer)], t)
	switch t.Kind() {
	case reflect.Bool:
		return func(dst []byte, v reflect.Value) ([]byte, error) { return strconv.AppendBool(dst, v.Bool()), nil }
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		return func(dst []byte, v reflect.Value) ([]byte, error) { return strconv.AppendInt(dst, v.Int(), 10), nil }
	case reflect.Uint, reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64:
		return func(dst []byte, v reflect.Value) ([]byte, error) { return strconv.AppendUint(dst, v.Uint(), 10), nil }
	case reflect.String:
		return func(dst []byte, v reflect.Value) ([]byte, error) { return String(dst, v.String()), nil }
	case reflect.Struct:
		return structWriter(t, inside)
	case reflect.Slice:
		if t.Elem().Kind() == reflect.Uint8 {
			return whole // base64
		}
		each := listWriter(writerOf(t.Elem(), inside))
		return func(dst []byte, v reflect.Value) ([]byte, error) {
			if v.IsNil() {
				return append(dst, "null"...), nil
			}
			return each(dst, v)
		}
	case reflect.Array:
		return listWriter(writerOf(t.Elem(), inside))
	case reflect.Pointer:
		elem := writerOf(t.Elem(), inside)
		return func(dst []byte, v reflect.Value) ([]byte, error) {
			if v.IsNil() {
				return append(dst, "null"...), nil
			}
			return elem(dst, v.Elem())
		}
	}
	return whole
}

func ownJSON(dst []byte, v reflect.Value) ([]byte, error) {
	own, _ := reflect.TypeAssert[Appender](v.Addr())
	return own.AppendJSON(dst)
}

func ownText(dst []byte, v reflect.Value) ([]byte, error) {
	own, _ := reflect.TypeAssert[encoding.TextAppender](v.Addr())
	return Text(dst, own)
}

func listWriter(elem writer) writer {
	return func(dst []byte, v reflect.Value) (_ []byte, err error) {
		dst = append(dst, '[')
		for i := range v.Len() {
			if i > 0 {
				dst = append(dst, ',')
			}
			if dst, err = elem(dst, v.Index(i)); err != nil {
				return nil, err
			}
		}
		return append(dst, ']'), nil
	}
}

// A field is one key of a struct.
type field struct {
	index []int  // through embedded structs
	key   string // with the comma before it, quotes and colon
	leave func(v reflect.Value) bool
	write writer
}

// structWriter writes the fields in their order. A struct whose keys would need the
// rules of encoding/json on who wins among fields of one name is left to it.
func structWriter(t reflect.Type, inside []reflect.Type) writer {
	fields, ok := fieldsOf(t, inside)
	if !ok {
		return whole
	}
	return func(dst []byte, v reflect.Value) (_ []byte, err error) {
		start := len(dst)
		for i := range fields {
			f := &fields[i]
			in := v
			for _, i := range f.index {
				in = in.Field(i)
			}
			if f.leave != nil && f.leave(in) {
				continue
			}
			dst = append(dst, f.key...)
			if dst, err = f.write(dst, in); err != nil {
				return nil, err
			}
		}
		if len(dst) == start {
			dst = append(dst, ',')
		}
		dst[start] = '{'
		return append(dst, '}'), nil
	}
}

// fieldsOf lists the keys of a struct, or is not ok where that is left to
// encoding/json.
func fieldsOf(t reflect.Type, inside []reflect.Type) (out []field, ok bool) {
	for f := range t.Fields() {
		if f.Tag.Get("json") == "-" || !f.IsExported() && !f.Anonymous {
			continue
		}
		more, ok := keysOf(f, inside)
		if !ok {
			return nil, false
		}
		out = append(out, more...)
	}
	keys := map[string]bool{}
	for _, f := range out {
		if keys[f.key] {
			return nil, false
		}
		keys[f.key] = true
	}
	return out, true
}

// keysOf gives the key of a field, or the keys of a struct embedded without a name.
func keysOf(f reflect.StructField, inside []reflect.Type) (_ []field, ok bool) {
	name, options, _ := strings.Cut(f.Tag.Get("json"), ",")
	if f.Anonymous && name == "" {
		if f.Type.Kind() != reflect.Struct || reflect.PointerTo(f.Type).Implements(reflect.TypeFor[json.Marshaler]()) {
			return nil, false
		}
		embedded, ok := fieldsOf(f.Type, inside)
		for i := range embedded {
			embedded[i].index = append([]int{f.Index[0]}, embedded[i].index...)
		}
		return embedded, ok
	}
	if name == "" {
		name = f.Name
	}
	key := field{index: f.Index, key: string(String([]byte{','}, name)) + ":", write: writerOf(f.Type, inside)}
	switch ok = true; options {
	case "":
	case "omitempty":
		key.leave = emptyOf(f.Type)
	case "omitzero":
		key.leave, ok = zeroOf(f.Type)
	default:
		ok = false
	}
	return []field{key}, ok
}

// emptyOf says when omitempty leaves a value of the type out; nil is never.
func emptyOf(t reflect.Type) func(reflect.Value) bool {
	switch t.Kind() {
	case reflect.Array, reflect.Map, reflect.Slice, reflect.String:
		return func(v reflect.Value) bool { return v.Len() == 0 }
	case reflect.Struct:
		return nil
	}
	return reflect.Value.IsZero
}

// zeroOf says when omitzero leaves a value of the type out, or not ok where that is
// left to encoding/json.
func zeroOf(t reflect.Type) (_ func(reflect.Value) bool, ok bool) {
	type zeroer interface{ IsZero() bool }
	switch {
	case t.Kind() == reflect.Pointer || t.Kind() == reflect.Interface:
		return nil, false
	case reflect.PointerTo(t).Implements(reflect.TypeFor[zeroer]()):
		return func(v reflect.Value) bool {
			z, _ := reflect.TypeAssert[zeroer](v.Addr())
			return z.IsZero()
		}, true
	}
	return reflect.Value.IsZero, true
}

// Value appends what a pointer leads to, where there is no plan: quick for a value
// with JSON or text of its own, and for yes and no. After an error dst is as it was.
func Value(dst []byte, v any) ([]byte, error) {
	type marshaler interface {
		encoding.TextAppender
		encoding.TextMarshaler
	}
	switch v := v.(type) {
	case Appender:
		return v.AppendJSON(dst)
	case json.Marshaler: // with JSON of its own, whatever its text is
	case marshaler:
		return Text(dst, v)
	case *bool:
		return strconv.AppendBool(dst, *v), nil
	}
	return whole(dst, reflect.ValueOf(v))
}
