package command

import (
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/ui/parse"
)

type listOut struct {
	Book   string     `json:"book" says:"the name of the book"`
	Things []thingOut `json:"things" says:"in use, by kind, in the order they were defined"`
}

type thingOut struct {
	Kind      model.Kind `json:"kind" says:"chore, component, counter, gauge, spare, vessel or place"`
	ID        model.ID   `json:"id" says:"its id, which commands take"`
	Name      string     `json:"name" says:"its name"`
	Component *model.ID  `json:"component" says:"of a chore, and of a gauge that has one"`
	Place     *model.ID  `json:"place" says:"of a component"`
	Unit      *string    `json:"unit" says:"of a counter, gauge or spare"`
}

// listed are the kinds that list takes, by their plurals.
var listed = []string{"chores", "components", "counters", "gauges", "spares", "vessels", "places"}

func (p *program) listCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "list [KIND]",
		Short: "Print the ids and names of what the book has in use",
		Long: `Prints the ids that commands take, with the name of each: of one KIND (` + strings.Join(listed[:3], ", ") + `,
` + strings.Join(listed[3:], ", ") + `) or of all.`,
		Example: "  wrasse list gauges\n  wrasse list --json",
		Args:    wordCount(0, 1, "at most a kind: "+strings.Join(listed, ", ")),
		RunE: func(_ *cobra.Command, args []string) error {
			kinds := listed
			if len(args) == 1 {
				if !slices.Contains(listed, args[0]) {
					return usagef("%q is no kind; give one of %s", args[0], strings.Join(listed, ", "))
				}
				kinds = args
			}
			b, err := p.load()
			if err != nil {
				return err
			}
			return p.list(b, kinds)
		},
	}
}

func (p *program) list(b *ledger.Book, kinds []string) error {
	data := listOut{Book: b.Def().Name}
	var out page
	for i, plural := range kinds {
		things := inUse(b, plural)
		data.Things = append(data.Things, things...)
		if len(kinds) > 1 && i > 0 {
			out.line("")
		}
		if len(kinds) > 1 {
			out.line("%s", plural)
		}
		var rows [][]string
		for _, t := range things {
			unit := ""
			if t.Unit != nil {
				unit = parse.UnitName(parse.Unit(*t.Unit, b.Def().Units))
			}
			rows = append(rows, []string{string(t.ID), t.label(b), unit})
		}
		out.table(rows).says(1, false)
	}
	return p.print(&out, data)
}

// label is what a thing is called on its own.
func (t thingOut) label(b *ledger.Book) string {
	if c, ok := b.Chore(t.ID); ok && t.Kind == model.KindChore {
		return parse.ChoreLabel(b, c)
	}
	return t.Name
}

// inUse is what a book has in use of a kind, by its plural.
func inUse(b *ledger.Book, plural string) (out []thingOut) {
	add := func(t thingOut, retired ...model.Date) {
		if !slices.ContainsFunc(retired, func(d model.Date) bool { return !d.IsZero() }) {
			out = append(out, t)
		}
	}
	switch plural {
	case "chores":
		for _, c := range b.Chores() {
			of, _ := b.Component(c.Component)
			add(thingOut{Kind: c.Kind(), ID: c.ID, Name: c.Name, Component: &c.Component}, c.Retired, of.Retired)
		}
	case "components":
		for _, c := range b.Components() {
			add(thingOut{Kind: c.Kind(), ID: c.ID, Name: c.Name, Place: &c.Place}, c.Retired)
		}
	case "counters":
		for _, c := range b.Counters() {
			add(thingOut{Kind: c.Kind(), ID: c.ID, Name: c.Name, Unit: &c.Unit}, c.Retired)
		}
	case "gauges":
		for _, g := range b.Gauges() {
			add(thingOut{Kind: g.Kind(), ID: g.ID, Name: g.Name, Unit: &g.Unit, Component: orNull(g.Component)}, g.Retired)
		}
	case "spares":
		for _, s := range b.Spares() {
			add(thingOut{Kind: s.Kind(), ID: s.ID, Name: s.Name, Unit: &s.Unit}, s.Retired)
		}
	case "vessels":
		for _, v := range b.Vessels() {
			add(thingOut{Kind: v.Kind(), ID: v.ID, Name: v.Name, Place: &v.Place}, v.Retired)
		}
	case "places":
		for _, at := range b.Places() {
			add(thingOut{Kind: at.Kind(), ID: at.ID, Name: at.Name})
		}
	}
	return out
}
