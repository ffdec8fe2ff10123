package schedule

import (
	"testing"

	"brine/wrasse/model"
)

// Batches of 4 kg every ten days; the first entry of the counter opens its record.
func salted(t *testing.T, onHand float64, unit string) *diary {
	d := newDiary(t).chore(clocks(every("100d")), func(c *model.Chore) { c.Spares = nil })
	d.add(model.NewEntry(0, model.Counter{ID: "mixed", Name: "Batches", Unit: "batch", Style: model.StyleAmount, Role: model.RoleBatches}))
	d.add(model.NewEntry(0, model.Spare{ID: "salt", Name: "Salt", Unit: unit, LeadDays: 10, Role: model.RoleSalt}))
	d.did("2025-01-01", model.Stock{Spare: "salt", Change: onHand})
	one := 1.0
	for i := range 20 {
		on := date(t, "2025-01-01").AddDays(10 * i).String()
		d.did(on, model.Batch{VolumeL: 100, SaltG: 4000})
		d.did(on, model.Usage{Counter: "mixed", Amount: &one})
	}
	return d
}

func saltForecast(t *testing.T, d *diary) SpareForecast {
	t.Helper()
	for _, f := range d.round("2025-07-10").Shelf() { // the last batch is of this day
		if f.Spare.ID == "salt" {
			return f
		}
	}
	t.Fatal("no salt on the shelf")
	return SpareForecast{}
}

func TestSaltIsForecastFromTheBatches(t *testing.T) {
	f := saltForecast(t, salted(t, 10, "kg"))
	equalNumber(t, "a batch", f.PerBatch, 4)
	if gap := f.NextUse.Sub(date(t, "2025-07-10")); gap < 9 || gap > 11 {
		t.Errorf("the next batch in %d days, want about 10", gap)
	}
	// Two batches are on the shelf; the third, about 30 days on, finds too little.
	if out := f.OutOn.Sub(date(t, "2025-07-10")); out < 27 || out > 33 {
		t.Errorf("out in %d days, want about 30", out)
	}
	if f.OrderBy != f.OutOn.AddDays(-17) {
		t.Errorf("order by %s for %s", f.OrderBy, f.OutOn)
	}
	if f.Used < 4*33 || f.Used > 4*40 {
		t.Errorf("%g kg a year, want about 146", f.Used)
	}
}

func TestSaltInPounds(t *testing.T) {
	equalNumber(t, "a batch in lb", saltForecast(t, salted(t, 10, "lb")).PerBatch, 4000/453.59237)
}

func TestSaltThatCannotBeForecast(t *testing.T) {
	if f := saltForecast(t, salted(t, 10, "bucket")); f.PerBatch != 0 || !f.NextUse.IsZero() {
		t.Errorf("buckets are no mass, yet %+v", f)
	}
	d := newDiary(t).chore(clocks(every("100d")), func(c *model.Chore) { c.Spares = nil })
	d.add(model.NewEntry(0, model.Spare{ID: "salt", Name: "Salt", Unit: "kg", Role: model.RoleSalt}))
	if f := saltForecast(t, d); f.PerBatch != 0 || !f.OutOn.IsZero() {
		t.Errorf("no batch yet, but %+v", f)
	}
}

// A chore that takes the salt says itself what it takes.
func TestSaltThatAChoreTakes(t *testing.T) {
	d := salted(t, 10, "kg")
	d.chore(clocks(every("100d")), func(c *model.Chore) { c.Spares = []model.SpareUse{{Spare: "salt", Quantity: 3}} })
	f := saltForecast(t, d)
	equalNumber(t, "a batch", f.PerBatch, 0)
	if f.Used > 5*3 {
		t.Errorf("%g kg a year is more than the chore takes", f.Used)
	}
}

// A vat that was counted says what is to be mixed of late: 250 L wanted on the 20th, of which 50 are there, are 200 L on the
// 19th, at 4 kg in 100 L. The batch of every ten days that would fall into the four weeks is not reckoned beside it.
func TestSaltOfTheMixesAhead(t *testing.T) {
	d := salted(t, 10, "kg")
	d.add(model.NewEntry(0, model.Vessel{ID: "vat", Name: "Vat", Place: "cellar", Holds: model.HoldsSalt, Capacity: 300}))
	d.did("2025-07-10", model.Level{Vessel: "vat", Litres: 50})
	d.did("2025-07-10", model.Need{Vessel: "vat", Litres: 250, By: date(t, "2025-07-20")})
	f := saltForecast(t, d)
	if f.NextUse != date(t, "2025-07-19") {
		t.Errorf("next use %s", f.NextUse)
	}
	// 8 of 10 kg are gone with it; the next batch of 4 kg, after four weeks, finds 2.
	if f.OutOn <= date(t, "2025-08-07") || f.OutOn > date(t, "2025-08-18") {
		t.Errorf("out on %s", f.OutOn)
	}
}
