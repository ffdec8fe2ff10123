package columns

import (
	"slices"
	"strconv"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/schedule"
	"brine/wrasse/ui/parse"
)

// Log is what happened, as it reads after all amends, oldest first: values and ticks
// in the columns that Read understands, and the rest beside them. Values are in the
// units the keeper chose. Definitions are no part of it; the book format has them.
func Log(b *ledger.Book) ([][]string, error) {
	rows := [][]string{{"date", "name", "value", "unit", "about", "minutes", "note", "by", "kind", "id", "seq", "offset"}}
	entries, err := happened(b)
	for _, e := range entries {
		row := describe(b, e)
		rows = append(rows, []string{e.On.String(), row.name, row.value, row.unit, row.about, row.minutes, row.note,
			e.By, string(e.Kind), string(row.id), strconv.FormatUint(uint64(e.Seq), 10), row.offset})
	}
	return rows, err
}

// happened is the entries that still stand and are no definitions, in order of time.
func happened(b *ledger.Book) ([]*model.Entry, error) {
	var out []*model.Entry
	for r, err := range b.Rows() {
		if err != nil {
			return nil, err
		}
		if r.Reads != nil && !r.Reads.Kind.Defines() {
			out = append(out, r.Reads)
		}
	}
	slices.SortStableFunc(out, func(a, b *model.Entry) int { return int(a.On) - int(b.On) })
	return out, nil
}

// line holds the cells of a row that depend on the kind of its entry.
type line struct {
	name, value, unit, about, minutes, note, offset string
	id                                              model.ID
}

// ticked is a cell that says yes or nothing.
func ticked(v bool) string {
	if v {
		return "yes"
	}
	return ""
}

func describe(b *ledger.Book, e *model.Entry) line {
	u := b.Def().Units
	measured := func(name string, id model.ID, v float64, unit string) line {
		return line{name: name, id: id, value: figure(parse.Shown(v, unit, u)), unit: parse.UnitName(parse.Unit(unit, u))}
	}
	drawn := func(vessel model.ID, litres float64) line {
		v, _ := b.Vessel(vessel)
		return measured(v.Name, v.ID, litres, "L")
	}
	switch w := e.Body.(type) {
	case model.Tick:
		c, _ := b.Chore(w.Chore)
		out := line{name: parse.ChoreLabel(b, c), id: c.ID, value: parse.FoundText(c.Work, w.Found), note: w.Note, about: ticked(w.About)}
		if w.Minutes != nil {
			out.minutes = strconv.Itoa(*w.Minutes)
		}
		if w.Offset != nil {
			unit := parse.OffsetUnit(b, c)
			out.offset = figure(parse.Shown(*w.Offset, unit, u) - parse.Shown(0, unit, u))
		}
		return out
	case model.Usage:
		c, _ := b.Counter(w.Counter)
		return measured(c.Name, c.ID, w.Figure(), c.Unit)
	case model.Reading:
		g, _ := b.Gauge(w.Gauge)
		return measured(g.Name, g.ID, w.Value, g.Unit)
	case model.Stock:
		s, _ := b.Spare(w.Spare)
		return measured(s.Name, s.ID, w.Change, s.Unit)
	case model.MeterReset:
		c, _ := b.Counter(w.Counter)
		return line{name: c.Name, id: c.ID}
	case model.Flag:
		c, _ := b.Component(w.Component)
		return line{name: c.Name, id: c.ID, value: string(w.State), note: w.Note}
	case model.Fault:
		c, _ := b.Component(w.Component)
		return line{name: c.Name, id: c.ID, note: w.Note}
	case model.Repair:
		f, _ := b.Fault(w.Fault)
		c, _ := b.Component(f.What.Component)
		return line{name: c.Name, id: c.ID, value: parse.UsesText(b, w.Uses), note: w.Note}
	case model.Normal:
		c, _ := b.Component(w.Component)
		return line{name: c.Name, id: c.ID}
	case model.PutOff:
		c, _ := b.Chore(w.Chore)
		return line{name: parse.ChoreLabel(b, c), id: c.ID, value: "until " + w.Until.String(), note: w.Reason}
	case model.Away:
		return line{value: "until " + w.Until.String()}
	case model.Batch:
		return measured("", "", w.VolumeL, "L")
	case model.Level:
		out := drawn(w.Vessel, w.Litres)
		out.about = ticked(w.About)
		return out
	case model.Draw:
		out := drawn(w.Vessel, w.Litres)
		if out.note = string(w.For); w.Into != "" {
			into, _ := b.Vessel(w.Into)
			out.note += " into " + into.Name
		}
		return out
	case model.Need:
		out := drawn(w.Vessel, w.Litres)
		if out.note = "by " + w.By.String(); w.Note != "" {
			out.note += ": " + w.Note
		}
		return out
	case model.Note:
		return line{name: w.OnWhat, note: w.Text}
	}
	return line{}
}

// Round is a round, a row for each chore in the order of the round.
func Round(r *schedule.Round) [][]string {
	rows := [][]string{{"id", "component", "chore", "place", "state", "past limit", "due", "limit", "days late",
		"last done", "last found", "reach", "minutes", "waiting minutes", "risk"}}
	for i := range r.Standings {
		s := &r.Standings[i]
		late := ""
		if s.HasDue {
			late = strconv.Itoa(s.DaysLate)
		}
		rows = append(rows, []string{
			string(s.Chore.ID), s.Component.Name, s.Chore.Name, s.Place.Name, string(s.State), ticked(s.PastLimit),
			s.Due.String(), s.Limit.String(), late, s.LastTick.String(), parse.FoundText(s.Chore.Work, s.LastFound),
			strconv.Itoa(s.Component.Reach), strconv.Itoa(s.Chore.Minutes), strconv.Itoa(s.Chore.WaitingMinutes()), figure(s.Risk),
		})
	}
	return rows
}
