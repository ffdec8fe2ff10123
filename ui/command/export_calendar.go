package command

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/schedule"
	"brine/wrasse/ui/parse"
	"brine/wrasse/ui/phrase"
)

// Calendar is the days of a round on which something is to be done, for a calendar program.
type Calendar struct {
	Name     string
	Stamp    time.Time // when it was made
	Sequence uint64    // grows with the log and with the days
	ToDo     bool      // to-dos instead of all-day events
	Events   []Event
}

// Event is a chore on the day to do it, or a fault.
type Event struct {
	UID         string // of the chore or fault in this book, the same in every export
	On          model.Date
	Summary     string
	Description string
	Location    string
	Category    string
	Cancelled   bool           // retired, struck, mended or without a date: a calendar that has it takes it out
	Alarm       *time.Duration // after the midnight of On; nil for none
}

// calendar is the flags of a calendar export.
type calendar struct {
	todo  bool
	alarm string
}

func (c calendar) asked() bool { return c.todo || c.alarm != "" }

// exportCalendar makes the writer of a calendar of the book.
func (p *program) exportCalendar(c calendar) (func(io.Writer) error, error) {
	b, round, err := p.ahead()
	if err != nil {
		return nil, err
	}
	first, err := b.Entries(1, 1)
	if err != nil {
		return nil, err
	}
	origin, err := originOf(first[0])
	if err != nil {
		return nil, err
	}
	days := agenda{book: b, round: round, origin: origin}
	if err := days.write(); err != nil {
		return nil, err
	}
	if c.alarm != "" {
		at, err := time.Parse("15:04", c.alarm)
		if err != nil {
			return nil, usagef("--alarm %q is no time of day; give hours and minutes, such as 08:30", c.alarm)
		}
		ring(days.events, time.Duration(at.Hour())*time.Hour+time.Duration(at.Minute())*time.Minute, p.Now())
	}
	// What is late moves every day although nobody wrote anything, so the days count too.
	sequence := uint64(b.Last()) + uint64(max(0, round.On.Sub(first[0].On)))
	out := Calendar{Name: round.Book, Stamp: p.Now(), Sequence: sequence, ToDo: c.todo, Events: days.events}
	return func(w io.Writer) error { return p.WriteCalendar(w, out) }, nil
}

// originOf tells books apart for ever: by the first line of the log, which never
// changes and goes along when the book is exported and imported.
func originOf(first *model.Entry) (string, error) {
	line, err := model.EncodeEntry(*first)
	if err != nil {
		return "", err
	}
	sum := sha256.Sum256(line)
	return hex.EncodeToString(sum[:8]), nil
}

// ring gives every event the first alarm at a time of day that is still to come: of one
// whose hour has passed, on a later day.
func ring(events []Event, at time.Duration, now time.Time) {
	clock := time.Duration(now.Hour())*time.Hour + time.Duration(now.Minute())*time.Minute
	for i := range events {
		gap := model.DateOf(now).Sub(events[i].On) // days that the event lies back
		if clock >= at {
			gap++
		}
		alarm := at + time.Duration(max(0, gap))*24*time.Hour
		events[i].Alarm = &alarm
	}
}

// agenda is the events of a book in the making.
type agenda struct {
	book   *ledger.Book
	round  *schedule.Round
	origin string
	events []Event
}

// keepCancelled is how many days an event that is no more stays in the calendar, cancelled:
// one that is left out would stay for ever in the programs that know it.
const keepCancelled = 366

func (a *agenda) add(thing string, e Event) {
	e.UID = thing + "." + a.origin + "@wrasse"
	a.events = append(a.events, e)
}

// cancel adds what was in an earlier calendar and ended on a date.
func (a *agenda) cancel(thing, summary string, ended model.Date) {
	if ended <= a.round.On && a.round.On.Sub(ended) <= keepCancelled {
		a.add(thing, Event{On: ended, Summary: summary, Cancelled: true})
	}
}

func faultUID(seq model.Seq) string { return fmt.Sprintf("fault-%d", seq) }

// write adds what is to be done, and what was to be done and is no more. Chores first, then
// faults.
func (a *agenda) write() error {
	for i := range a.round.Standings {
		a.chore(&a.round.Standings[i])
	}
	for i := range a.round.Faults {
		a.fault(&a.round.Faults[i])
	}
	for _, c := range a.book.Chores() {
		if at, _ := a.book.Component(c.Component); a.round.Of(c.ID) == nil {
			a.cancel(string(c.ID), parse.ChoreLabel(a.book, c), model.Earlier(c.Retired, at.Retired))
		}
	}
	return a.gone()
}

// chore adds a chore on the day to do it: what is late stands on the round's day, so that
// whoever looks at that day sees it, and what was put off on the day it was put off to.
func (a *agenda) chore(s *schedule.Standing) {
	on := a.round.On
	label := parse.ChoreLabel(a.book, s.Chore)
	if !s.HasDue {
		if !s.LastTick.IsZero() {
			a.cancel(string(s.Chore.ID), label, on)
		}
		return
	}
	e := Event{On: s.Due, Summary: phrase.Label(a.book, s), Location: s.Place.Name, Category: string(s.Chore.Work)}
	switch s.State {
	case schedule.StateLate:
		e.On = on
		e.Summary += " (late since " + phrase.Day(s.Due, on) + ")"
	case schedule.StateDeferred:
		e.On = s.Deferred.What.Until
	}
	about := []string{phrase.Due(s, on) + ", as of " + on.String()}
	minutes := fmt.Sprintf("%d min", s.Chore.Minutes)
	if w := s.Chore.WaitingMinutes(); w > 0 {
		minutes += fmt.Sprintf(" and %d waiting", w)
	}
	about = append(about, minutes, phrase.Last(s, on))
	if put := phrase.Put(s, on); put != "" {
		about = append(about, put)
	}
	if needs, _ := phrase.Needs(a.book, s); needs != "" {
		about = append(about, needs)
	}
	for _, c := range phrase.Cautions(a.book, s.Chore) {
		about = append(about, "Caution: "+c)
	}
	e.Description = strings.Join(about, "\n")
	a.add(string(s.Chore.ID), e)
}

// fault adds what is broken, on the round's day until it is mended.
func (a *agenda) fault(f *schedule.OpenFault) {
	place, _ := a.book.Place(f.Component.Place)
	a.add(faultUID(f.Seq), Event{On: a.round.On, Summary: f.Component.Name + ": broken",
		Description: phrase.FaultSaid(f, a.round.On), Location: place.Name, Category: "fault"})
}

// gone cancels what the log holds and the book does not: faults that are mended or struck,
// and chores of which the definition was struck. It reads the whole log.
func (a *agenda) gone() error {
	struck := map[model.Seq]model.Date{}
	written := map[model.ID]*model.Entry{}
	var faults []*model.Entry
	for e, err := range a.book.All() {
		if err != nil {
			return err
		}
		switch w := e.Body.(type) {
		case model.Amend:
			if w.Strike {
				struck[w.Entry] = e.On
			}
		case model.Chore:
			written[w.ID] = e
		case model.Fault:
			faults = append(faults, e)
		}
	}
	open := map[model.Seq]bool{}
	for _, f := range a.round.Faults {
		open[f.Seq] = true
	}
	for _, e := range faults {
		if open[e.Seq] {
			continue
		}
		c, _ := a.book.Component(e.Body.(model.Fault).Component)
		a.cancel(faultUID(e.Seq), c.Name+": broken", cmp.Or(struck[e.Seq], a.mended(c, e), e.On))
	}
	var lost []*model.Entry
	for id, e := range written {
		if _, kept := a.book.Chore(id); !kept {
			lost = append(lost, e)
		}
	}
	slices.SortFunc(lost, func(x, y *model.Entry) int { return cmp.Compare(x.Seq, y.Seq) })
	for _, e := range lost {
		c := e.Body.(model.Chore)
		a.cancel(string(c.ID), parse.ChoreLabel(a.book, c), cmp.Or(struck[e.Seq], e.On))
	}
	return nil
}

// mended is the first day after a fault that one of the component's chores was ticked off,
// or that the component was retired; no date when there is none.
func (a *agenda) mended(c model.Component, fault *model.Entry) model.Date {
	day := c.Retired
	for _, chore := range a.book.Chores() {
		if chore.Component != c.ID {
			continue
		}
		for _, t := range a.book.Ticks(chore.ID) {
			if t.Seq > fault.Seq && t.On >= fault.On {
				day = model.Earlier(day, t.On)
			}
		}
	}
	return day
}
