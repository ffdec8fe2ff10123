package foresee_test

import (
	"slices"
	"strings"
	"testing"

	"brine/wrasse/model"
	"brine/wrasse/ui"
	"brine/wrasse/ui/act"
	"brine/wrasse/ui/desk"
	"brine/wrasse/ui/foresee"
	"brine/wrasse/ui/logbook"
	"brine/wrasse/ui/stage"
)

func demo(t *testing.T) (*desk.Desk, *foresee.Look) {
	t.Helper()
	s := stage.Open(t, stage.Demo(t), func(d *desk.Desk) ui.Screen { return logbook.New(d) }, 80, 24)
	return s.Desk, foresee.New(s.Desk)
}

// strike is striking the latest tick of a chore.
func strike(d *desk.Desk, chore model.ID) act.Amend {
	ticks := d.Book.Ticks(chore)
	return act.Amend{Stamp: d.Stamp(), Amend: model.Amend{Entry: ticks[len(ticks)-1].Seq, Strike: true}}
}

func TestAnOvertakenAnswerIsDropped(t *testing.T) {
	d, look := demo(t)
	first := look.Ask(strike(d, "scrape-glass"))
	second := look.Ask(strike(d, "renew-carbon"))
	answer := second()
	first().(foresee.Seen).Deliver()
	if _, ok := look.Effect(); ok || look.Lines(4)[0] != "looking ahead ..." {
		t.Errorf("an old answer is shown: %q", look.Lines(4))
	}
	answer.(foresee.Seen).Deliver()
	if got := look.Lines(4)[0]; !strings.HasPrefix(got, "Carbon block: renew cartridge: due") {
		t.Errorf("shown: %q", got)
	}
	look.Forget()
	answer.(foresee.Seen).Deliver()
	if _, ok := look.Effect(); ok {
		t.Error("a forgotten question is answered")
	}
}

func TestWhatCannotBeDone(t *testing.T) {
	d, look := demo(t)
	look.Ask(act.Retire(d.Stamp(), model.KindChore, "no-such"))().(foresee.Seen).Deliver()
	if got := look.Lines(4)[0]; !strings.HasPrefix(got, "can't be done: ") || !strings.Contains(got, "no-such") {
		t.Errorf("shown: %q", got)
	}
	if _, ok := look.Effect(); ok {
		t.Error("what can't be done has an effect")
	}
}

func TestAPanicIsCaught(t *testing.T) {
	d, look := demo(t)
	bad := act.Define{Stamp: d.Stamp(), Make: func(*model.Book) ([]model.Body, error) { panic("here") }}
	look.Ask(bad)().(foresee.Seen).Deliver()
	if got := look.Lines(4)[0]; !strings.Contains(got, "here") {
		t.Errorf("shown: %q", got)
	}
}

func TestManyLines(t *testing.T) {
	d, look := demo(t)
	all := act.Define{Stamp: d.Stamp(), Make: func(b *model.Book) ([]model.Body, error) {
		var out []model.Body
		for _, c := range b.Components() {
			c.Retired = d.Today()
			out = append(out, c)
		}
		return out, nil
	}}
	look.Ask(all)().(foresee.Seen).Deliver()
	lines := look.Lines(4)
	if len(lines) != 4 || !strings.HasPrefix(lines[3], "and ") {
		t.Errorf("shown: %q", lines)
	}
	if e, _ := look.Effect(); len(e.Shifts) != len(d.Round.Standings) {
		t.Errorf("%d chores leave, of %d", len(e.Shifts), len(d.Round.Standings))
	}
}

// A definition that is amended is foreseen on a book folded again.
func TestAmendingADefinitionIsForeseen(t *testing.T) {
	d, look := demo(t)
	log, err := d.Book.Entries(1, d.Book.Last())
	if err != nil {
		t.Fatal(err)
	}
	chore := log[slices.IndexFunc(log, func(e *model.Entry) bool {
		c, ok := e.Body.(model.Chore)
		return ok && c.ID == "renew-carbon"
	})].Seq
	with, err := model.With(map[string]any{"fixed": true})
	if err != nil {
		t.Fatal(err)
	}
	look.Ask(act.Amend{Stamp: d.Stamp(), Amend: model.Amend{Entry: chore, With: with}})().(foresee.Seen).Deliver()
	if got := look.Lines(6)[0]; strings.HasPrefix(got, "can't be done") {
		t.Errorf("%q", got)
	}
}
