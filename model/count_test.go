package model

import "testing"

// What a meter shows is known from the latest value on, until it is set back or an amount is logged; a brief book knows
// it as the whole log does.
func TestLastMeter(t *testing.T) {
	log := longStart()
	day := log[len(log)-1].On
	add := func(after int, body Body) {
		e := NewEntry(day.AddDays(after), body)
		e.Seq = Seq(len(log) + 1)
		log = append(log, e)
	}
	value := func(v float64) *float64 { return &v }
	add(10, Usage{Counter: "hours", Meter: value(5000)})
	add(20, Usage{Counter: "hours", Meter: value(5100)})
	add(30, MeterReset{Counter: "hours"})
	add(30, Usage{Counter: "hours", Meter: value(7)})
	add(40, Counter{ID: "hours", Name: "Hours", Unit: "h", Style: StyleAmount})
	add(40, Usage{Counter: "hours", Amount: value(3)})
	add(50, MeterReset{Counter: "hours"})
	full, err := Fold(log)
	if err != nil {
		t.Fatal(err)
	}
	store := &kept{}
	if err := store.put(full, log); err != nil {
		t.Fatal(err)
	}
	brief, err := Open(store, full.Last(), store, Hold{})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		after int
		want  float64
		known bool
	}{{10, 5000, true}, {19, 5000, true}, {20, 5100, true}, {29, 5100, true}, {30, 7, true}, {39, 7, true}, {40, 0, false}, {60, 0, false}} {
		for name, b := range map[string]*Book{"full": full, "brief": brief} {
			if got, known := b.LastMeter("hours", day.AddDays(c.after)); got != c.want || known != c.known {
				t.Errorf("%s, after %d days: %g, %t; want %g, %t", name, c.after, got, known, c.want, c.known)
			}
		}
	}
	if _, known := full.LastMeter("litres", day); known {
		t.Error("a counter of amounts shows a value")
	}
	for back := range 60 { // as far as the brief book answers
		on := day.AddDays(-back)
		if on < brief.Floor() {
			break
		}
		got, known := brief.LastMeter("hours", on)
		want, wasKnown := full.LastMeter("hours", on)
		if got != want || known != wasKnown {
			t.Errorf("on %s the brief book says %g, %t, the whole log %g, %t", on, got, known, want, wasKnown)
		}
	}
}
