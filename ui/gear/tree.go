package gear

import (
	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/schedule"
	"brine/wrasse/ui/table"
)

// node is a line of the tree: a place, a component, a chore, or, under a heading of
// their own, a vessel, a counter or a gauge.
type node struct {
	kind  model.Kind // "" for the heading of the vessels, counters and gauges
	id    model.ID
	name  string
	depth int
	kids  int // lines it would open to
}

// key tells nodes apart: ids are unique within their kind only.
type key struct {
	kind model.Kind
	id   model.ID
}

func (n *node) key() key { return key{n.kind, n.id} }

// opened says which branches are open where the keeper has chosen otherwise than the
// tree does: places are open, what is deeper is closed.
type opened map[key]bool

func (o opened) open(n *node) bool {
	if open, chosen := o[n.key()]; chosen {
		return open
	}
	return n.kind == model.KindPlace
}

// tree is the lines of a book, of which a query keeps those that match, with what
// they stand in and, of a match, what it holds.
type tree struct {
	book  *ledger.Book
	query string
	open  opened
	lines []node

	standing map[model.ID][]*model.Component // by place
	chores   map[model.ID][]*model.Chore     // by component
}

func (t *tree) build() []node {
	t.sort()
	for _, p := range t.book.Places() {
		t.place(p)
	}
	t.measures()
	if def := t.book.Def(); (len(t.lines) > 0 || t.query != "") && table.Matches(t.query, "The book", def.Name, " units care") {
		t.lines = append(t.lines, node{kind: model.KindBook, name: "The book"})
	}
	return t.lines
}

// sort sorts components and chores by what they belong to, so that each is looked at
// once, and those in service stand first.
func (t *tree) sort() {
	t.standing, t.chores = map[model.ID][]*model.Component{}, map[model.ID][]*model.Chore{}
	components, chores := t.book.Components(), t.book.Chores()
	for _, retired := range []bool{false, true} {
		for i := range components {
			if c := &components[i]; c.Retired.IsZero() != retired {
				t.standing[c.Place] = append(t.standing[c.Place], c)
			}
		}
		for i := range chores {
			if c := &chores[i]; c.Retired.IsZero() != retired {
				t.chores[c.Component] = append(t.chores[c.Component], c)
			}
		}
	}
}

// place adds a place and what stands there.
func (t *tree) place(p model.Place) {
	own := table.Matches(t.query, p.Name)
	n := node{kind: model.KindPlace, id: p.ID, name: p.Name}
	var below []node
	for _, c := range t.standing[p.ID] {
		n.kids++
		below = append(below, t.component(c, own)...)
	}
	t.lines = append(t.lines, t.kept(n, below, own)...)
}

// component is a component and its chores; none when a query keeps neither.
func (t *tree) component(c *model.Component, within bool) []node {
	own := within || table.Matches(t.query, c.Name)
	n := node{kind: model.KindComponent, id: c.ID, name: c.Name, depth: 1}
	var below []node
	for _, ch := range t.chores[c.ID] {
		n.kids++
		if own || table.Matches(t.query, ch.Name, c.Name) {
			below = append(below, node{kind: model.KindChore, id: ch.ID, name: ch.Name, depth: 2})
		}
	}
	return t.kept(n, below, own)
}

// kept is a node with the lines below it that are to be seen.
func (t *tree) kept(n node, below []node, own bool) []node {
	switch {
	case !own && len(below) == 0:
		return nil
	case t.query == "" && !t.open.open(&n), own && t.query != "" && !t.open.open(&n):
		return []node{n}
	}
	return append([]node{n}, below...)
}

const measuresHead = "Vessels, counters, gauges"

// measures adds the vessels, counters and gauges under their heading.
func (t *tree) measures() {
	n := node{name: measuresHead}
	var below []node
	add := func(kind model.Kind, id model.ID, name string) {
		n.kids++
		if table.Matches(t.query, name, string(kind)) {
			below = append(below, node{kind: kind, id: id, name: name, depth: 1})
		}
	}
	for _, v := range t.book.Vessels() {
		add(model.KindVessel, v.ID, v.Name)
	}
	for _, c := range t.book.Counters() {
		add(model.KindCounter, c.ID, c.Name)
	}
	for _, g := range t.book.Gauges() {
		add(model.KindGauge, g.ID, g.Name)
	}
	if n.kids > 0 {
		t.lines = append(t.lines, t.kept(n, below, false)...)
	}
}

// choresOf are the chores of a component in the order of the round, those that take
// no part in it last.
func choresOf(b *ledger.Book, r *schedule.Round, component model.ID) []model.Chore {
	var out, rest []model.Chore
	for i := range r.Standings {
		if r.Standings[i].Component.ID == component {
			out = append(out, r.Standings[i].Chore)
		}
	}
	for _, c := range b.Chores() {
		if c.Component == component && r.Of(c.ID) == nil {
			rest = append(rest, c)
		}
	}
	return append(out, rest...)
}

// first is the chore of a component that the round puts first, nil when none takes
// part.
func first(r *schedule.Round, component model.ID) *schedule.Standing {
	for i := range r.Standings {
		if r.Standings[i].Component.ID == component {
			return &r.Standings[i]
		}
	}
	return nil
}

// broken is the open fault of a component, nil when there is none.
func broken(r *schedule.Round, component model.ID) *schedule.OpenFault {
	for i := range r.Faults {
		if r.Faults[i].Component.ID == component {
			return &r.Faults[i]
		}
	}
	return nil
}
