package station

import (
	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/model/water"
)

// Roles of gauges for what a keeper sees without a meter: a value above 0 is yes, 0 no.
const (
	RoleWasteWhenFull  = "seen-waste-when-full"
	RoleDiatoms        = "seen-diatoms"
	RoleSilica         = "seen-silica"
	RolePressureSwings = "seen-pressure-swings"
	RolePressureSags   = "seen-pressure-sags"
)

var sights = []struct {
	role string
	of   func(*water.Sightings) *bool
}{
	{RoleWasteWhenFull, func(s *water.Sightings) *bool { return &s.WasteRunsWhenFull }},
	{RoleDiatoms, func(s *water.Sightings) *bool { return &s.DiatomFilm }},
	{RoleSilica, func(s *water.Sightings) *bool { return &s.SilicaFound }},
	{RolePressureSwings, func(s *water.Sightings) *bool { return &s.PressureSwings }},
	{RolePressureSags, func(s *water.Sightings) *bool { return &s.PressureSagsOverDay }},
}

// sightDays is how long what was seen counts: a month, as readings do.
const sightDays = 30

// Sights are the gauges of a book in use for what is seen.
func Sights(b *ledger.Book) []model.Gauge {
	var out []model.Gauge
	for _, s := range sights {
		if g, ok := b.GaugeByRole(s.role); ok && g.Retired.IsZero() {
			out = append(out, g)
		}
	}
	return out
}

// Seen tells whether a sighting stands on a date: it was seen of late, and not said to be gone.
func Seen(b *ledger.Book, g model.Gauge, on model.Date) bool {
	v := latest(b, g, on, model.Mark{})
	return v.Read() && v.Age <= sightDays && v.Value > 0
}

// isSight tells whether a role is one of what is seen.
func isSight(role string) bool {
	for _, s := range sights {
		if s.role == role {
			return true
		}
	}
	return false
}

// sightings are what was seen of late: the last word on each counts. What was seen of the resin before it was renewed counts
// no more.
func sightings(b *ledger.Book, on model.Date, resin model.Mark) water.Sightings {
	var out water.Sightings
	for _, s := range sights {
		g, ok := b.GaugeByRole(s.role)
		if !ok {
			continue
		}
		var after model.Mark
		if s.role == RoleSilica || s.role == RoleDiatoms {
			after = resin
		}
		if v := latest(b, g, on, after); v.Read() && v.Age <= sightDays {
			*s.of(&out) = v.Value > 0
		}
	}
	return out
}
