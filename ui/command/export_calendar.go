package command

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"strings"
	"time"

	"brine/wrasse/model"
	"brine/wrasse/schedule"
	"brine/wrasse/ui/typed"
	"brine/wrasse/ui/words"
)

// Calendar is the due dates of a round, for a calendar program.
type Calendar struct {
	Name     string
	Stamp    time.Time // when it was made
	Sequence uint64    // rises with the log
	ToDo     bool      // to-dos instead of all-day events
	Alarm    bool
	AlarmAt  time.Duration // after midnight
	Events   []Event
}

// Event is one chore at its due date.
type Event struct {
	UID         string // of the chore in this book, the same in every export
	On          model.Date
	Summary     string
	Description string
	Location    string
	Category    string
}

// calendar is the flags of a calendar export.
type calendar struct {
	todo  bool
	alarm string
}

func (c calendar) asked() bool { return c.todo || c.alarm != "" }

// exportCalendar makes the writer of a calendar of the book.
func (p *program) exportCalendar(on model.Date, c calendar) (func(io.Writer) error, error) {
	b, err := p.load()
	if err != nil {
		return nil, err
	}
	r := schedule.Make(b, on)
	out := Calendar{Name: r.Book, Stamp: p.Now(), Sequence: uint64(b.Last()), ToDo: c.todo, Alarm: c.alarm != ""}
	if out.Alarm {
		at, err := time.Parse("15:04", c.alarm)
		if err != nil {
			return nil, usagef("--alarm %q is no time of day; give hours and minutes, such as 08:30", c.alarm)
		}
		out.AlarmAt = time.Duration(at.Hour())*time.Hour + time.Duration(at.Minute())*time.Minute
	}
	origin, err := originOf(b)
	if err != nil {
		return nil, err
	}
	for i := range r.Standings {
		if s := &r.Standings[i]; s.HasDue {
			out.Events = append(out.Events, event(b, s, r.On, origin))
		}
	}
	return func(w io.Writer) error { return p.WriteCalendar(w, out) }, nil
}

// originOf tells books apart for ever: by the first line of the log, which never
// changes and goes along when the book is exported and imported.
func originOf(b *model.Book) (string, error) {
	first, err := b.Entries(1, 1)
	if err != nil {
		return "", err
	}
	line, err := model.EncodeEntry(*first[0])
	if err != nil {
		return "", err
	}
	sum := sha256.Sum256(line)
	return hex.EncodeToString(sum[:8]), nil
}

func event(b *model.Book, s *schedule.Standing, on model.Date, origin string) Event {
	about := []string{words.Due(s, on) + ", as of " + on.String()}
	minutes := fmt.Sprintf("%d min", s.Chore.Minutes)
	if w := s.Chore.WaitingMinutes(); w > 0 {
		minutes += fmt.Sprintf(" and %d waiting", w)
	}
	about = append(about, minutes, words.Last(s, on))
	if put := words.Put(s, on); put != "" {
		about = append(about, put)
	}
	if needs, _ := words.Needs(b, s); needs != "" {
		about = append(about, needs)
	}
	for _, c := range s.Chore.Cautions {
		about = append(about, "Caution: "+c)
	}
	return Event{
		UID:         string(s.Chore.ID) + "." + origin + "@wrasse",
		On:          s.Due,
		Summary:     typed.ChoreLabel(b, s.Chore),
		Description: strings.Join(about, "\n"),
		Location:    s.Place.Name,
		Category:    string(s.Chore.Work),
	}
}
