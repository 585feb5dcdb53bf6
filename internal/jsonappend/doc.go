// Package jsonappend writes values as [encoding/json.Marshal] does, byte for byte,
// behind what the caller has already. What there is to know of a type is worked out
// once; what the plan has no way for goes to encoding/json.
//
//	lines := jsonappend.For[report.Report]()
//	out, err = lines.Append(out, &first)
//	out, err = lines.Append(append(out, '\n'), &second)
package jsonappend
