package jsonappend_test

import (
	"encoding/json"
	"errors"
	"math/rand"
	"reflect"
	"strings"
	"testing"
	"testing/quick"

	"axleend.example/internal/jsonappend"
)

// check appends v behind other bytes, and wants what json.Marshal writes.
func check[T any](t *testing.T, v T) {
	t.Helper()
	want, wantErr := json.Marshal(&v)
	for name, do := range map[string]func([]byte, *T) ([]byte, error){
		"planned":   jsonappend.For[T]().Append,
		"unplanned": func(dst []byte, v *T) ([]byte, error) { return jsonappend.Value(dst, v) },
	} {
		got, err := do([]byte("before"), &v)
		if err == nil != (wantErr == nil) || string(got) != "before"+string(want) {
			t.Errorf("%s: %T %+v: got %s %v, want %s %v", name, v, v, got, err, want, wantErr)
		}
	}
}

// word has text that can be appended, and can fail.
type word uint8

var errWord = errors.New("no word")

func (w word) AppendText(dst []byte) ([]byte, error) {
	if w > 9 {
		return append(dst, "half"...), errWord
	}
	return append(dst, strings.Repeat(`a"<`, int(w))...), nil
}

func (w word) MarshalText() ([]byte, error) { return w.AppendText(nil) }

// own has JSON that can be appended, and says itself when it is zero.
type own struct{ N int }

func (o *own) AppendJSON(dst []byte) ([]byte, error) {
	if o.N == 13 {
		return dst, errWord
	}
	return append(dst, "[true]"...), nil
}
func (o own) MarshalJSON() ([]byte, error) { return o.AppendJSON(nil) }
func (o own) IsZero() bool                 { return o.N == 7 }

// text is written by MarshalText alone, list by MarshalJSON alone.
type text string

func (t text) MarshalText() ([]byte, error) { return []byte("<" + string(t) + ">"), nil }

type list struct{ A, B int }

func (l list) MarshalJSON() ([]byte, error) { return []byte(`[ 1, "` + "&" + `" ]`), nil }

type small struct {
	A    int8
	B    string
	Word word
}

type Inside struct {
	Load  int    `json:"load"`
	State string `json:"state,omitempty"`
}

// Load is embedded under a name that a field of its own has, as a load of an axle end.
type Load struct {
	Load  int  `json:"weighed"`
	Minus uint `json:"minus,omitzero"`
}

type shape struct {
	Load
	Inside
	Yes       bool           `json:"yes"`
	Empty     []string       `json:"empty,omitempty"`
	None      map[string]int `json:"none,omitempty"`
	Zero      small          `json:"zero,omitzero"`
	Whole     small          `json:"whole,omitempty"`
	Own       own            `json:"own,omitzero"`
	Owns      []own          `json:"owns"`
	Word      word           `json:"word,omitempty"`
	Words     [3]word        `json:"words"`
	Text      text           `json:"text,omitzero"`
	List      list           `json:"list"`
	Smalls    []small        `json:"smalls,omitzero"`
	To        *small         `json:"to"`
	Maybe     *own           `json:"maybe,omitempty"`
	Bytes     []byte         `json:"bytes"`
	Float     float64        `json:"float"`
	Key       string         `json:"k<y,omitzero"`
	Never     int            `json:"-"`
	Unsigned  uint16
	Lists     [][]int `json:"lists"`
	EmptyList [0]int  `json:"empty_list,omitempty"`
}

// TestLikeMarshal: random values of every shape that reports and visits have, and of
// some that they do not.
func TestLikeMarshal(t *testing.T) {
	rng := rand.New(rand.NewSource(1))
	for range 2000 {
		v, ok := quick.Value(reflect.TypeFor[shape](), rng)
		if !ok {
			t.Fatal("no random value")
		}
		s := v.Interface().(shape)
		s.Word %= 11
		for i := range s.Words {
			s.Words[i] %= 10
		}
		for i := range s.Smalls {
			s.Smalls[i].Word %= 10
		}
		for i := range s.Owns {
			s.Owns[i].N %= 20
		}
		s.Zero.Word, s.Whole.Word, s.Own.N = s.Zero.Word%10, s.Whole.Word%10, s.Own.N%20
		if s.To != nil {
			s.To.Word %= 10
		}
		check(t, s)
	}
}

type chain struct {
	Next  *chain
	Name  string
	After []chain
}

// twice has two fields of one name, of which encoding/json writes none.
type (
	twice struct {
		One
		Other
	}
	One   struct{ Load, A int }
	Other struct{ Load, B int }
)

// hidden embeds what is not exported, has a field that is not, and one of any type.
type hidden struct {
	inside
	unseen int
	Any    any `json:"any,omitempty"`
}

type inside struct{ Seen int }

type quoted struct {
	N int `json:"n,string"`
	B int `json:"b,omitzero,omitempty"`
}

type (
	pointers struct{ *Inside }
	asKey    struct {
		Inside `json:"inside"`
	}
	zeroPointer struct {
		A *own `json:"a,omitzero"`
	}
	channel struct{ C chan int }
)

// TestLeftToMarshal: what the plan has no way for comes out alike all the same, and
// what has no JSON fails as there.
func TestLeftToMarshal(t *testing.T) {
	check(t, chain{Next: &chain{Name: "b"}, Name: "a", After: []chain{{Name: "c"}}})
	check(t, twice{One{1, 2}, Other{3, 4}})
	check(t, hidden{inside: inside{1}, unseen: 2, Any: []any{word(2), nil}})
	check(t, hidden{})
	check(t, quoted{N: 3})
	check(t, pointers{&Inside{Load: 1}})
	check(t, pointers{})
	check(t, asKey{Inside{Load: 1}})
	check(t, zeroPointer{&own{7}})
	check(t, zeroPointer{&own{8}})
	check(t, zeroPointer{})
	check(t, map[string]small{"b": {A: 1}, "a": {}})
	check(t, []byte("bytes"))
	check(t, 1.5)
	check(t, channel{})
	check(t, []word{1, 10})
	check(t, []own{{1}, {13}})
	check(t, true)
	check(t, int64(-5))
}

// TestValueFails: dst is as it was.
func TestValueFails(t *testing.T) {
	bad, broken := word(10), own{13}
	for _, v := range []any{&bad, &broken} {
		if out, err := jsonappend.Value([]byte("before"), v); !errors.Is(err, errWord) || string(out) != "before" {
			t.Errorf("%T: got %q %v, want %v", v, out, err, errWord)
		}
	}
}

// TestErrorIsThatOfMarshal, and nothing of a half is left.
func TestErrorIsThatOfMarshal(t *testing.T) {
	v := []small{{A: 1}, {Word: 10}}
	_, want := json.Marshal(v)
	out, err := jsonappend.For[[]small]().Append([]byte("before"), &v)
	var marshaler *json.MarshalerError
	if !errors.As(err, &marshaler) || !errors.Is(err, errWord) || err.Error() != want.Error() || string(out) != "before" {
		t.Errorf("got %q %v, want %v", out, err, want)
	}
}

// FuzzString: any text is written as json.Marshal writes it.
func FuzzString(f *testing.F) {
	for _, s := range []string{"", "plain", `"`, `\`, "<a>&", "\x00\x1f \x7e\x7f\x80", "caf\u00e9 \u2028\u2029", "bad \xff\xfe", "\t\r\n\b\f"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		check(t, s)
		check(t, struct{ A []string }{[]string{s, "then", s}})
	})
}
