// Package shelf is the Shelf view: the spares, how many are on hand, when the next
// is needed, by when to order it, and what a year of them costs. What is to be
// ordered now stands first.
package shelf

import (
	"fmt"
	"slices"
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/schedule"
	"brine/wrasse/ui"
	"brine/wrasse/ui/act"
	"brine/wrasse/ui/desk"
	"brine/wrasse/ui/keys"
	"brine/wrasse/ui/list"
	"brine/wrasse/ui/text"
	"brine/wrasse/ui/typed"

	tea "github.com/charmbracelet/bubbletea"
)

// View is the Shelf. Make one with New.
type View struct {
	list.State
	desk  *desk.Desk
	rows  []schedule.SpareForecast // what the filter leaves, the soonest to order first
	added string                   // name of a spare just added, to put the cursor on
}

// New is the Shelf of a window.
func New(d *desk.Desk) ui.Screen { return &View{State: list.New(d, keys.Shelf), desk: d} }

// renew takes in the desk's forecast and the filter, and keeps the cursor on its spare.
// What nobody has counted yet stands last: there is no telling when to order it.
func (v *View) renew() {
	at := v.spare()
	v.rows = nil
	var uncounted []schedule.SpareForecast
	for _, f := range v.desk.Shelf() {
		switch {
		case !list.Matches(v.Query(), f.Spare.Name, v.section(&f), v.usedBy(f.Spare.ID)):
		case v.counted(&f):
			v.rows = append(v.rows, f)
		default:
			uncounted = append(uncounted, f)
		}
	}
	v.rows = append(v.rows, uncounted...)
	v.Put(min(v.At(), max(len(v.rows)-1, 0)))
	for i, f := range v.rows {
		if f.Spare.ID == at {
			v.Put(i)
		}
	}
	for i, f := range v.rows {
		if v.added != "" && f.Spare.Name == v.added { // what was added draws the cursor off its spare
			v.Put(i)
		}
	}
	v.added = ""
}

// usedBy is the names of what uses a spare, to be found by.
func (v *View) usedBy(spare model.ID) string {
	s := ""
	for _, c := range users(v.desk.Book, spare) {
		s += typed.ChoreLabel(v.desk.Book, c) + " "
	}
	return s
}

// users are the chores in use whose ticks take a spare off the shelf.
func users(b *model.Book, spare model.ID) []model.Chore {
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

// selected is the row of the cursor, nil when there is none.
func (v *View) selected() *schedule.SpareForecast {
	if v.At() < len(v.rows) {
		return &v.rows[v.At()]
	}
	return nil
}

// spare is the id of the spare at the cursor.
func (v *View) spare() model.ID {
	if f := v.selected(); f != nil {
		return f.Spare.ID
	}
	return ""
}

// Act moves, and acts on the spare at the cursor.
func (v *View) Act(a keys.Action) tea.Cmd {
	if a == keys.Add {
		return v.edit(model.Spare{Unit: "pc", LeadDays: 7})
	}
	if f := v.selected(); f != nil {
		id := f.Spare.ID
		if a == keys.Open {
			v.desk.Root.Push(list.NewPage(v.desk, keys.Shelf, func(w int) []string { return v.detail(v.find(id), w) },
				func(a keys.Action) (tea.Cmd, bool) { return v.change(a, v.find(id)) }))
			return nil
		}
		if cmd, used := v.change(a, f); used {
			return cmd
		}
	}
	w, h := v.desk.Root.Body()
	return v.State.Act(a, len(v.rows), v.desk.Root.LayPanes(w, h).ListH)
}

// find is the forecast of a spare, nil when it is not in use any more.
func (v *View) find(id model.ID) *schedule.SpareForecast {
	all := v.desk.Shelf()
	for i := range all {
		if all[i].Spare.ID == id {
			return &all[i]
		}
	}
	return nil
}

// change acts on a spare, and reports whether that was asked for.
func (v *View) change(a keys.Action, f *schedule.SpareForecast) (cmd tea.Cmd, used bool) {
	if f == nil {
		return nil, false
	}
	switch a {
	case keys.More:
		return v.put(f.Spare, step(f.Spare)), true
	case keys.Fewer:
		return v.put(f.Spare, -step(f.Spare)), true
	case keys.Edit:
		return v.edit(f.Spare), true
	case keys.Retire:
		return v.desk.Do("retiring "+f.Spare.Name, act.Retire(v.desk.Stamp(), model.KindSpare, f.Spare.ID)), true
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

func (v *View) put(s model.Spare, change float64) tea.Cmd {
	return v.desk.Do("counting "+s.Name, act.Stock{Stamp: v.desk.Stamp(), Stock: model.Stock{Spare: s.ID, Change: change}})
}

// Msg takes in a new round and a typed filter.
func (v *View) Msg(msg tea.Msg) tea.Cmd {
	switch msg := msg.(type) {
	case desk.Fresh:
		v.renew()
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

// Aside is how much is to be ordered, and what a year costs.
func (v *View) Aside(room int) string {
	low, uncounted, cost := 0, 0, 0.0
	for _, f := range v.desk.Shelf() {
		cost += f.YearCost
		switch {
		case v.low(&f):
			low++
		case !v.counted(&f):
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
	s := strings.Join(parts, " · ")
	if text.Width(s) > room {
		return ""
	}
	return s
}

// Click puts the cursor on the row under the mouse.
func (v *View) Click(x, y int) tea.Cmd {
	p := v.desk.Root.LayPanes(v.desk.Root.Body())
	if v.desk.Root.Theme().Plain {
		top := v.Top(0)
		v.State.Click(v.said().RowAt(p.ListW, p.ListH-top, y-top), len(v.rows))
		return nil
	}
	top := v.Top(1)
	if x < p.ListW && y >= top && y < p.ListH {
		v.State.Click(list.SectionRowAt(len(v.rows), v.At(), p.ListH-top, y-top, func(i int) string { return v.section(&v.rows[i]) }), len(v.rows))
	}
	return nil
}
