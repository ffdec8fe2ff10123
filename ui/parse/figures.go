package parse

import (
	"strconv"
	"strings"
	"time"

	"brine/wrasse/model"
)

// The years that two figures may stand for, and those that stand alone.
const (
	century   = 2000
	firstYear = 1970
	lastYear  = 2199
)

// inFigures reads a date that is all figures, but YYYY-MM-DD: `2026-3-1`, `10.11.2026`, `7/15/2026`, and, as a guess,
// `2025-09`, `09/2025` or `2025`. A year may have two figures where it stands last.
func inFigures(s string) (When, bool) {
	n, ok := figures(s)
	if !ok {
		return When{}, false
	}
	switch {
	case len(n) == 1 && n[0] >= firstYear && n[0] <= lastYear:
		return When{On: model.NewDate(n[0], time.July, 1), About: true}, true
	case len(n) == 2 && n[0] >= firstYear:
		return middle(n[0], n[1])
	case len(n) == 2 && n[1] >= firstYear:
		return middle(n[1], n[0])
	case len(n) != 3:
		return When{}, false
	case n[0] >= firstYear:
		return onDay(n[0], n[1], n[2])
	case strings.Contains(s, "/") && n[1] > 12:
		return onDay(n[2], n[0], n[1])
	}
	return onDay(n[2], n[1], n[0])
}

// bothWays tells whether a date with slashes is one with the day first and another with the month first.
func bothWays(s string) bool {
	n, ok := figures(s)
	return ok && strings.Contains(s, "/") && len(n) == 3 && n[0] <= 12 && n[1] <= 12 && n[0] != n[1]
}

// figures are the numbers of a date that has nothing but figures and one kind of mark between them.
func figures(s string) ([]int, bool) {
	mark := strings.IndexAny(s, "-/.")
	parts := []string{s}
	if mark > 0 {
		parts = strings.Split(s, s[mark:mark+1])
	}
	var out []int
	for _, p := range parts {
		n, err := strconv.ParseUint(p, 10, 16)
		if err != nil || len(p) > 4 || len(p) == 3 {
			return nil, false
		}
		out = append(out, int(n))
	}
	if len(out) == 3 && out[2] < 100 && out[0] < firstYear {
		out[2] += century
	}
	return out, len(out) <= 3
}

func onDay(year, month, day int) (When, bool) {
	if month < 1 || month > 12 || day < 1 {
		return When{}, false
	}
	on, ok := monthDay{month: time.Month(month), day: day}.in(year)
	return When{On: on}, ok
}

func middle(year, month int) (When, bool) {
	w, ok := onDay(year, month, middleOfMonth)
	w.About = true
	return w, ok
}
