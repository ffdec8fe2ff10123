package model

import (
	"fmt"
	"time"
)

// Date is a civil date: a day on the keeper's calendar, with no time and no zone.
// It counts days, 1 being 1970-01-01, so that the zero Date means "no date".
type Date int32

// The dates a book accepts.
const (
	FirstDate Date = 1     // 1970-01-01
	LastDate  Date = 84006 // 2199-12-31
)

// NotInUse is the in-service date of a part that is not in use yet.
const NotInUse = LastDate

// CheckToday is the error of a clock that shows a date no book accepts.
func CheckToday(today Date) error {
	if today >= FirstDate && today <= LastDate {
		return nil
	}
	return fmt.Errorf("the clock says %s, and a book holds dates from %s to %s; set the clock", today.Format(time.DateOnly), FirstDate, LastDate)
}

const secondsPerDay = 24 * 60 * 60

// NewDate is the date y-m-d; out-of-range months and days roll over as in time.Date.
func NewDate(y int, m time.Month, d int) Date {
	return Date(time.Date(y, m, d, 0, 0, 0, 0, time.UTC).Unix()/secondsPerDay) + 1
}

// DateOf is the civil date that a clock on the wall shows at t, in t's own zone.
func DateOf(t time.Time) Date {
	y, m, d := t.Date()
	return NewDate(y, m, d)
}

// ParseDate reads YYYY-MM-DD, from 1970-01-01 to 2199-12-31.
func ParseDate(s string) (Date, error) {
	t, err := time.Parse(time.DateOnly, s)
	if err != nil || len(s) != len(time.DateOnly) {
		return 0, fmt.Errorf("%q is not a date; give YYYY-MM-DD, such as 2026-03-31", s)
	}
	d := DateOf(t)
	if d < FirstDate || d > LastDate {
		return 0, fmt.Errorf("%q is outside 1970-01-01 to 2199-12-31", s)
	}
	return d, nil
}

func (d Date) utc() time.Time { return time.Unix(int64(d-1)*secondsPerDay, 0).UTC() }

// IsZero tells that d is no date.
func (d Date) IsZero() bool { return d == 0 }

// YMD is the year, month and day of the month.
func (d Date) YMD() (int, time.Month, int) { return d.utc().Date() }

// Weekday is the day of the week.
func (d Date) Weekday() time.Weekday { return d.utc().Weekday() }

// String is YYYY-MM-DD, or "" for no date.
func (d Date) String() string {
	if d.IsZero() {
		return ""
	}
	return d.utc().Format(time.DateOnly)
}

// Format writes d in a layout of package time; the time of day is midnight.
func (d Date) Format(layout string) string { return d.utc().Format(layout) }

// AddDays is the date n days later.
func (d Date) AddDays(n int) Date { return d + Date(n) }

// AddMonths is the date n months later, the day clamped to the end of a shorter
// month: 31 January and one month is 28 or 29 February.
func (d Date) AddMonths(n int) Date {
	y, m, day := d.YMD()
	first := time.Date(y, m+time.Month(n), 1, 0, 0, 0, 0, time.UTC)
	last := first.AddDate(0, 1, -1).Day()
	return NewDate(first.Year(), first.Month(), min(day, last))
}

// Earlier is the earlier of two dates, of which either may be none.
func Earlier(a, b Date) Date {
	if a.IsZero() || !b.IsZero() && b < a {
		return b
	}
	return a
}

// Sub is the number of days from e to d.
func (d Date) Sub(e Date) int { return int(d - e) }

// MarshalText writes YYYY-MM-DD.
func (d Date) MarshalText() ([]byte, error) { return []byte(d.String()), nil }

// UnmarshalText reads YYYY-MM-DD.
func (d *Date) UnmarshalText(text []byte) error {
	v, err := ParseDate(string(text))
	if err != nil {
		return err
	}
	*d = v
	return nil
}
