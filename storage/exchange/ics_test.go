package exchange

import (
	"bufio"
	"bytes"
	"encoding/hex"
	"fmt"
	"io"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	ics "github.com/arran4/golang-ical"
	"pgregory.net/rapid"

	"brine/wrasse/model"
	"brine/wrasse/testdata"
)

// icsCases are the rows of a kind in testdata/reference/ics_cases.csv: octets in, octets out.
func icsCases(t *testing.T, kind string) map[string][2]string {
	t.Helper()
	out := map[string][2]string{}
	for _, row := range testdata.Table(t, "reference/ics_cases.csv") {
		if row["kind"] != kind {
			continue
		}
		in, err1 := hex.DecodeString(row["input_hex"])
		want, err2 := hex.DecodeString(row["expected_hex"])
		if err1 != nil || err2 != nil {
			t.Fatalf("%s: not hexadecimal", row["id"])
		}
		out[row["id"]] = [2]string{string(in), string(want)}
	}
	return out
}

// RFC 5545, sections 3.3.11 and 3.1. Where to fold is free; the reference folds as late as it can, and so does this program.
func TestTextReference(t *testing.T) {
	for kind, of := range map[string]struct {
		write func(string) string
		cases int
	}{"escape": {escape, 12}, "fold": {fold, 11}} {
		cases := icsCases(t, kind)
		if len(cases) != of.cases {
			t.Fatalf("%s: %d cases, want %d", kind, len(cases), of.cases)
		}
		for id, c := range cases {
			if got := of.write(c[0]); got != c[1] {
				t.Errorf("%s: %s(%q) =\n%q, want\n%q", id, kind, c[0], got, c[1])
			}
		}
	}
}

func TestEscapeLeavesOutControls(t *testing.T) {
	for in, want := range map[string]string{"a\x1b[2Jb": "a[2Jb", "a\x00\x7f\u009bb": "ab", "a\tb": "a\tb", "a\rb": `a\nb`, "a\xffb": "a\uFFFDb"} {
		if got := escape(in); got != want {
			t.Errorf("escape(%q) = %q, want %q", in, got, want)
		}
	}
}

func TestFoldedLinesAreWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		line := strings.NewReplacer("\n", "", "\r", "").Replace(rapid.String().Draw(t, "line"))
		folded := fold(line)
		if got := strings.ReplaceAll(folded, "\r\n ", ""); got != strings.ReplaceAll(line, "\r\n ", "") {
			t.Fatalf("unfolds to %q, was %q", got, line)
		}
		for part := range strings.SplitSeq(folded, "\r\n") {
			if len(part) > maxFolded || !utf8.ValidString(part) {
				t.Fatalf("%q: %d octets", part, len(part))
			}
		}
	})
}

// RFC 5545, section 3.6.1: the end of an all-day event is the day after its last.
func TestAllDayReference(t *testing.T) {
	cases := icsCases(t, "allday")
	if len(cases) != 4 {
		t.Fatalf("%d cases, want 4", len(cases))
	}
	for id, c := range cases {
		var from string
		var days int
		if _, err := fmt.Sscan(c[0], &from, &days); err != nil {
			t.Fatal(err)
		}
		on := must(model.ParseDate(from))
		var b bytes.Buffer
		out := icsWriter{bufio.NewWriter(&b)}
		out.allDay(on, days)
		out.w.Flush()
		if got := b.String(); got != c[1]+"\r\n" {
			t.Errorf("%s: %q, want %q", id, got, c[1])
		}
	}
}

// The parser that reads calendars back below, one that shares nothing with this
// program, is itself held to the reference.
func TestParserUnescapesAndUnfolds(t *testing.T) {
	wrap := func(lines string) io.Reader {
		return strings.NewReader("BEGIN:VCALENDAR\r\nBEGIN:VEVENT\r\n" + lines + "\r\nEND:VEVENT\r\nEND:VCALENDAR\r\n")
	}
	for id, c := range icsCases(t, "unescape") {
		cal, err := ics.ParseCalendar(wrap("SUMMARY:" + c[0]))
		if err != nil {
			t.Fatalf("%s: %v", id, err)
		}
		if got := cal.Events()[0].GetProperty(ics.ComponentPropertySummary).Value; got != c[1] {
			t.Errorf("%s: %q reads as %q, want %q", id, c[0], got, c[1])
		}
	}
	for id, c := range icsCases(t, "unfold") {
		cal, err := ics.ParseCalendar(wrap(c[0]))
		if err != nil {
			t.Fatalf("%s: %v", id, err)
		}
		e := cal.Events()[0]
		for line := range strings.SplitSeq(c[1], "\r\n") {
			name, want, _ := strings.Cut(line, ":")
			if p := e.GetProperty(ics.ComponentProperty(name)); p == nil || p.Value != want {
				t.Errorf("%s: %s reads as %v, want %q", id, name, p, want)
			}
		}
	}
}

var stamp = time.Date(2026, time.November, 25, 8, 30, 0, 0, time.FixedZone("", 3600))

func calendar(t testing.TB, c Calendar) *ics.Calendar {
	t.Helper()
	var b bytes.Buffer
	if err := WriteCalendar(&b, c); err != nil {
		t.Fatal(err)
	}
	if text := strings.ReplaceAll(b.String(), "\r\n", ""); strings.ContainsAny(text, "\r\n") || !strings.HasSuffix(b.String(), "\r\n") {
		t.Fatalf("lines do not all end in CRLF:\n%q", b.String())
	}
	cal := must(ics.ParseCalendar(&b))
	return cal
}

func TestCalendarReadsBack(t *testing.T) {
	cal := calendar(t, Calendar{
		Name: "Home reef", Stamp: stamp, Sequence: 17,
		Events: []Event{{
			UID: "renew-resin-1@wrasse", On: model.NewDate(2026, time.December, 31),
			Summary: "DI resin: renew resin", Description: "Close the feed; let the pressure off, then open.\nLimit 3 Jan 2027",
			Location: "Cellar, left", Category: "renew", Alarm: new(8*time.Hour + 30*time.Minute),
		}},
	})
	if len(cal.Events()) != 1 {
		t.Fatalf("%d events", len(cal.Events()))
	}
	e := cal.Events()[0]
	for name, want := range map[ics.ComponentProperty]string{
		"UID": "renew-resin-1@wrasse", "DTSTAMP": "20261125T073000Z", "SEQUENCE": "17", "TRANSP": "TRANSPARENT",
		"DTSTART": "20261231", "DTEND": "20270101", "SUMMARY": "DI resin: renew resin", "LOCATION": "Cellar, left",
		"DESCRIPTION": "Close the feed; let the pressure off, then open.\nLimit 3 Jan 2027", "CATEGORIES": "renew",
	} {
		if p := e.GetProperty(name); p == nil || p.Value != want {
			t.Errorf("%s = %v, want %q", name, p, want)
		}
	}
	if v := e.GetProperty("DTSTART").ICalParameters["VALUE"]; len(v) != 1 || v[0] != "DATE" {
		t.Errorf("DTSTART has VALUE %v", v)
	}
	alarms := e.Alarms()
	if len(alarms) != 1 || alarms[0].GetProperty("TRIGGER").Value != "PT8H30M" || alarms[0].GetProperty("ACTION").Value != "DISPLAY" {
		t.Errorf("alarms: %v", alarms)
	}
	for _, required := range []string{"VERSION", "PRODID"} {
		found := false
		for _, p := range cal.CalendarProperties {
			found = found || p.IANAToken == required
		}
		if !found {
			t.Errorf("the calendar has no %s", required)
		}
	}
}

func TestToDosReadBack(t *testing.T) {
	cal := calendar(t, Calendar{Stamp: stamp, ToDo: true, Events: []Event{
		{UID: "a@wrasse", On: model.NewDate(2028, time.February, 29), Summary: "Sump: siphon", Alarm: new(33 * time.Hour)},
		{UID: "b@wrasse", On: model.NewDate(2028, time.February, 29), Summary: "Sump: scrub", Alarm: new(9 * time.Hour), Cancelled: true},
	}})
	todos := cal.Todos()
	if len(todos) != 2 || len(cal.Events()) != 0 {
		t.Fatalf("%d to-dos, %d events", len(todos), len(cal.Events()))
	}
	if due := todos[0].GetProperty("DUE").Value; due != "20280229" {
		t.Errorf("due %s", due)
	}
	trigger := todos[0].Alarms()[0].GetProperty("TRIGGER")
	if gone := todos[1]; gone.GetProperty("STATUS").Value != "CANCELLED" || len(gone.Alarms()) != 0 {
		t.Errorf("cancelled: %v", gone)
	}
	if trigger.Value != "PT33H0M" || trigger.ICalParameters["RELATED"][0] != "END" {
		t.Errorf("trigger %v", trigger)
	}
}

// Whatever a book calls things, it reads back as it was.
func TestAnyTextReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringOf(rapid.RuneFrom([]rune(`ab,;:\n"é–🐠 `))).Draw(t, "text")
		lines := rapid.SliceOfN(rapid.Just(text), 1, 4).Draw(t, "lines")
		want := strings.TrimSpace("x" + strings.Join(lines, "\n") + "x")
		var b bytes.Buffer
		if err := WriteCalendar(&b, Calendar{Stamp: stamp, Events: []Event{{UID: "u", On: 1, Summary: want}}}); err != nil {
			t.Fatal(err)
		}
		cal := must(ics.ParseCalendar(&b))
		if got := cal.Events()[0].GetProperty("SUMMARY").Value; got != want {
			t.Fatalf("%q reads back as %q", want, got)
		}
	})
}

func TestCalendarSaysThatItCouldNotWrite(t *testing.T) {
	err := WriteCalendar(failing{}, Calendar{Stamp: stamp, Events: make([]Event, 500)})
	if err == nil || !strings.Contains(err.Error(), "writing the calendar") {
		t.Errorf("error %v", err)
	}
}

type failing struct{}

func (failing) Write([]byte) (int, error) { return 0, io.ErrClosedPipe }
