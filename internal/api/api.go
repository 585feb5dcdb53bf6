// Package api writes down what the module offers its users, so that a change
// of it shows up in review, and holds it to being documented:
//
//	go test ./internal/api          // fails where the API and api.txt differ
//	go test ./internal/api -update  // writes api.txt anew
//
// No part of the library imports it.
package api

import (
	"fmt"
	"go/constant"
	"go/types"
	"slices"
	"strings"

	"axleend.example/internal/gosource"
)

// Text gives the exported API of every public package, a line for each thing
// that a user's program can depend on, in a stable order: constants with their
// values, functions, types, exported fields with their tags, methods with
// their receivers. Names of parameters are left out.
func Text(m *gosource.Module) string {
	var b strings.Builder
	for _, p := range m.Packages {
		if p.Public() {
			lines := packageLines(p)
			slices.Sort(lines)
			for _, line := range lines {
				fmt.Fprintf(&b, "%s: %s\n", p.Name, line)
			}
		}
	}
	lines := strings.SplitAfter(b.String(), "\n")
	slices.SortStableFunc(lines, func(a, b string) int {
		x, _, _ := strings.Cut(a, ":")
		y, _, _ := strings.Cut(b, ":")
		return strings.Compare(x, y)
	})
	return strings.Join(lines, "")
}

func packageLines(p *gosource.Package) []string {
	var out []string
	// Types of the package itself are named as they are inside it.
	in := func(q *types.Package) string {
		if q == p.Types {
			return ""
		}
		return q.Name()
	}
	scope := p.Types.Scope()
	for _, name := range scope.Names() {
		obj := scope.Lookup(name)
		if !obj.Exported() {
			continue
		}
		switch obj := obj.(type) {
		case *types.Const:
			value := obj.Val().ExactString()
			if obj.Val().Kind() == constant.String {
				value = obj.Val().String()
			}
			out = append(out, fmt.Sprintf("const %s %s = %s", name, types.TypeString(obj.Type(), in), value))
		case *types.Var:
			out = append(out, fmt.Sprintf("var %s %s", name, types.TypeString(obj.Type(), in)))
		case *types.Func:
			out = append(out, "func "+name+signature(obj.Signature(), in))
		case *types.TypeName:
			out = append(out, typeLines(obj, in)...)
		}
	}
	return out
}

func typeLines(obj *types.TypeName, in types.Qualifier) []string {
	if obj.IsAlias() {
		return []string{"type " + obj.Name() + " = " + types.TypeString(types.Unalias(obj.Type()), in)}
	}
	named := obj.Type().(*types.Named)
	name := strings.TrimPrefix(types.TypeString(named, in), ".")
	var out []string
	if u, ok := named.Underlying().(*types.Struct); ok {
		out = append(out, "type "+name+" struct")
		out = append(out, fieldLines(name, u, in)...)
	} else {
		out = append(out, "type "+name+" "+types.TypeString(named.Underlying(), in))
	}
	if types.IsInterface(named) {
		return out
	}
	return append(out, methodLines(name, named, in)...)
}

func fieldLines(name string, of *types.Struct, in types.Qualifier) []string {
	var out []string
	hidden := false
	for i := range of.NumFields() {
		f := of.Field(i)
		if !f.Exported() {
			hidden = true
			continue
		}
		line := fmt.Sprintf("type %s struct, %s %s", name, f.Name(), types.TypeString(f.Type(), in))
		if tag := of.Tag(i); tag != "" {
			line += " `" + tag + "`"
		}
		out = append(out, line)
	}
	if !hidden && of.NumFields() > 0 {
		// Whoever writes it without field names breaks when a field is added.
		out = append(out, "type "+name+" struct, all fields exported")
	}
	return out
}

func methodLines(name string, of *types.Named, in types.Qualifier) []string {
	var out []string
	for _, ptr := range []bool{false, true} {
		var t types.Type = of
		if ptr {
			t = types.NewPointer(of)
		}
		set := types.NewMethodSet(t)
		for i := range set.Len() {
			fn := set.At(i).Obj().(*types.Func)
			_, byPointer := fn.Signature().Recv().Type().(*types.Pointer)
			if !fn.Exported() || ptr != byPointer {
				continue
			}
			star := ""
			if ptr {
				star = "*"
			}
			out = append(out, fmt.Sprintf("method (%s%s) %s%s", star, name, fn.Name(), signature(fn.Signature(), in)))
		}
	}
	return out
}

// signature gives parameters and results without their names.
func signature(s *types.Signature, in types.Qualifier) string {
	bare := func(t *types.Tuple) *types.Tuple {
		vars := make([]*types.Var, t.Len())
		for i := range vars {
			vars[i] = types.NewParam(0, nil, "", t.At(i).Type())
		}
		return types.NewTuple(vars...)
	}
	var params []*types.TypeParam
	for i := range s.TypeParams().Len() {
		params = append(params, s.TypeParams().At(i))
	}
	list := ""
	for i, p := range params {
		if i > 0 {
			list += ", "
		}
		list += p.Obj().Name() + " " + types.TypeString(p.Constraint(), in)
	}
	if list != "" {
		list = "[" + list + "]"
	}
	text := types.TypeString(types.NewSignatureType(nil, nil, nil, bare(s.Params()), bare(s.Results()), s.Variadic()), in)
	return list + strings.TrimPrefix(text, "func")
}
