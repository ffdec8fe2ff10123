// Package shelf is the Shelf view: the spares, how many are on hand, when the next
// is needed, by when to order it, and what a year of them costs. What is to be
// ordered now stands first.
package shelf

import (
	"fmt"
	"slices"
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/schedule"
	"brine/wrasse/ui"
	"brine/wrasse/ui/keys"
	"brine/wrasse/ui/parse"
	"brine/wrasse/ui/request"
	"brine/wrasse/ui/session"
	"brine/wrasse/ui/table"
	"brine/wrasse/ui/text"

	tea "github.com/charmbracelet/bubbletea"
)

// View is the Shelf. Make one with New.
type View struct {
	table.View[model.ID, schedule.SpareForecast]
	session *session.Session
	added   string     // name of a spare just added, to put the cursor on
	drawn   [][]string // the cells of all rows
}

// New is the Shelf of a window.
func New(d *session.Session) ui.Screen {
	v := &View{session: d}
	v.View = table.New(d, keys.Shelf, table.Spec[model.ID, schedule.SpareForecast]{
		Rows: v.rows, Key: func(f *schedule.SpareForecast) model.ID { return f.Spare.ID }, Find: v.find,
		Section: v.section, Row: v.row, Sentence: v.sentence, Top: v.heads, Nothing: v.nothing, Found: v.found,
		Detail: v.detail, Brief: func(f *schedule.SpareForecast) ([]string, string) { return []string{v.order(f)}, v.onHand(f) }, Act: v.change,
	})
	return v
}

// rows are the spares of the session's forecast that a filter leaves, the soonest to order
// first. What nobody has counted yet stands last: there is no telling when to order it.
func (v *View) rows(query string) []schedule.SpareForecast {
	var counted, uncounted []schedule.SpareForecast
	for _, f := range v.session.Shelf() {
		switch {
		case !table.Matches(query, f.Spare.Name, v.section(&f), v.usedBy(f.Spare.ID)):
		case f.Counted:
			counted = append(counted, f)
		default:
			uncounted = append(uncounted, f)
		}
	}
	out := append(counted, uncounted...)
	v.drawn = nil
	for i := range out {
		v.drawn = append(v.drawn, v.cells(&out[i]))
	}
	return out
}

// usedBy is the names of what uses a spare, to be found by.
func (v *View) usedBy(spare model.ID) string {
	s := ""
	for _, c := range users(v.session.Book, spare) {
		s += parse.ChoreLabel(v.session.Book, c) + " "
	}
	return s
}

// users are the chores in use whose ticks take a spare off the shelf.
func users(b *ledger.Book, spare model.ID) []model.Chore {
	var out []model.Chore
	for _, c := range b.Chores() {
		comp, _ := b.Component(c.Component)
		if c.Retired.IsZero() && comp.Retired.IsZero() && quantity(c, spare) > 0 {
			out = append(out, c)
		}
	}
	return out
}

// quantity is what one tick of a chore takes of a spare.
func quantity(c model.Chore, spare model.ID) float64 {
	i := slices.IndexFunc(c.Spares, func(u model.SpareUse) bool { return u.Spare == spare })
	if i < 0 {
		return 0
	}
	return c.Spares[i].Quantity
}

// Act adds a spare, or acts on the one at the cursor.
func (v *View) Act(a keys.Action) tea.Cmd {
	if a == keys.Add {
		return v.edit(model.Spare{Unit: "pc", LeadDays: 7})
	}
	return v.View.Act(a)
}

// Msg takes in a new round. What was added draws the cursor off its spare.
func (v *View) Msg(msg tea.Msg) tea.Cmd {
	cmd := v.View.Msg(msg)
	if _, ok := msg.(session.BookChanged); ok && v.added != "" {
		for _, f := range v.Shown() {
			if f.Spare.Name == v.added {
				v.Put(f.Spare.ID)
			}
		}
		v.added = ""
	}
	return cmd
}

// find is the forecast of a spare, nil when it is not in use any more.
func (v *View) find(id model.ID) *schedule.SpareForecast {
	all := v.session.Shelf()
	for i := range all {
		if all[i].Spare.ID == id {
			return &all[i]
		}
	}
	return nil
}

// change acts on a spare, and reports whether that was asked for.
func (v *View) change(a keys.Action, f *schedule.SpareForecast) (cmd tea.Cmd, used bool) {
	switch a {
	case keys.More:
		return v.stock(f.Spare, step(f.Spare)), true
	case keys.Fewer:
		if !f.Counted {
			v.session.Root.Say(f.Spare.Name + " is not counted yet; e counts it")
			return nil, true
		}
		return v.stock(f.Spare, -step(f.Spare)), true
	case keys.Edit:
		return v.edit(f.Spare), true
	case keys.Retire:
		return v.session.Do("retiring "+f.Spare.Name, request.Retire(v.session.Stamp(), model.KindSpare, f.Spare.ID)), true
	}
	return nil, false
}

// step is what + and - change by: one piece, litre or kilogram, or as many of a small
// unit as can be told apart on a shelf.
func step(s model.Spare) float64 {
	if s.Unit == "g" || s.Unit == "mL" {
		return 50
	}
	return 1
}

// stock writes that there is more of a spare, or less.
func (v *View) stock(s model.Spare, change float64) tea.Cmd {
	return v.session.Do("counting "+s.Name, request.Log{Stamp: v.session.Stamp(), What: model.Stock{Spare: s.ID, Change: change}})
}

// Aside is how much is to be ordered, and what a year costs.
func (v *View) Aside(room int) string {
	low, uncounted, cost := 0, 0, 0.0
	for _, f := range v.session.Shelf() {
		cost += f.YearCost
		switch {
		case v.low(&f):
			low++
		case !f.Counted:
			uncounted++
		}
	}
	var parts []string
	if low > 0 {
		parts = append(parts, fmt.Sprintf("%d to order now", low))
	}
	if uncounted > 0 {
		parts = append(parts, fmt.Sprintf("%d not counted yet", uncounted))
	}
	if cost > 0 {
		parts = append(parts, "a year costs "+money(cost))
	}
	return text.Longest(room, strings.Join(parts, " · "))
}
