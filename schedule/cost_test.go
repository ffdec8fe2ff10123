package schedule

import (
	"testing"

	"brine/wrasse/model"
)

// An access group is paid once a date, and so is a place; the next date pays both again.
func TestCostSum(t *testing.T) {
	cellar, tank := model.Place{ID: "cellar", Minutes: 5}, model.Place{ID: "pump", Minutes: 2}
	pump, skimmer := model.Component{ID: "pump", AccessMinutes: 7}, model.Component{ID: "skimmer", AccessMinutes: 1}
	soak := model.Chore{Minutes: 10, Steps: []model.Step{{Text: "soak", TimerMinutes: 30}}}
	wipe := model.Chore{Minutes: 3}
	var sum CostSum
	for _, c := range []struct {
		on     model.Date
		chore  model.Chore
		leader model.Component
		place  model.Place
		want   Cost
	}{
		{1, soak, pump, cellar, Cost{10, 30, 12}},
		{1, wipe, pump, cellar, Cost{13, 30, 12}},
		{2, wipe, pump, cellar, Cost{16, 30, 24}},
		{1, wipe, skimmer, cellar, Cost{19, 30, 25}},
		{1, wipe, skimmer, tank, Cost{22, 30, 27}}, // a place with the id of a component
	} {
		sum.Add(c.on, c.chore, c.leader, c.place)
		if sum.Cost != c.want {
			t.Errorf("with %d minutes at %s on day %d: %+v, want %+v", c.chore.Minutes, c.leader.ID, c.on, sum.Cost, c.want)
		}
	}
}
