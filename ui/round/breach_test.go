package round

import (
	"testing"

	"brine/wrasse/model"
	"brine/wrasse/ui/uitest"
)

// A value outside its safe range stands above the round until a reading lies inside, which enter on it asks for.
func TestAValueOutsideItsRangeStandsFirst(t *testing.T) {
	b := firstBook(t)
	low, high := 24.0, 27.5
	for _, e := range []model.Entry{
		model.NewEntry(uitest.Today, model.Gauge{ID: "tank", Name: "Tank temperature", Unit: "C", Safe: &model.Range{Low: &low, High: &high}}),
		model.NewEntry(uitest.Today.AddDays(-1), model.Reading{Gauge: "tank", Value: 33}),
	} {
		e.Seq = b.Last() + 1
		var err error
		if b, err = b.Extend([]model.Entry{e}); err != nil {
			t.Fatal(err)
		}
	}
	for _, size := range [][2]int{{120, 40}, {80, 24}, {40, 16}} {
		s := uitest.Open(t, b, view, size[0], size[1])
		s.Exact()
		s.Sees("outside its safe range", "! Tank temperature: 33 °C", "since 2")
	}
	s := uitest.Open(t, b, view, 80, 24)
	s.Keys("<home>")
	s.Sees("safe is 24 to 27.5 °C", "second instrument")
	s.Keys("fGb") // it hangs on no component to flag, grade or report
	s.Keys("<enter>31<enter>")
	s.Sees("is outside its safe range, safe is 24 to 27.5 °C")
	s.Keys("<enter>") // it is what was read
	s.Sees("! Tank temperature: 31 °C")
	s.Keys("<enter>25<enter>")
	s.Misses("outside its safe range")
	if r := last(s).(model.Reading); r.Value != 25 {
		t.Fatalf("%#v", r)
	}
}
