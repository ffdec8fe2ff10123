package ledger

import (
	"testing"

	"brine/wrasse/model"
)

// What a meter shows is known from the latest value on, until it is set back or an amount is logged.
func TestLastMeter(t *testing.T) {
	log := start()
	day := log[len(log)-1].On
	add := func(after int, body model.Body) {
		log = append(log, model.NewEntry(day.AddDays(after), body))
	}
	value := func(v float64) *float64 { return &v }
	add(10, model.Usage{Counter: "hours", Meter: value(5000)})
	add(20, model.Usage{Counter: "hours", Meter: value(5100)})
	add(30, model.MeterReset{Counter: "hours"})
	add(30, model.Usage{Counter: "hours", Meter: value(7)})
	add(40, model.Counter{ID: "hours", Name: "Hours", Unit: "h", Style: model.StyleAmount})
	add(40, model.Usage{Counter: "hours", Amount: value(3)})
	add(50, model.MeterReset{Counter: "hours"})
	b := bookOf(log...)
	for _, c := range []struct {
		after int
		want  float64
		known bool
	}{{10, 5000, true}, {19, 5000, true}, {20, 5100, true}, {29, 5100, true}, {30, 7, true}, {39, 7, true}, {40, 0, false}, {60, 0, false}} {
		if got, known := b.LastMeter("hours", day.AddDays(c.after)); got != c.want || known != c.known {
			t.Errorf("after %d days: %g, %t; want %g, %t", c.after, got, known, c.want, c.known)
		}
	}
	if _, known := b.LastMeter("litres", day); known {
		t.Error("a counter of amounts shows a value")
	}
}
