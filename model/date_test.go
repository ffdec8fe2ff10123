package model

import (
	"testing"
	"time"

	"brine/wrasse/testdata"
)

func date(t *testing.T, s string) Date {
	t.Helper()
	d, err := ParseDate(s)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

var unitOf = map[string]SpanUnit{"days": SpanDays, "weeks": SpanWeeks, "months": SpanMonths, "years": SpanYears}

// Source: testdata/reference/README.md, "Calendar".
func TestSpansAgainstReference(t *testing.T) {
	for _, row := range testdata.Table(t, "reference/interval_dates.csv") {
		span := Span{int(row.Number(t, "n")), unitOf[row["unit"]]}
		if span.Unit == "" {
			t.Fatalf("%s: unknown unit %q", row["id"], row["unit"])
		}
		if got := span.From(date(t, row["start"])).String(); got != row["expected"] {
			t.Errorf("%s: %s + %s = %s, want %s", row["id"], row["start"], span, got, row["expected"])
		}
	}
	for _, row := range testdata.Table(t, "reference/interval_series.csv") {
		span := Span{int(row.Number(t, "n")) * int(row.Number(t, "k")), unitOf[row["unit"]]}
		if got := span.From(date(t, row["anchor"])).String(); got != row["expected"] {
			t.Errorf("%s: %s + %s = %s, want %s", row["id"], row["anchor"], span, got, row["expected"])
		}
	}
}

// Source: testdata/reference/README.md, "Calendar".
func TestDifferencesAgainstReference(t *testing.T) {
	for _, row := range testdata.Table(t, "reference/date_diff.csv") {
		from, to := date(t, row["from"]), date(t, row["to"])
		if got := to.Sub(from); got != int(row.Number(t, "days")) || from.AddDays(got) != to {
			t.Errorf("%s: %s to %s is %d days, want %s", row["id"], from, to, got, row["days"])
		}
	}
}

// Source: testdata/reference/README.md, "Calendar".
func TestDatesAcrossClockChanges(t *testing.T) {
	for _, row := range testdata.Table(t, "reference/interval_dst.csv") {
		zone, err := time.LoadLocation(row["tz"])
		if err != nil {
			t.Fatal(err)
		}
		start, err := time.Parse("2006-01-02T15:04Z", row["start_utc"])
		if err != nil {
			t.Fatal(err)
		}
		end, err := time.Parse("2006-01-02T15:04Z", row["expected_utc"])
		if err != nil {
			t.Fatal(err)
		}
		from, to := DateOf(start.In(zone)), DateOf(end.In(zone))
		if n := int(row.Number(t, "n_days")); to.Sub(from) != n || from.AddDays(n).String() != row["wall_clock"][:10] {
			t.Errorf("%s: %s and %d days: %s, want %s", row["id"], from, n, to, row["wall_clock"])
		}
	}
}

func TestParseDate(t *testing.T) {
	for s, want := range map[string]Date{
		"1970-01-01": FirstDate, "1970-01-02": FirstDate + 1, "2199-12-31": LastDate, "2024-02-29": NewDate(2024, 2, 29),
	} {
		if got, err := ParseDate(s); err != nil || got != want || got.String() != s {
			t.Errorf("%s: got %d, %q, %v", s, got, got, err)
		}
	}
	for _, s := range []string{"", "2023-02-29", "2026-02-31", "2026-13-01", "2026-00-10", "2026-1-01", "26-01-01",
		"2026-01-01 ", "2026-01-01T00:00:00Z", "1969-12-31", "2200-01-01", "2100-02-29", "-026-01-01", "tomorrow"} {
		if got, err := ParseDate(s); err == nil {
			t.Errorf("%q was read as %s", s, got)
		}
	}
}

func TestEveryDateThereAndBack(t *testing.T) {
	at := time.Date(1970, 1, 1, 0, 0, 0, 0, time.UTC)
	for d := FirstDate; d <= LastDate; d++ {
		if d.String() != at.Format(time.DateOnly) || d.Weekday() != at.Weekday() || DateOf(at) != d {
			t.Fatalf("date %d is %s, a %s; want %s", d, d, d.Weekday(), at)
		}
		at = at.AddDate(0, 0, 1)
	}
}

func TestParseSpan(t *testing.T) {
	for s, want := range map[string]Span{"5d": {5, SpanDays}, "2w": {2, SpanWeeks}, "6mo": {6, SpanMonths}, "1y": {1, SpanYears}, "36500d": {36500, SpanDays}} {
		if got, err := ParseSpan(s); err != nil || got != want || got.String() != s {
			t.Errorf("%s: got %v, %v", s, got, err)
		}
	}
	for _, s := range []string{"", "d", "5", "0d", "-1d", "+5d", "1.5y", "5m", "5 d", "36501d", "101y", "9999999999999999999d", "1yy", "5D"} {
		if got, err := ParseSpan(s); err == nil {
			t.Errorf("%q was read as %s", s, got)
		}
	}
}
