// Package app puts the full-screen program together: the session, the root and the six
// views, run on a terminal. It is what main calls and where a new view is wired; it
// decides nothing that a screen could.
package app

import (
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"time"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/model/starter"
	"brine/wrasse/ui"
	"brine/wrasse/ui/checklist"
	"brine/wrasse/ui/gear"
	"brine/wrasse/ui/logbook"
	"brine/wrasse/ui/phrase"
	"brine/wrasse/ui/rethink"
	"brine/wrasse/ui/round"
	"brine/wrasse/ui/session"
	"brine/wrasse/ui/shelf"
	"brine/wrasse/ui/start"
	"brine/wrasse/ui/table"
	"brine/wrasse/ui/text"
	"brine/wrasse/ui/theme"
	"brine/wrasse/ui/water"

	tea "github.com/charmbracelet/bubbletea"
)

// Options are what the screens touch beside the store. All but the two ends of the
// terminal may be left zero.
type Options struct {
	In  io.Reader
	Out io.Writer
	// Err takes the trace of a panic caught in a command, after the screen has been
	// given back; nil drops it.
	Err io.Writer

	Getenv func(string) string
	Now    func() time.Time
	By     string // who sits here, stamped on what is written
	// NewFile makes a file that must not be there yet.
	NewFile func(path string, write func(io.Writer) error) error

	Theme  string // one of theme.Names; "" is the first
	Glyphs string // one of theme.Glyphs; "" is the first
	Plain  bool   // words only, one column of them, as for a screen reader
	View   int    // the view to open with, counted from 0
	Mouse  bool   // take clicks and the wheel; text can then not be selected as usual

	// WeekStart is the first day of a week; nil is Monday.
	WeekStart *time.Weekday
	// Book fills in the questions of a new book: its name and units.
	Book model.BookDef
	// Demo says that the store holds the throw-away demo book.
	Demo bool

	after func(time.Duration, func(time.Time) tea.Msg) tea.Cmd // makes timers; nil means tea.Tick
}

// App is the program, made but not running. Make one with New.
type App struct {
	Root    *ui.Root
	Session *session.Session

	o     Options
	asked bool        // the questions of a new book have been put
	none  *table.Page // in place of the views when the book can't be read

	atOnce func() int // how many keys came together with the one that is acted on
}

// New makes the screens on a store. Nothing is read before the program runs.
func New(store session.Store, o Options) *App {
	if o.Getenv == nil {
		o.Getenv = os.Getenv
	}
	if o.Now == nil {
		o.Now = time.Now
	}
	a := &App{Session: session.New(store), o: o, atOnce: func() int { return 1 }}
	a.Session.By, a.Session.NewFile = o.By, o.NewFile
	if out := o.Out; out != nil {
		a.Session.Bell = func() { _, _ = io.WriteString(out, "\a") }
	}
	if o.WeekStart != nil {
		a.Session.WeekStart = *o.WeekStart
	}
	a.none = unread(a.Session)
	checks := checklist.NewChecks()
	a.Root = ui.NewRoot(ui.Config{
		Theme: o.theme(),
		Clock: o.Now,
		Views: func(r *ui.Root) []ui.View {
			a.Session.Root = r
			first := round.New(a.Session, checks)
			first.Begin = a.begin
			return []ui.View{
				{Name: "Round", Screen: first},
				{Name: "Water", Screen: water.New(a.Session)},
				{Name: "Gear", Screen: gear.New(a.Session)},
				{Name: "Shelf", Screen: shelf.New(a.Session)},
				{Name: "Rethink", Screen: rethink.New(a.Session)},
				{Name: "Log", Screen: logbook.New(a.Session)},
			}
		},
		Heading: a.heading,
		Notice:  a.notice,
		Instead: a.instead,
		Init:    a.Session.Init,
		Msg:     a.msg,
		Linger:  a.Session.Linger,
		Suspend: asked,
		AtOnce:  func() int { return a.atOnce() },
		After:   o.after,
	})
	a.Root.Show(o.View)
	return a
}

// theme is the look.
func (o Options) theme() theme.Theme {
	th := theme.Named(o.Theme, o.Glyphs, o.Getenv)
	th.Plain = o.Plain
	return th
}

// msg gives every message to the session, and puts the questions of a new book once it is
// known to be empty.
func (a *App) msg(msg tea.Msg) tea.Cmd {
	if _, ok := msg.(suspend); ok {
		return tea.Exec(stopped{}, func(error) tea.Msg { return tea.ResumeMsg{} })
	}
	cmd := a.Session.Msg(msg)
	if _, resumed := msg.(tea.ResumeMsg); resumed && a.o.Mouse {
		// Leaving the terminal ends mouse reports, and bubbletea does not begin them anew.
		cmd = tea.Batch(cmd, tea.EnableMouseCellMotion)
	}
	if a.Session.Loaded() && a.Session.Book.Empty() && !a.asked {
		a.asked = true
		a.begin()
	}
	return cmd
}

// instead is what stands in place of the views while there is no book to show.
func (a *App) instead() ui.Screen {
	if a.Session.Unread() == nil || a.Session.Loaded() {
		return nil
	}
	return a.none
}

// begin puts the questions of a new book.
func (a *App) begin() { a.Root.Push(start.New(a.Session, a.o.Book, a.enterDemo)) }

// enterDemo goes over to a demo book in memory.
func (a *App) enterDemo() tea.Cmd {
	a.o.Demo = true
	return a.Session.Use(Demo(a.Session.Today()))
}

// Demo is a throw-away book: two years of an invented library's reef tank, in memory
// only.
func Demo(today model.Date) *session.Memory {
	return session.NewMemory(func() (*ledger.Book, error) {
		book, err := new(ledger.Book).Append(starter.Demo(today)...)
		if err != nil {
			return nil, fmt.Errorf("making the demo: %w", err)
		}
		return book, nil
	})
}

// heading is the title strip: the book, the day and how things stand, as long as the
// book's name has room beside it.
func (a *App) heading() (left, right string) {
	today := a.Session.Today()
	if !a.Session.Loaded() {
		return "", phrase.Today(today)
	}
	left = a.Session.Book.Def().Name
	switch {
	case a.Session.Book.Empty():
		return "a new book", phrase.Today(today)
	case a.o.Demo:
		left += " (demo)"
	}
	w, _ := a.Root.Body()
	short := phrase.Counts(a.Session.Round, true)
	for _, right = range []string{
		phrase.Today(today) + " · " + phrase.Counts(a.Session.Round, false),
		today.Format("Mon 2 Jan") + " · " + short,
		short,
		phrase.Now(a.Session.Round),
	} {
		if text.Width(text.Clean(left))+1+text.Width(right) <= w {
			break
		}
	}
	return left, right
}

// notice is what stands in the status line when nothing else does: countdowns, then
// what must be ordered soon.
func (a *App) notice() string {
	if running := a.Session.Timers(); running != "" {
		return running
	}
	switch unread := a.Session.Unread(); {
	case unread != nil && a.Session.Loaded():
		return "what stands here may be old: " + unread.Error()
	case unread != nil:
		return "nothing has been changed"
	case !a.Session.Loaded():
		return "reading the book ..."
	}
	return phrase.Order(a.Session.Book, a.Session.Shelf(), a.Session.Today())
}

// Run shows the screens until the keeper leaves them, or a signal ends the program. What
// was asked for is written by then, and the error says what could not be.
func (a *App) Run() error {
	a.Session.Ahead()
	in := a.o.In
	if f, ok := in.(*os.File); ok {
		k := &keyboard{File: f}
		in, a.atOnce = k, k.atOnce
	}
	out := a.o.Out
	if f, ok := out.(*os.File); ok && a.o.Plain {
		out = &pointing{File: f, at: a.Root.Spot}
	}
	options := []tea.ProgramOption{tea.WithAltScreen(), tea.WithInput(in), tea.WithOutput(out),
		tea.WithoutSignalHandler()} // which drops what is still to be written
	if a.o.Mouse {
		options = append(options, tea.WithMouseCellMotion())
	}
	p := tea.NewProgram(a.Root, options...)
	defer a.Session.Close()
	defer heed(p)()
	_, err := p.Run()
	signal.Reset(os.Interrupt) // ctrl+c ends what follows
	unsaved := a.Root.Finish(func() { a.note("wrasse: still saving; ctrl+c leaves without it") })
	for _, panicked := range a.Root.Panics() {
		a.note(fmt.Sprintf("%v\n%s", panicked, panicked.Stack))
	}
	return errors.Join(err, unsaved)
}

// note writes a line where it is read after the screen has been given back.
func (a *App) note(line string) {
	if a.o.Err != nil {
		fmt.Fprintln(a.o.Err, line)
	}
}
