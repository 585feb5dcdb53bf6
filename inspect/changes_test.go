package inspect_test

import (
	"fmt"
	"hash/fnv"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"axleend.example/inspect"
	"axleend.example/inspect/record"
	"axleend.example/internal/golden"
)

// aKey is a line of a visit that gives a key a value.
var (
	aKey    = regexp.MustCompile(`^( *(?:- )?)([a-z_]+): (.+)$`)
	aNumber = regexp.MustCompile(`-?\d+(\.\d+)?`)
	aDay    = regexp.MustCompile(`^\d{4}-\d\d-\d\d$`)
)

// instead are values that a key may have instead, as text.
func instead(key, value string, words map[string][]string) []string {
	out := []string{"not read"}
	switch {
	case value == "yes":
		return append(out, "no")
	case value == "no":
		return append(out, "yes")
	case aDay.MatchString(value):
		year, _ := strconv.Atoi(value[:4])
		return append(out, strconv.Itoa(year-4)+value[4:], strconv.Itoa(year+1)+value[4:])
	case len(words[key]) > 0:
		for _, w := range words[key] {
			if w != value {
				out = append(out, w)
			}
		}
		return out
	}
	for _, factor := range []float64{0.93, 1.06, 0.7, 1.6, 0, 10} {
		if text := aNumber.ReplaceAllStringFunc(value, func(s string) string {
			n, _ := strconv.ParseFloat(s, 64)
			return strconv.FormatFloat(float64(int64(n*factor*10))/10, 'f', -1, 64)
		}); text != value {
			out = append(out, text)
		}
	}
	return out
}

// decided are the lines of what is decided of a visit, or the first of what is wrong
// with it.
func decided(name, text string) []string {
	v, err := record.Read(name, []byte(text))
	if err != nil {
		line, _, _ := strings.Cut(err.Error(), "\n")
		return []string{"refused: " + line}
	}
	r, err := inspect.Assess(v, inspect.Setup{})
	if err != nil {
		return []string{"refused: " + err.Error()}
	}
	return strings.Split(inLines(&r), "\n")
}

// TestGoldenChanges: of a visit with many keys each is left out, and changed, in turn. The
// file has for each change how many lines of what is decided go and come, their sum, and
// the first that comes.
func TestGoldenChanges(t *testing.T) {
	t.Parallel()
	words := map[string][]string{}
	for _, f := range record.Fields() {
		if !f.Many {
			words[f.Key] = f.Words
		}
	}
	for _, name := range []string{"trailer", "metric"} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			data, err := os.ReadFile(filepath.Join("testdata", name+".yaml"))
			if err != nil {
				t.Fatal(err)
			}
			golden.Check(t, filepath.Join("testdata", name+"-changes.txt"), eachChange(name+".yaml", string(data), words), *update)
		})
	}
}

// eachChange is what comes of a visit, and of each of its changes.
func eachChange(name, text string, words map[string][]string) string {
	lines, base := strings.Split(text, "\n"), decided(name, text)
	var b strings.Builder
	b.WriteString(strings.Join(base, "\n") + "\n")
	under := ""
	for i, line := range lines {
		m := aKey.FindStringSubmatch(line)
		if m == nil || slices.Contains([]string{"at", "id", "visit", "name"}, m[2]) {
			under = strings.TrimSpace(line)
			continue
		}
		for _, value := range instead(m[2], m[3], words) {
			changed := slices.Clone(lines)
			changed[i] = m[1] + m[2] + ": " + value
			now := decided(name, strings.Join(changed, "\n"))
			gone, come := without(base, now), without(now, base)
			if len(gone)+len(come) == 0 {
				continue
			}
			sum := fnv.New32a()
			sum.Write([]byte(strings.Join(gone, "\n") + "\n" + strings.Join(come, "\n")))
			fmt.Fprintf(&b, "%s: %s: %s, was %s: -%d +%d %08x %.110s\n", under, m[2], value, m[3], len(gone), len(come), sum.Sum32(), strings.TrimSpace(append(come, "")[0]))
		}
	}
	return b.String()
}

// without are the lines of one that are not among another's.
func without(lines, other []string) []string {
	return slices.DeleteFunc(slices.Clone(lines), func(line string) bool { return slices.Contains(other, line) })
}
