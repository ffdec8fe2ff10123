package columns

import (
	"fmt"
	"slices"
	"strings"
)

// Decimal is the mark before the decimals of a figure. The other one then groups thousands.
type Decimal string

// The marks. Either says that the figures themselves must make it plain.
const (
	Either Decimal = ""
	Comma  Decimal = "comma"
	Point  Decimal = "point"
)

// Decimals are the marks a table may have, as they are given.
var Decimals = []Decimal{Comma, Point}

// number is a figure with a point before its decimals and no other mark; ok is false when it can't be one with this mark.
func (d Decimal) number(figure string) (number string, ok bool) {
	mark, group := ",", "."
	if d == Point {
		mark, group = group, mark
	}
	whole, part, has := strings.Cut(figure, mark)
	if strings.ContainsAny(part, ".,") {
		return "", false
	}
	groups := strings.Split(whole, group)
	for i, g := range groups {
		if i > 0 && len(g) != 3 || i == 0 && len(groups) > 1 && (len(g) < 1 || len(g) > 3 || g[0] == '0') {
			return "", false
		}
	}
	number = strings.Join(groups, "")
	if has {
		number += "." + part
	}
	return number, true
}

// figures are the parts of a cell that are figures, and what stands between them: between, figure, between, figure, between.
func figures(cell string) []string {
	var out []string
	for cell != "" {
		n := strings.IndexAny(cell, "0123456789")
		if n < 0 {
			break
		}
		end := n + len(cell[n:]) - len(strings.TrimLeft(cell[n:], "0123456789.,"))
		out = append(out, cell[:n], cell[n:end])
		cell = cell[end:]
	}
	return append(out, cell)
}

// withCommas tells whether decimals stand behind a comma in a table, or may do so.
func (r *reader) withCommas(rows []Row) bool {
	if r.asked.Decimal == Comma || r.asked.Between == ';' {
		return true
	}
	return slices.ContainsFunc(rows, func(row Row) bool {
		return commaDecimals(row.cell(r.columns.value)) ||
			slices.ContainsFunc(r.columns.things, func(t thing) bool { return commaDecimals(row.cell(t.column)) })
	})
}

// commaDecimals tells whether a cell holds a figure whose decimals can only stand behind a comma.
func commaDecimals(cell string) bool {
	parts := figures(cell)
	for i := 1; i < len(parts); i += 2 {
		_, comma := Comma.number(parts[i])
		_, point := Point.number(parts[i])
		if comma && !point && strings.Contains(parts[i], ",") {
			return true
		}
	}
	return false
}

// plain is a cell with its figures as they are typed elsewhere. A figure that the two marks read differently is asked
// about: `1,250` in any table, `1.250` where decimals stand behind a comma or may do so.
func (r *reader) plain(cell string) (string, error) {
	parts := figures(cell)
	for i := 1; i < len(parts); i += 2 {
		comma, withComma := Comma.number(parts[i])
		point, withPoint := Point.number(parts[i])
		unclear := withComma && withPoint && comma != point && (r.commas || strings.Contains(parts[i], ","))
		switch {
		case unclear && r.asked.Decimal == Either:
			return "", fmt.Errorf("%q could be %s or %s; say which: --decimal comma or --decimal point", cell, comma, point)
		case withComma && (unclear && r.asked.Decimal == Comma || !withPoint):
			parts[i] = comma
		case withPoint:
			parts[i] = point
		}
	}
	return strings.Join(parts, ""), nil
}
