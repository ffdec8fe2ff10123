package phrase

import (
	"testing"

	"brine/wrasse/model"
	"brine/wrasse/schedule"
)

// A check that failed says what to do and that nothing asks for it sooner, until it passes or what it checks is renewed.
func TestWhatFollowsACheckThatFailed(t *testing.T) {
	b, _ := demo(t)
	after := func(bodies ...model.Body) string {
		t.Helper()
		next := b
		for _, body := range bodies {
			e := model.NewEntry(today, body)
			e.Seq = next.Last() + 1
			var err error
			if next, err = next.Extend([]model.Entry{e}); err != nil {
				t.Fatal(err)
			}
		}
		chore := model.ID("check-tds-meter")
		if tick, ok := bodies[0].(model.Tick); ok {
			chore = tick.Chore
		}
		return Failed(next, schedule.Make(next, today).Of(chore), today)
	}
	two := 2.0
	failed := model.Tick{Chore: "check-tds-meter", Found: model.FoundFailed, Offset: &two}
	for _, c := range []struct {
		bodies []model.Body
		want   string
	}{
		{[]model.Body{failed}, "failed on 25 Nov, 2 ppm too high: put it right and check it again; nothing asks for that before 23 May"},
		{[]model.Body{model.Tick{Chore: "test-leak-alarm", Found: model.FoundFailed}}, "failed on 25 Nov: put it right and check it again; nothing asks for that before 24 Dec"},
		{[]model.Body{failed, model.Tick{Chore: "check-tds-meter", Found: model.FoundPassed}}, ""},
		{[]model.Body{model.Tick{Chore: "check-tds-meter", Found: model.FoundPassed}}, ""},
		{[]model.Body{model.Tick{Chore: "clean-impeller", Found: model.FoundFailed}}, ""},
	} {
		if got := after(c.bodies...); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
	meter, _ := b.Component("tds-meter")
	meter.Serve(today.AddDays(1), false)
	renewed := model.NewEntry(today, meter)
	renewed.Seq = b.Last() + 2
	tick := model.NewEntry(today, failed)
	tick.Seq = b.Last() + 1
	next, err := b.Extend([]model.Entry{tick, renewed})
	if err != nil {
		t.Fatal(err)
	}
	if got := Failed(next, schedule.Make(next, today.AddDays(1)).Of("check-tds-meter"), today.AddDays(1)); got != "" {
		t.Errorf("of a meter that is new since: %q", got)
	}
}
