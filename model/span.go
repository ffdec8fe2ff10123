package model

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// Span is a length of calendar time as a keeper says it: 5d, 2w, 6mo, 1y.
// Months and years are added on the calendar, so a span has no fixed number of
// days until it is laid from a date.
type Span struct {
	N    int
	Unit SpanUnit
}

// SpanUnit is the unit of a Span.
type SpanUnit string

// The units of a span.
const (
	SpanDays   SpanUnit = "d"
	SpanWeeks  SpanUnit = "w"
	SpanMonths SpanUnit = "mo"
	SpanYears  SpanUnit = "y"
)

var spanUnits = []SpanUnit{SpanDays, SpanWeeks, SpanMonths, SpanYears}

const maxSpanDays = 36500

// ParseSpan reads a whole number and d, w, mo or y, from 1 day to 36500 days.
func ParseSpan(s string) (Span, error) {
	digits := strings.TrimRight(s, "dwmoy")
	n, err := strconv.Atoi(digits)
	unit := SpanUnit(s[len(digits):])
	if err != nil || strings.HasPrefix(digits, "+") || !slices.Contains(spanUnits, unit) {
		return Span{}, fmt.Errorf("%q is not a length of time; give such as 5d, 2w, 6mo or 1y", s)
	}
	span := Span{n, unit}
	if n < 1 || n > maxSpanDays || span.Days(NewDate(2000, 1, 1)) > maxSpanDays {
		return Span{}, fmt.Errorf("%q is outside 1 to 36500 days", s)
	}
	return span, nil
}

// String is the span as it is typed and stored.
func (s Span) String() string { return strconv.Itoa(s.N) + string(s.Unit) }

// IsZero tells that there is no span.
func (s Span) IsZero() bool { return s == Span{} }

// From is the date one span after d.
func (s Span) From(d Date) Date {
	switch s.Unit {
	case SpanWeeks:
		return d.AddDays(7 * s.N)
	case SpanMonths:
		return d.AddMonths(s.N)
	case SpanYears:
		return d.AddMonths(12 * s.N)
	default:
		return d.AddDays(s.N)
	}
}

// Days is the number of days in the span when it is laid from d.
func (s Span) Days(d Date) int { return s.From(d).Sub(d) }

// MarshalText writes the span as it is typed.
func (s Span) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// UnmarshalText reads a span as ParseSpan does.
func (s *Span) UnmarshalText(text []byte) error {
	v, err := ParseSpan(string(text))
	if err != nil {
		return err
	}
	*s = v
	return nil
}
