package logbook

import (
	"fmt"
	"strings"
	"time"

	"brine/wrasse/model"
	"brine/wrasse/ui/act"
	"brine/wrasse/ui/text"
	"brine/wrasse/ui/typed"
	"brine/wrasse/ui/words"
)

// detail is everything there is to say about an entry, in lines of w cells.
func (v *View) detail(seq model.Seq, w int) []string {
	th, b := v.desk.Root.Theme(), v.index.book
	e := reads(b, seq)
	var out []string
	add := func(style func(...string) string, s string) {
		for _, line := range text.Wrap(text.Clean(s), w) {
			out = append(out, style(line))
		}
	}
	head := strings.ReplaceAll(string(e.Kind), "-", " ")
	if d := v.index.date(seq); !d.IsZero() {
		head += " · " + words.Today(d)
	}
	add(th.Title.Render, head)
	add(th.Text.Render, say(b, e))
	for _, f := range facts(b, e) {
		add(th.Text.Render, f)
	}
	if amended(b, seq) {
		add(th.Text.Render, "at first: "+say(b, b.Written(seq)))
	}
	for _, a := range v.index.amends[seq] {
		add(th.Text.Render, v.history(a))
	}
	add(th.Dim.Render, provenance(b, b.Written(seq)))
	return out
}

// say is an entry in one line: of an amend, also what it put in place.
func say(b *model.Book, e *model.Entry) string {
	if a, ok := e.Body.(model.Amend); ok && !a.Strike {
		if target := b.Written(a.Entry); target != nil {
			return "amended, " + strings.Join(replaced(a.With), ", ") + ": " + say(b, target)
		}
	}
	return act.Say(b, e)
}

// facts are what the one line of an entry leaves out.
func facts(b *model.Book, e *model.Entry) []string {
	u := b.Def().Units
	switch w := e.Body.(type) {
	case model.Tick:
		var parts []string
		if w.Minutes != nil {
			parts = append(parts, fmt.Sprintf("took %d min", *w.Minutes))
		}
		if !w.Planned.IsZero() {
			parts = append(parts, "the book had wanted it by "+words.Day(w.Planned, e.On))
		}
		return joined(parts)
	case model.Usage:
		if w.Meter == nil {
			return nil
		}
		for _, a := range b.Amounts(w.Counter) {
			if a.Seq == e.Seq {
				c, _ := b.Counter(w.Counter)
				return []string{"since the reading before: " + typed.Quantity(a.Qty, c.Unit, u)}
			}
		}
	case model.Reading:
		if w.MinutesRunning != nil {
			s := "after running " + typed.Number(*w.MinutesRunning) + " min"
			if !w.Counts() {
				s += ": too soon after standstill, so it is shown and counts nowhere"
			}
			return []string{s}
		}
	case model.Stock:
		if w.Price != nil {
			s, _ := b.Spare(w.Spare)
			return []string{"at " + typed.Number(*w.Price) + " a " + typed.UnitName(s.Unit)}
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
			parts = append(parts, "salinity "+typed.Number(*w.Salinity))
		}
		if w.TemperatureC != nil {
			parts = append(parts, typed.Quantity(*w.TemperatureC, "C", u))
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

// history is what an amend of an entry did, and whether it still stands.
func (v *View) history(seq model.Seq) string {
	b := v.index.book
	e := b.Written(seq)
	a := e.Body.(model.Amend)
	s := "amended"
	if a.Strike {
		s = "struck"
	}
	s += " " + words.Day(v.index.date(seq), v.desk.Today())
	if e.By != "" {
		s += " by " + e.By
	}
	if !a.Strike {
		s += ": " + strings.Join(replaced(a.With), ", ")
	}
	if b.Struck(seq) {
		s += " (taken back since)"
	}
	return s
}

// provenance is when and by whom an entry was written, and its number.
func provenance(b *model.Book, e *model.Entry) string {
	s := fmt.Sprintf("entry %d", e.Seq)
	if act := b.Act(e.Seq); len(act) > 1 {
		s += fmt.Sprintf(", one act with %d others", len(act)-1)
		if len(act) == 2 {
			s = fmt.Sprintf("entry %d, one act with %d", e.Seq, act[0].Seq+act[1].Seq-e.Seq)
		}
	}
	if t, err := time.Parse(time.RFC3339Nano, e.At); err == nil {
		s += ", written " + t.Format("2 Jan 2006 15:04")
	}
	if e.By != "" {
		s += " by " + e.By
	}
	return s
}
