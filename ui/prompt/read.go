package prompt

import (
	"fmt"
	"slices"
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/model/station"
	"brine/wrasse/model/water"
	"brine/wrasse/ui"
	"brine/wrasse/ui/form"
	"brine/wrasse/ui/parse"
	"brine/wrasse/ui/phrase"
	"brine/wrasse/ui/request"
	"brine/wrasse/ui/session"

	tea "github.com/charmbracelet/bubbletea"
)

// fieldRunning is the minutes the unit had run before readings were taken.
const fieldRunning = "running"

// tdsRoles are the three gauges of the water station, in the order the water flows.
var tdsRoles = []string{model.RoleTDSTap, model.RoleTDSMembrane, model.RoleTDSProduct}

// mostGauges is how many gauges a form shows where none are named.
const mostGauges = 8

// Readings logs readings of gauges, of the three TDS gauges unless others are named,
// as one act. Values are typed one by one, or all on one line: `248 6 0`.
func Readings(d *session.Session, gauges []model.ID) tea.Cmd {
	r := &readings{session: d}
	for _, id := range gauges {
		if g, ok := d.Book.Gauge(id); ok && !slices.ContainsFunc(r.gauges, func(o model.Gauge) bool { return o.ID == id }) {
			r.gauges = append(r.gauges, g)
		}
	}
	if len(gauges) == 0 {
		r.gauges = usualGauges(d.Book)
	}
	if len(r.gauges) == 0 {
		d.Root.Fail(fmt.Errorf("the book has no gauge to read; view 3 adds one"))
		return nil
	}
	var fields []form.Field
	for _, g := range r.gauges {
		fields = append(fields, form.Field{Name: string(g.ID), Label: gaugeLabel(g), Cells: 7, Limit: 30, Hint: r.hint(g)})
	}
	if slices.ContainsFunc(r.gauges, ofStation) {
		fields = append(fields, form.Field{Name: fieldRunning, Label: "min run", Cells: 4, Limit: 5,
			Hint: fmt.Sprintf("minutes the unit had run; under %d a reading counts nowhere; may stay empty", model.SettledMinutes)})
	}
	fields = append(fields, form.Field{Name: fieldDate, Label: "on", Cells: 10, Limit: 40, Hint: "empty is today; yesterday, 3d, monday, 5 nov"})
	d.Root.Push(ui.NewFormSheet(d.Root, form.Spec{
		Title: r.title(), Fields: fields, OneLine: true, SpaceMoves: true,
		Problems: r.problems, Queries: r.queries, Notes: r.notes,
	}, r.save))
	return nil
}

// readings is the form being filled in.
type readings struct {
	session *session.Session
	gauges  []model.Gauge
}

// usualGauges are the TDS gauges or, in a book without, the first ones there are.
func usualGauges(b *ledger.Book) []model.Gauge {
	var out []model.Gauge
	for _, role := range tdsRoles {
		if g, ok := b.GaugeByRole(role); ok {
			out = append(out, g)
		}
	}
	if len(out) > 0 {
		return out
	}
	for _, g := range b.Gauges() {
		if g.Retired.IsZero() && len(out) < mostGauges {
			out = append(out, g)
		}
	}
	return out
}

// ofStation reports whether a gauge reads running water, whose readings count only
// once it has run for a while.
func ofStation(g model.Gauge) bool {
	switch g.Role {
	case model.RoleTDSTap, model.RoleTDSMembrane, model.RoleTDSProduct, model.RolePressureMembrane, model.RoleFlowProduct, model.RoleFlowWaste:
		return true
	}
	return false
}

// gaugeLabel is a gauge's name in a row of figures.
func gaugeLabel(g model.Gauge) string {
	switch g.Role {
	case model.RoleTDSTap:
		return "tap"
	case model.RoleTDSMembrane:
		return "membrane"
	case model.RoleTDSProduct:
		return "resin"
	}
	return g.Name
}

func (r *readings) title() string {
	if slices.ContainsFunc(r.gauges, func(g model.Gauge) bool { return g.Role == model.RoleTDSMembrane }) {
		return "Readings: TDS in ppm"
	}
	return "Readings"
}

// hint is how a gauge is read, and its last reading or its unit.
func (r *readings) hint(g model.Gauge) string {
	how, more := station.Hint(g), "; a space or tab goes on"
	if how != "" {
		how, more = how+"; ", ""
	}
	return how + r.last(g) + more
}

// last is the last reading of a gauge, or its unit.
func (r *readings) last(g model.Gauge) string {
	unit := parse.UnitName(parse.Unit(g.Unit, r.session.Book.Def().Units))
	all := r.session.Book.Readings(g.ID)
	if len(all) == 0 {
		return "in " + unit
	}
	last := all[len(all)-1]
	return fmt.Sprintf("last %s on %s", parse.Quantity(last.What.Value, g.Unit, r.session.Book.Def().Units), phrase.Day(last.On, r.session.Today()))
}

// values are the readings typed so far that can be read, and problems with the rest.
func (r *readings) values(v form.Values) ([]model.Reading, map[string]string) {
	var out []model.Reading
	wrong := map[string]string{}
	running, err := runningMinutes(v[fieldRunning])
	if err != nil {
		wrong[fieldRunning] = err.Error()
	}
	for _, g := range r.gauges {
		s := strings.TrimSpace(v[string(g.ID)])
		if s == "" || s == parse.Skipped {
			continue
		}
		value, err := parse.Value(s, g, r.session.Book.Def().Units)
		if err != nil {
			wrong[string(g.ID)] = err.Error()
			continue
		}
		m := model.Reading{Gauge: g.ID, Value: value}
		if ofStation(g) {
			m.MinutesRunning = running
		}
		out = append(out, m)
	}
	return out, wrong
}

// runningMinutes reads the minutes the unit had run; nil when nothing was typed.
func runningMinutes(s string) (*float64, error) {
	if strings.TrimSpace(s) == "" {
		return nil, nil
	}
	n, err := parse.Minutes(s)
	return &n, err
}

func (r *readings) problems(v form.Values) map[string]string {
	list, out := r.values(v)
	if len(list) == 0 && len(out) == 0 {
		out[string(r.gauges[0].ID)] = "nothing typed yet; give at least one reading"
	}
	if _, err := day(v[fieldDate], r.session.Today()); err != nil {
		out[fieldDate] = err.Error()
	}
	return out
}

func (r *readings) queries(v form.Values) map[string]string {
	w, err := day(v[fieldDate], r.session.Today())
	if err != nil {
		return nil
	}
	out := map[string]string{fieldDate: parse.OddDate(w.On, r.session.Today())}
	list, _ := r.values(v)
	for _, m := range list {
		odd := parse.OddReading(r.session.Book, m, w.On)
		if g, _ := r.session.Book.Gauge(m.Gauge); odd == "" && g.Safe != nil && !g.Safe.Holds(m.Value) {
			odd = phrase.Amount(r.session.Book, m.Value, g.Unit) + " is outside its safe range, " + phrase.Safe(r.session.Book, g)
		}
		out[string(m.Gauge)] = odd
	}
	if odd := parse.OddOrder(r.session.Book, list); odd != "" {
		last := string(list[len(list)-1].Gauge)
		if out[last] == "" {
			out[last] = odd
		}
	}
	return out
}

// notes are how long to let the unit run first, until that is said, and what the
// readings come to while they are typed.
func (r *readings) notes(v form.Values) []string {
	var out []string
	ran, err := runningMinutes(v[fieldRunning])
	switch {
	case err != nil:
	case ran == nil:
		if say := station.LetRun(r.session.Book, r.gauges, r.session.Today()); say != "" {
			out = append(out, say)
		}
	case *ran < model.SettledMinutes:
		out = append(out, fmt.Sprintf("taken under %d min after the start: shown, counts nowhere", model.SettledMinutes))
	}
	if say := r.rejection(v); say != "" {
		out = append(out, say)
	}
	return out
}

// rejection is that of the tap and the membrane as typed, as Water will say it.
func (r *readings) rejection(v form.Values) string {
	list, _ := r.values(v)
	value := func(role string) (float64, bool) {
		g, ok := r.session.Book.GaugeByRole(role)
		for _, m := range list {
			if ok && m.Gauge == g.ID {
				return m.Value, true
			}
		}
		return 0, false
	}
	tap, ok1 := value(model.RoleTDSTap)
	membrane, ok2 := value(model.RoleTDSMembrane)
	passage, err := water.SaltPassage(tap, membrane)
	if !ok1 || !ok2 || err != nil {
		return ""
	}
	warm, known := value(model.RoleTemperatureWater)
	if !known {
		warm, known = r.session.Book.Series(r.session.Today()).Warmth(r.session.Today())
	}
	if f, err := water.WarmWaterFactor(warm); known && err == nil {
		passage *= f
	} else {
		warm = 0
	}
	return phrase.Rejection(100*(1-passage), station.RejectionAt(warm, r.session.Book.Def().Units))
}

func (r *readings) save(v form.Values) ui.Job {
	list, _ := r.values(v)
	w, _ := day(v[fieldDate], r.session.Today()) // checked as a problem
	return r.session.Job("logging readings", request.Read{Stamp: request.Stamp{On: w.On, By: r.session.By}, Readings: list}, nil)
}
