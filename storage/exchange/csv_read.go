package exchange

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"brine/wrasse/model"
)

// What a table to read may have at most. The rows are those of the longest log of a household
// in a hundred years; a cell holds the longest note there may be.
const (
	MaxTable   = 16 << 20 // bytes
	maxRows    = 200_000
	maxColumns = 1000
	maxRow     = 256 << 10 // bytes of a row, line breaks in quotes included
	maxCell    = 4 * model.MaxNoteLen
)

// Row is a line of a table that is not empty.
type Row struct {
	Line  int // in the file, from 1; the first one of a row of several lines
	Cells []string
}

// ReadTable reads a table as spreadsheets save it: cells between commas, semicolons or
// tabs, whichever the first line has most of; with or without a byte order mark; in
// UTF-8. Space around cells and the apostrophe of WriteTable are taken off. Every error
// but one of r itself is an *ImportError. between is what stands between the cells.
func ReadTable(r io.Reader) (rows []Row, between rune, err error) {
	data, err := io.ReadAll(io.LimitReader(r, MaxTable+1))
	if err != nil {
		return nil, 0, fmt.Errorf("reading the table: %w", err)
	}
	if len(data) > MaxTable {
		return nil, 0, &ImportError{1, fmt.Errorf("the table is larger than %d MiB; split it", MaxTable>>20)}
	}
	data = bytes.TrimPrefix(data, []byte("\uFEFF"))
	if line, ok := badUTF8(data); !ok {
		return nil, 0, &ImportError{line, errors.New("not UTF-8; save the table as CSV in UTF-8")}
	}
	if line, ok := longRow(data); !ok {
		return nil, 0, &ImportError{line, fmt.Errorf("a row of more than %d KiB begins here; perhaps a quote is never closed", maxRow>>10)}
	}
	in := csv.NewReader(bytes.NewReader(data))
	in.Comma = separator(data)
	in.FieldsPerRecord = -1
	in.TrimLeadingSpace = in.Comma != '\t' // it would take an empty cell for space
	var out []Row
	for {
		cells, err := in.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return nil, 0, plainCSV(err)
		}
		line, _ := in.FieldPos(0)
		row := Row{line, make([]string, len(cells))}
		empty := true
		for i, cell := range cells {
			row.Cells[i] = plain(strings.TrimSpace(cell))
			empty = empty && row.Cells[i] == ""
			if len(cell) > maxCell {
				return nil, 0, &ImportError{line, fmt.Errorf("the cell in column %d is longer than %d bytes; shorten it", i+1, maxCell)}
			}
		}
		switch {
		case len(cells) > maxColumns:
			return nil, 0, &ImportError{line, fmt.Errorf("%d columns are more than the %d a table may have; split it", len(cells), maxColumns)}
		case empty:
		case len(out) == maxRows:
			return nil, 0, &ImportError{line, fmt.Errorf("the table has more than %d rows; split it", maxRows)}
		default:
			out = append(out, row)
		}
	}
	if len(out) == 0 {
		return nil, 0, &ImportError{1, errors.New("the table is empty; give lines of date, name and value")}
	}
	return out, in.Comma, nil
}

// longRow is the line in which a row begins that is longer than a row may be.
func longRow(data []byte) (line int, ok bool) {
	begin, first, quoted := 0, 1, false
	line = 1
	for i, c := range data {
		switch {
		case c == '"':
			quoted = !quoted
		case c == '\n':
			line++
		}
		if i-begin > maxRow {
			return first, false
		}
		if c == '\n' && !quoted {
			begin, first = i+1, line
		}
	}
	return 0, true
}

// badUTF8 is the line in which data stops being UTF-8.
func badUTF8(data []byte) (line int, ok bool) {
	if utf8.Valid(data) {
		return 0, true
	}
	line = 1
	for len(data) > 0 {
		r, n := utf8.DecodeRune(data)
		if r == utf8.RuneError && n == 1 {
			break
		}
		if r == '\n' {
			line++
		}
		data = data[n:]
	}
	return line, false
}

// separator is the most frequent of comma, semicolon and tab in the first line that is
// not empty, quoted parts left out.
func separator(data []byte) rune {
	first, _, _ := bytes.Cut(bytes.TrimLeft(data, "\r\n"), []byte{'\n'})
	quoted := false
	count := map[rune]int{}
	for _, r := range string(first) {
		if r == '"' {
			quoted = !quoted
		}
		if !quoted {
			count[r]++
		}
	}
	best := ','
	for _, r := range []rune{';', '\t'} {
		if count[r] > count[best] {
			best = r
		}
	}
	return best
}

// plainCSV says where a table breaks the rules of quoting.
func plainCSV(err error) error {
	var bad *csv.ParseError
	if !errors.As(err, &bad) {
		return fmt.Errorf("reading the table: %w", err)
	}
	why := "a quote stands inside a cell that is not quoted; double it and quote the cell"
	if errors.Is(bad.Err, csv.ErrQuote) {
		why = "a quoted cell does not end, or text follows its last quote; double the quotes inside a cell"
	}
	return &ImportError{bad.Line, errors.New(why)}
}
