package batch

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"strings"

	"axleend.example/inflation/tablefile"
	"axleend.example/inspect/record"
	"axleend.example/internal/strictyaml"
)

// lines gives each line of the input that is not blank.
type lines struct {
	in   *bufio.Reader
	line int
	read int64
}

func newLines(in io.Reader) *lines { return &lines{in: bufio.NewReaderSize(in, 64<<10)} }

func (l *lines) count() int { return 0 }

// ready reports whether a whole line has been read ahead.
func (l *lines) ready() bool {
	ahead, _ := l.in.Peek(l.in.Buffered())
	return bytes.IndexByte(ahead, '\n') >= 0
}

func (l *lines) next(r *input) error {
	for {
		data, whole, n, err := readLine(l.in, r.data, record.MaxSize+len("\r\n"))
		l.read += n
		if err != nil && (err != io.EOF || n == 0) {
			return err
		}
		l.line++
		data = bytes.TrimSuffix(bytes.TrimSuffix(data, []byte("\n")), []byte("\r"))
		r.data, r.unread = data, nil
		if len(data) > record.MaxSize {
			whole = false
		}
		if whole && len(bytes.TrimLeft(data, " \t\r")) == 0 {
			continue
		}
		if !whole {
			r.unread = fmt.Errorf("%w: a line of more than %d bytes", strictyaml.ErrSize, record.MaxSize)
		}
		r.line, r.end = l.line, l.read
		return nil
	}
}

// readLine reads up to a line end into dst, whose old content is dropped, and
// says whether that is the whole line: what goes beyond the limit is skipped.
// n counts what was read; at the end of the input err is io.EOF.
func readLine(in *bufio.Reader, dst []byte, limit int) (line []byte, whole bool, n int64, err error) {
	line, whole = dst[:0], true
	for {
		part, err := in.ReadSlice('\n')
		n += int64(len(part))
		if whole = whole && len(line)+len(part) <= limit; whole {
			line = append(line, part...)
		}
		if err != bufio.ErrBufferFull {
			return line, whole, n, err
		}
	}
}

// folder gives each visit file of a folder.
type folder struct {
	fsys  fs.FS
	names []string
	i     int
	read  int64
}

func newFolder(fsys fs.FS) (*folder, error) {
	entries, err := fs.ReadDir(fsys, ".")
	if err != nil {
		return nil, err
	}
	f := &folder{fsys: fsys}
	for _, e := range entries { // sorted by name
		if e.IsDir() {
			continue
		}
		switch strings.ToLower(path.Ext(e.Name())) {
		case ".json":
		case ".yaml", ".yml":
			// What cannot be read is seen again when its turn comes.
			if head, err := readStart(fsys, e.Name(), nil, tableHead); err == nil && tablefile.IsTable(head) {
				continue
			}
		default:
			continue
		}
		f.names = append(f.names, e.Name())
	}
	return f, nil
}

// tableHead is how much of a file is looked at to see whether it is a table.
const tableHead = 4 << 10

func (f *folder) count() int { return len(f.names) }

func (f *folder) ready() bool { return true }

func (f *folder) next(r *input) error {
	if f.i == len(f.names) {
		return io.EOF
	}
	r.file = f.names[f.i]
	f.i++
	// A byte too many, so that an oversize is seen and not loaded.
	r.data, r.unread = readStart(f.fsys, r.file, r.data, record.MaxSize+1)
	f.read += int64(len(r.data))
	r.end = f.read
	return nil
}

// readStart reads at most limit bytes of a file into dst, whose old content is
// dropped.
func readStart(fsys fs.FS, name string, dst []byte, limit int) ([]byte, error) {
	f, err := fsys.Open(name)
	if err != nil {
		return dst[:0], err
	}
	b := bytes.NewBuffer(dst[:0])
	_, err = b.ReadFrom(io.LimitReader(f, int64(limit)))
	return b.Bytes(), errors.Join(err, f.Close())
}

// ErrResume says that a batch cannot go on where an output ends: the output is
// not a batch's, or was made from another input or with another setup.
var ErrResume = errors.New("cannot resume")

// A Resume is where the output of a [Run] ends, as [FindResume] finds it.
type Resume struct {
	// Records counts the answers, and Size their bytes: whatever stands
	// behind is half an answer, to be cut off before the batch goes on.
	Records int
	Size    int64
	// Stops and Bad are those of the [Result].
	Stops, Bad int
	// Last is the last answer. The batch judges that record again and goes on
	// only if it comes out the same.
	Last []byte
}

// maxAnswer is more than the report on any visit takes.
const maxAnswer = 16 << 20

// FindResume reads the output of a batch that was interrupted, in memory that
// does not grow with it. The error matches [ErrResume] when it is not a
// batch's output; others are those of output.
func FindResume(output io.Reader) (Resume, error) {
	in := bufio.NewReaderSize(output, 64<<10)
	var at Resume
	var line []byte
	for {
		part, whole, n, err := readLine(in, line, maxAnswer)
		if err == io.EOF {
			break
		}
		if err != nil {
			return Resume{}, err
		}
		line = part
		answer := bytes.TrimSuffix(line, []byte("\n"))
		switch {
		case !whole || !bytes.HasSuffix(answer, []byte("}")):
			return Resume{}, notAnswer(at.Records + 1)
		case bytes.HasPrefix(answer, []byte(`{"report":`)):
			if reportStops(answer) {
				at.Stops++
			}
		case bytes.HasPrefix(answer, []byte(`{"bad_record":`)):
			at.Bad++
		default:
			return Resume{}, notAnswer(at.Records + 1)
		}
		at.Records++
		at.Size += n
		at.Last = append(at.Last[:0], answer...)
	}
	if at.Records > 0 && !json.Valid(at.Last) {
		return Resume{}, notAnswer(at.Records)
	}
	return at, nil
}

func notAnswer(line int) error {
	return fmt.Errorf("%w: line %d of the output is not the answer of a batch", ErrResume, line)
}

// reportStops reads a report's own "stops": it is the first of that name, and
// inside a text its quotes would have backslashes.
func reportStops(report []byte) bool {
	_, after, ok := bytes.Cut(report, []byte(`"stops":`))
	return ok && bytes.HasPrefix(after, []byte("true"))
}
