package gear

import (
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/ui/list"
	"brine/wrasse/ui/words"
)

// said is the tree in plain words: what a node is stands in place of its depth.
func (v *View) said() list.Said {
	return list.Said{
		N: len(v.rows), At: v.At(),
		Section: func(int) string { return "" },
		Row:     func(i int) string { return v.sentence(v.rows[i]) },
	}
}

// sentence is one node in words.
func (v *View) sentence(n node) string {
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
		add(true, words.WhenSaid(f.s, v.desk.Today()))
	}
	add(f.latest != "", "last "+f.latest)
	add(f.note != "", f.note)
	what := map[model.Kind]string{model.KindPlace: "place ", model.KindComponent: "component ", model.KindChore: "chore "}[n.kind]
	return what + f.name + ": " + strings.Join(parts, ", ")
}

// said is a component's page in plain words.
func (p *page) said(all []entry, at int) list.Said {
	return list.Said{
		N: len(all), At: at,
		Section: func(i int) string { return all[i].section },
		Row: func(i int) string {
			if all[i].chore == "" {
				return all[i].text
			}
			c, _ := p.desk.Book.Chore(all[i].chore)
			s := c.Name
			switch st := p.desk.Round.Of(c.ID); {
			case !c.Retired.IsZero():
				s += ": retired"
			case st != nil:
				s += ": " + words.WhenSaid(st, p.desk.Today())
			}
			return s + ", " + p.sayClocks(c)
		},
	}
}
