package gear

import (
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/ui/phrase"
)

// sentence is one node in words.
func (v *View) sentence(n *node) string {
	f := v.factsOf(n)
	var parts []string
	add := func(ok bool, s string) {
		if ok {
			parts = append(parts, s)
		}
	}
	add(n.kids > 0 && v.open.open(n), "open")
	add(n.kids > 0 && !v.open.open(n), "closed")
	add(f.retired, "retired")
	add(f.reach != "", "reach "+f.reach)
	add(f.minutes != "" && f.minutes != "-", f.minutes+" min")
	if f.s != nil && !f.retired {
		add(true, phrase.WhenSaid(f.s, v.session.Today()))
	}
	add(f.latest != "", "last "+f.latest)
	add(f.note != "", f.note)
	what := map[model.Kind]string{model.KindBook: "book ", model.KindPlace: "place ", model.KindComponent: "component ", model.KindChore: "chore "}[n.kind]
	return what + n.name + ": " + strings.Join(parts, ", ")
}

// sentence is an entry of a component's page in words.
func (p *page) sentence(e *entry) string {
	if e.chore == "" {
		return e.text
	}
	c, _ := p.session.Book.Chore(e.chore)
	s := c.Name
	switch st := p.session.Round.Of(c.ID); {
	case !c.Retired.IsZero():
		s += ": retired"
	case st != nil:
		s += ": " + phrase.WhenSaid(st, p.session.Today())
	}
	return s + ", " + p.sayClocks(c)
}
