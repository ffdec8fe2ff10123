package round

import (
	"testing"

	"brine/wrasse/model"
	"brine/wrasse/ui/stage"
)

func TestAGentleReturn(t *testing.T) {
	b := firstBook(t)
	away := model.NewEntry(stage.Today.AddDays(-15), model.Away{Until: stage.Today.AddDays(-1)})
	away.Seq = b.Last() + 1
	b, err := b.Extend([]model.Entry{away})
	if err != nil {
		t.Fatal(err)
	}
	stage.Open(t, b, view, 80, 24).Sees("back after 14 days: worst first")
}

func TestClickPutsTheCursor(t *testing.T) {
	s := open(t)
	for y := range 12 {
		list := New(s.Desk, nil)
		list.settle()
		rows := list.rows()
		list.Click(5, y)
		if i := y - 1; i >= 0 && i < len(rows) && rows[i].stop() && list.at != i {
			t.Errorf("a click on line %d goes to row %d", y, list.at)
		}
	}
}
