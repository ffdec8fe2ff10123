package exchange

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"
)

// MaxTable is how large a table to read may be, in bytes.
const MaxTable = 64 << 20

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
		for i, cell := range cells {
			row.Cells[i] = plain(strings.TrimSpace(cell))
		}
		if strings.Join(row.Cells, "") != "" {
			out = append(out, row)
		}
	}
	if len(out) == 0 {
		return nil, 0, &ImportError{1, errors.New("the table is empty; give lines of date, name and value")}
	}
	return out, in.Comma, nil
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
