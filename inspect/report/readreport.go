package report

import (
	"errors"

	"axleend.example/internal/document"
)

// ErrWord says that a word of a report is none of those that may stand there.
var ErrWord = errors.New("unknown word")

// MaxSize is how many bytes of a report are read. The report of a coach
// with twelve axles has a tenth of it.
const MaxSize = 2 << 20

// Read reads a report from its JSON, as json.Marshal wrote it; name is
// the file's name for messages. Another document is refused, and a report of
// another version than [Version] ([record.ErrVersion]), whose words could mean
// something else, or without a key that every report has, which would say less
// than it seems to. A key that is not known is passed over, since a later release
// may add one within a version. The error is an [*origin.Problems]: all the keys
// that are missing, else the one problem that was found first.
func Read(name string, data []byte) (Report, error) {
	return document.Read[Report](name, data, document.Format{Key: "report", Version: Version, Most: MaxSize})
}
