package columns

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"brine/wrasse/model"
	"brine/wrasse/ui/parse"
)

// Order is the order of year, month and day in dates such as 03/04/26.
type Order string

// The orders. None says that the dates themselves must make it plain.
const (
	None Order = ""
	YMD  Order = "ymd"
	DMY  Order = "dmy"
	MDY  Order = "mdy"
)

// Orders are the orders a table may have, as they are given.
var Orders = []Order{YMD, DMY, MDY}

// cellDate is a date as a cell has it: read already, or three numbers whose order is
// to be found.
type cellDate struct {
	line  int
	text  string
	on    model.Date
	about bool
	parts []string // three runs of digits, where on is none
}

// dateCell reads one cell. A time of day behind the date is passed over, and a `~` or
// "about" before it says that it is a guess.
func dateCell(line int, text string, today model.Date) (cellDate, error) {
	out := cellDate{line: line, text: text}
	rest := strings.TrimSpace(text)
	for _, prefix := range []string{"~", "about "} {
		if cut, ok := strings.CutPrefix(strings.ToLower(rest), prefix); ok {
			rest, out.about = strings.TrimSpace(cut), true
		}
	}
	if parts, ok := numbers(rest); ok {
		if len(parts[0]) == 4 {
			on, ok := YMD.date(parts)
			if !ok {
				return out, fmt.Errorf("date %q: there is no such day; give YYYY-MM-DD", text)
			}
			out.on = on
			return out, nil
		}
		out.parts = parts
		return out, nil
	}
	when, err := parse.Date(rest, today)
	if err != nil || when.About || !namesYear(rest) {
		return out, fmt.Errorf("date %q: not a date with day, month and year; give YYYY-MM-DD", text)
	}
	out.on = when.On
	return out, nil
}

// numbers are the three numbers of a date in figures.
func numbers(s string) ([]string, bool) {
	if i := strings.IndexAny(s, "T "); i >= 0 && s[0] >= '0' && s[0] <= '9' {
		s = s[:i]
	}
	parts := strings.FieldsFunc(s, func(r rune) bool { return r == '-' || r == '/' || r == '.' })
	if len(parts) != 3 {
		return nil, false
	}
	for _, p := range parts {
		if len(p) > 4 || len(p) == 3 || strings.ContainsFunc(p, func(r rune) bool { return r < '0' || r > '9' }) {
			return nil, false
		}
	}
	return parts, true
}

func namesYear(s string) bool {
	return slices.ContainsFunc(strings.FieldsFunc(s, func(r rune) bool { return !unicode.IsDigit(r) }),
		func(digits string) bool { return len(digits) == 4 })
}

// century is the first year that two digits stand for: 70 is 1970, 69 is 2069.
const century = 1970

// date reads three numbers in an order; ok is false when there is no such day.
func (o Order) date(parts []string) (model.Date, bool) {
	index := map[Order][3]int{YMD: {0, 1, 2}, DMY: {2, 1, 0}, MDY: {2, 0, 1}}[o]
	year, month, day := parts[index[0]], parts[index[1]], parts[index[2]]
	if len(month) > 2 || len(day) > 2 || len(year) != 4 && len(year) != 2 {
		return 0, false
	}
	if len(year) == 2 {
		n, _ := strconv.Atoi(year)
		year = strconv.Itoa(century + (n+100-century%100)%100)
	}
	d, err := model.ParseDate(fmt.Sprintf("%s-%02s-%02s", year, month, day))
	return d, err == nil
}

// settle gives every cell its date: in the order that was given or, where there is
// none, in the only one in which all of them are dates. Of several the usual one is
// taken, if there is one.
func settle(cells []cellDate, order, usual Order) error {
	orders := Orders
	if order != None {
		orders = []Order{order}
	}
	left := map[Order]bool{}
	stops := map[Order]cellDate{} // the first cell that is no date in an order
	for _, o := range orders {
		left[o] = true
		for _, c := range cells {
			if c.parts == nil {
				continue
			}
			if _, ok := o.date(c.parts); !ok {
				left[o], stops[o] = false, c
				break
			}
		}
	}
	var can []Order
	for _, o := range orders {
		if left[o] {
			can = append(can, o)
		}
	}
	switch {
	case len(can) == 0 && order != None:
		c := stops[order]
		return lineError(c.line, fmt.Errorf("date %q does not fit the order %s; correct it, or give another --order", c.text, order))
	case len(can) == 0:
		return noOrder(stops)
	}
	if slices.Contains(can, usual) {
		can = []Order{usual}
	}
	for i := range cells {
		c := &cells[i]
		if c.parts == nil {
			continue
		}
		c.on, _ = can[0].date(c.parts)
		for _, o := range can[1:] {
			if other, _ := o.date(c.parts); other != c.on {
				return twoWays(*c, can)
			}
		}
	}
	return nil
}

// noOrder says which dates exclude each other, or which is none at all.
func noOrder(stops map[Order]cellDate) error {
	first, last := stops[Orders[0]], stops[Orders[0]]
	for _, o := range Orders {
		if stops[o].line < first.line {
			first = stops[o]
		}
		if stops[o].line > last.line {
			last = stops[o]
		}
	}
	for _, o := range Orders {
		if _, ok := o.date(last.parts); ok {
			return lineError(last.line, fmt.Errorf("date %q does not go together with %q in line %d: no one order of day, month and year fits both; give them as YYYY-MM-DD", last.text, first.text, first.line))
		}
	}
	return lineError(last.line, fmt.Errorf("date %q: there is no such day; give YYYY-MM-DD", last.text))
}

// twoWays asks for the order.
func twoWays(c cellDate, can []Order) error {
	var ways, flags []string
	for _, o := range can {
		on, _ := o.date(c.parts)
		ways = append(ways, fmt.Sprintf("%s as %s", on, o))
		flags = append(flags, "--order "+string(o))
	}
	return lineError(c.line, fmt.Errorf("date %q could be %s; say which: %s", c.text, strings.Join(ways, " or "), strings.Join(flags, " or ")))
}

func lineError(line int, err error) error { return fmt.Errorf("line %d: %w", line, brief{err}) }

// brief is an error of a table, whose cells may hold anything, in a line of bounded length.
type brief struct{ error }

const maxSaid = 600

func (b brief) Error() string {
	if s := []rune(b.error.Error()); len(s) > maxSaid {
		return string(s[:maxSaid/2]) + "…" + string(s[len(s)-maxSaid/2:])
	}
	return b.error.Error()
}

func (b brief) Unwrap() error { return b.error }
