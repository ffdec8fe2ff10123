package checklist

import (
	"strings"
	"testing"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/model/starter"
	"brine/wrasse/ui"
	"brine/wrasse/ui/phrase"
	"brine/wrasse/ui/session"
	"brine/wrasse/ui/uitest"
)

// The page of every chore of every set has all of its cautions and the closing line below them, in both systems of units.
func TestEveryPageHasItsCautionsAndTheClosingLine(t *testing.T) {
	var sets [][]model.Entry
	for _, name := range append(starter.Names(), "extras") {
		set, err := starter.Set(name)
		if err != nil {
			t.Fatal(err)
		}
		sets = append(sets, set)
	}
	for _, units := range []model.Units{{Volume: "L", Temperature: "C", Pressure: "bar"}, {Volume: "gal", Temperature: "F", Pressure: "psi"}} {
		log := append([]model.Entry{model.NewEntry(uitest.Today, model.BookDef{Name: "Reef", Units: units})}, starter.Combine(sets...)...)
		for i := range log {
			log[i].Seq, log[i].Act, log[i].On = model.Seq(i+1), 1, uitest.Today
		}
		b, err := ledger.Fold(log)
		if err != nil {
			t.Fatal(err)
		}
		var page *Page
		uitest.Open(t, b, func(d *session.Session) ui.Screen {
			page = New(d, NewChecks(), nil)
			return &shelf{d, NewChecks(), nil}
		}, 120, 40)
		for _, c := range b.Chores() {
			page.ids = []model.ID{c.ID}
			var drawn strings.Builder
			for _, l := range page.lines(2000) {
				drawn.WriteString(l.text + "\n")
			}
			care := phrase.Cautions(b, c)
			if care[len(care)-1] != phrase.Closing || len(care) != len(c.Cautions)+1 {
				t.Errorf("%s: cautions %q", c.ID, care)
			}
			for _, say := range care {
				if !strings.Contains(drawn.String(), say) || strings.Contains(say, "{") {
					t.Errorf("%s in %s: its page does not say %q", c.ID, units.Volume, say)
				}
			}
		}
	}
}
