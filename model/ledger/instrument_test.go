package ledger

import (
	"testing"

	"brine/wrasse/model"
)

// An instrument is off from the check that failed first, by what the latest said, until a check passes or it is renewed.
func TestOff(t *testing.T) {
	t.Parallel()
	two, three := 2.0, 3.0
	yearly := []model.Clock{{Kind: model.ClockCalendar, Rule: model.RuleEvery, Every: model.Span{N: 90, Unit: model.SpanDays}}}
	failed := func(by *float64) model.Tick { return model.Tick{Chore: "check", Found: model.FoundFailed, Offset: by} }
	log := append(start(),
		model.NewEntry(date(t, "2024-01-02"), model.Chore{ID: "check", Component: "pump", Name: "Check", Work: model.WorkTest, Minutes: 5, Consequence: 2, Clocks: yearly}),
		model.NewEntry(date(t, "2024-01-02"), model.Chore{ID: "swap", Component: "pump", Name: "Swap", Work: model.WorkRenew, Minutes: 5, Consequence: 2, Clocks: yearly}),
		model.NewEntry(date(t, "2024-01-02"), model.Gauge{ID: "meter", Name: "Meter", Unit: "ppm", Instrument: "pump"}),
		model.NewEntry(date(t, "2024-01-05"), failed(&two)), model.NewEntry(date(t, "2024-01-07"), failed(&three)),
		model.NewEntry(date(t, "2024-01-09"), model.Tick{Chore: "check", Found: model.FoundPassed}),
		model.NewEntry(date(t, "2024-01-11"), failed(nil)), model.NewEntry(date(t, "2024-01-13"), model.Tick{Chore: "swap"}))
	b := bookOf(log...)
	g, _ := b.Gauge("meter")
	for on, want := range map[string]struct {
		since string
		by    *float64
	}{
		"2024-01-04": {}, "2024-01-05": {"2024-01-05", &two}, "2024-01-08": {"2024-01-05", &three}, "2024-01-09": {},
		"2024-01-12": {"2024-01-11", nil}, "2024-01-13": {},
	} {
		off, ok := b.Off(g, model.EndOf(date(t, on)))
		if ok != (want.since != "") || ok && (off.Since.On != date(t, want.since) || (off.By == nil) != (want.by == nil) || off.By != nil && *off.By != *want.by) {
			t.Errorf("on %s: %+v %v, want since %s", on, off, ok, want.since)
		}
	}
}
