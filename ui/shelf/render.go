package shelf

import (
	"fmt"
	"math"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/schedule"
	"brine/wrasse/ui/parse"
	"brine/wrasse/ui/phrase"
	"brine/wrasse/ui/table"
	"brine/wrasse/ui/text"
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

// low tells that an order is due, or that what was counted can't be right any more.
func (v *View) low(f *schedule.SpareForecast) bool {
	return phrase.ToOrder(f, v.session.Today())
}

// section is when a spare is to be ordered.
func (v *View) section(f *schedule.SpareForecast) string {
	switch {
	case !f.Counted:
		return sectionUncounted
	case v.low(f):
		return sectionNow
	case f.OrderBy.IsZero():
		return sectionLasts
	case f.OrderBy.Sub(v.session.Today()) <= soonDays:
		return sectionSoon
	}
	return sectionLater
}

var columns = table.Columns{Most: 48, Rest: []table.Column{
	{Head: "on hand", Width: 9, Right: true},
	{Head: "order by", Width: 9, Right: true},
	{Head: "next use", Width: 9, Right: true, From: 76},
	{Head: "a year", Width: 9, Right: true, From: 66},
	{Head: "cost", Width: 7, Right: true, From: 56},
}}

func (v *View) heads(w int) []string {
	return columns.Sized(w, v.drawn).Heads(v.session.Root.Theme(), w)
}

// row draws spares in a list w cells wide.
func (v *View) row(w int) func(*schedule.SpareForecast) string {
	row := columns.Sized(w, v.drawn).Row(w)
	return func(f *schedule.SpareForecast) string { return row(v.cells(f)...) }
}

// cells is one spare in columns.
func (v *View) cells(f *schedule.SpareForecast) []string {
	th, today := v.session.Root.Theme(), v.session.Today()
	hand, order, next, used, cost := v.amount(f.Spare, f.OnHand), "-", "-", "-", "-"
	switch {
	case !f.Counted:
		hand, order = "?", "count it"
	case f.OnHand < 0:
		order = th.Late.Render("count it")
	case f.Expired:
		order = th.Late.Render("past date")
	case v.low(f):
		order = th.Late.Render("now")
	case !f.OrderBy.IsZero():
		order = phrase.Ahead(f.OrderBy, today)
	}
	if !f.NextUse.IsZero() {
		next = phrase.Ahead(f.NextUse, today)
	}
	if f.Used > 0 {
		used = v.amount(f.Spare, f.Used)
	}
	if f.YearCost > 0 {
		cost = money(f.YearCost)
	}
	return []string{text.Clean(f.Spare.Name), hand, order, next, used, cost}
}

// sentence is one spare in plain words.
func (v *View) sentence(f *schedule.SpareForecast) string {
	s := f.Spare.Name + ": " + v.onHand(f)
	for _, more := range []string{phrase.GoodUntil(f.Spare, v.session.Today()), v.order(f), phrase.Bought(f.Spare), v.year(f)} {
		if more != "" {
			s += "; " + more
		}
	}
	return s
}

// amount is a quantity of a spare with its unit.
func (v *View) amount(s model.Spare, q float64) string {
	return text.Clean(phrase.Amount(v.session.Book, q, s.Unit))
}

// money is a sum as it is said: whole, unless it is small. It has no currency: it is
// in whatever the prices were given in.
func money(v float64) string {
	if math.Abs(v) >= 100 {
		return fmt.Sprintf("%.0f", v)
	}
	return fmt.Sprintf("%.2f", v)
}

// found is how many spares the filter leaves.
func (v *View) found() string {
	return fmt.Sprintf("%d of %s", len(v.Shown()), phrase.Count(len(v.session.Shelf()), "spare"))
}

// nothing says why no spare is shown.
func (v *View) nothing(int) []string {
	if len(v.session.Shelf()) == 0 {
		return v.Remark("The shelf is empty; a adds a spare.")
	}
	return v.Remark("No spare has all of that.")
}

// detail is everything there is to say about a spare, in lines of w cells.
func (v *View) detail(f *schedule.SpareForecast, w, h int) []string {
	if f == nil {
		return nil
	}
	th, b, today := v.session.Root.Theme(), v.session.Book, v.session.Today()
	d := table.NewDetail(th, w)
	d.Title(f.Spare.Name, v.onHand(f))
	d.Put(th.Title.Render, v.order(f))
	d.Put(nil, phrase.GoodUntil(f.Spare, today))
	d.Put(nil, phrase.Bought(f.Spare))
	d.Put(nil, v.year(f))
	if f.PerBatch > 0 {
		d.Put(nil, "a batch takes about "+phrase.Amount(b, f.PerBatch, f.Spare.Unit))
	}
	var uses, changes []table.Line
	for _, c := range users(b, f.Spare.ID) {
		due := ""
		if st := v.session.Round.Of(c.ID); st != nil {
			due = phrase.When(st, today)
		}
		uses = append(uses, table.Line{Cells: []string{parse.ChoreLabel(b, c), phrase.Amount(b, quantity(c, f.Spare.ID), f.Spare.Unit), due}})
	}
	d.Table([]table.Col{{}, {Head: "each time", Right: true}, {Head: "when", Right: true}}, uses...)
	for _, s := range bought(b, f.Spare.ID) {
		changes = append(changes, table.Line{Look: th.Dim.Render, Cells: v.entry(f.Spare, s, today)})
	}
	d.Table([]table.Col{{Head: "changed", Right: true}, {Right: true}, {Head: "price", Right: true}}, changes...)
	return d.Whole(h)
}

// onHand is what is on hand and when it runs out.
func (v *View) onHand(f *schedule.SpareForecast) string {
	s := "on hand " + phrase.Amount(v.session.Book, f.OnHand, f.Spare.Unit)
	switch {
	case !f.Counted && f.NextUse.IsZero():
		return "not counted yet; e counts it"
	case !f.Counted:
		return "not counted yet; e counts it; next needed " + phrase.Day(f.NextUse, v.session.Today())
	case f.OnHand < 0:
		return s + ": more used than counted; e counts it"
	case f.NextUse.IsZero():
		return s + "; nothing needs it within a year"
	}
	s += "; next needed " + phrase.Day(f.NextUse, v.session.Today())
	switch {
	case f.OutOn.IsZero():
		return s + ", enough for a year"
	case f.OutOn == f.NextUse:
		return s + ", and too little for it"
	}
	return s + ", too little from " + phrase.Day(f.OutOn, v.session.Today())
}

// order is by when to order, and why.
func (v *View) order(f *schedule.SpareForecast) string {
	lead := phrase.Count(f.Spare.LeadDays, "day")
	if f.OrderBy.IsZero() && !f.Expired {
		return "takes " + lead + " to come"
	}
	s := "order by " + phrase.Day(f.OrderBy, v.session.Today())
	if v.low(f) {
		s = "order now"
	}
	if f.OrderBy.IsZero() {
		return s + ": what is there is past its date"
	}
	return s + ": it takes " + lead + " to come, and a week in hand"
}

// year is what a year takes and costs.
func (v *View) year(f *schedule.SpareForecast) string {
	used := "none"
	if f.Used > 0 {
		used = phrase.Amount(v.session.Book, f.Used, f.Spare.Unit)
	}
	s := "a year takes " + used
	switch {
	case f.Spare.Price == nil:
		return s + "; no price is known"
	case f.Used == 0:
		return s + "; one costs " + money(*f.Spare.Price)
	}
	return s + " at " + money(*f.Spare.Price) + ": " + money(f.YearCost)
}

const changesShown = 4

// bought are the latest changes of a spare's stock, newest first.
func bought(b *ledger.Book, spare model.ID) []ledger.Logged[model.Stock] {
	all := b.StockChanges(spare)
	var out []ledger.Logged[model.Stock]
	for i := len(all) - 1; i >= max(len(all)-changesShown, 0); i-- {
		out = append(out, all[i])
	}
	return out
}

// entry is one change of the stock: its day, how much, and the price of one.
func (v *View) entry(s model.Spare, l ledger.Logged[model.Stock], today model.Date) []string {
	change, price := phrase.Amount(v.session.Book, l.What.Change, s.Unit), ""
	if l.What.Change > 0 {
		change = "+" + change
	}
	if l.What.Price != nil {
		price = money(*l.What.Price)
	}
	return []string{phrase.Day(l.On, today), change, price}
}
