package shelf

import (
	"fmt"
	"math"

	"brine/wrasse/model"
	"brine/wrasse/schedule"
	"brine/wrasse/ui/list"
	"brine/wrasse/ui/text"
	"brine/wrasse/ui/typed"
	"brine/wrasse/ui/words"
)

// The sections, in order.
const (
	sectionNow       = "order now"
	sectionSoon      = "order within a month"
	sectionLater     = "order later"
	sectionLasts     = "lasts the year"
	sectionUncounted = "not counted yet"
)

const soonDays = 30

// counted tells whether anybody ever said how much of a spare there is.
func (v *View) counted(f *schedule.SpareForecast) bool {
	return words.Counted(v.desk.Book, f.Spare.ID)
}

// low tells that an order is due, or that what was counted can't be right any more.
func (v *View) low(f *schedule.SpareForecast) bool {
	return v.counted(f) && !f.OrderBy.IsZero() && f.OrderBy <= v.desk.Today()
}

// section is when a spare is to be ordered.
func (v *View) section(f *schedule.SpareForecast) string {
	switch {
	case !v.counted(f):
		return sectionUncounted
	case v.low(f):
		return sectionNow
	case f.OrderBy.IsZero():
		return sectionLasts
	case f.OrderBy.Sub(v.desk.Today()) <= soonDays:
		return sectionSoon
	}
	return sectionLater
}

// Render draws the spares around the cursor, and the one at it beside or below.
func (v *View) Render(w, h int) string {
	if !v.desk.Loaded() {
		return text.Block(nil, w, h)
	}
	return v.desk.Root.LayPanes(w, h).Draw(v.desk.Root.Theme(), v.list, func(w, h int) string {
		return text.Block(v.detail(v.selected(), w), w, h)
	})
}

const gap = 1

// Widths from which a row says more.
const (
	costFrom = 56
	usedFrom = 66
	useFrom  = 76
)

// nameMost is the widest a name may be: figures stay near their names.
const nameMost = 48

// columns are those of the list in w cells: name, on hand, order by, next use, used a
// year, cost a year.
func columns(w int) []text.Column {
	c := []text.Column{{}, {Width: 9, Right: true}, {Width: 9, Right: true}, {Width: 9, Right: true}, {Width: 9, Right: true}, {Width: 7, Right: true}}
	if w < useFrom {
		c[3].Width = 0
	}
	if w < usedFrom {
		c[4].Width = 0
	}
	if w < costFrom {
		c[5].Width = 0
	}
	c[0].Width = min(max(w-2-text.RowWidth(gap, c)-gap, 8), nameMost)
	return c
}

// list draws the filter, where there is one, the heads of the columns and the rows.
func (v *View) list(w, h int) string {
	th := v.desk.Root.Theme()
	var lines []string
	if v.Filtering() {
		lines = append(lines, v.FilterLine(th, fmt.Sprintf("%d of %s", len(v.rows), words.Count(len(v.desk.Shelf()), "spare")), w))
	}
	if len(v.rows) == 0 {
		lines = append(lines, "", "  "+th.Dim.Render(v.nothing()))
		return text.Block(lines, w, h)
	}
	if th.Plain {
		return text.Block(append(lines, v.said().Lines(th, w, h-len(lines))...), w, h)
	}
	cols := columns(w)
	lines = append(lines, th.Dim.Render("  "+text.Row(gap, cols, "", "on hand", "order by", "next use", "a year", "cost")))
	lines = append(lines, list.Sections(th, len(v.rows), v.At(), h-len(lines),
		func(i int) string { return v.section(&v.rows[i]) },
		func(i int) string { return list.Row(th, i == v.At(), v.row(&v.rows[i], cols), w) })...)
	return text.Block(lines, w, h)
}

// said is the rows in plain words.
func (v *View) said() list.Said {
	return list.Said{
		N: len(v.rows), At: v.At(),
		Section: func(i int) string { return v.section(&v.rows[i]) },
		Row: func(i int) string {
			f := &v.rows[i]
			return f.Spare.Name + ": " + v.stock(f) + "; " + v.order(f) + "; " + v.year(f)
		},
	}
}

// row is one spare in columns.
func (v *View) row(f *schedule.SpareForecast, cols []text.Column) string {
	th, today := v.desk.Root.Theme(), v.desk.Today()
	hand, order, next, used, cost := v.amount(f.Spare, f.OnHand), "-", "-", "-", "-"
	switch {
	case !v.counted(f):
		hand, order = "?", "count it"
	case f.OnHand < 0:
		order = th.Late.Render("count it")
	case v.low(f):
		order = th.Late.Render("now")
	case !f.OrderBy.IsZero():
		order = words.Ahead(f.OrderBy, today)
	}
	if !f.NextUse.IsZero() {
		next = words.Ahead(f.NextUse, today)
	}
	if f.Used > 0 {
		used = v.amount(f.Spare, f.Used)
	}
	if f.YearCost > 0 {
		cost = money(f.YearCost)
	}
	return text.Row(gap, cols, text.Clean(f.Spare.Name), hand, order, next, used, cost)
}

// amount is a quantity of a spare with its unit.
func (v *View) amount(s model.Spare, q float64) string {
	return text.Clean(words.Amount(v.desk.Book, q, s.Unit))
}

// money is a sum as it is said: whole, unless it is small. It has no currency: it is
// in whatever the prices were given in.
func money(v float64) string {
	if math.Abs(v) >= 100 {
		return fmt.Sprintf("%.0f", v)
	}
	return fmt.Sprintf("%.2f", v)
}

// nothing says why no spare is shown.
func (v *View) nothing() string {
	if len(v.desk.Shelf()) == 0 {
		return "The shelf is empty; a adds a spare."
	}
	return "No spare has all of that."
}

// detail is everything there is to say about a spare, in lines of w cells.
func (v *View) detail(f *schedule.SpareForecast, w int) []string {
	if f == nil {
		return nil
	}
	th, b, today := v.desk.Root.Theme(), v.desk.Book, v.desk.Today()
	var out []string
	add := func(style func(...string) string, s string) {
		for _, line := range text.Wrap(text.Clean(s), w) {
			out = append(out, style(line))
		}
	}
	add(th.Title.Render, f.Spare.Name)
	add(th.Text.Render, v.stock(f))
	add(th.Text.Render, v.order(f))
	add(th.Text.Render, v.year(f))
	if f.PerBatch > 0 {
		add(th.Text.Render, "a batch takes about "+words.Amount(b, f.PerBatch, f.Spare.Unit))
	}
	for _, c := range users(b, f.Spare.ID) {
		s := typed.ChoreLabel(b, c) + ", " + words.Amount(b, quantity(c, f.Spare.ID), f.Spare.Unit) + " each time"
		if st := v.desk.Round.Of(c.ID); st != nil {
			s += ", " + words.Due(st, today)
		}
		add(th.Text.Render, s)
	}
	for _, s := range bought(b, f.Spare.ID) {
		add(th.Dim.Render, v.entry(f.Spare, s, today))
	}
	return out
}

// stock is what is on hand and when it runs out.
func (v *View) stock(f *schedule.SpareForecast) string {
	s := "on hand " + words.Amount(v.desk.Book, f.OnHand, f.Spare.Unit)
	switch {
	case !v.counted(f) && f.NextUse.IsZero():
		return "not counted yet; e counts it"
	case !v.counted(f):
		return "not counted yet; e counts it; next needed " + words.Day(f.NextUse, v.desk.Today())
	case f.OnHand < 0:
		return s + ": more was used than was ever put there; count it with e"
	case f.NextUse.IsZero():
		return s + "; nothing needs it within a year"
	}
	s += "; next needed " + words.Day(f.NextUse, v.desk.Today())
	if f.OutOn.IsZero() {
		return s + ", enough for a year"
	}
	return s + ", too little from " + words.Day(f.OutOn, v.desk.Today())
}

// order is by when to order, and why.
func (v *View) order(f *schedule.SpareForecast) string {
	lead := words.Count(f.Spare.LeadDays, "day")
	if f.OrderBy.IsZero() || !v.counted(f) {
		return "takes " + lead + " to come"
	}
	s := "order by " + words.Day(f.OrderBy, v.desk.Today())
	if v.low(f) {
		s = "order now"
	}
	return s + ": it takes " + lead + " to come, and a week in hand"
}

// year is what a year takes and costs.
func (v *View) year(f *schedule.SpareForecast) string {
	s := "a year takes " + words.Amount(v.desk.Book, f.Used, f.Spare.Unit)
	switch {
	case f.Spare.Price == nil:
		return s + "; no price is known"
	case f.Used == 0:
		return s + "; " + typed.Number(*f.Spare.Price) + " a " + f.Spare.Unit
	}
	return s + " at " + typed.Number(*f.Spare.Price) + " a " + f.Spare.Unit + ": " + money(f.YearCost)
}

const changesShown = 4

// bought are the latest changes of a spare's stock, newest first.
func bought(b *model.Book, spare model.ID) []model.Logged[model.Stock] {
	all := b.StockChanges(spare)
	var out []model.Logged[model.Stock]
	for i := len(all) - 1; i >= max(len(all)-changesShown, 0); i-- {
		out = append(out, all[i])
	}
	return out
}

// entry is one change of the stock.
func (v *View) entry(s model.Spare, l model.Logged[model.Stock], today model.Date) string {
	out := words.Day(l.On, today) + ": "
	if l.What.Change > 0 {
		out += "+"
	}
	out += words.Amount(v.desk.Book, l.What.Change, s.Unit)
	if l.What.Price != nil {
		out += " at " + typed.Number(*l.What.Price)
	}
	return out
}
