package ui

import tea "github.com/charmbracelet/bubbletea"

// split takes the first keystroke off a message that may hold several.
//
// bubbletea v1 reports all printable characters of one read as one key, so a
// quick "jjd" would match nothing; outside a text each character is a key of
// its own. In a text they stay together, which keeps combining marks with their
// letters. An esc directly before a character in one read is reported as alt;
// no key of ours is an alt key, so it is taken for what was typed, esc and then
// the character. A paste is never taken apart.
//
// rest is what remains, to be split again once first has acted: a first "/"
// may have opened a text for the others. It is empty when nothing remains.
func split(k tea.KeyMsg, text bool) (first, rest tea.KeyMsg) {
	printable := k.Type == tea.KeyRunes || k.Type == tea.KeySpace
	switch {
	case !printable || k.Paste:
		return k, tea.KeyMsg{}
	case k.Alt:
		k.Alt = false
		return tea.KeyMsg{Type: tea.KeyEsc}, k
	case text || len(k.Runes) < 2:
		return k, tea.KeyMsg{}
	}
	first, rest = k, k
	first.Runes, rest.Runes = k.Runes[:1], k.Runes[1:]
	return first, rest
}

// pending reports whether split left anything over.
func pending(k tea.KeyMsg) bool { return len(k.Runes) > 0 }
