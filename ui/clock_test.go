package ui

import (
	"testing"
	"time"
	_ "time/tzdata" // the zones below, whatever the machine has
)

// Changes of the clocks are those of the IANA time zone database.
func TestUntilMidnight(t *testing.T) {
	for _, c := range []struct {
		zone string
		now  string
		want time.Duration
	}{
		{"UTC", "2026-11-25 07:30:00", 16*time.Hour + 30*time.Minute},
		{"UTC", "2026-12-31 23:59:59", time.Second},
		{"UTC", "2028-02-28 00:00:00", 24 * time.Hour},
		{"Europe/Berlin", "2026-03-29 00:00:00", 23 * time.Hour},
		{"Europe/Berlin", "2026-10-25 00:00:00", 25 * time.Hour},
		{"Pacific/Auckland", "2026-09-27 01:00:00", 22 * time.Hour},
		{"America/Sao_Paulo", "2018-11-03 22:00:00", 2 * time.Hour}, // the next day began at 1:00
		{"Asia/Beirut", "2024-03-30 23:30:00", 30 * time.Minute},    // and so here
	} {
		loc, err := time.LoadLocation(c.zone)
		if err != nil {
			t.Fatal(err)
		}
		now, err := time.ParseInLocation(time.DateTime, c.now, loc)
		if err != nil {
			t.Fatal(err)
		}
		got := UntilMidnight(now)
		if got != c.want {
			t.Errorf("%s %s: %v until midnight, want %v", c.zone, c.now, got, c.want)
		}
		if sameDay(now, now.Add(got)) || !sameDay(now, now.Add(got-time.Second)) {
			t.Errorf("%s %s: a new day does not begin after %v", c.zone, c.now, got)
		}
	}
}
