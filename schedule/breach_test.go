package schedule

import (
	"testing"

	"brine/wrasse/model"
)

// A value outside its range stands until one inside, and one taken too soon after standstill counts neither way.
func TestBreaches(t *testing.T) {
	low, high := 24.0, 27.5
	d := newDiary(t)
	e := model.NewEntry(date(t, "2025-01-01"), model.Gauge{ID: "tank", Name: "Tank", Unit: "C", Safe: &model.Range{Low: &low, High: &high}})
	e.Seq = model.Seq(len(d.entries) + 1)
	d.entries = append(d.entries, e)
	d.read("2025-03-01", "tank", 25).read("2025-03-02", "tank", 24).read("2025-03-02", "tank", 27.5)
	if got := d.round("2025-03-02").Breaches; len(got) != 0 {
		t.Errorf("inside, its ends included: %+v", got)
	}
	d.read("2025-03-03", "tank", 33).read("2025-03-05", "tank", 32)
	got := d.round("2025-04-20").Breaches
	if len(got) != 1 || got[0].Gauge.ID != "tank" || got[0].Value != 32 || got[0].Since.String() != "2025-03-03" || got[0].On.String() != "2025-03-05" {
		t.Fatalf("33 and 32: %+v", got)
	}
	if got := d.round("2025-03-02").Breaches; len(got) != 0 {
		t.Errorf("before it was read: %+v", got)
	}
	d.readEarly("2025-03-06", "tank", 25, 2)
	if got := d.round("2025-03-06").Breaches; len(got) != 1 || got[0].Value != 32 {
		t.Errorf("a reading of the first minutes ends it: %+v", got)
	}
	d.read("2025-03-07", "tank", 25.5)
	if got := d.round("2025-03-07").Breaches; len(got) != 0 {
		t.Errorf("inside again: %+v", got)
	}
	d.read("2025-03-08", "tank", 20)
	if got := d.round("2025-03-08").Breaches; len(got) != 1 || got[0].Since.String() != "2025-03-08" {
		t.Errorf("too low: %+v", got)
	}
}
