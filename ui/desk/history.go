package desk

import (
	"errors"

	"brine/wrasse/model"
	"brine/wrasse/schedule"
	"brine/wrasse/ui"
	"brine/wrasse/ui/text"

	tea "github.com/charmbracelet/bubbletea"
)

// Grade is how far back a book answers. One of a higher grade answers for all that one
// of a lower does.
type Grade int

// The grades of a book.
const (
	Brief Grade = iota // what a round, a form and an act need
	Wide               // every event of everything
	Full               // and every entry as it was written: only commands ask for that
)

// Reader is a screen that looks further back than Book does, if it needs the wide grade.
// It draws Wide, and Reading as long as that is nil; a Fresh tells that there is another one.
type Reader interface{ Needs() Grade }

// Forget tells screens out of sight to let go of what they took from the wide book, which
// is not held any more.
type Forget struct{}

// history is the wide book. It is read when a screen that needs it comes into sight, and
// renewed in the background while one is.
type history struct {
	book    *model.Book // nil when none is held
	age     int         // the desk's age when it was read
	reading bool        // a command is reading or renewing it
	failed  error
	tried   *model.Book // the desk's book when it failed: it is not tried again for that one
}

// lasting is how many entries a book may have to be kept when no screen in sight needs
// it: up to here it takes a few megabytes, and so most keepers wait for it once.
const lasting = 10_000

// Wide is the book with every event of everything, or nil as long as it is not read. It
// may be a moment older than Book.
func (d *Desk) Wide() *model.Book {
	if d.Book.Empty() {
		return d.Book
	}
	return d.history.book
}

// Pending is what a screen says in place of what it has not been given yet: that it is
// being read, or why it can't be.
func (d *Desk) Pending() string {
	if err := d.history.failed; err != nil {
		return "the log can't be read: " + err.Error()
	}
	return "reading the log ..."
}

// Reading is Pending in lines of w cells, where rows would begin.
func (d *Desk) Reading(w int) []string {
	lines := []string{""}
	for _, l := range text.Wrap(text.Clean(d.Pending()), w-2) {
		lines = append(lines, "  "+d.Root.Theme().Dim.Render(l))
	}
	return lines
}

// InSight reads what the screens in sight need and the desk has not got, or lets go of
// what none of them needs. The root calls it after every message.
func (d *Desk) InSight(screens []ui.Screen) tea.Cmd {
	need := Brief
	for _, s := range screens {
		if r, ok := s.(Reader); ok {
			need = max(need, r.Needs())
		}
	}
	h := &d.history
	switch {
	case need == Brief:
		return d.unneeded()
	case !d.loaded, d.Book.Empty(), h.reading, h.failed != nil && h.tried == d.Book, d.fresh():
		return nil
	}
	h.reading = true
	return d.readFurther()
}

// fresh tells whether a wide book is held that is as new as Book.
func (d *Desk) fresh() bool {
	h := &d.history
	return h.book != nil && h.age == d.age && h.book.Last() >= d.Book.Last()
}

// unneeded lets go of a long book, and of why one could not be read.
func (d *Desk) unneeded() tea.Cmd {
	h := &d.history
	h.failed, h.tried = nil, nil
	if h.book == nil || h.book.Last() <= lasting {
		return nil
	}
	h.book = nil
	return d.Root.Tell(Forget{})
}

// further is a wide book as a command read it.
type further struct {
	from Store
	of   *model.Book // the desk's book then
	age  int         // and its age
	book *model.Book
	err  error // there is no book
}

// readFurther reads the wide book or, where only this window has written since the one that
// is held, adds that to it: it costs a fraction.
func (d *Desk) readFurther() tea.Cmd {
	msg := further{from: d.store, of: d.Book, age: d.age}
	held, own := d.extendable()
	return func() tea.Msg {
		msg.err = ui.Guard("reading the log", func() (err error) {
			if held != nil {
				if msg.book, err = held.Extend(own); err == nil && !msg.book.Brief() {
					return nil
				}
			}
			msg.book, err = msg.from.Wide()
			return err
		})
		return msg
	}
}

// extendable is the book that is held and what this window wrote after it; nil when it
// does not do, or others wrote in between.
func (d *Desk) extendable() (held *model.Book, own []model.Entry) {
	h := &d.history
	if h.book == nil || h.age != d.age {
		return nil, nil
	}
	missing := int(d.Book.Last() - h.book.Last())
	if missing > len(d.own) {
		return nil, nil
	}
	return h.book, d.own[len(d.own)-missing:]
}

// tookFurther takes in what readFurther has brought.
func (d *Desk) tookFurther(msg further) tea.Cmd {
	h := &d.history
	h.reading = false
	if h.failed, h.tried = msg.err, msg.of; msg.err != nil {
		d.Root.Fail(msg.err)
		return d.Root.Tell(Fresh{})
	}
	h.book, h.age = msg.book, msg.age
	return d.Root.Tell(Fresh{})
}

// follow takes note of where the book that is about to be the present one comes from: an
// act of this window right after the present one, or anything else, which makes what is
// held of an older age.
func (d *Desk) follow(next *model.Book, wrote []model.Entry) {
	switch {
	case next == d.Book:
	case len(wrote) > 0 && wrote[0].Seq == d.Book.Last()+1 && !next.Replaces(d.Book):
		d.own = append(d.own, wrote...)
	default:
		d.age++
		d.own = nil
	}
}

// Maker makes the desk's rounds, and in commands those of books of a higher grade.
func (d *Desk) Maker() *schedule.Maker { return d.maker }

// Further reads a book of at least a grade, for commands that find that Book does not
// reach back far enough. It is called in the event loop, and what it returns in a command.
func (d *Desk) Further() func(Grade) (*model.Book, error) {
	store, wide, fresh := d.store, d.history.book, d.fresh()
	return func(g Grade) (*model.Book, error) {
		switch {
		case g == Full:
			return store.Full()
		case fresh:
			return wide, nil
		}
		return store.Wide()
	}
}

// Lacks is the grade of book to ask what another refused with an error; Brief when the
// error is of another kind.
func Lacks(err error) Grade {
	switch {
	case errors.Is(err, model.ErrRebuild):
		return Full
	case errors.Is(err, model.ErrPast):
		return Wide
	}
	return Brief
}
