package phrase

import (
	"testing"

	"brine/wrasse/model"
)

func TestFlagged(t *testing.T) {
	b, r := demo(t)
	part := r.Standings[0].Component.ID
	for _, c := range []struct {
		state model.FlagState
		cause model.Cause
		want  string
	}{
		{model.FlagFlagged, "too-tight", "flagged too-tight"},
		{model.FlagPlanned, "", "planned "},
		{model.FlagRebuilt, "", ""},
		{model.FlagFlagged, "in-the-way", "flagged in-the-way"},
		{model.FlagDropped, "", ""},
	} {
		flag := model.Flag{Component: part, State: c.state, Cause: c.cause}
		if c.state == model.FlagRebuilt {
			flag.Reach = 1
		}
		e := model.NewEntry(r.On, flag)
		e.Seq = b.Last() + 1
		var err error
		if b, err = b.Extend([]model.Entry{e}); err != nil {
			t.Fatal(err)
		}
		got := ""
		if f := Flagged(b, part); f != nil {
			got = string(f.What.State) + " " + string(f.What.Cause)
		}
		if got != c.want {
			t.Errorf("after %s: %q, want %q", c.state, got, c.want)
		}
	}
}

func TestGrade(t *testing.T) {
	for want, c := range map[string]model.Component{
		"4":  {Reach: 4, Guess: []string{"access_minutes"}},
		"4?": {Reach: 4, Guess: []string{"access_minutes", "reach"}},
	} {
		if got := Grade(c); got != want {
			t.Errorf("%+v: %q, want %q", c, got, want)
		}
	}
}
