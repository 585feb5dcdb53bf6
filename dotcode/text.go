package dotcode

import "fmt"

// nameOf and valueOf are the one text codec of the named kinds.
func nameOf[T ~uint8](names []string, v T) string {
	if int(v) < len(names) && names[v] != "" {
		return names[v]
	}
	return "unknown"
}

func valueOf[T ~uint8](names []string, text []byte, to *T) error {
	for i, name := range names {
		if name != "" && name == string(text) {
			*to = T(i)
			return nil
		}
	}
	return fmt.Errorf("%s: unknown name, expected one of %q", quote(string(text)), names[1:])
}
