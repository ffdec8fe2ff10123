package ui

import (
	"brine/wrasse/ui/keys"

	tea "github.com/charmbracelet/bubbletea"
)

// Init starts the program: the book is loaded by a command, so that the first
// frame waits for no file.
func (r *Root) Init() tea.Cmd {
	cmds := []tea.Cmd{r.waitMidnight()}
	if r.cfg.Init != nil {
		cmds = append(cmds, r.cfg.Init())
	}
	return tea.Batch(cmds...)
}

// Update takes one message; see the Root for what it decides itself.
func (r *Root) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	day := r.checkDay()
	cmd := tea.Batch(day, r.update(msg))
	return r, tea.Batch(cmd, r.catchUp())
}

func (r *Root) update(msg tea.Msg) tea.Cmd {
	switch msg := msg.(type) {
	case tea.WindowSizeMsg:
		r.w, r.h = msg.Width, msg.Height
		return nil
	case tea.KeyMsg:
		return tea.Batch(r.toOwner(msg), r.keystrokes(msg))
	case tea.MouseMsg:
		return r.mouse(tea.MouseEvent(msg))
	case midnight:
		return r.waitMidnight()
	case written:
		return r.written(msg)
	case overdue:
		return r.overdue(msg)
	}
	return r.broadcast(msg)
}

// written ends a write: its owner is told, and the next one or the quit that
// waited goes ahead.
func (r *Root) written(msg written) tea.Cmd {
	r.writes.ended(msg.err)
	var cmd tea.Cmd
	switch {
	case msg.job.Done != nil:
		if msg.err != nil {
			r.note(msg.err)
		}
		cmd = msg.job.Done(msg.err)
	case msg.err != nil:
		r.Fail(msg.err)
	}
	return tea.Batch(cmd, r.writes.proceed())
}

// keystrokes acts on every keystroke merged into k, in order. While nothing but the
// notice of a window too small is drawn, nobody would see what a key does, and only
// the one that the notice names acts.
func (r *Root) keystrokes(k tea.KeyMsg) tea.Cmd {
	if r.w > 0 && Lay(r.w, r.h).TooSmall {
		if k.Type == tea.KeyCtrlC {
			return r.act(keys.Quit)
		}
		return nil
	}
	defer r.outdate(r.top(), r.status.id)
	r.status.typed(r.Now())
	if !r.top().TextEntry() && r.pasted(k) && !r.finds(k) {
		r.Say("pasted text does not act; open a field for it first")
		return nil
	}
	var cmds []tea.Cmd
	for first, rest := split(k, r.top().TextEntry()); ; first, rest = split(rest, r.top().TextEntry()) {
		cmds = append(cmds, r.keystroke(first))
		if !pending(rest) {
			return tea.Batch(cmds...)
		}
	}
}

// MostKeys is how many keys may come at once and still be keys. Eight that differ take a
// fast typist a second, for which nothing but a bad line holds them back; pasted text
// that a terminal does not mark as such is longer.
const MostKeys = 8

// pasted tells a paste from keys. Quitting is asked for by hand.
func (r *Root) pasted(k tea.KeyMsg) bool {
	return k.Paste || r.cfg.AtOnce != nil && r.cfg.AtOnce() > MostKeys && k.Type != tea.KeyCtrlC
}

// finds tells whether a keystroke begins with the key of a filter. What follows is text
// there, typed or pasted, and changes nothing but what is seen.
func (r *Root) finds(k tea.KeyMsg) bool {
	first, _ := split(k, false)
	return keys.Dispatch(r.top().Scope(), first.String()) == keys.Find
}

// keystroke acts on one keystroke: text goes to the screen as it is, everything
// else by the key table.
func (r *Root) keystroke(k tea.KeyMsg) tea.Cmd {
	top := r.top()
	printable := k.Type == tea.KeyRunes || k.Type == tea.KeySpace
	if printable && top.TextEntry() {
		return top.Msg(k)
	}
	if a := keys.Dispatch(top.Scope(), k.String()); a != keys.None {
		return r.act(a)
	}
	if top.TextEntry() {
		return top.Msg(k) // an editing key
	}
	if l, ok := top.(Letterer); ok && printable && len(k.Runes) == 1 {
		return l.Letter(k.Runes[0])
	}
	return nil
}

// act carries out the actions that are the root's, and hands on the others.
func (r *Root) act(a keys.Action) tea.Cmd {
	switch a {
	case keys.Quit:
		return r.Quit()
	case keys.Back:
		if r.status.fault && !r.top().TextEntry() {
			r.status.clear(r.status.id)
			return nil
		}
		return r.leave()
	case keys.Leave:
		if len(r.pages[r.at]) == 0 || r.writes.quitting {
			return r.Quit()
		}
		return r.leave()
	case keys.Suspend:
		if r.cfg.Suspend == nil {
			return nil
		}
		return r.cfg.Suspend
	case keys.ShowKeys:
		r.help(r.top().Scope())
	case keys.NextView:
		r.Show((r.at + 1) % len(r.views))
	case keys.PrevView:
		r.Show((r.at + len(r.views) - 1) % len(r.views))
	case keys.View1, keys.View2, keys.View3, keys.View4, keys.View5, keys.View6:
		r.Show(int(a - keys.View1))
	default:
		return r.top().Act(a)
	}
	return nil
}

// outdate takes away what was said of a screen that is not the one in sight any more. What
// the same keystroke has said stands.
func (r *Root) outdate(was Screen, said int) {
	if r.top() != was && r.status.id == said && !r.status.fault {
		r.status.clear(said)
	}
}

// mouse makes of the wheel what the arrow keys do, and hands clicks on. Events
// arrive only when the keeper has asked for the mouse.
func (r *Root) mouse(e tea.MouseEvent) tea.Cmd {
	defer r.outdate(r.top(), r.status.id)
	l := r.lay(r.w, r.h)
	switch {
	case l.TooSmall || e.Action != tea.MouseActionPress:
		return nil
	case e.Button == tea.MouseButtonWheelUp:
		return r.act(keys.Up)
	case e.Button == tea.MouseButtonWheelDown:
		return r.act(keys.Down)
	case e.Button != tea.MouseButtonLeft:
		return nil
	case e.Y == r.h-1 && (!l.Compact || r.status.text == ""):
		return r.act(r.actionAt(e.X))
	case e.Y == viewLine:
		if i := r.viewAt(e.X); i >= 0 && !r.top().TextEntry() {
			r.Show(i)
		}
		return nil
	}
	for _, p := range r.places(l) {
		if c, ok := p.screen.(Clicker); ok && p.screen == r.top() && e.Y >= p.y && e.Y < p.y+p.h {
			return c.Click(e.X, e.Y-p.y)
		}
	}
	return nil
}
