package round

import (
	"strings"
	"testing"

	"brine/wrasse/model"
	"brine/wrasse/ui/uitest"
)

func TestAGentleReturn(t *testing.T) {
	b := firstBook(t)
	away := model.NewEntry(uitest.Today.AddDays(-15), model.Away{Until: uitest.Today.AddDays(-1)})
	away.Seq = b.Last() + 1
	b, err := b.Extend([]model.Entry{away})
	if err != nil {
		t.Fatal(err)
	}
	uitest.Open(t, b, view, 80, 24).Sees("back after 14 days: worst first")
}

func TestClickPutsTheCursor(t *testing.T) {
	s := open(t)
	for _, c := range []struct{ on, cursor string }{
		{"clean impeller", "Mixing pump"},
		{"this week", "Mixing pump"}, // a heading
		{"left fan", "Lights: left fan"},
		{"Thermometers", "Thermometers"},
	} {
		s.Click(c.on)
		if line := s.Line(">"); !strings.Contains(line, c.cursor) {
			t.Errorf("after a click on %q the cursor is on %q", c.on, line)
		}
	}
}
