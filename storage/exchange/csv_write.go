package exchange

import (
	"encoding/csv"
	"fmt"
	"io"
	"strconv"
	"strings"
)

// WriteTable writes rows as CSV (RFC 4180): commas, CRLF, quotes where needed. A cell
// that a spreadsheet would run as a formula gets an apostrophe before it, which makes
// it text there and which ReadTable takes off again; plain numbers stay as they are.
// Control characters other than line breaks and tabs are left out.
func WriteTable(w io.Writer, rows [][]string) error {
	out := csv.NewWriter(w)
	out.UseCRLF = true
	for _, row := range rows {
		cells := make([]string, len(row))
		for i, cell := range row {
			cells[i] = neutral(harmless(cell))
		}
		if err := out.Write(cells); err != nil {
			return fmt.Errorf("writing the table: %w", err)
		}
	}
	out.Flush()
	if err := out.Error(); err != nil {
		return fmt.Errorf("writing the table: %w", err)
	}
	return nil
}

// formulaStarts are the characters that make a spreadsheet take a cell for a formula,
// or for the beginning of one: the list is OWASP's on CSV injection, from memory, with
// the full-width forms that some programs fold.
const formulaStarts = "=+-@\t\r\n＝＋－＠"

// neutral is a cell that no spreadsheet runs.
func neutral(cell string) string {
	if runs(cell) {
		return "'" + cell
	}
	return cell
}

// plain is a cell as it was before neutral.
func plain(cell string) string {
	if rest, ok := strings.CutPrefix(cell, "'"); ok && runs(rest) {
		return rest
	}
	return cell
}

// runs tells whether a cell must not stand bare. One that begins with the apostrophe
// of neutral itself counts, so that plain takes off what neutral put on and no more.
func runs(cell string) bool {
	inner := strings.TrimLeft(cell, "'")
	if inner == "" || !strings.ContainsRune(formulaStarts, []rune(inner)[0]) {
		return false
	}
	_, err := strconv.ParseFloat(cell, 64)
	return err != nil || strings.ContainsAny(cell, "xXpP_nN") // 0x1p-2 and inf are no plain numbers
}

// harmless is text without the control characters on which a terminal would act, the eight-bit ones among them; what is
// not UTF-8 becomes the replacement character.
func harmless(s string) string {
	return strings.Map(func(r rune) rune {
		if r < ' ' && r != '\t' && r != '\n' || r >= 0x7f && r <= 0x9f {
			return -1
		}
		return r
	}, strings.ToValidUTF8(s, "\uFFFD"))
}
