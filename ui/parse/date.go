package parse

import (
	"fmt"
	"strconv"
	"strings"
	"sync"
	"time"

	"brine/wrasse/model"
)

// When is a date as typed; About tells that it is a guess.
type When struct {
	On    model.Date
	About bool
}

const dateForms = "give YYYY-MM-DD, sep 2025, 3 weeks ago, last week"

// Date reads a date on which something happened, seen from today: `2026-03-31`,
// `today`, `yesterday`, `3d` or `-3` (days ago), `monday` (the latest), `3 mar`,
// `10.11.2026` (day first), `7/15/2026` (where only one order makes a date).
// Lengths coarser than a day (`2 weeks ago`, `3mo`, `last week`), bare months and years (`march`, `march
// 2025`, `2025-09`, `2025`: their middle) and anything after `about` or `~`, which qualifies a date as
// approximate in ISO 8601-2, are guesses.
func Date(s string, today model.Date) (When, error) {
	text := strings.ToLower(strings.Join(strings.Fields(s), " "))
	rest, about := cutAbout(text)
	w, ok := past(rest, today)
	_, err := time.Parse(time.DateOnly, rest)
	switch {
	case bothWays(rest):
		return When{}, fmt.Errorf("%q may be day or month first; write the month in letters, as 7 aug 2026", s)
	case !ok && err == nil || ok && (w.On < model.FirstDate || w.On > model.LastDate):
		return When{}, fmt.Errorf("%q is outside 1970-01-01 to 2199-12-31; %s", s, dateForms)
	case !ok:
		return When{}, fmt.Errorf("%q is not a date; %s", s, dateForms)
	}
	w.About = w.About || about
	return w, nil
}

// Never tells that an answer to a date is that it has not happened yet.
func Never(s string) bool { return strings.EqualFold(strings.TrimSpace(s), "never") }

func cutAbout(s string) (string, bool) {
	for _, prefix := range []string{"about ", "around ", "~"} {
		if rest, ok := strings.CutPrefix(s, prefix); ok {
			return strings.TrimSpace(rest), true
		}
	}
	return s, false
}

func past(s string, today model.Date) (When, bool) {
	switch s {
	case "today":
		return When{On: today}, true
	case "yesterday":
		return When{On: today.AddDays(-1)}, true
	case "tomorrow":
		return When{On: today.AddDays(1)}, true
	}
	if d, err := model.ParseDate(s); err == nil {
		return When{On: d}, true
	}
	if w, ok := inFigures(s); ok {
		return w, true
	}
	if unit, ok := strings.CutPrefix(s, "last "); ok && len(unit) >= len("week") && spanWords()[unit] != "" && !strings.HasSuffix(unit, "s") {
		return When{On: step(today, -1, spanWords()[unit]), About: true}, true
	}
	if day, ok := weekdays()[strings.TrimPrefix(s, "last ")]; ok {
		back := (int(today.Weekday()) - int(day) + 7) % 7
		if back == 0 {
			back = 7
		}
		return When{On: today.AddDays(-back)}, true
	}
	if n, unit, ok := length(strings.TrimPrefix(strings.TrimSuffix(s, " ago"), "-")); ok {
		return When{On: step(today, -n, unit), About: unit != model.SpanDays}, true
	}
	d, ok := named(s)
	on, found := d.nearest(today, -1, func(on model.Date) bool { return on <= today })
	return When{On: on, About: d.day == 0}, ok && found
}

// By reads a date by which something is wanted: one to come, as Until reads it, or today.
func By(s string, today model.Date) (model.Date, error) {
	if t := strings.ToLower(strings.TrimSpace(s)); t == "today" || t == today.String() {
		return today, nil
	}
	return Until(s, today)
}

// Expiry reads the last day of what has a date on its label: a month is its last day, "never" no day; else any date.
func Expiry(s string, today model.Date) (model.Date, error) {
	word := strings.Join(strings.Fields(s), " ")
	if strings.EqualFold(word, "never") {
		return 0, nil
	}
	for _, month := range []string{"2006-1", "1/2006", "1.2006", "Jan 2006", "January 2006"} {
		if t, err := time.Parse(month, word); err == nil {
			return model.DateOf(t.AddDate(0, 1, -1)), nil
		}
	}
	if on, err := By(word, today); err == nil {
		return on, nil
	}
	w, err := Date(word, today)
	return w.On, err
}

// Until reads a date to come, seen from a date: `2026-12-05`, `tomorrow`, `5d` or
// `+5` (days on), `2w`, `in 3 weeks`, `friday` (the next), `5 dec`.
func Until(s string, from model.Date) (model.Date, error) {
	text := strings.ToLower(strings.Join(strings.Fields(s), " "))
	d, ok := coming(text, from)
	if !ok {
		return 0, fmt.Errorf("%q is not a date to come; give YYYY-MM-DD, tomorrow, 5d, 2w, friday or 5 dec", s)
	}
	if d <= from {
		return 0, fmt.Errorf("%q is not after %s; give a later date", s, from)
	}
	if d > model.LastDate {
		return 0, fmt.Errorf("%q is after 2199-12-31; give an earlier date", s)
	}
	return d, nil
}

func coming(s string, from model.Date) (model.Date, bool) {
	if s == "tomorrow" {
		return from.AddDays(1), true
	}
	if d, err := model.ParseDate(s); err == nil {
		return d, true
	}
	if day, ok := weekdays()[strings.TrimPrefix(s, "next ")]; ok {
		on := (int(day) - int(from.Weekday()) + 7) % 7
		if on == 0 {
			on = 7
		}
		return from.AddDays(on), true
	}
	if n, unit, ok := length(strings.TrimPrefix(strings.TrimPrefix(s, "in "), "+")); ok {
		return step(from, n, unit), true
	}
	d, ok := named(s)
	on, found := d.nearest(from, 1, func(on model.Date) bool { return on > from })
	return on, ok && found
}

var weekdays = sync.OnceValue(func() map[string]time.Weekday {
	return map[string]time.Weekday{
		"sunday": time.Sunday, "sun": time.Sunday, "monday": time.Monday, "mon": time.Monday,
		"tuesday": time.Tuesday, "tue": time.Tuesday, "wednesday": time.Wednesday, "wed": time.Wednesday,
		"thursday": time.Thursday, "thu": time.Thursday, "friday": time.Friday, "fri": time.Friday,
		"saturday": time.Saturday, "sat": time.Saturday,
	}
})

// spanWords are the units of a length of time as people write them. A bare number
// is days.
var spanWords = sync.OnceValue(func() map[string]model.SpanUnit {
	return map[string]model.SpanUnit{
		"": model.SpanDays, "d": model.SpanDays, "day": model.SpanDays, "days": model.SpanDays,
		"w": model.SpanWeeks, "wk": model.SpanWeeks, "week": model.SpanWeeks, "weeks": model.SpanWeeks,
		"mo": model.SpanMonths, "month": model.SpanMonths, "months": model.SpanMonths,
		"y": model.SpanYears, "year": model.SpanYears, "years": model.SpanYears,
	}
})

const maxSpan = 36500

// length reads `3`, `3d`, `2 weeks`, `a month`.
func length(s string) (int, model.SpanUnit, bool) {
	if rest, ok := strings.CutPrefix(s, "a "); ok {
		s = "1 " + rest
	}
	end := strings.IndexFunc(s, func(r rune) bool { return r < '0' || r > '9' })
	if end < 0 {
		end = len(s)
	}
	n, err := strconv.Atoi(s[:end])
	unit, ok := spanWords()[strings.TrimSpace(s[end:])]
	return n, unit, err == nil && ok && n <= maxSpan
}

func step(d model.Date, n int, unit model.SpanUnit) model.Date {
	return model.Span{N: n, Unit: unit}.From(d)
}

// monthDay is a date by the name of its month.
type monthDay struct {
	year  int // 0 when not typed
	month time.Month
	day   int // likewise
}

// named reads `march`, `march 2025`, `3 mar`, `march 3`, `3 mar 2025`.
func named(s string) (d monthDay, ok bool) {
	for word := range strings.FieldsSeq(strings.ReplaceAll(s, ",", " ")) {
		n, err := strconv.Atoi(word)
		switch {
		case err == nil && len(word) == 4 && d.year == 0:
			d.year = n
		case err == nil && len(word) <= 2 && n >= 1 && d.day == 0:
			d.day = n
		case err != nil && d.month == 0 && monthOf(word) != 0:
			d.month = monthOf(word)
		default:
			return d, false
		}
	}
	return d, d.month != 0
}

// leapGap is the most years from one 29 February to the next: 2096 to 2104.
const leapGap = 8

// nearest is the date in the year that was typed. Without one, it is the first that fits from the year of a date on,
// going back (-1) or ahead (1). A month without a day is its middle; ok is false when there is no such day.
func (d monthDay) nearest(from model.Date, step int, fits func(model.Date) bool) (on model.Date, ok bool) {
	if d.year != 0 {
		return d.in(d.year)
	}
	year, _, _ := from.YMD()
	for i := range leapGap + 1 {
		if on, ok := d.in(year + i*step); ok && fits(on) {
			return on, true
		}
	}
	return 0, false
}

const middleOfMonth = 15

func (d monthDay) in(year int) (on model.Date, ok bool) {
	day := d.day
	if day == 0 {
		day = middleOfMonth
	}
	on = model.NewDate(year, d.month, day)
	_, m, _ := on.YMD()
	return on, m == d.month
}

const shortestMonth = 3

func monthOf(word string) time.Month {
	if len(word) < shortestMonth {
		return 0
	}
	for m := time.January; m <= time.December; m++ {
		if strings.HasPrefix(strings.ToLower(m.String()), word) {
			return m
		}
	}
	return 0
}
