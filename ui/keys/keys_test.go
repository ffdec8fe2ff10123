package keys

import (
	"slices"
	"strings"
	"testing"
)

func TestNoKeyTwiceInAScope(t *testing.T) {
	type place struct {
		scope Scope
		key   string
	}
	seen := map[place]bool{}
	for _, b := range table {
		for _, k := range b.Keys {
			if p := (place{b.Scope, k}); seen[p] {
				t.Errorf("%s: key %q is bound twice", b.Scope, k)
			} else {
				seen[p] = true
			}
		}
	}
}

func TestEveryRowIsExplained(t *testing.T) {
	for _, b := range table {
		if b.Action == None || len(b.Keys) == 0 || b.Label == "" || b.Desc == "" {
			t.Errorf("row %+v lacks an action, a key, a label or its help", b)
		}
		for _, r := range b.Label + b.Desc + b.Foot {
			if r < ' ' || r > '~' {
				t.Errorf("row %q: %q is not plain ASCII", b.Desc, r)
			}
		}
		first, _, _ := strings.Cut(b.Label, " ")
		named := map[string]string{"space": " ", "pgdn": "pgdown"}
		if k, ok := named[first]; ok {
			first = k
		}
		if !slices.Contains(b.Keys, first) {
			t.Errorf("row %q: label %q names none of its keys %q", b.Desc, b.Label, b.Keys)
		}
	}
}

func TestEveryScopeHasANameAndItsWayOut(t *testing.T) {
	for s := range scopes {
		if s.String() == "" {
			t.Errorf("scope %d has no name", s)
		}
		if got := Dispatch(s, "ctrl+c"); got != Quit {
			t.Errorf("%s: ctrl+c gives action %d, not Quit", s, got)
		}
		if got := Dispatch(s, "esc"); got != Back {
			t.Errorf("%s: esc gives action %d, not Back", s, got)
		}
	}
}

func TestNoOtherCtrlOrAltKey(t *testing.T) {
	for _, b := range table {
		for _, k := range b.Keys {
			if (strings.HasPrefix(k, "ctrl+") && k != "ctrl+c" && k != "ctrl+z") || strings.HasPrefix(k, "alt+") {
				t.Errorf("%s: %q belongs to the terminal", b.Scope, k)
			}
		}
	}
}

// A burst of letters typed into a field must never be a command.
func TestTextScopesBindNoLetter(t *testing.T) {
	for _, s := range []Scope{Form, Filter, Choice} {
		for r := ' '; r <= '~'; r++ {
			if got := Dispatch(s, string(r)); got != None {
				t.Errorf("%s: %q is action %d", s, r, got)
			}
		}
	}
}

func TestDispatch(t *testing.T) {
	for _, c := range []struct {
		scope Scope
		key   string
		want  Action
	}{
		{Round, "d", Tick},
		{Round, "D", TickAsk},
		{Round, "f", Flag},
		{Round, " ", Mark},
		{Round, "j", Down},
		{Round, "down", Down},
		{Round, "3", View3},
		{Round, "pgdown", PageDown},
		{Round, "q", Leave},
		{Round, "w", None},
		{Water, "m", Mix},
		{Gear, "d", None},
		{HelpPage, "q", Back},
		{Form, "q", None},
		{Form, "tab", NextField},
		{Lists, "tab", NextView},
		{Choice, "tab", Down},
		{Round, "alt+d", None},
		{Round, "", None},
	} {
		if got := Dispatch(c.scope, c.key); got != c.want {
			t.Errorf("Dispatch(%s, %q) = %d, want %d", c.scope, c.key, got, c.want)
		}
	}
}

func TestHelpListsWhatWorks(t *testing.T) {
	for s := range scopes {
		for _, sec := range Help(s) {
			for _, b := range sec.Binds {
				if !slices.ContainsFunc(b.Keys, func(k string) bool { return Dispatch(s, k) == b.Action }) {
					t.Errorf("%s: help offers %q for %q, which does something else", s, b.Label, b.Desc)
				}
			}
		}
	}
	if secs := Help(Round); secs[0].Name != "round" || secs[len(secs)-1].Name != "anywhere" {
		t.Errorf("help of the round begins with %q and ends with %q", secs[0].Name, secs[len(secs)-1].Name)
	}
}

// line is the key line as drawn.
func line(s Scope, w int) string {
	var parts []string
	for _, h := range Foot(s, w) {
		parts = append(parts, h.Label+" "+h.Word)
	}
	return strings.Join(parts, Gap)
}

func TestFootFitsAtEveryWidth(t *testing.T) {
	for s := range scopes {
		for w := -1; w < 200; w++ {
			if got := line(s, w); len(got) > max(w, 0) {
				t.Errorf("%s: key line %q is wider than %d", s, got, w)
			}
		}
	}
}

func TestFootKeepsHelpLongest(t *testing.T) {
	if got, want := line(Round, 80), "d tick  f flag  u litres  r read  t time  p put off  z undo  ? keys  q leave"; got != want {
		t.Errorf("key line at 80 cells:\n%q, want\n%q", got, want)
	}
	if got, want := line(Round, 24), "d tick  ? keys  q leave"; got != want {
		t.Errorf("key line at 24 cells: %q, want %q", got, want)
	}
	if got, want := line(Round, 8), "? keys"; got != want {
		t.Errorf("key line at 8 cells: %q, want %q", got, want)
	}
}
