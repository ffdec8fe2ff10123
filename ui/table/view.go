package table

import (
	"brine/wrasse/ui"
	"brine/wrasse/ui/keys"
	"brine/wrasse/ui/session"
	"brine/wrasse/ui/text"

	tea "github.com/charmbracelet/bubbletea"
)

// Spec says what a list shows: rows of type T, which keys of type K tell apart. What may
// be nil says so.
type Spec[K comparable, T any] struct {
	Rows func(query string) []T // that a filter leaves, in order
	Key  func(*T) K             // stays the same from book to book

	Section  func(*T) string             // the heading it stands under, "" for none; may be nil
	Lead     func(w int) func(*T) string // stands before a row, unless it stands before the one above; as wide for all; may be nil
	Row      func(w int) func(*T) string // draws rows of a list w cells wide: a sign behind the cursor's mark, then the row, in w-1 cells; several lines are joined by line breaks
	Sentence func(*T) string             // the row in plain words
	Top      func(w int) []string        // stands above the rows, where there are any; may be nil
	Nothing  func(w int) []string        // stands there where there are none
	Found    func() string               // how many there are, beside the filter; nil where nothing is filtered

	// Width is the cells beyond which the list has no use for more in a body w cells wide, where the detail stands beside
	// it; nil leaves the usual share.
	Width  func(w int) int
	Detail func(r *T, w, h int) []string // all there is to say, in lines of w cells; nil where the list has the whole body
	// Brief is what stands below the list where the detail has no room: its sentences in order, the first one in words for
	// more and for fewer cells. May be nil.
	Brief func(*T) (first []string, rest string)

	// Act acts on a row, and reports whether it had a use for the action.
	Act func(a keys.Action, r *T) (cmd tea.Cmd, used bool)
	// Find is a row, whatever the filter; nil once it has gone, of which Detail may be
	// asked. With Find, enter opens a page of the detail, on which the row is acted on too.
	Find func(K) *T
	// First is the row the cursor is on until it is moved. Without it the cursor stays
	// with the row it began on.
	First func([]T) int
}

// View is a list. Make one with New; the view that embeds it is the screen.
type View[K comparable, T any] struct {
	State
	spec  Spec[K, T]
	rows  []T
	loose bool // the cursor has not been moved yet and is where First says
}

// New is a list whose keys are those of scope. It has no rows before it is told of a book.
func New[K comparable, T any](d *session.Session, scope keys.Scope, spec Spec[K, T]) View[K, T] {
	return View[K, T]{State: NewState(d, scope), spec: spec, loose: spec.First != nil}
}

// Shown are the rows that the filter leaves.
func (v *View[K, T]) Shown() []T { return v.rows }

// Current is the row of the cursor, nil when there is none.
func (v *View[K, T]) Current() *T {
	if v.at < len(v.rows) {
		return &v.rows[v.at]
	}
	return nil
}

// Renew asks for the rows and keeps the cursor on its own. When that has gone, the cursor
// goes to the one that is in its place.
func (v *View[K, T]) Renew() { v.renew(func() int { return v.at }) }

// narrow is Renew after the filter has changed: without its row the cursor goes to the
// first of what is found.
func (v *View[K, T]) narrow() {
	v.renew(func() int {
		v.loose = v.spec.First != nil
		return v.first()
	})
}

func (v *View[K, T]) renew(gone func() int) {
	var on K
	row := v.Current()
	if row != nil {
		on = v.spec.Key(row)
	}
	v.rows = v.spec.Rows(v.Query())
	switch {
	case v.loose || row == nil:
		v.at = v.first()
	case v.Put(on):
	default:
		v.at = gone()
	}
	v.at = min(v.at, max(len(v.rows)-1, 0))
}

// first is where the cursor begins.
func (v *View[K, T]) first() int {
	if v.spec.First == nil {
		return 0
	}
	return v.spec.First(v.rows)
}

// Put puts the cursor on the row of a key, and reports whether there is one.
func (v *View[K, T]) Put(k K) bool {
	for i := range v.rows {
		if v.spec.Key(&v.rows[i]) == k {
			v.at, v.loose = i, false
			return true
		}
	}
	return false
}

// Act acts on the row of the cursor, or moves it.
func (v *View[K, T]) Act(a keys.Action) tea.Cmd {
	if r := v.Current(); r != nil {
		if a == keys.Open && v.spec.Find != nil {
			v.open(v.spec.Key(r))
			return nil
		}
		if cmd, used := v.spec.Act(a, r); used {
			v.loose = false
			return cmd
		}
	}
	if a == keys.Find && v.spec.Found == nil {
		return nil
	}
	w, h := v.panes(v.session.Root.Body())
	at := v.at
	cmd := v.State.Act(a, len(v.rows), h-len(v.top(w)))
	v.loose = v.loose && v.at == at
	return cmd
}

// open opens the page of a row.
func (v *View[K, T]) open(k K) {
	const tall = 1 << 16 // a page scrolls
	v.session.Root.Push(NewPage(v.session, v.scope, func(w int) []string { return v.spec.Detail(v.spec.Find(k), w, tall) },
		func(a keys.Action) (tea.Cmd, bool) {
			r := v.spec.Find(k)
			if r == nil {
				return nil, false
			}
			return v.spec.Act(a, r)
		}))
}

// Msg takes in a new book, and what is typed into the filter.
func (v *View[K, T]) Msg(msg tea.Msg) tea.Cmd {
	switch msg := msg.(type) {
	case session.BookChanged:
		v.Renew()
	case tea.KeyMsg:
		if v.Type(msg) {
			v.narrow()
		}
	}
	return nil
}

// Close gives up the filter first.
func (v *View[K, T]) Close() (tea.Cmd, bool) {
	if v.State.Close() {
		return nil, true
	}
	v.narrow()
	return nil, false
}

// Click puts the cursor on the row under the mouse.
func (v *View[K, T]) Click(x, y int) tea.Cmd {
	w, h := v.panes(v.session.Root.Body())
	top := len(v.top(w))
	if x >= w || y >= h {
		return nil
	}
	if i := v.drawn(w).RowAt(h-top, y-top); i >= 0 {
		v.at, v.loose = i, false
	}
	return nil
}

// lay shares a body out between list and detail.
func (v *View[K, T]) lay(w, h int) ui.Panes {
	want := 0
	if v.spec.Width != nil {
		want = v.spec.Width(w)
	}
	return v.session.Root.LayPanes(w, h, want, v.spec.Brief != nil)
}

// mostBrief is the most lines in which a detail is drawn in brief.
const mostBrief = 2

// brief is the row of the cursor in h lines, one or two.
func (v *View[K, T]) brief(r *T, w, h int) []string {
	first, rest := v.spec.Brief(r)
	var lines []string
	for _, s := range first {
		if lines = text.Wrap(text.Clean(s), w); len(lines) <= h {
			break
		}
	}
	if len(lines) > h {
		lines = text.Brief(text.Clean(first[len(first)-1]), w, h)
	}
	for i, l := range lines {
		lines[i] = v.session.Root.Theme().Title.Render(l)
	}
	if text.Width(rest) <= w && len(lines) < h {
		lines = append(lines, text.Clean(rest))
	}
	return lines
}

// panes is the width and height of the list in a body of w by h cells.
func (v *View[K, T]) panes(w, h int) (int, int) {
	if v.spec.Detail == nil {
		return w, h
	}
	p := v.lay(w, h)
	return p.ListW, p.ListH
}

// Render draws the rows around the cursor, and the detail of its own beside or below.
func (v *View[K, T]) Render(w, h int) string {
	switch {
	case !v.session.Loaded():
		return text.Block(nil, w, h)
	case v.spec.Detail == nil:
		return v.list(w, h)
	}
	return v.lay(w, h).Draw(v.session.Root.Theme(), v.list, func(w, h int) string {
		switch r := v.Current(); {
		case r == nil:
			return text.Block(nil, w, h)
		case h <= mostBrief && v.spec.Brief != nil:
			return text.Block(v.brief(r, w, h), w, h)
		default:
			return text.Block(v.spec.Detail(r, w, h), w, h)
		}
	})
}

// list draws what stands above the rows, and the rows.
func (v *View[K, T]) list(w, h int) string {
	lines := v.top(w)
	if len(v.rows) == 0 {
		return text.Block(append(lines, v.spec.Nothing(w)...), w, h)
	}
	return text.Block(append(lines, v.drawn(w).Lines(v.session.Root.Theme(), w, h-len(lines))...), w, h)
}

// top is the lines above the rows, which do not scroll.
func (v *View[K, T]) top(w int) []string {
	var out []string
	if v.Filtering() {
		out = append(out, v.FilterLine(v.session.Root.Theme(), v.spec.Found(), w))
	}
	if v.spec.Top != nil && len(v.rows) > 0 {
		out = append(out, v.spec.Top(w)...)
	}
	return out
}

// drawn is the rows as they are drawn in w cells.
func (v *View[K, T]) drawn(w int) Rows {
	th := v.session.Root.Theme()
	row := func(r *T) string { return Said(th, v.spec.Sentence(r), w) }
	var lead func(i int) string
	if !th.Plain {
		row = v.spec.Row(w)
		if v.spec.Lead != nil {
			of := v.spec.Lead(w)
			lead = func(i int) string { return of(&v.rows[i]) }
		}
	}
	return Rows{
		N: len(v.rows), At: v.at, Lead: lead,
		Section: func(i int) string {
			if v.spec.Section == nil {
				return ""
			}
			return v.spec.Section(&v.rows[i])
		},
		Row: func(i int) string { return row(&v.rows[i]) },
	}
}

// Remark is a line that stands where there are no rows.
func (v *View[K, T]) Remark(s string) []string {
	return []string{"", "  " + v.session.Root.Theme().Dim.Render(text.Clean(s))}
}

var _ ui.Clicker = (*View[int, int])(nil)
