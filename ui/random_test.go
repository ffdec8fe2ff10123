package ui

import (
	"slices"
	"testing"

	"brine/wrasse/ui/form"
	"brine/wrasse/ui/keys"

	tea "github.com/charmbracelet/bubbletea"
	"pgregory.net/rapid"
)

// Whatever is typed, pasted or resized, in whatever bursts, the window is drawn
// exactly and only q, ctrl+c or an answer to the question about quitting quits.
func TestAnyKeys(t *testing.T) {
	special := []tea.KeyType{
		tea.KeyEnter, tea.KeyEsc, tea.KeyTab, tea.KeyShiftTab, tea.KeyUp, tea.KeyDown, tea.KeyLeft, tea.KeyRight,
		tea.KeyPgUp, tea.KeyPgDown, tea.KeyHome, tea.KeyEnd, tea.KeyBackspace, tea.KeyDelete, tea.KeyF1, tea.KeyCtrlA,
	}
	bursts := []string{"jjk", "1", "2", "23", "?", "d", "u40", "f", "z", "y", "水槽", "\u0301", "\x1b[2J", "+", "/abc"}
	rapid.Check(t, func(rt *rapid.T) {
		s := newSample(t, nil)
		for _, view := range s.views {
			view.onAct = func(a keys.Action) tea.Cmd {
				switch a {
				case keys.Use:
					s.root.Push(NewFormSheet(s.root, form.Spec{Fields: []form.Field{{Name: "a", Label: "litres"}, {Name: "b", Label: "note"}}},
						func(form.Values) Job { return Job{Op: "logging", Run: func() error { return nil }} }))
				case keys.Flag:
					s.root.Push(NewChoice(s.root, "why", []Answer{{Letter: 'y', Label: "why not"}}, func(int) tea.Cmd { return nil }))
				case keys.Open:
					s.root.Push(&listing{name: "Page", scope: keys.Chore})
				}
				return nil
			}
		}
		for range rapid.IntRange(1, 30).Draw(rt, "keys") {
			switch rapid.IntRange(0, 4).Draw(rt, "sort") {
			case 0, 1:
				s.send(tea.KeyMsg{Type: rapid.SampledFrom(special).Draw(rt, "key"), Alt: rapid.IntRange(0, 9).Draw(rt, "alt") == 0})
			case 2:
				s.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(rapid.SampledFrom(bursts).Draw(rt, "burst"))})
			case 3:
				s.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("qdz\x1b[31m\nq"), Paste: true})
			case 4:
				s.send(tea.WindowSizeMsg{Width: rapid.IntRange(0, 130).Draw(rt, "w"), Height: rapid.IntRange(0, 40).Draw(rt, "h")})
			}
			if s.quit {
				rt.Fatal("the program quit")
			}
			if s.root.w > 0 && s.root.h > 0 {
				exact(t, s.root.View(), s.root.w, s.root.h)
			}
		}
	})
}

func TestSplit(t *testing.T) {
	all := func(k tea.KeyMsg, text bool) []string {
		var out []string
		for first, rest := split(k, text); ; first, rest = split(rest, text) {
			out = append(out, first.String())
			if !pending(rest) {
				return out
			}
		}
	}
	runes := func(s string) tea.KeyMsg { return tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(s)} }
	alt, paste := runes("jd"), runes("jjd")
	alt.Alt, paste.Paste = true, true
	for name, c := range map[string]struct {
		key  tea.KeyMsg
		text bool
		want []string
	}{
		"one":               {runes("j"), false, []string{"j"}},
		"a burst":           {runes("jjd"), false, []string{"j", "j", "d"}},
		"a burst of text":   {runes("jjd"), true, []string{"jjd"}},
		"a space":           {tea.KeyMsg{Type: tea.KeySpace, Runes: []rune{' '}}, false, []string{" "}},
		"a named key":       {tea.KeyMsg{Type: tea.KeyDown}, false, []string{"down"}},
		"esc and letters":   {alt, false, []string{"esc", "j", "d"}},
		"esc and text":      {alt, true, []string{"esc", "jd"}},
		"a paste":           {paste, false, []string{"[jjd]"}},
		"alt and named key": {tea.KeyMsg{Type: tea.KeyUp, Alt: true}, false, []string{"alt+up"}},
	} {
		if got := all(c.key, c.text); !slices.Equal(got, c.want) {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
	}
}
