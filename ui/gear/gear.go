// Package gear is the Gear view: places, the components that stand there and their
// chores, as a tree to add to, edit, move, copy and retire; and the pages of a
// component and of a chore's definition.
//
// Everything that is changed here is written as a whole later definition, made of the
// one in the book at the moment of writing. What it does to the dates is worked out in
// a command while it is typed and stands below the form.
package gear

import (
	"slices"

	"brine/wrasse/model"
	"brine/wrasse/schedule"
	"brine/wrasse/ui"
	"brine/wrasse/ui/act"
	"brine/wrasse/ui/ask"
	"brine/wrasse/ui/desk"
	"brine/wrasse/ui/foresee"
	"brine/wrasse/ui/keys"
	"brine/wrasse/ui/list"

	tea "github.com/charmbracelet/bubbletea"
)

// View is the Gear tree. Make one with New.
type View struct {
	list.State
	editor
	open opened
	rows []node
}

// New is the Gear of a window.
func New(d *desk.Desk) ui.Screen {
	v := &View{State: list.New(d, keys.Gear), open: opened{}}
	v.editor = editor{desk: d, maker: schedule.NewMaker(), put: func(k key) { v.find(k) }}
	return v
}

// EditChore opens the definition of a chore, for other screens that show it.
func EditChore(d *desk.Desk, id model.ID) {
	e := editor{desk: d, maker: schedule.NewMaker()}
	e.openChore(id)
}

// renew builds the tree anew and keeps the cursor on its node.
func (v *View) renew() {
	at, ok := v.selected()
	t := tree{book: v.desk.Book, query: v.Query(), open: v.open}
	v.rows = t.build()
	v.Put(min(v.At(), max(len(v.rows)-1, 0)))
	if ok {
		v.find(at.key())
	}
}

// find puts the cursor on a node, opening what it stands in.
func (v *View) find(k key) {
	if !slices.ContainsFunc(v.rows, func(n node) bool { return n.key() == k }) {
		for _, above := range v.above(k) {
			v.open[above] = true
		}
		t := tree{book: v.desk.Book, query: v.Query(), open: v.open}
		v.rows = t.build()
	}
	for i, n := range v.rows {
		if n.key() == k {
			v.Put(i)
		}
	}
}

// above are the branches a node stands in.
func (v *View) above(k key) []key {
	switch k.kind {
	case model.KindCounter, model.KindGauge:
		return []key{{}}
	case model.KindComponent:
		c, _ := v.desk.Book.Component(k.id)
		return []key{{model.KindPlace, c.Place}}
	case model.KindChore:
		c, _ := v.desk.Book.Chore(k.id)
		return append(v.above(key{model.KindComponent, c.Component}), key{model.KindComponent, c.Component})
	}
	return nil
}

// selected is the node of the cursor; ok is false when there is none.
func (v *View) selected() (n node, ok bool) {
	if v.At() < len(v.rows) {
		return v.rows[v.At()], true
	}
	return node{}, false
}

// Act moves, opens and closes branches, and acts on the node at the cursor.
func (v *View) Act(a keys.Action) tea.Cmd {
	n, ok := v.selected()
	switch {
	case a == keys.Add:
		v.addHere(n, ok)
		return nil
	case !ok:
	case a == keys.Right:
		v.unfold(n, true)
		return nil
	case a == keys.Left:
		v.fold(n)
		return nil
	case a == keys.Open && (n.kind == model.KindPlace || n.kind == ""):
		v.unfold(n, !v.open.open(n))
		return nil
	case a == keys.Open:
		v.visit(n)
		return nil
	default:
		if cmd, used := v.change(a, n); used {
			return cmd
		}
	}
	w, h := v.desk.Root.Body()
	return v.State.Act(a, len(v.rows), v.desk.Root.LayPanes(w, h).ListH)
}

// unfold opens or closes a branch.
func (v *View) unfold(n node, open bool) {
	if n.kids > 0 {
		v.open[n.key()] = open
		v.renew()
	}
}

// fold closes the branch a node is or stands in, and goes to it.
func (v *View) fold(n node) {
	if n.kids > 0 && v.open.open(n) {
		v.unfold(n, false)
		return
	}
	for i := v.At(); i >= 0; i-- {
		if v.rows[i].depth < n.depth {
			v.Put(i)
			return
		}
	}
}

// visit opens the page of a node, or its form where it has none.
func (v *View) visit(n node) {
	switch n.kind {
	case model.KindComponent:
		v.openComponent(n.id)
	case model.KindChore:
		v.openChore(n.id)
	default:
		v.edit(n.key())
	}
}

// change acts on a node, and reports whether that was asked for.
func (v *View) change(a keys.Action, n node) (cmd tea.Cmd, used bool) {
	switch a {
	case keys.Edit:
		return v.edit(n.key()), true
	case keys.Retire:
		return v.retire(n.key()), true
	case keys.Move:
		return v.move(n.key()), true
	case keys.Copy:
		return v.copy(n.key()), true
	case keys.Flag, keys.Fault, keys.Reach:
		component := v.componentOf(n)
		if component == "" {
			v.desk.Root.Say("that is done to a component; go to one")
			return nil, true
		}
		return askOf(v.desk, a, component), true
	}
	return nil, false
}

// askOf puts the question of an action about a component.
func askOf(d *desk.Desk, a keys.Action, component model.ID) tea.Cmd {
	switch a {
	case keys.Flag:
		return ask.Flag(d, component)
	case keys.Fault:
		return ask.Fault(d, component)
	}
	return ask.Reach(d, component)
}

// componentOf is the component a node is, or belongs to.
func (v *View) componentOf(n node) model.ID {
	switch n.kind {
	case model.KindComponent:
		return n.id
	case model.KindChore:
		c, _ := v.desk.Book.Chore(n.id)
		return c.Component
	}
	return ""
}

// Msg takes in a new book, a typed filter, and what was foreseen.
func (v *View) Msg(msg tea.Msg) tea.Cmd {
	switch msg := msg.(type) {
	case desk.Fresh:
		v.renew()
	case foresee.Seen:
		msg.Deliver()
	case tea.KeyMsg:
		if v.Type(msg) {
			v.renew()
		}
	}
	return nil
}

// Close gives up the filter first.
func (v *View) Close() (tea.Cmd, bool) {
	if v.State.Close() {
		return nil, true
	}
	v.renew()
	return nil, false
}

// Click puts the cursor on the row under the mouse.
func (v *View) Click(x, y int) tea.Cmd {
	p := v.desk.Root.LayPanes(v.desk.Root.Body())
	if v.desk.Root.Theme().Plain {
		top := v.Top(0)
		v.State.Click(v.said().RowAt(p.ListW, p.ListH-top, y-top), len(v.rows))
		return nil
	}
	top, n := v.Top(1), len(v.rows)
	if x < p.ListW && y >= top && y < p.ListH {
		v.State.Click(ui.Window(v.At(), n, p.ListH-top)+y-top, n)
	}
	return nil
}

// editor opens the forms that define things.
type editor struct {
	desk  *desk.Desk
	maker *schedule.Maker // for looking ahead, apart from the desk's
	put   func(key)       // puts a cursor on what was just added; may be nil
}

// added puts the cursor on what the latest act defined first.
func (e *editor) added() tea.Cmd {
	if e.put == nil {
		return nil
	}
	entries := e.desk.Wrote()
	if len(entries) == 0 {
		return nil
	}
	switch w := entries[0].Body.(type) {
	case model.Place:
		e.put(key{model.KindPlace, w.ID})
	case model.Component:
		e.put(key{model.KindComponent, w.ID})
	case model.Chore:
		e.put(key{model.KindChore, w.ID})
	case model.Counter:
		e.put(key{model.KindCounter, w.ID})
	case model.Gauge:
		e.put(key{model.KindGauge, w.ID})
	}
	return nil
}

// define is a job that writes one definition made anew, its id from its name.
func (e *editor) define(op string, made func(b *model.Book) model.Body) ui.Job {
	return e.desk.Job(op, act.Define{Stamp: e.desk.Stamp(), Make: func(b *model.Book) ([]model.Body, error) {
		return []model.Body{made(b)}, nil
	}}, e.added)
}
