// Package session is what the screens of one window share: the book as last read, the
// round made of it, the acts this window wrote, and the one way to write another.
//
// Screens hold a *Session, read Book and Round when they draw, and call Do, Undo and
// Redo from Act. What a write says on success and where a failure goes is decided
// here, so that every screen answers alike. Reading and writing run in commands;
// the fields change in the event loop only.
package session

import (
	"errors"
	"io"
	"sync"
	"sync/atomic"
	"time"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/schedule"
	"brine/wrasse/ui"
	"brine/wrasse/ui/phrase"
	"brine/wrasse/ui/request"

	tea "github.com/charmbracelet/bubbletea"
)

// Store is the book's file, as far as a window needs it. Its methods may be called
// from several goroutines.
type Store interface {
	// Load is the book as it is now; an empty one when there is no file yet.
	Load() (*ledger.Book, error)
	// Write writes what build makes of the present book, as one act that is safe on
	// disk when Write returns, and returns the new book and the act's first seq,
	// which is 0 when build made nothing.
	Write(build func(*ledger.Book) ([]model.Entry, error)) (*ledger.Book, model.Seq, error)
	// Warning is what went wrong beside what was read or written, or what the keeper
	// should know of the place it lies in; it is said once, "" when there is nothing.
	Warning() string
	// Wait blocks until the file was written, by whomever, or done is closed; it
	// reports whether it was written.
	Wait(done <-chan struct{}) bool
}

// Looker is a Store that must look whether others wrote, and looks as long as its window is
// used.
type Looker interface{ Used() }

// Session is shared by the screens of one window. Make one with New.
type Session struct {
	Root  *ui.Root // set before the program runs
	Book  *ledger.Book
	Round *schedule.Round
	// By is who sits here, stamped on what is written; may be empty.
	By string
	// WeekStart is the first day of a week: Monday, unless somebody wants another.
	WeekStart time.Weekday
	// NewFile makes a file that must not be there yet; it runs in a command. May be nil.
	NewFile func(path string, write func(io.Writer) error) error
	// Bell sounds the terminal's bell; it runs in a command. May be nil.
	Bell func()

	store  Store
	loaded bool
	unread error                         // why the book could not be read the last time
	told   int                           // the id under which the status line says so
	acts   atomic.Pointer[ledger.Window] // what this window did; replaced, never changed: commands read it
	wrote  []model.Entry                 // the act this window wrote last
	timers []Timer
	timing bool // a timer for them runs
	shelf  []schedule.SpareForecast

	ahead tea.Cmd // brings what Ahead has begun to read
	done  chan struct{}
	close sync.Once
}

// New is a session on a store, with nothing read yet.
func New(store Store) *Session {
	d := &Session{WeekStart: time.Monday, store: store, Book: new(ledger.Book), Round: new(schedule.Round), done: make(chan struct{})}
	d.acts.Store(new(ledger.Window))
	return d
}

// Close ends the watch on the file. Call it once the program has ended.
func (d *Session) Close() { d.close.Do(func() { close(d.done) }) }

// Loaded tells whether the book has been read; before that a screen draws nothing.
func (d *Session) Loaded() bool { return d.loaded }

// Unread is why the book could not be read when it was last tried, or nil. What was read
// before that stands.
func (d *Session) Unread() error { return d.unread }

// Today is the present civil date.
func (d *Session) Today() model.Date { return model.DateOf(d.Root.Now()) }

// Stamp marks what is written today, here.
func (d *Session) Stamp() request.Stamp { return request.Stamp{On: d.Today(), By: d.By} }

// BookChanged tells every screen that Book and Round have changed, so that cursors can be
// kept on what they stood on. A view out of sight learns of it when it is shown.
type BookChanged struct{}

// Late implements ui.Late.
func (BookChanged) Late() {}

// read is the book as a command read it.
type read struct {
	from  Store
	book  *ledger.Book
	round *schedule.Round

	warning string
	err     error // there is none of them
}

// Init reads the book and starts the watch on its file.
func (d *Session) Init() tea.Cmd { return tea.Batch(d.first(), d.wait()) }

// Load reads the book and makes the round of today.
func (d *Session) Load() tea.Cmd {
	today, store := d.Today(), d.store
	return func() tea.Msg {
		msg := read{from: store}
		msg.err = ui.Guard("reading the book", func() (err error) {
			defer func() { msg.warning = store.Warning() }()
			if msg.book, err = store.Load(); err != nil {
				return err
			}
			msg.round = schedule.Make(msg.book, today)
			return nil
		})
		return msg
	}
}

// written is the message that the file was written.
type written struct{}

// wait blocks in a command until somebody writes the file. It is no timer: an idle
// program is not woken.
func (d *Session) wait() tea.Cmd {
	store, done := d.store, d.done
	return func() tea.Msg {
		if store.Wait(done) {
			return written{}
		}
		return nil
	}
}

// Msg takes in a read book, a new day and the news that the file was written. The
// root hands it every message before the screens.
func (d *Session) Msg(msg tea.Msg) tea.Cmd {
	switch msg := msg.(type) {
	case tea.KeyMsg:
		if l, ok := d.store.(Looker); ok {
			l.Used()
		}
	case read:
		if msg.from != d.store {
			return nil
		}
		return d.took(msg)
	case written:
		return tea.Batch(d.Load(), d.wait())
	case second:
		return d.passed()
	case ui.NewDay, tea.ResumeMsg:
		return d.Load()
	}
	return nil
}

// took takes in what a read has brought.
func (d *Session) took(msg read) tea.Cmd {
	if d.unread = msg.err; msg.err != nil {
		if d.loaded || errors.As(msg.err, new(*ui.PanicError)) {
			d.told = d.Root.Fail(msg.err)
		}
		return nil
	}
	d.readable()
	d.warn(msg.warning)
	return d.take(msg.book, msg.round)
}

// readable takes back that the book could not be read.
func (d *Session) readable() {
	d.unread = nil
	d.Root.Unsay(d.told)
}

// warn shows what went wrong beside something that was done. It outranks the answer
// that it was done.
func (d *Session) warn(warning string) {
	if warning != "" {
		d.Root.Fail(errors.New(warning))
	}
}

// errReplaced is said once, when another file is shown.
var errReplaced = errors.New("another file was put in the place of the book; z can't take back what was done in the one before")

// take makes a book the present one, unless a newer one is here already: a read may
// have been overtaken by a write of our own.
// One of another file is no older one, and this window has written nothing in it yet.
// A round that was begun before midnight is made again of the day it is now.
func (d *Session) take(book *ledger.Book, round *schedule.Round) tea.Cmd {
	switch {
	case round.On != d.Today():
		return d.Load()
	case d.loaded && book.Replaces(d.Book):
		d.acts.Store(new(ledger.Window))
		d.wrote = nil
		d.Root.Fail(errReplaced)
	case d.loaded && book.Last() < d.Book.Last():
		return nil
	}
	d.Book, d.Round, d.shelf, d.loaded = book, round, round.Shelf(), true
	return d.Root.Tell(BookChanged{})
}

// Use goes over to another store, as when the demo is entered from the first
// start. Acts on the old one can't be taken back any more.
func (d *Session) Use(store Store) tea.Cmd {
	d.Close()
	d.close, d.done = sync.Once{}, make(chan struct{})
	d.store = store
	d.acts.Store(new(ledger.Window))
	d.Book, d.Round, d.loaded = new(ledger.Book), new(schedule.Round), false
	return d.Init()
}

// Act makes the entries of an act; those of package ui/request are Acts.
type Act interface {
	Entries(*ledger.Book) ([]model.Entry, error)
}

// Wrote is the entries of the act that this window wrote last.
func (d *Session) Wrote() []model.Entry { return d.wrote }

// Shelf is the forecast of the spares, worked out once for each round.
func (d *Session) Shelf() []schedule.SpareForecast { return d.shelf }

// Do writes an act. op says what is being done, as an error would name it ("ticking
// DI resin"). On success the status line says what was done and that z takes it back.
func (d *Session) Do(op string, a Act) tea.Cmd {
	return d.Root.Write(d.Job(op, a, nil))
}

// Job is the write of an act, for a form that keeps its content when it fails. done,
// if any, is called in the event loop once the act is written.
func (d *Session) Job(op string, a Act, done func() tea.Cmd) ui.Job {
	return d.job(op, a, func(w wrote) tea.Cmd {
		d.did(func(acts *ledger.Window) { acts.Did(w.entries) })
		d.Root.Say(w.said + d.stands() + " · z takes it back")
		if done == nil {
			return nil
		}
		return done()
	})
}

// did adds to what this window did.
func (d *Session) did(add func(*ledger.Window)) {
	acts := *d.acts.Load()
	add(&acts)
	d.acts.Store(&acts)
}

// Undo takes back this window's last act.
func (d *Session) Undo() tea.Cmd {
	stamp := d.Stamp()
	return d.undone("taking back", " · Z does it again", func(b *ledger.Book) ([]model.Entry, error) {
		return request.Undo{Stamp: stamp, Window: d.acts.Load()}.Entries(b)
	}, (*ledger.Window).Undid)
}

// Redo does again what this window last took back.
func (d *Session) Redo() tea.Cmd {
	stamp := d.Stamp()
	return d.undone("doing again", "", func(b *ledger.Book) ([]model.Entry, error) {
		return request.Redo{Stamp: stamp, Window: d.acts.Load()}.Entries(b)
	}, func(*ledger.Window, []model.Entry) {})
}

// inTurn is an act that looks at what this window did when its turn has come, and what was
// asked for before it is written.
type inTurn func(*ledger.Book) ([]model.Entry, error)

func (f inTurn) Entries(b *ledger.Book) ([]model.Entry, error) { return f(b) }

func (d *Session) undone(op, hint string, a inTurn, note func(*ledger.Window, []model.Entry)) tea.Cmd {
	return d.Root.Write(d.job(op, a, func(w wrote) tea.Cmd {
		d.did(func(acts *ledger.Window) { note(acts, w.entries) })
		d.Root.Say(w.said + d.stands() + hint)
		return nil
	}))
}

// stands is how the day stands after an act, said where nobody sees the list change.
func (d *Session) stands() string {
	if !d.Root.Theme().Plain {
		return ""
	}
	return "; now " + phrase.Counts(d.Round, false)
}

// wrote is an act as it was written.
type wrote struct {
	book    *ledger.Book
	round   *schedule.Round
	act     model.Seq // 0 when there was nothing to write
	entries []model.Entry
	said    string // what it did
	warning string
}

// job runs an act through the store and takes the new book in before after is called.
func (d *Session) job(op string, a Act, after func(wrote) tea.Cmd) ui.Job {
	var w wrote
	today := d.Today()
	return ui.Job{
		Op: op,
		Run: func() (err error) {
			w.book, w.act, err = d.store.Write(a.Entries)
			w.warning = d.store.Warning()
			if err != nil {
				return err
			}
			w.round = schedule.Make(w.book, today)
			w.look()
			return nil
		},
		Done: func(err error) tea.Cmd {
			if err != nil {
				d.Root.Fail(err)
				return nil
			}
			d.readable()
			d.warn(w.warning)
			fresh := d.take(w.book, w.round)
			if w.act == 0 {
				return fresh
			}
			d.wrote = w.entries
			return tea.Batch(fresh, after(w))
		},
	}
}

// look finds the entries of the act and what they say. It runs in the command: what was
// taken back, for one, may have to be looked up in the file.
func (w *wrote) look() {
	if w.act == 0 {
		return
	}
	entries, err := w.book.Act(w.act)
	if err != nil {
		w.said, w.warning = "written", err.Error()
		return
	}
	for _, e := range entries {
		w.entries = append(w.entries, *e)
	}
	w.said = request.SayAct(w.book, entries)
}
