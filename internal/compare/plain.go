package main

import (
	"encoding"
	"encoding/json"
	"fmt"
	"reflect"
	"strings"

	"axleend.example/inflation/caution"
	"axleend.example/inspect/record"
	"axleend.example/inspect/record/condition"
)

var (
	textType  = reflect.TypeFor[encoding.TextMarshaler]()
	jsonType  = reflect.TypeFor[json.Marshaler]()
	treadType = reflect.TypeFor[record.Treads]()
	wordTypes = []reflect.Type{reflect.TypeFor[condition.Set](), reflect.TypeFor[caution.Set]()}
)

// plainOf gives the type of plain structs that a program would write down to hold
// the same JSON or YAML as a type of ours: the same keys, quantities and words as
// strings, nothing checked.
func plainOf(t reflect.Type) (reflect.Type, error) {
	if strings.HasPrefix(t.Name(), "Recorded[") {
		in, err := plainOf(t.Field(0).Type)
		if err == nil && in.Kind() != reflect.String && in.Kind() != reflect.Slice {
			in = reflect.PointerTo(in) // no is a value, too
		}
		return in, err
	}
	switch {
	case t == treadType: // as in these visits, a single depth
		return reflect.TypeFor[string](), nil
	case t == wordTypes[0], t == wordTypes[1]:
		return reflect.TypeFor[[]string](), nil
	case t.Implements(textType):
		return reflect.TypeFor[string](), nil
	case t.Implements(jsonType):
		return nil, fmt.Errorf("%v: no plain form is known", t)
	}
	switch t.Kind() {
	case reflect.Slice:
		in, err := plainOf(t.Elem())
		if err != nil {
			return nil, err
		}
		return reflect.SliceOf(in), nil
	case reflect.Struct:
		return plainStruct(t)
	case reflect.String:
		return reflect.TypeFor[string](), nil
	}
	return t, nil
}

func plainStruct(t reflect.Type) (reflect.Type, error) {
	var fields []reflect.StructField
	for i := range t.NumField() {
		f := t.Field(i)
		key, options, _ := strings.Cut(f.Tag.Get("json"), ",")
		if !f.IsExported() || key == "-" {
			continue
		}
		in, err := plainOf(f.Type)
		if err != nil {
			return nil, err
		}
		tag := fmt.Sprintf(`json:"%s,%s" yaml:"%s,omitempty"`, key, options, key)
		if f.Anonymous && key == "" {
			tag = `yaml:",inline"`
		}
		fields = append(fields, reflect.StructField{Name: f.Name, Type: in, Tag: reflect.StructTag(tag), Anonymous: f.Anonymous && key == ""})
	}
	return reflect.StructOf(fields), nil
}

// newPlain gives a new value of a plain type, as a pointer.
func newPlain(t reflect.Type) any { return reflect.New(t).Interface() }
