package gear

import (
	"brine/wrasse/model"
	"brine/wrasse/ui/form"
	"brine/wrasse/ui/parse"
	"brine/wrasse/ui/preview"
	"brine/wrasse/ui/request"
	"brine/wrasse/ui/session"

	tea "github.com/charmbracelet/bubbletea"
)

// clock asks for one clock of a chore; at is its index, or the number of clocks for a
// new one. The dates it gives stand below while it is typed.
func (e *editor) clock(chore model.Chore, at int, k model.Clock) tea.Cmd {
	fields, read := e.clockFields(k)
	if fields == nil {
		return nil
	}
	return e.ahead(parse.ChoreLabel(e.session.Book, chore)+": "+string(k.Kind)+" clock", fields, "saving the clock", func(r *reader) session.Act {
		made := read(r)
		return request.EditChore(e.session.Stamp(), chore.ID, func(c *model.Chore) { c.Clocks = with(c.Clocks, at, made) })
	}, nil, func(look *preview.Preview) []string { return choreDates(look, chore.ID, at, e.session.Today()) })
}

// clockFields are the fields of a kind of clock, and how they are read. Without what
// it counts or reads there is no clock: then it says so and returns none.
func (e *editor) clockFields(k model.Clock) ([]form.Field, func(*reader) model.Clock) {
	rule := ruleField(k.Rule)
	unit := e.unitOf(k)
	amount, ratio, limit := e.shown(k.Amount, unit), e.shown(k.FeedRatio, ""), e.figure(k.Limit, unit)
	ratioField := form.Field{Name: fieldRatio, Label: "waste to product", Value: ratio, Cells: 8, Hint: "of a stage that passes the waste too, such as 3; else empty"}
	// Figures are shown rounded: untouched, they stay what they were.
	counted := func(r *reader) model.Clock {
		k := k
		k.Counter, k.Rule = model.ID(r.text(fieldCounter)), model.Rule(r.text(fieldRule))
		if r.text(fieldRatio) != ratio {
			k.FeedRatio = r.number(fieldRatio, 0, true)
		}
		return k
	}
	switch k.Kind {
	case model.ClockCalendar:
		every := k.Every.String()
		if k.Every.IsZero() {
			every = "1mo"
		}
		return []form.Field{{Name: fieldEvery, Label: "how long", Value: every, Cells: 8, Hint: "5d, 2w, 6mo or 1y"}, rule}, func(r *reader) model.Clock {
			return model.Clock{Kind: k.Kind, Every: r.span(fieldEvery), Rule: model.Rule(r.text(fieldRule))}
		}
	case model.ClockUsage:
		counters, ok := e.counters(k.Counter)
		if !ok {
			return nil, nil
		}
		return []form.Field{counters, {Name: fieldAmount, Label: "amount", Value: amount, Cells: 10, Hint: "in the counter's unit"}, ratioField, rule}, func(r *reader) model.Clock {
			c := counted(r)
			if counter, _ := e.session.Book.Counter(c.Counter); r.text(fieldAmount) != amount || c.Counter != k.Counter {
				c.Amount = r.amount(fieldAmount, counter.Unit)
			}
			return c
		}
	case model.ClockLoad:
		counters, ok := e.counters(k.Counter)
		inlet, okIn := e.gauges(fieldInlet, "comes in at", k.Inlet, false)
		outlet, _ := e.gauges(fieldOutlet, "goes out at", k.Outlet, true)
		if !ok || !okIn {
			return nil, nil
		}
		return []form.Field{counters, inlet, outlet, {Name: fieldAmount, Label: "takes up", Value: amount, Cells: 10, Hint: e.unitOf(k) + " until it is spent"}, ratioField, rule}, func(r *reader) model.Clock {
			c := counted(r)
			c.Meq = k.Meq
			c.Inlet, c.Outlet = model.ID(r.text(fieldInlet)), model.ID(r.text(fieldOutlet))
			if r.text(fieldAmount) != amount {
				c.Amount = r.number(fieldAmount, 0, false)
			}
			return c
		}
	case model.ClockLevel:
		vessels, ok := e.vessels(k.Vessel)
		if !ok {
			return nil, nil
		}
		return []form.Field{vessels}, func(r *reader) model.Clock {
			return model.Clock{Kind: k.Kind, Vessel: model.ID(r.text(fieldVessel))}
		}
	case model.ClockReading:
		gauges, _ := e.gauges(fieldGauge, "gauge", k.Gauge, false)
		for _, d := range derived {
			gauges.Options = append(gauges.Options, form.Option{Value: string(d.id), Label: d.name})
		}
		gauges.Value = string(k.Gauge)
		return []form.Field{gauges, {Name: fieldLimit, Label: "change at", Value: limit, Cells: 10, Hint: "in the gauge's unit"},
				choice(fieldBad, "bad is", string(k.Bad), [3]string{"a", "above", "above"}, [3]string{"b", "below", "below"})}, func(r *reader) model.Clock {
				c := model.Clock{Kind: k.Kind, Gauge: model.ID(r.text(fieldGauge)), Limit: k.Limit, Bad: model.Side(r.text(fieldBad))}
				if r.text(fieldLimit) != limit || c.Gauge != k.Gauge {
					c.Limit = r.value(fieldLimit, e.gaugeOf(c.Gauge))
				}
				return c
			}
	}
	return nil, nil
}

// derived are the gauges that are computed from others.
var derived = []struct {
	id   model.ID
	name string
	unit string
}{
	{model.Rejection, "rejection", "%"}, {model.NormalisedFlow, "normalised flow", "%"},
	{model.PrefilterDrop, "drop over the prefilters", "bar"}, {model.WasteRatio, "waste ratio", ""},
}

// gaugeOf is a gauge, or what stands for a derived one.
func (e *editor) gaugeOf(id model.ID) model.Gauge {
	for _, d := range derived {
		if d.id == id {
			return model.Gauge{ID: d.id, Name: d.name, Unit: d.unit}
		}
	}
	g, _ := e.session.Book.Gauge(id)
	return g
}

// unitOf is the unit in which the book keeps the figure of a clock.
func (e *editor) unitOf(k model.Clock) string {
	switch k.Kind {
	case model.ClockUsage:
		c, _ := e.session.Book.Counter(k.Counter)
		return c.Unit
	case model.ClockReading:
		return e.gaugeOf(k.Gauge).Unit
	}
	return k.LoadUnit()
}

// figure is a value as it is shown and typed.
func (e *editor) figure(v float64, unit string) string {
	return parse.Figure(v, unit, e.session.Book.Def().Units)
}

// shown writes a figure as figure does, and "" for one that nobody stated (0).
func (e *editor) shown(v float64, unit string) string {
	if v <= 0 {
		return ""
	}
	return e.figure(v, unit)
}

// counters offers the counters in use; it says so when there are none.
func (e *editor) counters(chosen model.ID) (form.Field, bool) {
	f := form.Field{Name: fieldCounter, Label: "counter", Value: string(chosen)}
	addInUse(&f, e.session.Book.Counters(), func(c model.Counter) (model.ID, string, model.Date) { return c.ID, c.Name, c.Retired })
	return f, e.offers(f, "there is no counter yet; in Gear, a adds one")
}

// gauges offers the gauges in use; it says so when there are none.
func (e *editor) gauges(name, label string, chosen model.ID, none bool) (form.Field, bool) {
	f := form.Field{Name: name, Label: label, Value: string(chosen)}
	if none {
		f.Options = append(f.Options, form.Option{Value: "", Label: "not read"})
	}
	addInUse(&f, e.session.Book.Gauges(), func(g model.Gauge) (model.ID, string, model.Date) { return g.ID, g.Name, g.Retired })
	return f, e.offers(f, "there is no gauge yet; in Gear, a adds one")
}

// offers tells whether a field has anything to choose from, and says so when there is nothing.
func (e *editor) offers(f form.Field, nothing string) bool {
	if len(f.Options) == 0 {
		e.session.Root.Say(nothing)
	}
	return len(f.Options) > 0
}

// amount is an amount above 0 in a unit, as a keeper types it.
func (r *reader) amount(field, unit string) float64 {
	v := r.orNone(field, unit)
	if v <= 0 {
		r.fail(field, "give an amount above 0")
	}
	return v
}

// orNone is an amount of 0 or more.
func (r *reader) orNone(field, unit string) float64 {
	v, err := parse.Amount(r.text(field), unit, r.units)
	if err != nil {
		r.fail(field, err.Error())
	}
	return v
}

// value is a value of a gauge, as a keeper types it.
func (r *reader) value(field string, g model.Gauge) float64 {
	v, err := parse.Value(r.text(field), g, r.units)
	if err != nil {
		r.fail(field, err.Error())
	}
	return v
}
