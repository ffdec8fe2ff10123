package app

import (
	"errors"
	"strings"
	"testing"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/ui/session"
)

// faulty is a store whose reads fail while fail is set.
type faulty struct {
	session.Store
	fail  error
	write error // what the next write ends with
	warn  string
}

func (f *faulty) Write(build func(*ledger.Book) ([]model.Entry, error)) (*ledger.Book, model.Seq, error) {
	if err := f.write; err != nil {
		f.write = nil
		return nil, 0, err
	}
	return f.Store.Write(build)
}

func (f *faulty) Load() (*ledger.Book, error) {
	if f.fail != nil {
		return nil, f.fail
	}
	return f.Store.Load()
}

func (f *faulty) Warning() string {
	w := f.warn
	f.warn = ""
	return w
}

var errDamage = errors.New("/home/kit/reef.db: the book is damaged: page 7: an impossible number of elements\x1b[31m\u009b; " +
	"bring the newest copy back with: wrasse --book /home/kit/reef.db restore /home/kit/reef.db.backups/2026-11-24.db, or " +
	"save what can be read with: wrasse --book /home/kit/reef.db export jsonl --salvage")

// A book that can't be read is no blank page: every view says why and what to type, at
// every size, until it can be read again.
func TestABookThatCantBeReadSaysWhatToDo(t *testing.T) {
	store := &faulty{Store: Demo(model.NewDate(2026, 11, 25)), fail: errDamage}
	p := open(t, store, 80, 24)
	for _, view := range []string{"1", "3", "6"} {
		p.keys(view)
		p.Sees("The book can't be read", "the book is damaged: page 7", "bring the newest copy back with:",
			"\n    wrasse --book /home/kit/reef.db restore", "2026-11-24.db", "\n    wrasse --book /home/kit/reef.db export jsonl --salvage", "enter try again", "nothing has been changed")
		p.exact()
	}
	for _, act := range []string{"d", "u", "z", "f", "a", "esc", "?", "esc", "tab"} {
		p.keys(act)
	}
	if view := p.Root.View(); strings.Contains(view, "\x1b[31m\u009b") || strings.Contains(view, "\u009b") {
		t.Error("a control of the error reached the terminal")
	}
	p.keys("enter")
	p.Sees("The book can't be read")
	p.Golden("unread")
	store.fail = nil
	p.keys("enter")
	p.Sees("Library reef")
	if strings.Contains(p.Screen(), "can't be read") {
		t.Errorf("it still can't be read:\n%s", p.Screen())
	}
	store.fail = errDamage
	q := open(t, store, 80, 24)
	q.keys("q")
	if !q.Quit {
		t.Error("q does not leave")
	}
}

// What was read stands when the file breaks later, and the status line says that it may
// be old for as long as that is so.
func TestABookThatBreaksLaterKeepsWhatWasRead(t *testing.T) {
	store := &faulty{Store: Demo(model.NewDate(2026, 11, 25))}
	p := open(t, store, 80, 24)
	store.fail = errDamage
	p.Run(p.Session.Load())
	p.Sees("Library reef", "DI resin", "the book is damaged", "2026-11-24.db", "export jsonl --salvage")
	p.exact()
	store.fail = nil
	p.Run(p.Session.Load())
	if strings.Contains(p.Screen(), "damaged") {
		t.Errorf("it is read again, and yet said to be damaged:\n%s", p.Screen())
	}
	store.fail = errDamage
	p.Run(p.Session.Load())
	p.Leap(2e9)
	p.keys("j")
	p.Sees("what stands here may be old: reading the book: /home/kit/reef.db")
	store.fail = nil
	p.Run(p.Session.Load())
	if strings.Contains(p.Screen(), "may be old") {
		t.Error("it is read again, and yet said to be old")
	}
}

// What went wrong beside an act outranks the answer that it was done; what is to be
// known of the folder is said as soon as the book is read.
func TestWarningsAreShownWhileTheScreensAre(t *testing.T) {
	store := &faulty{Store: Demo(model.NewDate(2026, 11, 25)), warn: "/sync/reef.db lies in /sync, which looks like a synchronised folder"}
	p := open(t, store, 80, 24)
	p.Sees("Library reef", "looks like a synchronised folder")
	p.Leap(2e9)
	p.keys("j")
	if strings.Contains(p.Screen(), "synchronised") {
		t.Error("it is said twice")
	}
	store.warn = "the act was written, but the copy of the day was not: disk quota exceeded"
	p.keys("k", "d", "f")
	p.Sees("the act was written, but the copy of the day was not: disk quota exceeded")
}

// Wherever something is typed, a write that fails keeps it, says why, and the same enter
// saves it once the trouble is over.
func TestEveryFormOutlivesAFailedWrite(t *testing.T) {
	full := errors.New("nothing was written to reef.db: no space left on device; make room on the disk and try again")
	for name, c := range map[string]struct {
		open  []string // keys up to the one that saves
		holds string   // what was typed
	}{
		"litres":     {[]string{"u", "41.5"}, "41.5"},
		"readings":   {[]string{"r", "247 6 1"}, "247"},
		"long tick":  {[]string{"D", "2d", "tab", "tab", "tab", "slimy"}, "slimy"},
		"put off":    {[]string{"p", "2w"}, "2w"},
		"flag":       {[]string{"f"}, ""},
		"fault":      {[]string{"b", "hums"}, "hums"},
		"away":       {[]string{"a", "2w"}, "2w"},
		"spare":      {[]string{"4", "a", "Pump oil"}, "Pump oil"},
		"amend":      {[]string{"6", "e", "tab", "7"}, "37"},
		"retire":     {[]string{"4", "R"}, ""},
		"one letter": {[]string{"d"}, ""},
	} {
		t.Run(name, func(t *testing.T) {
			store := &faulty{Store: Demo(model.NewDate(2026, 11, 25))}
			p := open(t, store, 80, 24)
			before := p.Session.Book.Last()
			confirm := "enter"
			switch name {
			case "one letter":
				confirm = "l"
			case "retire":
				confirm = ""
			}
			attempt := func(keys []string) {
				p.keys(keys...)
				for range 2 { // the first may ask about an odd value
					if confirm != "" && store.write != nil {
						p.keys(confirm)
					}
				}
			}
			store.write = full
			attempt(c.open)
			if store.write != nil {
				t.Fatalf("nothing was tried:\n%s", p.Screen())
			}
			flat := strings.Join(strings.Fields(p.Screen()), " ")
			if p.Session.Book.Last() != before || !strings.Contains(flat, "no space left on device; make room on the disk and try again") || !strings.Contains(flat, c.holds) {
				t.Fatalf("the failure is not told, or what was typed is gone:\n%s", p.Screen())
			}
			p.Leap(2e9)
			switch {
			case c.holds != "":
				p.keys("enter")
			case confirm == "":
				p.keys(c.open[len(c.open)-1])
			default: // a question of one letter is put again
				p.keys(append(c.open, confirm)...)
			}
			if p.Session.Book.Last() == before {
				t.Errorf("trying again did not save:\n%s", p.Screen())
			}
		})
	}
}
