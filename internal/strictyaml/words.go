package strictyaml

import "axleend.example/internal/word"

// Clip is [word.Clip].
func Clip(s string) string { return word.Clip(s) }

// Nearest is [word.Nearest].
func Nearest(s string, candidates []string) string { return word.Nearest(s, candidates) }
