package preview_test

import (
	"slices"
	"strings"
	"testing"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/ui"
	"brine/wrasse/ui/logbook"
	"brine/wrasse/ui/preview"
	"brine/wrasse/ui/request"
	"brine/wrasse/ui/session"
	"brine/wrasse/ui/uitest"
)

func demo(t *testing.T) (*session.Session, *preview.Preview) {
	t.Helper()
	s := uitest.Open(t, uitest.Demo(t), func(d *session.Session) ui.Screen { return logbook.New(d) }, 80, 24)
	return s.Session, preview.New(s.Session)
}

// strike is striking the latest tick of a chore.
func strike(d *session.Session, chore model.ID) request.Log {
	ticks := d.Book.Ticks(chore)
	return request.Log{Stamp: d.Stamp(), What: model.Amend{Entry: ticks[len(ticks)-1].Seq, Strike: true}}
}

func TestAnOvertakenAnswerIsDropped(t *testing.T) {
	d, look := demo(t)
	first := look.Ask(strike(d, "scrape-glass"))
	second := look.Ask(strike(d, "renew-carbon"))
	answer := second()
	first().(preview.Ready).Deliver()
	if _, ok := look.Effect(); ok || look.Lines(4)[0] != "looking ahead ..." {
		t.Errorf("an old answer is shown: %q", look.Lines(4))
	}
	answer.(preview.Ready).Deliver()
	if got := look.Lines(4)[0]; !strings.HasPrefix(got, "Carbon block: renew cartridge: due") {
		t.Errorf("shown: %q", got)
	}
	look.Forget()
	answer.(preview.Ready).Deliver()
	if _, ok := look.Effect(); ok {
		t.Error("a forgotten question is answered")
	}
}

func TestWhatCannotBeDone(t *testing.T) {
	d, look := demo(t)
	look.Ask(request.Retire(d.Stamp(), model.KindChore, "no-such"))().(preview.Ready).Deliver()
	if got := look.Lines(4)[0]; !strings.HasPrefix(got, "can't be done: ") || !strings.Contains(got, "no-such") {
		t.Errorf("shown: %q", got)
	}
	if _, ok := look.Effect(); ok {
		t.Error("what can't be done has an effect")
	}
}

func TestAPanicIsCaught(t *testing.T) {
	d, look := demo(t)
	bad := request.Define{Stamp: d.Stamp(), Make: func(*ledger.Book) ([]model.Body, error) { panic("here") }}
	look.Ask(bad)().(preview.Ready).Deliver()
	if got := look.Lines(4)[0]; !strings.Contains(got, "here") {
		t.Errorf("shown: %q", got)
	}
}

func TestManyLines(t *testing.T) {
	d, look := demo(t)
	all := request.Define{Stamp: d.Stamp(), Make: func(b *ledger.Book) ([]model.Body, error) {
		var out []model.Body
		for _, c := range b.Components() {
			c.Retired = d.Today()
			out = append(out, c)
		}
		return out, nil
	}}
	look.Ask(all)().(preview.Ready).Deliver()
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
	look.Ask(request.Log{Stamp: d.Stamp(), What: model.Amend{Entry: chore, With: with}})().(preview.Ready).Deliver()
	if got := look.Lines(6)[0]; strings.HasPrefix(got, "can't be done") {
		t.Errorf("%q", got)
	}
}
