// Package gear is the Gear view: places, the components that stand there and their
// chores, as a tree to add to, edit, move, copy and retire; and the pages of a
// component and of a chore's definition.
//
// Everything that is changed here is written as a whole later definition, made of the
// one in the book at the moment of writing. What it does to the dates is worked out in
// a command while it is typed and stands below the form.
package gear

import (
	"brine/wrasse/model"
	"brine/wrasse/ui"
	"brine/wrasse/ui/keys"
	"brine/wrasse/ui/preview"
	"brine/wrasse/ui/prompt"
	"brine/wrasse/ui/session"
	"brine/wrasse/ui/table"
	"brine/wrasse/ui/text"

	tea "github.com/charmbracelet/bubbletea"
)

// View is the Gear tree. Make one with New.
type View struct {
	table.View[key, node]
	editor
	open   opened
	widest int // of the names in the rows, in cells
}

// New is the Gear of a window.
func New(d *session.Session) ui.Screen {
	v := &View{open: opened{}}
	v.editor = editor{session: d, put: v.reveal}
	v.View = table.New(d, keys.Gear, table.Spec[key, node]{
		Rows: v.rows, Key: (*node).key,
		Row: v.row, Sentence: v.sentence, Top: v.heads, Nothing: v.nothing, Found: v.found,
		Detail: v.detail, Width: v.enough, Act: v.act,
	})
	return v
}

// EditChore opens the definition of a chore, for other screens that show it.
func EditChore(d *session.Session, id model.ID) {
	e := editor{session: d}
	e.openChore(id)
}

// rows are the lines of the tree that a filter leaves.
func (v *View) rows(query string) []node {
	t := tree{book: v.session.Book, query: query, open: v.open}
	nodes := t.build()
	v.widest = 0
	for i := range nodes {
		v.widest = max(v.widest, text.Width(v.branch(&nodes[i])+text.Clean(nodes[i].name)))
	}
	return nodes
}

// reveal puts the cursor on a node, opening what it stands in.
func (v *View) reveal(k key) {
	if v.Put(k) {
		return
	}
	for _, above := range v.above(k) {
		v.open[above] = true
	}
	v.Renew()
	v.Put(k)
}

// above are the branches a node stands in.
func (v *View) above(k key) []key {
	switch k.kind {
	case model.KindVessel, model.KindCounter, model.KindGauge:
		return []key{{}}
	case model.KindComponent:
		c, _ := v.session.Book.Component(k.id)
		return []key{{model.KindPlace, c.Place}}
	case model.KindChore:
		c, _ := v.session.Book.Chore(k.id)
		return append(v.above(key{model.KindComponent, c.Component}), key{model.KindComponent, c.Component})
	}
	return nil
}

// Act adds something, moves, or acts on the node at the cursor.
func (v *View) Act(a keys.Action) tea.Cmd {
	if a == keys.Add {
		v.addHere(v.Current())
		return nil
	}
	return v.View.Act(a)
}

// act opens and closes branches, and changes a node.
func (v *View) act(a keys.Action, n *node) (cmd tea.Cmd, used bool) {
	switch {
	case a == keys.Right:
		v.unfold(n, true)
	case a == keys.Left:
		v.fold(n)
	case a == keys.Open && (n.kind == model.KindPlace || n.kind == ""):
		v.unfold(n, !v.open.open(n))
	case a == keys.Open:
		v.visit(n)
	default:
		return v.change(a, n)
	}
	return nil, true
}

// unfold opens or closes a branch.
func (v *View) unfold(n *node, open bool) {
	if n.kids > 0 {
		v.open[n.key()] = open
		v.Renew()
	}
}

// fold closes the branch a node is or stands in, and goes to it.
func (v *View) fold(n *node) {
	if n.kids > 0 && v.open.open(n) {
		v.unfold(n, false)
		return
	}
	above := v.Shown()[:v.At()]
	for i := len(above) - 1; i >= 0; i-- {
		if above[i].depth < n.depth {
			v.Put(above[i].key())
			return
		}
	}
}

// visit opens the page of a node, or its form where it has none.
func (v *View) visit(n *node) {
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
func (v *View) change(a keys.Action, n *node) (cmd tea.Cmd, used bool) {
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
			v.session.Root.Say("flags, faults and reach are of components; go to one")
			return nil, true
		}
		return prompt.About(v.session, a, component)
	}
	return nil, false
}

// componentOf is the component a node is, or belongs to.
func (v *View) componentOf(n *node) model.ID {
	switch n.kind {
	case model.KindComponent:
		return n.id
	case model.KindChore:
		c, _ := v.session.Book.Chore(n.id)
		return c.Component
	}
	return ""
}

// Msg takes in a new book, a typed filter, and what was foreseen.
func (v *View) Msg(msg tea.Msg) tea.Cmd {
	if seen, ok := msg.(preview.Ready); ok {
		seen.Deliver()
	}
	return v.View.Msg(msg)
}

// editor opens the forms that define things.
type editor struct {
	session *session.Session
	put     func(key) // puts a cursor on what was just added; may be nil
}

// added puts the cursor on the first row of the tree that the latest act made.
func (e *editor) added() tea.Cmd {
	if e.put == nil {
		return nil
	}
	entries := e.session.Wrote()
	if len(entries) == 0 {
		return nil
	}
	for i := range entries {
		if k := entries[i].Kind; k != model.KindSpare && entries[i].DefinedID() != "" { // spares are no part of the tree
			e.put(key{k, entries[i].DefinedID()})
			break
		}
	}
	return nil
}
