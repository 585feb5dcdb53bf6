package batch

import (
	"bufio"
	"bytes"
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
		if err != nil && (!errors.Is(err, io.EOF) || n == 0) {
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
		if !errors.Is(err, bufio.ErrBufferFull) {
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
	names, err := Files(fsys)
	return &folder{fsys: fsys, names: names}, err
}

// Files names the visit files directly in a folder, in the order of their names:
// every *.yaml, *.yml and *.json file that does not declare itself a table. The
// error is the folder's.
func Files(fsys fs.FS) ([]string, error) {
	entries, err := fs.ReadDir(fsys, ".")
	if err != nil {
		return nil, err
	}
	var names []string
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
		names = append(names, e.Name())
	}
	return names, nil
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
	f, err := strictyaml.Open(fsys, name)
	if err != nil {
		return dst[:0], err
	}
	b := bytes.NewBuffer(dst[:0])
	_, err = b.ReadFrom(io.LimitReader(f, int64(limit)))
	return b.Bytes(), errors.Join(err, f.Close())
}
