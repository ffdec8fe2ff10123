package parse

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"brine/wrasse/model"
	"brine/wrasse/model/water"
)

// term is one number of a sum, with the unit typed behind it, if any.
type term struct {
	value float64
	half  float64 // of its last digit
	unit  string
}

// parseSum reads numbers joined by + and -: `40`, `10 gal`, `20+18`, `100-60`.
// A minus before the first number makes it negative.
func parseSum(s string) ([]term, error) {
	rest := strings.TrimSpace(s)
	if rest == "" {
		return nil, fmt.Errorf("nothing typed; give a number, such as 40")
	}
	var out []term
	for first := true; first || rest != ""; first = false {
		sign := 1.0
		switch {
		case strings.HasPrefix(rest, "-"), strings.HasPrefix(rest, "−"):
			sign, rest = -1, strings.TrimPrefix(strings.TrimPrefix(rest, "-"), "−")
		case strings.HasPrefix(rest, "+"):
			rest = rest[1:]
		case !first:
			return nil, fmt.Errorf("%q: don't know what to do at %q; give numbers joined by + or -", s, rest)
		}
		var t term
		var err error
		if t, rest, err = parseTerm(strings.TrimSpace(rest)); err != nil {
			return nil, fmt.Errorf("%q: %w", s, err)
		}
		t.value *= sign
		out = append(out, t)
	}
	return out, nil
}

// parseTerm reads a number and a unit behind it, and returns what follows.
func parseTerm(s string) (t term, rest string, err error) {
	end := strings.IndexFunc(s, func(r rune) bool { return r != '.' && r != ',' && (r < '0' || r > '9') })
	if end < 0 {
		end = len(s)
	}
	if t.value, err = parseNumber(s[:end]); err != nil {
		return t, "", err
	}
	t.half = 0.5
	if point := strings.IndexAny(s[:end], ".,"); point >= 0 {
		t.half = math.Pow10(point-end+1) / 2
	}
	s = strings.TrimSpace(s[end:])
	end = strings.IndexAny(s, "+-−")
	if end < 0 {
		end = len(s)
	}
	t.unit = strings.TrimSpace(s[:end])
	if t.unit != "" && !strings.ContainsFunc(t.unit, unicode.IsLetter) {
		return t, "", fmt.Errorf("don't know what to do at %q; give numbers joined by + or -", t.unit)
	}
	return t, s[end:], nil
}

// errNoNumber says that there is nothing to add up.
var errNoNumber = errors.New("a number is missing; give numbers joined by + or -, such as 20+18")

// parseNumber reads plain digits with a decimal point, or a comma that can't be
// taken for a separator of thousands.
func parseNumber(s string) (float64, error) {
	if whole, part, ok := strings.Cut(s, ","); ok {
		if strings.ContainsAny(part, ".,") || strings.Contains(whole, ".") || len(part) == 3 && strings.Trim(whole, "0") != "" {
			return 0, fmt.Errorf("%q could be thousands or decimals; give it without a comma, such as 1500 or 1.5", s)
		}
		s = whole + "." + part
	}
	v, err := strconv.ParseFloat(s, 64)
	switch {
	case s == "":
		return 0, errNoNumber
	case err != nil:
		return 0, fmt.Errorf("%q is not a number; give such as 40 or 12.5", s)
	case v > model.MaxAmount:
		return 0, fmt.Errorf("%s is too large; give at most 1000000000", s)
	}
	return v, nil
}

// asWritten is what terms come to, and how far from it the value that was meant may lie.
func asWritten(terms []term, read func([]term) (float64, error)) (v, within float64, err error) {
	if v, err = read(terms); err != nil {
		return 0, 0, err
	}
	up := slices.Clone(terms)
	for i := range up {
		up[i].value += up[i].half
	}
	if most, err := read(up); err == nil {
		within = math.Abs(most - v)
	}
	return v, within, nil
}

// total adds the terms in the stored unit. A term without a unit takes that of the
// next one that has one (`20+18 gal`), else that of the one before (`10 gal + 5`),
// else the unit shown.
func total(terms []term, stored string, u model.Units) (float64, error) {
	units := make([]string, len(terms))
	unit := ""
	for i := len(terms) - 1; i >= 0; i-- {
		if terms[i].unit != "" {
			unit = terms[i].unit
		}
		units[i] = unit
	}
	sum, before := 0.0, Unit(stored, u)
	for i, t := range terms {
		if units[i] == "" {
			units[i] = before
		}
		before = units[i]
		v, err := inStored(t.value, units[i], stored, u)
		if err != nil {
			return 0, err
		}
		sum += v
	}
	return sum, nil
}

// inStored converts a typed value to the unit the book keeps.
func inStored(v float64, typed, stored string, u model.Units) (float64, error) {
	if sameUnit(typed, stored) {
		return v, nil
	}
	kept, err := water.ParseUnit(stored)
	if err != nil {
		return 0, fmt.Errorf("unit %q: not accepted here; give a number in %s", typed, stored)
	}
	from, err := water.ParseUnit(typed)
	if err != nil {
		return 0, fmt.Errorf("unit %q: not known; give a number in %s", typed, UnitName(Unit(stored, u)))
	}
	c, err := water.Convert(v, from, kept)
	if err != nil {
		return 0, fmt.Errorf("unit %q: does not measure the same as %s; give a number in %s", typed, stored, UnitName(Unit(stored, u)))
	}
	return c, nil
}

// sameUnit tells whether a typed unit is the stored one, also in the plural.
func sameUnit(typed, stored string) bool {
	typed, stored = strings.ToLower(typed), strings.ToLower(stored)
	return typed == stored || typed == stored+"s" || typed == stored+"es"
}
