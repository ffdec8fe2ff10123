package phrase

import (
	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/model/station"
	"brine/wrasse/schedule"
)

// watched are the values of the station that tell by a slow drift that a stage is
// going, long before a threshold is crossed. What the weather moves, such as the tap's
// temperature and a flow that is not normalised, is not among them.
var watched = []struct {
	derived model.ID // or else
	role    string
	unit    string      // of a derived value
	renewed model.Stage // a renewal of it gives the value a new range; empty where none does
	up      bool        // which way is bad
}{
	{role: model.RoleTDSProduct, renewed: model.StageResin, up: true},
	{derived: model.Rejection, unit: "%", renewed: model.StageMembrane},
	{derived: model.NormalisedFlow, unit: "%", renewed: model.StageMembrane},
	{derived: model.PrefilterDrop, unit: "bar", renewed: model.StageSediment, up: true},
	{role: model.RolePressureLine},
}

// StationDrift says which values of the station have left the range of their first
// readings the bad way: "rejection drifting down since 3 Nov: about 96 %, at first 98 %".
func StationDrift(series *ledger.Series, r *schedule.Round) []string {
	var out []string
	b := series.Book()
	for _, w := range watched {
		gauge, unit := w.derived, w.unit
		if w.role != "" {
			g, ok := b.GaugeByRole(w.role)
			if !ok {
				continue
			}
			gauge, unit = g.ID, g.Unit
		}
		all := series.Of(gauge, model.Mark{}, model.EndOf(r.On))
		if beyond(b, gauge, all) {
			continue // the causes say more
		}
		if gauge == model.PrefilterDrop && len(all) > 0 && all[len(all)-1].Value < 0 {
			continue // a booster stands between the gauges
		}
		since := model.Date(0)
		if all := station.Renewals(b, w.renewed, r.On); w.renewed != "" && len(all) > 0 {
			since = all[len(all)-1].On
		}
		if d := r.Drift(gauge, since); d != nil && d.Up == w.up {
			out = append(out, drifting(b, gauge, unit, d, r.On))
		}
	}
	return out
}

// beyond tells whether the latest of all values of a gauge is past the threshold that a chore
// keeps it to.
func beyond(b *ledger.Book, gauge model.ID, all []ledger.Sample) bool {
	limit, ok := station.Threshold(b, gauge)
	if !ok || len(all) == 0 {
		return false
	}
	last := all[len(all)-1].Value
	return limit.Bad == model.SideAbove && last > limit.Value || limit.Bad == model.SideBelow && last < limit.Value
}

// Drift says that a gauge has left the range of its first readings: "TDS after the
// resin drifting up since 3 Nov". Empty when none has.
func Drift(b *ledger.Book, s *schedule.Standing, today model.Date) []string {
	var out []string
	for i := range s.Clocks {
		if c := &s.Clocks[i]; c.Drift != nil && !c.Crossed {
			out = append(out, drifting(b, c.Clock.Gauge, c.Unit, c.Drift, today))
		}
	}
	return out
}

func drifting(b *ledger.Book, gauge model.ID, unit string, d *schedule.Drift, today model.Date) string {
	way := "down"
	if d.Up {
		way = "up"
	}
	return gaugeName(b, gauge) + " drifting " + way + " since " + Day(d.Since, today) +
		": about " + Amount(b, d.Value, unit) + ", at first " + Amount(b, d.Mean, unit)
}
