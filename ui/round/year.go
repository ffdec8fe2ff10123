package round

import (
	"fmt"
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/schedule"
	"brine/wrasse/ui/keys"
	"brine/wrasse/ui/lifebar"
	"brine/wrasse/ui/phrase"
	"brine/wrasse/ui/session"
	"brine/wrasse/ui/table"
	"brine/wrasse/ui/text"

	tea "github.com/charmbracelet/bubbletea"
)

// year is the page of the year ahead, week by week, and, to its left, of the year
// behind.
type year struct {
	*table.Page
	session *session.Session
	behind  bool

	round *schedule.Round // that weeks are of
	weeks []schedule.Week

	seen past // what was looked back on
	back hindsight
}

// past is the year that ends on a date, in a book.
type past struct {
	book *ledger.Book
	on   model.Date
}

func newYear(d *session.Session) *year {
	y := &year{session: d}
	y.Page = table.NewPage(d, keys.Reading, y.lines, y.act)
	y.keep()
	return y
}

// keep works out the weeks of the session's round, for the frames to come.
func (y *year) keep() { y.round, y.weeks = y.session.Round, y.coming() }

// coming is the weeks of the year ahead.
func (y *year) coming() []schedule.Week {
	if y.round == y.session.Round {
		return y.weeks
	}
	return y.session.Round.Year(y.session.WeekStart)
}

// look looks back over the book, unless it has.
func (y *year) look() {
	of := past{y.session.Book, y.session.Today()}
	if y.behind && of != y.seen {
		y.seen, y.back = of, lookBack(of.book, of.on)
	}
}

// Msg takes in a new round.
func (y *year) Msg(msg tea.Msg) tea.Cmd {
	if _, fresh := msg.(session.BookChanged); fresh {
		y.keep()
		y.look()
	}
	return nil
}

// act turns from one year to the other.
func (y *year) act(a keys.Action) (cmd tea.Cmd, used bool) {
	if a != keys.Left && a != keys.Right {
		return nil, false
	}
	y.behind = a == keys.Left
	y.ToTop()
	y.look()
	return nil, true
}

func (y *year) lines(w int) []string {
	if y.behind {
		return y.past(w)
	}
	return y.ahead(w)
}

// week columns: the week, a bar of hours, hands-on, getting at it, waiting, cost.
var weekColumns = []text.Column{{Width: 11}, {Width: 24}, {Width: 8, Right: true}, {Width: 8, Right: true}, {Width: 8, Right: true}, {Width: 8, Right: true}}

// ahead is the year to come by weeks.
func (y *year) ahead(w int) []string {
	th := y.session.Root.Theme()
	weeks := y.coming()
	columns := append([]text.Column(nil), weekColumns...)
	if over := text.RowWidth(1, columns) - w; over > 0 {
		columns[1].Width = max(columns[1].Width-over-1, 0)
	}
	most, hands, access, spares := 1, 0, 0, 0.0
	for _, k := range weeks {
		most = max(most, k.Hands+k.Access)
		hands += k.Hands
		access += k.Access
		spares += k.Spares
	}
	lines := []string{y.head("the year ahead", "left: the year behind", w)}
	lines = append(lines, text.Wrap(th.Words(total("done when due, it takes", hands, access, spares)), w)...)
	if th.Plain {
		for _, k := range weeks {
			lines = append(lines, text.Wrap(th.Words(weekInWords(k)), w)...)
		}
		return lines
	}
	lines = append(lines, "", th.Dim.Render(text.Row(1, columns, "week of", "", "hands-on", "to reach", "waiting", "spares")))
	for _, k := range weeks {
		bar := columns[1].Width * k.Hands / most
		reach := max(columns[1].Width*(k.Hands+k.Access)/most-bar, 0)
		price := ""
		if k.Spares > 0 {
			price = fmt.Sprintf("%.2f", k.Spares)
		}
		lines = append(lines, text.Row(1, columns, k.Start.Format("2 Jan"),
			th.Tide.Render(strings.Repeat(lifebar.Water, bar))+th.Line(reach),
			blankZero(k.Hands), blankZero(k.Access), blankZero(k.Waiting), price))
	}
	return lines
}

// head names the year, and how to turn to the other.
func (y *year) head(title, other string, w int) string {
	th := y.session.Root.Theme()
	if th.Plain {
		return th.Title.Render(title) + "; " + other
	}
	return text.Spread(th.Title.Render(title), th.Dim.Render(other), w)
}

func total(what string, hands, access int, spares float64) string {
	s := fmt.Sprintf("%s %s hands-on and %s of getting there", what, hours(hands), hours(access))
	if spares > 0 {
		s += fmt.Sprintf(", spares for %.0f", spares)
	}
	return s
}

// hours is a year's minutes: a day of 24 hours would mean nothing here.
func hours(minutes int) string { return fmt.Sprintf("%d h", (minutes+30)/60) }

func blankZero(n int) string {
	if n == 0 {
		return ""
	}
	return fmt.Sprint(n)
}

// past is the year that lies behind.
func (y *year) past(w int) []string {
	th := y.session.Root.Theme()
	lines := []string{y.head("the year behind", "right: the year ahead", w)}
	p := y.back
	say := func(head, s string) {
		switch {
		case s == "":
			return
		case th.Plain && head != "":
			s = head + ": " + s
			fallthrough
		case th.Plain:
			lines = append(lines, text.Para(w, "", "", nil, th.Words(s))...)
			return
		}
		lines = append(lines, text.Para(w, th.Dim.Render(text.Fit(head, 12))+"  ", text.Fit("", 14), nil, s)...)
	}
	say("work", fmt.Sprintf("%s, %s hands-on and %s of getting there", phrase.Count(p.ticks, "tick"), hours(p.cost.Hands), hours(p.cost.Access)))
	for i, c := range p.counted {
		say(only(i == 0, "used"), c)
	}
	say("salt", p.salt)
	lines = append(lines, "")
	for i, r := range p.renewed {
		say(only(i == 0, "renewed"), r)
	}
	if len(p.renewed) > 0 {
		lines = append(lines, "")
	}
	say("as found", p.found)
	say("in time", p.inTime)
	say("faults", p.faults)
	return lines
}

// only is s where it is wanted.
func only(wanted bool, s string) string {
	if wanted {
		return s
	}
	return ""
}

// hindsight is what a year's log comes to.
type hindsight struct {
	ticks         int
	cost          schedule.Cost
	counted       []string
	salt          string
	renewed       []string
	found, inTime string
	faults        string
}

// lookBack sums up the 365 days that end on a date.
func lookBack(b *ledger.Book, on model.Date) hindsight {
	from := on.AddDays(-365)
	within := func(d model.Date) bool { return d > from && d <= on }
	after, end := model.EndOf(from), model.EndOf(on)
	var out hindsight
	out.work(b, after, end)
	for _, c := range b.Counters() {
		if sum := b.Tally(c.ID).Between(after, end); sum > 0 {
			out.counted = append(out.counted, c.Name+": "+phrase.Amount(b, sum, c.Unit))
		}
	}
	grams, batches := 0.0, 0
	for _, m := range b.Batches() {
		if within(m.On) {
			grams += m.What.SaltG
			batches++
		}
	}
	if batches > 0 {
		out.salt = phrase.Mass(b, grams) + " in " + phrase.Count(batches, "batch")
	}
	n := 0
	for _, c := range b.Components() {
		for _, f := range b.Faults(c.ID) {
			if within(f.On) {
				n++
			}
		}
	}
	if n > 0 {
		out.faults = phrase.Count(n, "fault") + " reported"
	}
	return out
}

// work adds up the ticks: their minutes, what was found, what was renewed, how many
// came late.
func (out *hindsight) work(b *ledger.Book, after, end model.Mark) {
	var cost schedule.CostSum
	heavy, failed, chores, never := 0, 0, 0, 0
	for _, c := range b.Chores() {
		n, late, counted := 0, 0, 0
		comp, _ := b.Component(c.Component)
		place, _ := b.Place(comp.Place)
		if with := comp.OpensWith; with != "" {
			comp, _ = b.Component(with)
		}
		for _, t := range b.TicksWithin(c.ID, after, end) {
			if t.About {
				continue
			}
			n++
			done := c
			if t.Minutes != nil {
				done.Minutes = *t.Minutes
			}
			cost.Add(t.On, done, comp, place)
			switch t.Found {
			case model.FoundHeavy:
				heavy++
			case model.FoundFailed:
				failed++
			}
			if !t.Planned.IsZero() {
				counted++
				if t.On > t.Planned {
					late++
				}
			}
		}
		out.ticks += n
		if counted > 0 {
			chores++
			if late == 0 {
				never++
			}
		}
		if c.Work == model.WorkRenew && n > 0 && len(c.Spares) > 0 {
			out.renewed = append(out.renewed, renewal(b, c, n, after, end))
		}
	}
	out.cost = cost.Cost
	if out.ticks > 0 {
		out.found = fmt.Sprintf("%d heavy or nearly spent, %d failed, of %s", heavy, failed, phrase.Count(out.ticks, "tick"))
	}
	if chores > 0 {
		out.inTime = fmt.Sprintf("%d of %s never late", never, phrase.Count(chores, "chore"))
	}
}
