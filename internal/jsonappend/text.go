package jsonappend

import (
	"encoding"
	"encoding/json"
)

// String appends text in quotes.
func String(dst []byte, text string) []byte {
	start := len(dst)
	dst = append(append(dst, '"'), text...)
	return closed(dst, start)
}

// Text appends the text of v in quotes; after an error, which is that of v, dst is as it
// was.
func Text(dst []byte, v encoding.TextAppender) ([]byte, error) {
	start := len(dst)
	out, err := v.AppendText(append(dst, '"'))
	if err != nil {
		return dst, err
	}
	return closed(out, start), nil
}

// closed closes the text that was begun at start. Where something in it has to be
// escaped, encoding/json writes it.
func closed(dst []byte, start int) []byte {
	const plain = (1<<64 - 1) &^ (1<<' ' - 1) &^ (1<<'"' | 1<<'&' | 1<<'<' | 1<<'>') // of the first 64
	for _, b := range dst[start+1:] {
		if b < 64 && uint64(plain)>>b&1 == 0 || b == '\\' || b >= 0x7f {
			text, _ := json.Marshal(string(dst[start+1:])) // no text fails
			return append(dst[:start], text...)
		}
	}
	return append(dst, '"')
}
