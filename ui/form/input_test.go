package form

import (
	"testing"

	tea "github.com/charmbracelet/bubbletea"
)

func TestInput(t *testing.T) {
	keys := map[rune]tea.KeyType{'<': tea.KeyLeft, '>': tea.KeyRight, '^': tea.KeyHome, '$': tea.KeyEnd, '!': tea.KeyBackspace, 'x': tea.KeyDelete, '_': tea.KeySpace, 'u': tea.KeyCtrlU}
	for _, c := range []struct {
		begins, typed, want string
		at                  int
	}{
		{"", "A", "A", 1}, {"AB", "C", "ABC", 3}, {"AB", "<C", "ACB", 2}, {"AB", "^C", "CAB", 1}, {"AB", "^$C", "ABC", 3},
		{"AB", "^<!", "AB", 0}, {"AB", ">>x", "AB", 2}, {"AB", "!", "A", 1}, {"AB", "<!", "B", 0}, {"AB", "^x", "B", 0},
		{"AB", "^>x!", "", 0}, {"AB", "u", "AB", 2}, {"A", "_", "A ", 2}, {"ÄÖ", "<!", "Ö", 0},
		{"ABCDEF", "", "ABCDE", 5}, {"ABCDE", "F", "ABCDE", 5}, {"ABCDE", "^F", "ABCDE", 0}, {"A\tB\nC", "", "A B C", 5}, {"A\x1bB", "", "AB", 2},
	} {
		in := input{limit: 5}
		in.set(c.begins)
		for _, r := range c.typed {
			k := tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{r}}
			if named, ok := keys[r]; ok {
				k = tea.KeyMsg{Type: named}
				if named == tea.KeySpace {
					k.Runes = []rune{' '}
				}
			}
			in.typed(k)
		}
		if string(in.runes) != c.want || in.at != c.at {
			t.Errorf("%q, typed %q: %q at %d, want %q at %d", c.begins, c.typed, string(in.runes), in.at, c.want, c.at)
		}
	}
}

// A paste longer than the room is cut, and what it was taken from stays as it was.
func TestInputPaste(t *testing.T) {
	in := input{limit: 5}
	in.set("AB")
	in.typed(tea.KeyMsg{Type: tea.KeyLeft})
	pasted := []rune("1\n2345")
	in.typed(tea.KeyMsg{Type: tea.KeyRunes, Runes: pasted, Paste: true})
	if string(in.runes) != "A1 2B" || in.at != 4 {
		t.Errorf("%q at %d", string(in.runes), in.at)
	}
	if string(pasted) != "1\n2345" {
		t.Errorf("the paste became %q", string(pasted))
	}
}
