package inflation

import (
	"errors"
	"fmt"
	"iter"
	"slices"
	"strings"

	"axleend.example/internal/word"
)

// Sentinel causes of a table that is not found.
var (
	// ErrNoTable says that there is no table for the size.
	ErrNoTable = errors.New("no table for the size")
	// ErrAmbiguous says that tables with different figures fit; the error is
	// an [*AmbiguousError].
	ErrAmbiguous = errors.New("more than one table for the size")
	// ErrName says that two tables have one name.
	ErrName = errors.New("two tables of one name")
)

// An AmbiguousError names the tables that all fit a size and load range, and
// differ. Somebody has to say which one it is: see [Tables.Named].
type AmbiguousError struct {
	// Size is what was looked for.
	Size string
	// LoadRange is what was looked for; empty is not known.
	LoadRange LoadRange
	// Names are those of the tables that fit.
	Names []string
}

// Error names the tables.
func (e *AmbiguousError) Error() string {
	quoted := make([]string, len(e.Names))
	for i, n := range e.Names {
		quoted[i] = fmt.Sprintf("%q", word.Clip(n))
	}
	return fmt.Sprintf("size %q: %s: %s: name the one that is meant", word.Clip(e.Size), ErrAmbiguous, strings.Join(quoted, ", "))
}

// Unwrap returns [ErrAmbiguous].
func (e *AmbiguousError) Unwrap() error { return ErrAmbiguous }

// Tables is a collection of tables, found by size or by name. It never
// changes; any number of goroutines may use it. The zero Tables is empty.
type Tables struct {
	list    []*Table // by name
	bySize  map[string][]*Table
	skipped []string
}

// NewTables collects tables. Two of one name, in any case, give an error that
// matches [ErrName].
func NewTables(tables ...*Table) (Tables, error) {
	ts := Tables{list: slices.Clone(tables), bySize: make(map[string][]*Table, len(tables))}
	slices.SortStableFunc(ts.list, func(a, b *Table) int {
		return strings.Compare(strings.ToLower(a.name), strings.ToLower(b.name))
	})
	for i, t := range ts.list {
		if i > 0 && strings.EqualFold(t.name, ts.list[i-1].name) {
			return Tables{}, fmt.Errorf("%w: %q in %s and %s", ErrName, word.Clip(t.name), ts.list[i-1].file, t.file)
		}
		ts.bySize[t.key] = append(ts.bySize[t.key], t)
	}
	return ts, nil
}

// All gives the tables in order of their names.
func (ts Tables) All() iter.Seq[*Table] { return slices.Values(ts.list) }

// Len is how many tables there are.
func (ts Tables) Len() int { return len(ts.list) }

// WithSkipped returns the same tables, with the files that were passed over.
func (ts Tables) WithSkipped(files []string) Tables {
	ts.skipped = slices.Clone(files)
	return ts
}

// Skipped lists the files of the folder that do not declare themselves as
// tables, in order: worth showing, should one of them have been meant as one.
func (ts Tables) Skipped() []string { return slices.Clone(ts.skipped) }

// Named returns the table of that name, in any case, or false.
func (ts Tables) Named(name string) (*Table, bool) {
	for _, t := range ts.list {
		if strings.EqualFold(t.name, name) {
			return t, true
		}
	}
	return nil, false
}

// Find returns the table for a size designation in any writing ("LT225/75R16",
// "lt 225/75 r16") that serves the load range; a load range that is not known
// is served by any. Of several tables with the same figures it is the first by
// name. Errors: [ErrNoTable]; [ErrLoadRange] if there are tables for the size,
// but none for the load range; an [*AmbiguousError] if several fit and differ.
func (ts Tables) Find(size string, lr LoadRange) (*Table, error) {
	var buf [48]byte
	list := ts.bySize[string(appendSquashed(buf[:0], size))]
	if list == nil {
		list = ts.bySize[normalizeSize(size)]
	}
	if list == nil {
		return nil, fmt.Errorf("size %q: %w", word.Clip(size), ErrNoTable)
	}
	var found *Table
	for _, t := range list {
		if !t.Serves(lr) {
			continue
		}
		if found == nil {
			found = t
			continue
		}
		if !found.sameFigures(t) {
			e := &AmbiguousError{Size: size, LoadRange: lr}
			for _, t := range list {
				if t.Serves(lr) {
					e.Names = append(e.Names, t.name)
				}
			}
			return nil, e
		}
	}
	if found == nil {
		return nil, fmt.Errorf("size %q, load range %s: %w", word.Clip(size), word.Clip(string(lr)), ErrLoadRange)
	}
	return found, nil
}

// sameFigures reports whether two tables answer everything alike.
func (t *Table) sameFigures(u *Table) bool {
	return t.class == u.class && t.minimum == u.minimum && t.pressureUnit == u.pressureUnit && t.loadUnit == u.loadUnit &&
		slices.Equal(t.caps, u.caps) && t.single.same(&u.single) && t.dual.same(&u.dual)
}

func (c *column) same(d *column) bool {
	return c.first == d.first && c.lowest == d.lowest && slices.Equal(c.pressures, d.pressures) && slices.Equal(c.loads, d.loads)
}
