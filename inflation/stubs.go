package inflation

import (
	"io/fs"
	"time"

	"axleend.example/rules/origin"
	"axleend.example/weight"
)

// SetAxle gives the cold pressure of one axle.
func SetAxle(in AxleInput) (Setting, error) { return Setting{}, ErrInput }

// DefaultTableSize is how many bytes of a table file are read.
const DefaultTableSize = 64 << 10

// A Loader reads table files; the zero Loader reads files of at most DefaultTableSize.
type Loader struct {
	MaxBytes int
}

// Load reads one table file, YAML or CSV.
func (l Loader) Load(name string, data []byte) (*Table, error) { return nil, ErrInput }

// LoadFolder reads the table files of a folder.
func (l Loader) LoadFolder(fsys fs.FS) (Tables, error) { return Tables{}, nil }

// LoadTable is Loader{}.Load.
func LoadTable(name string, data []byte) (*Table, error) { return Loader{}.Load(name, data) }

// LoadTables is Loader{}.LoadFolder: *.yaml, *.yml and *.csv files that declare
// themselves (first key "table: 1"); others are in Tables.Skipped.
func LoadTables(fsys fs.FS) (Tables, error) { return Loader{}.LoadFolder(fsys) }

// NormalizeSize gives the one writing of a size.
func NormalizeSize(text string) string { return text }

func appendSquashed(dst []byte, s string) []byte { return append(dst, s...) }

// A Size is a parsed size designation.
type Size struct{ p string }

// ParseSize reads a size designation.
func ParseSize(text string) (Size, error) { return Size{}, nil }

// Class is what the designation says.
func (s Size) Class() Class { return 0 }

// Construction is what the designation says.
func (s Size) Construction() Construction { return 0 }

// A LoadIndex is an index of ISO 4000-1; the zero LoadIndex is not known.
type LoadIndex struct{ next uint16 }

// A SpeedSymbol is a speed symbol; the zero SpeedSymbol is not known.
type SpeedSymbol uint8

// ParseSpeedSymbol reads "L" or "A8".
func ParseSpeedSymbol(text string) (SpeedSymbol, error) { return 0, nil }

// Speed is the speed that the symbol stands for.
func (s SpeedSymbol) Speed() Speed { return 0 }

// A Sidewall is what a sidewall says.
type Sidewall struct {
	Size         Size
	LoadRange    LoadRange
	PlyRating    int
	Single, Dual LoadIndex
	Speed        SpeedSymbol
	MaxSingle    Rating
	MaxDual      Rating
	MaxPressure  Pressure
}

// ParseSidewall reads the stamps of a sidewall.
func ParseSidewall(text string) (Sidewall, error) { return Sidewall{}, nil }

// Class of the tire.
func (s Sidewall) Class() Class { return 0 }

// Air is where a tire stands: the air's temperature and the altitude.
type Air struct {
	Temperature Temperature
	Altitude    weight.Length
}

// WillRead gives what a gauge will read at another temperature or altitude, rounded down.
func WillRead(read Pressure, from, to Air, system weight.System) (Pressure, error) { return 0, nil }

// SetTo gives what to set now to have the target elsewhere, rounded up.
func SetTo(target Pressure, now, at Air, system weight.System) (Pressure, error) { return 0, nil }

// A HotReading bounds the cold pressure of a hot tire from above.
type HotReading struct {
	AtMost Pressure
	Source origin.Source
}

// ColdAtMost gives an upper bound of the cold pressure of a hot tire.
func ColdAtMost(hot Pressure, rated weight.Mass, speed Speed) (HotReading, error) {
	return HotReading{}, nil
}

// A GaugeReading is one reading for a leak rate.
type GaugeReading struct {
	Pressure, PlusMinus Pressure
	Temperature         Temperature
}

// A Leak is a rate per 30 days at one temperature.
type Leak struct {
	PerMonth, PlusMinus Pressure
}

// LeakRate between two readings.
func LeakRate(first, second GaugeReading, apart time.Duration, system weight.System) (Leak, error) {
	return Leak{}, nil
}
