package logbook

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/ui/parse"
	"brine/wrasse/ui/phrase"
	"brine/wrasse/ui/request"
	"brine/wrasse/ui/table"
)

// detail is everything there is to say about an entry, in lines of w cells; nothing of one that isn't held.
func (v *View) detail(l *line, w, h int) []string {
	if l == nil {
		return nil
	}
	th, dated := v.session.Root.Theme(), ""
	if !l.date.IsZero() {
		dated = phrase.Today(l.date)
	}
	d := table.NewDetail(th, w)
	d.Title(strings.ReplaceAll(string(l.shown.Kind), "-", " "), dated)
	d.Put(nil, l.says)
	for _, f := range l.facts {
		d.Put(nil, f)
	}
	d.Say("at first", l.atFirst, nil)
	for _, a := range l.amends {
		d.Put(nil, a.says(v.session.Today()))
	}
	if l.heads && v.query.empty() {
		d.Put(th.Dim.Render, "what was set up with it is folded away: / and a kind, such as chore or component, shows it")
	}
	d.Put(th.Dim.Render, l.origin)
	return d.Whole(h)
}

// say is an entry in one line: of an amend, also what it put in place.
func say(b *ledger.Book, e *model.Entry) string {
	if a, ok := e.Body.(model.Amend); ok && !a.Strike {
		if target, err := b.Written(a.Entry); err == nil && target != nil {
			return "amended, " + strings.Join(replaced(a.With), ", ") + ": " + say(b, target)
		}
	}
	return request.Say(b, e)
}

// facts are what the one line of an entry leaves out.
func facts(b *ledger.Book, e *model.Entry) []string {
	u := b.Def().Units
	switch w := e.Body.(type) {
	case model.Usage:
		return since(b, e, w)
	case model.Tick:
		var parts []string
		if w.Minutes != nil {
			parts = append(parts, fmt.Sprintf("took %d min", *w.Minutes))
		}
		if !w.Planned.IsZero() {
			parts = append(parts, "the book had wanted it by "+phrase.Day(w.Planned, e.On))
		}
		return joined(parts)
	case model.Reading:
		g, _ := b.Gauge(w.Gauge)
		if off := phrase.OffSince(b, g, e.Mark(), e.On); off != "" {
			return []string{off + "; the figure stands as it was read"}
		}
		if w.MinutesRunning != nil {
			s := "after running " + parse.Number(*w.MinutesRunning) + " min"
			if !w.Counts() {
				s += ": too soon after standstill, so it is shown and counts nowhere"
			}
			return []string{s}
		}
	case model.Stock:
		if w.Price != nil {
			s, _ := b.Spare(w.Spare)
			return []string{"at " + parse.Number(*w.Price) + " a " + parse.UnitName(s.Unit)}
		}
	case model.Flag:
		var parts []string
		if w.Reach != 0 {
			parts = append(parts, fmt.Sprintf("new reach %d", w.Reach))
		}
		if w.AccessMinutes != nil {
			parts = append(parts, fmt.Sprintf("%d min to get at it", *w.AccessMinutes))
		}
		return joined(parts)
	case model.Batch:
		var parts []string
		if w.Salinity != nil {
			parts = append(parts, "salinity "+parse.Number(*w.Salinity))
		}
		if w.TemperatureC != nil {
			parts = append(parts, parse.Quantity(*w.TemperatureC, "C", u))
		}
		return joined(parts)
	case model.Note:
		if w.OnWhat != "" {
			return []string{"on " + w.OnWhat}
		}
	case model.Place, model.Component, model.Counter, model.Gauge, model.Spare, model.Chore, model.BookDef:
		return definition(e)
	}
	return nil
}

// since is what a value of a running meter adds to the one before it.
func since(b *ledger.Book, e *model.Entry, w model.Usage) []string {
	amounts := b.Amounts(w.Counter)
	i, ok := slices.BinarySearchFunc(amounts, e, func(a ledger.Amount, e *model.Entry) int {
		return cmp.Or(cmp.Compare(a.On, e.On), cmp.Compare(a.Seq, e.Seq))
	})
	if w.Meter == nil || !ok {
		return nil
	}
	c, _ := b.Counter(w.Counter)
	return []string{"since the reading before: " + parse.Quantity(amounts[i].Qty, c.Unit, b.Def().Units)}
}

func joined(parts []string) []string {
	if len(parts) == 0 {
		return nil
	}
	return []string{strings.Join(parts, ", ")}
}

// definition is the plain fields of a definition, one after another.
func definition(e *model.Entry) []string {
	var parts []string
	for _, f := range scalars(e) {
		if f.name != "name" {
			parts = append(parts, strings.ReplaceAll(f.name, "_", " ")+" "+f.text())
		}
	}
	return joined(parts)
}

// amended is what an amend of an entry did, and whether it still stands.
type amended struct {
	date      model.Date
	by        string
	strike    bool
	with      []string
	takenBack bool
}

func (a amended) says(today model.Date) string {
	s := "amended"
	if a.strike {
		s = "struck"
	}
	s += " " + phrase.Day(a.date, today)
	if a.by != "" {
		s += " by " + a.by
	}
	if !a.strike {
		s += ": " + strings.Join(a.with, ", ")
	}
	if a.takenBack {
		s += " (taken back since)"
	}
	return s
}

// origin is when and by whom an entry was written, and its number; first and last are
// those of its act.
func origin(e *model.Entry, first, last model.Seq) string {
	s := fmt.Sprintf("entry %d", e.Seq)
	switch n := last - first; n {
	case 0:
	case 1:
		s += fmt.Sprintf(", one act with %d", first+last-e.Seq)
	default:
		s += fmt.Sprintf(", one act with %d others", n)
	}
	if t, err := time.Parse(time.RFC3339Nano, e.At); err == nil {
		s += ", written " + t.Format("2 Jan 2006 15:04")
	}
	if e.By != "" {
		s += " by " + e.By
	}
	return s
}
