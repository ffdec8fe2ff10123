// Package ui is the full-screen program: the root that owns the window, and the
// screens drawn in it. It alone knows the terminal, and it knows neither the
// file the book is in nor the arithmetic of the round.
//
// Start at Root, the only bubbletea model: it turns messages into actions by
// the key table, keeps the views and the pages opened from them, draws the
// frame, and runs writes in order. Screens are small values behind the Screen
// interface; one screen is one file or a pair. Cells and cleaning are in
// ui/text, looks in ui/theme, keys in ui/keys, forms in ui/form.
//
// Promises: Render is pure and exact at every size. No key but q and ctrl+c
// quits, and quitting waits for writes. Nothing wakes an idle program but the
// next midnight.
package ui

import (
	"sync/atomic"
	"time"

	"brine/wrasse/ui/keys"
	_ "brine/wrasse/ui/quiet" // before bubbletea; see its package comment
	"brine/wrasse/ui/theme"

	tea "github.com/charmbracelet/bubbletea"
)

// Config is what a Root is made of. Theme, Clock and Views are required.
type Config struct {
	Theme theme.Theme
	Clock Clock
	// Views makes the views, first one first, with the root they belong to.
	Views func(*Root) []View
	// Heading gives the two ends of the title strip: the book, the day's counts.
	Heading func() (left, right string)
	// Notice is shown in the status line when nothing else is.
	Notice func() string
	// Instead is the screen to show in place of every view, or nil. It is for when
	// there is no book to show; the views keep their state.
	Instead func() Screen
	// Init is the first command: loading the book.
	Init func() tea.Cmd
	// Msg sees every message but the mouse's and the root's own, before the screens do:
	// the place to take in a loaded book. A key tells it that somebody is there.
	Msg func(tea.Msg) tea.Cmd
	// Linger is asked before quitting. A question other than "" is put to the
	// keeper once: a timer is running, say.
	Linger func() string
	// Suspend asks for the terminal to be given back until the program is continued; nil
	// where nothing suspends programs.
	Suspend func() tea.Msg
	// AtOnce tells how many keys came together with the one that is acted on, where the
	// terminal tells; nil means one.
	AtOnce func() int
	// After makes timers; nil means tea.Tick.
	After func(time.Duration, func(time.Time) tea.Msg) tea.Cmd
}

// Root is the program's only bubbletea model.
type Root struct {
	cfg    Config
	theme  theme.Theme
	after  func(time.Duration, func(time.Time) tea.Msg) tea.Cmd
	views  []View
	pages  [][]Screen // per view, the pages and sheets opened over it
	missed []tea.Msg  // per view, the last Late message it has not been told yet
	at     int        // the present view
	w, h   int        // of the window; zero until it is known
	status status
	writes queue
	day    time.Time
	cursor atomic.Uint32 // where the last frame has it; see Spot
	panics []*PanicError

	leaving  *leaving      // the last quit that had to wait
	patience time.Duration // of Finish
}

// NewRoot makes the program. Run it with tea.NewProgram.
func NewRoot(cfg Config) *Root {
	r := &Root{cfg: cfg, theme: cfg.Theme, after: cfg.After, day: cfg.Clock(), patience: leaveAfter}
	if r.after == nil {
		r.after = tea.Tick
	}
	r.views = cfg.Views(r)
	r.pages = make([][]Screen, len(r.views))
	r.missed = make([]tea.Msg, len(r.views))
	return r
}

// Theme is the look to draw with.
func (r *Root) Theme() theme.Theme { return r.theme }

// Now is the present time, by the injected clock.
func (r *Root) Now() time.Time { return r.cfg.Clock() }

// Body is the room screens are drawn in, for page keys.
func (r *Root) Body() (w, h int) { return r.w, r.lay(r.w, r.h).Body }

// Panics are the panics caught in commands, for main to print at the end.
func (r *Root) Panics() []*PanicError { return r.panics }

// After makes a timer, as tea.Tick does; screens use it for running countdowns.
func (r *Root) After(d time.Duration, f func(time.Time) tea.Msg) tea.Cmd { return r.after(d, f) }

// Push opens a page or a sheet over the present screen.
func (r *Root) Push(s Screen) { r.pages[r.at] = append(r.pages[r.at], s) }

// Drop closes s, wherever it is open, and whatever was opened over it. A screen
// closes itself with it, also when another view has come before in the
// meantime.
func (r *Root) Drop(s Screen) {
	for v, stack := range r.pages {
		for i, open := range stack {
			if open == s {
				r.pages[v] = stack[:i]
				return
			}
		}
	}
}

// Show goes to view i as it was left; going to the view one is in closes the
// pages over it. A view that does not exist is ignored.
func (r *Root) Show(i int) {
	if i < 0 || i >= len(r.views) {
		return
	}
	if help, ok := r.top().(*helpPage); ok {
		r.Drop(help)
	}
	if i == r.at {
		r.pages[i] = nil
	}
	r.at = i
}

// Say puts a success or a remark into the status line and returns its id for
// Unsay; zero means that a fault stands there and is not to be covered.
func (r *Root) Say(s string) int { return r.status.say(s, r.Now()) }

// Unsay takes the text with this id away, if it still stands.
func (r *Root) Unsay(id int) { r.status.clear(id) }

// Fail puts an error into the status line, where it stays until a key has been
// pressed, and returns its id for Unsay.
func (r *Root) Fail(err error) int {
	r.note(err)
	return r.status.fail(err.Error(), r.Now())
}

// Write queues a write to the book. Writes run one at a time, in order, and
// quitting waits for them.
func (r *Root) Write(j Job) tea.Cmd { return r.writes.add(j) }

// ground is the present view, or what stands in its place.
func (r *Root) ground() Screen {
	if r.cfg.Instead != nil {
		if s := r.cfg.Instead(); s != nil {
			return s
		}
	}
	return r.views[r.at].Screen
}

// top is the screen keys go to.
func (r *Root) top() Screen {
	if stack := r.pages[r.at]; len(stack) > 0 {
		return stack[len(stack)-1]
	}
	return r.ground()
}

// note remembers a panic for main.
func (r *Root) note(err error) {
	if p := panicIn(err); p != nil {
		r.panics = append(r.panics, p)
	}
}

// Late is a message that a view out of sight may learn of when it is next shown, and
// then only of the last one: that there is another book to draw, say. Five of six
// views are out of sight, and each of them takes as long to renew as the one in sight.
type Late interface{ Late() }

// broadcast sends msg to the owner of the book and then to the screens.
func (r *Root) broadcast(msg tea.Msg) tea.Cmd {
	return tea.Batch(r.toOwner(msg), r.Tell(msg))
}

// toOwner sends msg to the owner of the book.
func (r *Root) toOwner(msg tea.Msg) tea.Cmd {
	if r.cfg.Msg == nil {
		return nil
	}
	return r.cfg.Msg(msg)
}

// Tell sends msg to every open screen, seen or not, as an answer may be for a page
// that is not on top any more; a Late message to those of the present view only.
func (r *Root) Tell(msg tea.Msg) tea.Cmd {
	_, late := msg.(Late)
	var cmds []tea.Cmd
	for i := range r.views {
		if late && i != r.at {
			r.missed[i] = msg
			continue
		}
		cmds = append(cmds, r.tell(i, msg))
	}
	return tea.Batch(cmds...)
}

// tell sends msg to one view and the pages opened over it.
func (r *Root) tell(view int, msg tea.Msg) tea.Cmd {
	cmds := []tea.Cmd{r.views[view].Screen.Msg(msg)}
	for _, s := range r.pages[view] {
		cmds = append(cmds, s.Msg(msg))
	}
	return tea.Batch(cmds...)
}

// catchUp tells the present view what it missed while it was out of sight.
func (r *Root) catchUp() tea.Cmd {
	msg := r.missed[r.at]
	if msg == nil {
		return nil
	}
	r.missed[r.at] = nil
	return r.tell(r.at, msg)
}

// leave goes back from the top screen, if it agrees. There is nothing behind a
// view, so from there it goes nowhere.
func (r *Root) leave() tea.Cmd {
	top := r.top()
	var cmd tea.Cmd
	if c, ok := top.(Closer); ok {
		var may bool
		if cmd, may = c.Close(); !may {
			return cmd
		}
	}
	r.Drop(top)
	return cmd
}

// help opens the keys of the present screen.
func (r *Root) help(scope keys.Scope) { r.Push(newHelpPage(r, scope)) }
