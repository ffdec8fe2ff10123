package exchange

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"unicode/utf8"

	"github.com/go-json-experiment/json"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
)

const (
	// MaxLine is how long a line may be, in bytes, its line end not counted.
	MaxLine = 1 << 20

	formatKind = "wrasse-book"
)

// ImportError says which line of an import is wrong. Lines count from 1, the header's.
type ImportError struct {
	Line int
	Err  error
}

func (e *ImportError) Error() string { return fmt.Sprintf("line %d: %v", e.Line, e.Err) }

func (e *ImportError) Unwrap() error { return e.Err }

// header is the first line of a book.
type header struct {
	Kind    string `json:"kind"`
	Version int    `json:"version"`
}

// Export writes a book: the header and every entry as it was written, in order. What
// JSON may hold bare but a terminal acts on is escaped; it reads back the same. Entries
// that the book does not hold are read meanwhile, twice: the header comes first and names
// the lowest version of the format that knows all of them.
func Export(w io.Writer, book *ledger.Book) error {
	out := bufio.NewWriter(w)
	version, err := versionOf(book)
	if err != nil {
		return err
	}
	fmt.Fprintf(out, "{\"kind\":%q,\"version\":%d}\n", formatKind, version)
	for e, err := range book.All() {
		if err != nil {
			return err
		}
		line, err := model.EncodeFor(*e, version)
		if err != nil {
			return fmt.Errorf("exporting entry %d: %w", e.Seq, err)
		}
		out.Write(model.Harmless(line))
		out.WriteByte('\n')
	}
	if err := out.Flush(); err != nil {
		return fmt.Errorf("exporting the book: %w", err)
	}
	return nil
}

// versionOf is the lowest version of the format that knows all entries of a book.
func versionOf(book *ledger.Book) (int, error) {
	version := 1
	for e, err := range book.All() {
		if err != nil {
			return 0, err
		}
		if version = max(version, e.Version()); version == model.FormatVersion {
			break
		}
	}
	return version, nil
}

// Import reads a whole book. The entries come back numbered and checked together, so
// that they fold to a Book. A component that says neither on nor at nor in_service went
// into service today. Every error but one of r itself is an *ImportError.
func Import(r io.Reader, today model.Date) ([]model.Entry, error) {
	lines := lineReader{r: bufio.NewReaderSize(r, 64<<10)}
	if err := readHeader(&lines); err != nil {
		return nil, lines.wrap(err)
	}
	var entries []model.Entry
	numbered := false
	for {
		line, err := lines.next()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return nil, lines.wrap(err)
		}
		e, err := model.DecodeEntry(line)
		if err != nil {
			return nil, lines.wrap(err)
		}
		if len(entries) == 0 {
			numbered = e.Seq != 0
		}
		seq := model.Seq(len(entries) + 1)
		if err := checkSeq(e.Seq, seq, numbered); err != nil {
			return nil, lines.wrap(err)
		}
		e.Seq = seq
		entries = append(entries, inService(e, today))
	}
	if len(entries) == 0 {
		return nil, lines.wrap(errors.New("no entries after the header; give at least one"))
	}
	if _, err := ledger.Fold(entries); err != nil {
		var entry *ledger.EntryError
		if errors.As(err, &entry) {
			return nil, &ImportError{int(entry.Seq) + 1, entry.Err}
		}
		return nil, err
	}
	return entries, nil
}

// checkSeq holds seq to every line or none, and to 1, 2, 3 and so on.
func checkSeq(given, want model.Seq, numbered bool) error {
	switch {
	case numbered && given == 0:
		return fmt.Errorf("seq is missing; give %d, or leave seq out of every line", want)
	case !numbered && given != 0:
		return fmt.Errorf("seq: \"%d\" is not accepted; give seq on every line or on none", given)
	case numbered && given != want:
		return fmt.Errorf("seq: \"%d\" is not accepted; give %d, the next in order", given, want)
	}
	return nil
}

// inService fills in when a component went into service where the entry does not tell.
func inService(e model.Entry, today model.Date) model.Entry {
	c, ok := e.Body.(model.Component)
	if ok && c.InService.IsZero() && e.On.IsZero() && e.Written().IsZero() {
		c.InService = today
		e.Body = c
	}
	return e
}

func readHeader(lines *lineReader) error {
	want := fmt.Sprintf(`a first line of {"kind":%q,"version":1}`, formatKind)
	line, err := lines.next()
	if errors.Is(err, io.EOF) {
		lines.n = 1
		return fmt.Errorf("the file is empty; give %s", want)
	}
	if err != nil {
		return err
	}
	var h header
	err = json.Unmarshal(line, &h, json.RejectUnknownMembers(true))
	switch {
	case err != nil || h.Kind != formatKind:
		return fmt.Errorf("not the header of a book; give %s", want)
	case h.Version > model.FormatVersion:
		return fmt.Errorf("version %d was written by a newer wrasse, this one reads 1 to %d; update wrasse", h.Version, model.FormatVersion)
	case h.Version < 1:
		return fmt.Errorf("version: \"%d\" is not accepted; give 1 or %d", h.Version, model.FormatVersion)
	}
	return nil
}

// lineReader reads lines of bounded length, in bounded memory.
type lineReader struct {
	r   *bufio.Reader
	buf []byte
	n   int // the number of the line last read
}

// next is the next line without its end, valid until the one after; io.EOF at the end.
func (l *lineReader) next() ([]byte, error) {
	l.buf = l.buf[:0]
	for {
		part, err := l.r.ReadSlice('\n')
		if len(l.buf) == 0 && len(part) == 0 && errors.Is(err, io.EOF) {
			return nil, io.EOF
		}
		if len(l.buf) == 0 {
			l.n++
		}
		l.buf = append(l.buf, part...)
		if len(bytes.TrimSuffix(l.buf, []byte{'\n'})) > MaxLine {
			return nil, fmt.Errorf("the line is longer than %d bytes; split the text into several entries", MaxLine)
		}
		switch {
		case errors.Is(err, bufio.ErrBufferFull):
			continue
		case err != nil && !errors.Is(err, io.EOF):
			return nil, &readError{err}
		}
		line := bytes.TrimSuffix(l.buf, []byte{'\n'})
		if !utf8.Valid(line) {
			return nil, errors.New("not UTF-8; save the file as UTF-8")
		}
		return line, nil
	}
}

// readError is an error of the reader, and not of what was read.
type readError struct{ err error }

func (e *readError) Error() string { return fmt.Sprintf("reading the import: %v", e.err) }

func (e *readError) Unwrap() error { return e.err }

func (l *lineReader) wrap(err error) error {
	var reading *readError
	if errors.As(err, &reading) {
		return err
	}
	return &ImportError{l.n, err}
}
