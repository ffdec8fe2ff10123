package parse

import (
	"regexp"
	"strconv"
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/model/water"
)

// braced is an amount that a text leaves to the units of the book.
var braced = regexp.MustCompile(`\{([^{}|]*)(?:\|([^{}|]*))?\}`)

// Wording is a step or a caution as the keeper reads it, with the amounts in its braces in the units of the book.
// `{5 L|1.3 gal}` says both: the second where the book has the unit of that, which is °F, psi or, where neither of them is
// named, gallons. `{5 L}` is turned into the unit of the book, rounded to two digits. Other braces stay as they are.
func Wording(s string, u model.Units) string {
	if !strings.Contains(s, "{") {
		return s
	}
	return braced.ReplaceAllStringFunc(s, func(found string) string {
		part := braced.FindStringSubmatch(found)
		switch {
		case !strings.Contains(found, "|"):
			return inUnits(part[1], found, u)
		case american(part[2], u):
			return part[2]
		}
		return part[1]
	})
}

// american tells whether a book has the unit in which the second half of a pair is said.
func american(say string, u model.Units) bool {
	switch {
	case strings.Contains(say, "°F"):
		return u.Temperature == "F"
	case strings.Contains(say, "psi"):
		return u.Pressure == "psi"
	}
	return u.Volume == "gal"
}

// inUnits is an amount such as "5 L" in the unit of the book, and otherwise as it was found.
func inUnits(amount, found string, u model.Units) string {
	figure, name, ok := strings.Cut(strings.TrimSpace(amount), " ")
	v, err1 := strconv.ParseFloat(figure, 64)
	unit, err2 := water.ParseUnit(name)
	if !ok || err1 != nil || err2 != nil {
		return found
	}
	shown := Unit(string(unit), u)
	if shown != string(unit) {
		v, _ = strconv.ParseFloat(strconv.FormatFloat(converted(v, string(unit), shown), 'g', 2, 64), 64)
	}
	return Number(v) + " " + UnitName(shown)
}
