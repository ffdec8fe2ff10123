package form

import (
	"fmt"
	"strconv"
	"strings"
	"testing"

	"brine/wrasse/ui/keys"
	"brine/wrasse/ui/text"
	"brine/wrasse/ui/theme"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
	"pgregory.net/rapid"
)

func look() theme.Theme { return theme.Named("", "unicode", func(string) string { return "" }) }

// litres asks for an amount and a note; amounts over 400 are queried.
func litres() Spec {
	return Spec{
		Title: "water made",
		Fields: []Field{
			{Name: "amount", Label: "litres", Hint: "such as 40, 10 gal or 20+18", Cells: 10},
			{Name: "note", Label: "note", Value: "none"},
		},
		Problems: func(v Values) map[string]string {
			if _, err := strconv.ParseFloat(v["amount"], 64); err != nil {
				return map[string]string{"amount": "a number of litres is wanted"}
			}
			return nil
		},
		Queries: func(v Values) map[string]string {
			if n, _ := strconv.ParseFloat(v["amount"], 64); n > 400 {
				return map[string]string{"amount": "ten times the usual"}
			}
			return nil
		},
		Notes: func(v Values) []string { return []string{"counts on: vat, " + v["amount"]} },
	}
}

// readings is the one-line row of figures.
func readings() Spec {
	return Spec{
		Fields: []Field{
			{Name: "tap", Label: "tap", Cells: 6, Limit: 8},
			{Name: "membrane", Label: "membrane", Cells: 6, Limit: 8},
			{Name: "resin", Label: "resin", Cells: 6, Limit: 8},
		},
		OneLine: true, SpaceMoves: true,
	}
}

// kind is a form with a choice.
func kind() Spec {
	return Spec{Fields: []Field{
		{Name: "work", Label: "work", Value: "renew", Options: []Option{
			{'c', "clean", "clean"}, {'r', "renew", "renew"}, {'t', "test", "test"},
		}},
		{Name: "name", Label: "name"},
	}}
}

// typeText sends text as a terminal does: spaces apart, the rest merged.
func typeText(f *Form, s string) {
	for i, part := range strings.Split(s, " ") {
		if i > 0 {
			f.Type(tea.KeyMsg{Type: tea.KeySpace, Runes: []rune{' '}})
		}
		if part != "" {
			f.Type(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(part)})
		}
	}
}

// screen is the form as plain text.
func screen(f *Form, w, h int) string { return ansi.Strip(f.Render(w, h)) }

func wantOutcome(t *testing.T, step string, got, want Outcome) {
	t.Helper()
	if got != want {
		t.Fatalf("%s: outcome %d, want %d", step, got, want)
	}
}

func TestSaveNeedsNoProblems(t *testing.T) {
	f := New(look(), litres())
	typeText(f, "forty")
	if s := screen(f, 80, 6); strings.Contains(s, "wanted") || !strings.Contains(s, "such as 40") {
		t.Errorf("a field being typed nags instead of hinting:\n%s", s)
	}
	f.Act(keys.NextField)
	if f.Focused() != "note" {
		t.Fatalf("tab did not leave the invalid field")
	}
	if s := screen(f, 80, 6); !strings.Contains(s, "a number of litres is wanted") {
		t.Errorf("the field left behind shows no problem:\n%s", s)
	}
	f.Act(keys.PrevField)
	if s := screen(f, 80, 6); strings.Contains(s, "wanted") {
		t.Errorf("the field gone back to nags while it is put right:\n%s", s)
	}
	wantOutcome(t, "saving with a problem", f.Act(keys.Submit), Open)
	if f.Focused() != "amount" {
		t.Errorf("the cursor is in %q, not in the field that holds saving back", f.Focused())
	}
	for range 5 {
		f.Type(tea.KeyMsg{Type: tea.KeyBackspace})
	}
	typeText(f, "40")
	wantOutcome(t, "saving", f.Act(keys.Submit), Submit)
	if got := f.Values()["amount"]; got != "40" {
		t.Errorf("amount %q, want 40", got)
	}
	if s := screen(f, 80, 6); !strings.Contains(s, "counts on: vat, 40") {
		t.Errorf("no live note:\n%s", s)
	}
}

func TestQueryNeedsASecondEnter(t *testing.T) {
	f := New(look(), litres())
	typeText(f, "500")
	wantOutcome(t, "first enter", f.Act(keys.Submit), Open)
	if s := screen(f, 80, 6); !strings.Contains(s, "ten times the usual; enter again keeps it") {
		t.Errorf("query not shown:\n%s", s)
	}
	wantOutcome(t, "second enter", f.Act(keys.Submit), Submit)
	typeText(f, "0")
	wantOutcome(t, "enter on another odd value", f.Act(keys.Submit), Open)
}

func TestFailedSaveKeepsContents(t *testing.T) {
	f := New(look(), litres())
	typeText(f, "40")
	wantOutcome(t, "saving", f.Act(keys.Submit), Submit)
	f.Fail("the book is in use by another program")
	if s := screen(f, 80, 6); !strings.Contains(s, "40") || !strings.Contains(s, "not saved: the book is in use") {
		t.Errorf("after a failed save:\n%s", s)
	}
	wantOutcome(t, "saving again", f.Act(keys.Submit), Submit)
	if s := screen(f, 80, 6); strings.Contains(s, "not saved") {
		t.Errorf("the old failure stays:\n%s", s)
	}
}

func TestEscAsksOnlyWhenChanged(t *testing.T) {
	f := New(look(), litres())
	wantOutcome(t, "esc, untouched", f.Act(keys.Back), Left)

	f = New(look(), litres())
	typeText(f, "4")
	wantOutcome(t, "esc, changed", f.Act(keys.Back), Open)
	if s := screen(f, 80, 6); !strings.Contains(s, "leave without saving?") {
		t.Errorf("no question:\n%s", s)
	}
	wantOutcome(t, "esc again", f.Act(keys.Back), Open)
	if s := screen(f, 80, 6); strings.Contains(s, "leave without saving?") {
		t.Errorf("the question stays:\n%s", s)
	}
	f.Act(keys.Back)
	wantOutcome(t, "n", f.Type(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("n")}), Open)
	f.Act(keys.Back)
	wantOutcome(t, "a pasted y", f.Type(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("y"), Paste: true}), Open)
	f.Act(keys.Back)
	wantOutcome(t, "y", f.Type(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("y")}), Left)
	if got := f.Values()["amount"]; got != "4" {
		t.Errorf("answers to the question were typed into the field: %q", got)
	}

	f = New(look(), litres())
	typeText(f, "4")
	f.Type(tea.KeyMsg{Type: tea.KeyBackspace})
	wantOutcome(t, "esc, changed back", f.Act(keys.Back), Left)
}

func TestFiguresOnOneLine(t *testing.T) {
	for name, enter := range map[string]func(*Form){
		"with spaces": func(f *Form) { typeText(f, "248 6 0") },
		"with tabs": func(f *Form) {
			typeText(f, "248")
			f.Act(keys.NextField)
			typeText(f, "6")
			f.Act(keys.NextField)
			typeText(f, "0")
		},
		"pasted": func(f *Form) {
			f.Type(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(" 248  6 0 "), Paste: true})
		},
	} {
		t.Run(name, func(t *testing.T) {
			f := New(look(), readings())
			enter(f)
			v := f.Values()
			if v["tap"] != "248" || v["membrane"] != "6" || v["resin"] != "0" {
				t.Errorf("values %v", v)
			}
			if got, want := strings.TrimRight(screen(f, 60, 1), " "), "  tap 248     membrane 6       resin 0"; got != want {
				t.Errorf("drawn %q, want %q", got, want)
			}
			if lines := f.Height(30); lines != 3 {
				t.Errorf("in 30 cells the fields take %d lines, want one each", lines)
			}
		})
	}
}

func TestChoice(t *testing.T) {
	f := New(look(), kind())
	if f.Changed() {
		t.Error("a new form counts as changed")
	}
	for _, c := range []struct {
		key  tea.KeyMsg
		want string
	}{
		{tea.KeyMsg{Type: tea.KeyRight}, "test"},
		{tea.KeyMsg{Type: tea.KeyRight}, "clean"},
		{tea.KeyMsg{Type: tea.KeyLeft}, "test"},
		{tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("r")}, "renew"},
		{tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("zC")}, "clean"},
		{tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("t"), Paste: true}, "clean"},
		{tea.KeyMsg{Type: tea.KeySpace, Runes: []rune(" ")}, "renew"},
	} {
		f.Type(c.key)
		if got := f.Values()["work"]; got != c.want {
			t.Errorf("after %q: %q, want %q", c.key, got, c.want)
		}
	}
	if s := screen(f, 60, 2); !strings.Contains(s, " c clean [r renew] t test") {
		t.Errorf("drawn:\n%s", s)
	}
	if s := screen(f, 20, 3); !strings.Contains(s, "[r renew]") || !strings.Contains(s, "or clean (c),") {
		t.Errorf("drawn narrow:\n%s", s)
	}
}

func TestEnterMoves(t *testing.T) {
	spec := kind()
	spec.EnterMoves = true
	f := New(look(), spec)
	wantOutcome(t, "enter in the first field", f.Act(keys.Submit), Open)
	if f.Focused() != "name" {
		t.Errorf("enter went to %q", f.Focused())
	}
	wantOutcome(t, "enter in the last field", f.Act(keys.Submit), Submit)
}

func TestEnterStaysAtAProblem(t *testing.T) {
	spec := kind()
	spec.EnterMoves = true
	spec.Problems = func(v Values) map[string]string {
		if v[spec.Fields[0].Name] == "test" {
			return map[string]string{spec.Fields[0].Name: "give another"}
		}
		return nil
	}
	f := New(look(), spec)
	first := f.Focused()
	f.Set(first, "test")
	wantOutcome(t, "enter at a problem", f.Act(keys.Submit), Open)
	if f.Focused() != first || !strings.Contains(screen(f, 60, 4), "give another") {
		t.Errorf("enter left for %s:\n%s", f.Focused(), screen(f, 60, 4))
	}
	f.Set(first, "clean")
	wantOutcome(t, "enter once it is mended", f.Act(keys.Submit), Open)
	if f.Focused() == first {
		t.Error("enter stayed")
	}
}

func TestLimitAndHostileText(t *testing.T) {
	f := New(look(), Spec{Fields: []Field{{Name: "note", Label: "note", Limit: 20}}})
	f.Type(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("\x1b[31m" + strings.Repeat("x", 10000)), Paste: true})
	if n := len(f.Values()["note"]); n > 20 {
		t.Errorf("%d characters were taken", n)
	}
	f = New(look(), Spec{Fields: []Field{{Name: "note", Label: "a\x1b]52;c;eA==\x07b", Value: "\x1b[2J\u202eabc"}}})
	if got := f.Render(40, 2); strings.Contains(got, "\x1b]") || strings.Contains(got, "\x1b[2J") || strings.Contains(got, "\u202e") {
		t.Errorf("hostile text reaches the terminal: %q", got)
	}
}

// A text longer than its field scrolls so that the cursor stays in sight.
// A terminal may hand over a whole word in one read; it is a word even where a key
// has that name.
func TestKeyNamesAreWords(t *testing.T) {
	f := New(look(), litres())
	f.Focus("note")
	f.Set("note", "")
	for _, word := range []string{"left", "home", "delete", "end"} {
		f.Type(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(word)})
	}
	if got, want := f.Values()["note"], "lefthomedeleteend"; got != want {
		t.Errorf("typed %q, got %q", want, got)
	}
}

func TestLongTextScrolls(t *testing.T) {
	f := New(look(), Spec{Fields: []Field{{Name: "note", Label: "note", Cells: 12}}})
	typeText(f, "0123456789abcdefghijklmnop")
	for _, c := range []struct {
		key  tea.KeyType
		want string
	}{
		{tea.KeyEnd, "  note  …ghijklmnop "},
		{tea.KeyHome, "  note  0123456789a…"},
	} {
		f.Type(tea.KeyMsg{Type: c.key})
		got := f.Render(20, 1)
		if s := ansi.Strip(got)[1:]; s != c.want[1:] {
			t.Errorf("after %v: %q, want %q", c.key, s, c.want)
		}
		if !strings.Contains(got, "\x1b[7m") {
			t.Errorf("after %v the cursor is out of sight: %q", c.key, got)
		}
	}
}

// Whatever is done to a form, it draws exactly the block it was given, twice
// the same, and nothing panics.
// A form higher than its window tells how many fields follow, and, once the last one is in sight, where the cursor is.
func TestMoreBelow(t *testing.T) {
	fields := make([]Field, 6)
	for i := range fields {
		fields[i] = Field{Name: fmt.Sprint(i), Label: fmt.Sprint("label ", i)}
	}
	f := New(look(), Spec{Title: "What is known? All of it may stay empty", Fields: fields})
	if s := screen(f, 40, 4); !strings.Contains(s, "What is known?              3 more below\n> label 0") {
		t.Errorf("drawn:\n%s", s)
	}
	for range 4 {
		f.Act(keys.NextField)
	}
	if s := screen(f, 40, 4); !strings.Contains(s, "What is known?                    5 of 6") || !strings.Contains(s, "label 5") {
		t.Errorf("drawn:\n%s", s)
	}
}

func TestAnyKeysAnySize(t *testing.T) {
	acts := []keys.Action{keys.NextField, keys.PrevField, keys.Submit, keys.Back}
	types := []tea.KeyType{tea.KeyBackspace, tea.KeyDelete, tea.KeyLeft, tea.KeyRight, tea.KeyHome, tea.KeyEnd}
	texts := []string{"4", "y", "水", "e\u0301", "\u0301", "👨\u200d👩", "\x1b[31m", "long long text to scroll", "\u0d4e"}
	rapid.Check(t, func(t *rapid.T) {
		f := New(look(), rapid.SampledFrom([]func() Spec{litres, readings, kind}).Draw(t, "form")())
		for range rapid.IntRange(0, 25).Draw(t, "keys") {
			switch rapid.IntRange(0, 2).Draw(t, "sort") {
			case 0:
				f.Act(rapid.SampledFrom(acts).Draw(t, "action"))
			case 1:
				f.Type(tea.KeyMsg{Type: rapid.SampledFrom(types).Draw(t, "key")})
			case 2:
				typeText(f, rapid.SampledFrom(texts).Draw(t, "text"))
			}
		}
		w, h := rapid.IntRange(1, 100).Draw(t, "w"), rapid.IntRange(1, 12).Draw(t, "h")
		got := f.Render(w, h)
		if got != f.Render(w, h) {
			t.Fatal("drawing twice differs")
		}
		lines := strings.Split(got, "\n")
		if len(lines) != h {
			t.Fatalf("%d lines, want %d", len(lines), h)
		}
		for _, line := range lines {
			if text.Width(line) != w {
				t.Fatalf("line %q is %d cells, want %d", line, text.Width(line), w)
			}
		}
	})
}

func TestPlainForm(t *testing.T) {
	th := look()
	th.Plain = true
	f := New(th, Spec{Title: "Log", OneLine: true, Fields: []Field{
		{Name: "a", Label: "amount", Value: "40", Hint: "litres"},
		{Name: "c", Label: "clock", Options: []Option{{Letter: 'n', Label: "no"}, {Letter: 's', Value: "s", Label: "start it"}}},
	}})
	plain := func() string {
		var out []string
		for line := range strings.SplitSeq(ansi.Strip(f.Render(40, f.Height(40))), "\n") {
			out = append(out, strings.TrimRight(line, " "))
		}
		return strings.Join(out, "|")
	}
	if got, want := plain(), "Log|> amount: 40|  hint: litres|  clock: no (n)"; got != want {
		t.Errorf("drawn %q, want %q", got, want)
	}
	f.Act(keys.NextField)
	if got, want := plain(), "Log|  amount: 40|> clock: no (n); or start it (s)"; got != want {
		t.Errorf("drawn %q, want %q", got, want)
	}
}

// A label that is wider than its column goes on in the next line, beside its field; a long one stands above.
func TestLongLabelsAreNotCut(t *testing.T) {
	f := New(look(), Spec{Fields: []Field{
		{Name: "a", Label: "seen and touched at once", Cells: 16},
		{Name: "b", Label: "RO/DI unit: read total chlorine after the carbon, and write it down", Cells: 16},
	}})
	for _, w := range []int{30, 40, 60} {
		drawn := strings.Join(strings.Fields(strings.ReplaceAll(ansi.Strip(f.Render(w, 12)), ">", "")), " ")
		for _, label := range []string{"seen and touched at once", "RO/DI unit: read total chlorine after the carbon, and write it down"} {
			if !strings.Contains(drawn, label) {
				t.Errorf("%d cells: %q is cut: %s", w, label, drawn)
			}
		}
	}
}
