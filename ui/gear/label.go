package gear

import (
	"brine/wrasse/model"
	"brine/wrasse/ui/form"
	"brine/wrasse/ui/parse"
)

// label asks for what a membrane element's label promises at 25 °C; it may stay empty.
func (e *editor) label(c model.Component) []form.Field {
	flow, bar := "", ""
	if c.Rated != nil {
		flow, bar = e.figure(c.Rated.FlowLH, "L/h"), e.figure(c.Rated.PressureBar, "bar")
	}
	u := e.session.Book.Def().Units
	return []form.Field{
		{Name: fieldRated, Label: "label: flow", Value: flow, Cells: 8, Limit: 20, Hint: "in " + parse.Unit("L/h", u) + ", or such as 75 gpd, at 25 °C; may stay empty"},
		{Name: fieldRatedAt, Label: "label: pressure", Value: bar, Cells: 8, Limit: 20, Hint: "at which it gives that, in " + parse.Unit("bar", u) + ", or such as 50 psi"},
	}
}

// rated is the label as typed; was is left as it was where its figures were not touched.
func (r *reader) rated(was *model.Rated) *model.Rated {
	flow, bar := r.text(fieldRated), r.text(fieldRatedAt)
	if flow == "" && bar == "" {
		return nil
	}
	if was != nil && flow == parse.Figure(was.FlowLH, "L/h", r.units) && bar == parse.Figure(was.PressureBar, "bar", r.units) {
		return was
	}
	return &model.Rated{FlowLH: r.amount(fieldRated, "L/h"), PressureBar: r.amount(fieldRatedAt, "bar")}
}
