package phrase

import (
	"testing"

	"brine/wrasse/model"
	"brine/wrasse/schedule"
)

// What was read before a part was renewed says nothing of the new one, in the round as in Water.
func TestTheRoundAsksToReadARenewedPart(t *testing.T) {
	b, _ := demo(t)
	e := model.NewEntry(today, model.Tick{Chore: "renew-resin", Found: model.FoundHeavy})
	e.Seq = b.Last() + 1
	b, err := b.Extend([]model.Entry{e})
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range Clocks(b, schedule.Make(b, today).Of("renew-resin"), today) {
		if l.Head == string(model.ClockReading) && l.Text != "after resin: renewed 25 Nov: read again" {
			t.Errorf("%q", l.Text)
		}
	}
}
