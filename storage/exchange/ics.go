package exchange

import (
	"bufio"
	"fmt"
	"io"
	"time"

	"brine/wrasse/model"
)

// Calendar is what is written for a calendar program: one entry for each Event.
type Calendar struct {
	Name     string
	Stamp    time.Time // when it was made
	Sequence uint64    // must grow from one writing to the next where an event has changed
	ToDo     bool      // to-dos that fall due, instead of all-day events
	Events   []Event
}

// Event is something to be done on a day.
type Event struct {
	UID         string // the same for the same thing for ever, and for nothing else anywhere
	On          model.Date
	Summary     string
	Description string
	Location    string
	Category    string
	Cancelled   bool           // it was in an earlier calendar, and need not be done any more
	Alarm       *time.Duration // when it rings, after the midnight that On begins with; nil for never
}

// product names the program that wrote a calendar, as PRODID wants it.
const product = "-//wrasse//logbook//EN"

// WriteCalendar writes an iCalendar file (RFC 5545). A calendar program that reads it
// again finds the entries it knows by their UID and moves them; it makes none twice.
func WriteCalendar(w io.Writer, c Calendar) error {
	out := icsWriter{w: bufio.NewWriter(w)}
	out.line("BEGIN", "VCALENDAR")
	out.line("VERSION", "2.0")
	out.line("PRODID", product)
	out.line("CALSCALE", "GREGORIAN")
	if c.Name != "" {
		out.text("NAME", c.Name)         // RFC 7986, section 5.1
		out.text("X-WR-CALNAME", c.Name) // common practice, for readers that are older than it
	}
	for _, e := range c.Events {
		out.event(c, e)
	}
	out.line("END", "VCALENDAR")
	if err := out.w.Flush(); err != nil {
		return fmt.Errorf("writing the calendar: %w", err)
	}
	return nil
}

type icsWriter struct{ w *bufio.Writer }

// line writes a property whose value stands for itself.
func (o icsWriter) line(name, value string) {
	o.w.WriteString(fold(name + ":" + value))
	o.w.WriteString("\r\n")
}

// text writes a property of free text, and nothing when there is none.
func (o icsWriter) text(name, value string) {
	if value != "" {
		o.line(name, escape(value))
	}
}

func (o icsWriter) event(c Calendar, e Event) {
	component := "VEVENT"
	if c.ToDo {
		component = "VTODO"
	}
	o.line("BEGIN", component)
	o.text("UID", e.UID)
	o.line("DTSTAMP", c.Stamp.UTC().Format("20060102T150405Z"))
	o.line("SEQUENCE", fmt.Sprint(c.Sequence))
	if c.ToDo {
		o.line("DUE;VALUE=DATE", icsDate(e.On))
	} else {
		o.allDay(e.On, 1)
		o.line("TRANSP", "TRANSPARENT") // it takes no time out of the day
	}
	o.text("SUMMARY", e.Summary)
	o.text("DESCRIPTION", e.Description)
	o.text("LOCATION", e.Location)
	o.text("CATEGORIES", e.Category)
	switch {
	case e.Cancelled:
		o.line("STATUS", "CANCELLED")
	case e.Alarm != nil:
		o.alarm(c, e)
	}
	o.line("END", component)
}

// allDay writes the span of whole days from a date on. The end is the first day after.
func (o icsWriter) allDay(from model.Date, days int) {
	o.line("DTSTART;VALUE=DATE", icsDate(from))
	o.line("DTEND;VALUE=DATE", icsDate(from.AddDays(days)))
}

// alarm writes an alarm, counted from the day itself. A date begins at midnight wherever the
// calendar is read; a to-do has only the end that it is due by.
func (o icsWriter) alarm(c Calendar, e Event) {
	related := "START"
	if c.ToDo {
		related = "END"
	}
	o.line("BEGIN", "VALARM")
	o.line("ACTION", "DISPLAY")
	o.text("DESCRIPTION", e.Summary)
	o.line("TRIGGER;RELATED="+related, icsDuration(*e.Alarm))
	o.line("END", "VALARM")
}

func icsDate(d model.Date) string { return d.Format("20060102") }

// icsDuration is a duration in whole minutes, not negative: PT8H30M.
func icsDuration(d time.Duration) string {
	return fmt.Sprintf("PT%dH%dM", int(d.Hours()), int(d.Minutes())%60)
}
