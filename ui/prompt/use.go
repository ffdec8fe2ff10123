package prompt

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/model/station"
	"brine/wrasse/ui"
	"brine/wrasse/ui/form"
	"brine/wrasse/ui/parse"
	"brine/wrasse/ui/phrase"
	"brine/wrasse/ui/request"
	"brine/wrasse/ui/session"

	tea "github.com/charmbracelet/bubbletea"
)

const (
	fieldAmount  = "amount"
	fieldCounter = "counter"
	fieldClock   = "clock"
)

// waterTimer is the key of the countdown of water being made.
const waterTimer = "water being made"

// Usage logs an amount of a counter, water made unless another one is named. Where the
// product flow is known it says how long that takes, and until when.
func Usage(d *session.Session, counter model.ID) tea.Cmd { return logUsage(d, counter, "", nil) }

// logUsage is Usage or, where a chore is named, the tick of that with the amount of its counter. after, if any, follows.
func logUsage(d *session.Session, counter, chore model.ID, after func() tea.Cmd) tea.Cmd {
	counters := inUse(d.Book)
	if len(counters) == 0 {
		d.Root.Fail(fmt.Errorf("the book has no counter to log on; view 3 adds one"))
		return nil
	}
	if counter == "" {
		counter = counters[0].ID
		if c, ok := d.Book.CounterByRole(model.RoleWaterMade); ok {
			counter = c.ID
		}
	}
	u := &usage{session: d, is: station.Of(d.Book, d.Today()), chore: chore, after: after}
	fields := []form.Field{{Name: fieldAmount, Label: "amount", Cells: 16, Limit: 60, Hint: "40, 10 gal, 20+18, 100-60"}}
	if len(counters) > 1 && chore == "" {
		fields = append(fields, counterField(counters, counter))
	} else {
		u.only = counter
	}
	title := "Log usage"
	if c, ok := d.Book.Chore(chore); ok {
		title = parse.ChoreLabel(d.Book, c) + " - how much was made?"
	}
	if _, known := flow(d.Book); known {
		fields = append(fields, form.Field{Name: fieldClock, Label: "clock", Options: []form.Option{
			{Letter: 'n', Value: "", Label: "no"}, {Letter: 's', Value: "s", Label: "start it now"},
		}})
	}
	fields = append(fields, form.Field{Name: fieldDate, Label: "on", Cells: 18, Limit: 40, Hint: "empty is today; yesterday, 3d, monday, 5 nov"})
	s := ui.NewFormSheet(d.Root, form.Spec{
		Title: title, Fields: fields,
		Problems: u.problems, Queries: u.queries, Notes: u.notes,
	}, u.save)
	s.Intercept = u.intercept(s)
	d.Root.Push(s)
	return nil
}

// usage is the form being filled in.
type usage struct {
	session *session.Session
	is      *station.Station
	only    model.ID // the counter, where there is no choice
	chore   model.ID // that is ticked with it, if one is
	after   func() tea.Cmd
}

// inUse are the counters that can be logged on.
func inUse(b *ledger.Book) []model.Counter {
	return slices.DeleteFunc(b.Counters(), func(c model.Counter) bool { return !c.Retired.IsZero() })
}

// counterField chooses a counter, each by the first of its letters that is free.
func counterField(counters []model.Counter, chosen model.ID) form.Field {
	f := form.Field{Name: fieldCounter, Label: "counter", Value: string(chosen)}
	taken := map[rune]bool{}
	for _, c := range counters {
		o := form.Option{Value: string(c.ID), Label: c.Name}
		for _, r := range strings.ToLower(c.Name) {
			if r >= 'a' && r <= 'z' && !taken[r] {
				taken[r], o.Letter = true, r
				break
			}
		}
		f.Options = append(f.Options, o)
	}
	return f
}

func (u *usage) counter(v form.Values) model.Counter {
	id := u.only
	if id == "" {
		id = model.ID(v[fieldCounter])
	}
	c, _ := u.session.Book.Counter(id)
	return c
}

func (u *usage) amount(v form.Values) (float64, error) {
	return parse.Usage(v[fieldAmount], u.counter(v), u.session.Book.Def().Units)
}

func (u *usage) problems(v form.Values) map[string]string {
	out := map[string]string{}
	if _, err := u.amount(v); err != nil {
		out[fieldAmount] = err.Error()
	}
	if _, err := day(v[fieldDate], u.session.Today()); err != nil {
		out[fieldDate] = err.Error()
	}
	return out
}

func (u *usage) queries(v form.Values) map[string]string {
	w, err := day(v[fieldDate], u.session.Today())
	if err != nil {
		return nil
	}
	out := map[string]string{fieldDate: parse.OddDate(w.On, u.session.Today())}
	if n, err := u.amount(v); err == nil {
		out[fieldAmount] = parse.OddAmount(u.session.Book, u.counter(v), n, w.On)
	}
	return out
}

// notes say which counter it is and, of water, how long it takes to make.
func (u *usage) notes(v form.Values) []string {
	c, units := u.counter(v), u.session.Book.Def().Units
	unit := parse.UnitName(parse.Unit(c.Unit, units))
	what := c.Name + ", in " + unit
	if c.Style == model.StyleMeter {
		what = c.Name + ": what its meter shows, in " + unit
	}
	if last := lastLogged(u.session.Book, c, u.session.Today()); last != "" {
		what += "; last " + last
	}
	out := []string{what}
	if n, err := u.amount(v); err == nil {
		if minutes, ok := u.takes(c, n); ok {
			until := u.session.Root.Now().Add(time.Duration(minutes * float64(time.Minute)))
			out = append(out, fmt.Sprintf("%s: about %s, until %s; s starts the clock", parse.Quantity(n, c.Unit, units), parse.Duration(minutes), until.Format("15:04")))
		} else if v[fieldAmount] != "" && strings.ContainsAny(strings.TrimSpace(v[fieldAmount]), "+-lg ") {
			out = append(out, "= "+parse.Quantity(n, c.Unit, units))
		}
	}
	return append(out, u.feeds(v)...)
}

// ratioOff is how far a measured waste ratio may be off the one counted, as a share of it, before it is worth a word.
const ratioOff = 0.1

// feeds says what passes the prefilters while water is made: they see the waste too.
func (u *usage) feeds(v form.Values) []string {
	c := u.counter(v)
	n, err := u.amount(v)
	if err != nil || n <= 0 || c.Role != model.RoleWaterMade || c.Style == model.StyleMeter {
		return nil
	}
	fill := u.is.Fill(u.session.Book, n)
	if fill.FeedL == 0 {
		return nil
	}
	out := fmt.Sprintf("%s through sediment and carbon, counted at %s of waste to 1", phrase.Amount(u.session.Book, fill.FeedL, c.Unit), parse.Number(fill.Ratio))
	if m := fill.Measured; m.Known() && math.Abs(m.Value-fill.Ratio) > ratioOff*fill.Ratio {
		out += fmt.Sprintf("; measured %.1f on %s: Gear changes what their clocks count", m.Value, phrase.Day(m.Taken, u.session.Today()))
	}
	return []string{out}
}

// takes is how long making an amount takes, where that is known.
func (u *usage) takes(c model.Counter, amount float64) (minutes float64, ok bool) {
	perHour, known := flow(u.session.Book)
	if !known || c.Role != model.RoleWaterMade || c.Style == model.StyleMeter || amount <= 0 {
		return 0, false
	}
	return amount / perHour * 60, true
}

// flow is the latest product flow that counts, in litres an hour.
func flow(b *ledger.Book) (float64, bool) {
	g, ok := b.GaugeByRole(model.RoleFlowProduct)
	if !ok {
		return 0, false
	}
	all := b.Readings(g.ID)
	for i := len(all) - 1; i >= 0; i-- {
		if all[i].What.Counts() && all[i].What.Value > 0 {
			return all[i].What.Value, true
		}
	}
	return 0, false
}

// lastLogged is a counter's latest entry in words.
func lastLogged(b *ledger.Book, c model.Counter, today model.Date) string {
	all := b.Usages(c.ID)
	if len(all) == 0 {
		return ""
	}
	last := all[len(all)-1]
	return parse.Quantity(last.What.Figure(), c.Unit, b.Def().Units) + " on " + phrase.Day(last.On, today)
}

// intercept lets s, typed after an amount of water, choose the clock: no amount holds
// an s.
func (u *usage) intercept(s *ui.FormSheet) func(tea.KeyMsg) bool {
	return func(k tea.KeyMsg) bool {
		if s.Form().Focused() != fieldAmount || string(k.Runes) != "s" || k.Paste {
			return false
		}
		v := s.Form().Values()
		n, err := u.amount(v)
		if _, ok := u.takes(u.counter(v), n); err != nil || !ok {
			return false
		}
		s.Form().Set(fieldClock, "s")
		return true
	}
}

func (u *usage) save(v form.Values) ui.Job {
	c := u.counter(v)
	n, _ := u.amount(v)                          // checked as a problem
	w, _ := day(v[fieldDate], u.session.Today()) // likewise
	var act session.Act = request.Use{Stamp: request.Stamp{On: w.On, By: u.session.By}, Counter: c.ID, Amount: n}
	if u.chore != "" {
		act = request.Tick{By: u.session.By, Done: []request.Done{{On: w.On, What: model.Tick{Chore: u.chore}, Made: &n}}}
	}
	return u.session.Job("logging "+c.Name, act, func() tea.Cmd {
		var then tea.Cmd
		if u.after != nil {
			then = u.after()
		}
		minutes, ok := u.takes(c, n)
		if !ok || v[fieldClock] == "" {
			return then
		}
		name := "making " + parse.Quantity(n, c.Unit, u.session.Book.Def().Units)
		return tea.Batch(then, u.session.StartTimer(waterTimer, name, time.Duration(minutes*float64(time.Minute))))
	})
}
