package report

import (
	"sync"

	"axleend.example/internal/jsonappend"
)

// planned is how a report is written, worked out at the first one.
var planned = sync.OnceValue(jsonappend.For[Report])

// AppendJSON appends what [encoding/json.Marshal] writes of the report, the same
// bytes in a third of the time, for programs that write many. The error is that
// of a value which has no text; dst is then as it was.
func (r *Report) AppendJSON(dst []byte) ([]byte, error) {
	return planned().Append(dst, r)
}
