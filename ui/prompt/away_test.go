package prompt

import (
	"errors"
	"io"
	"strings"
	"testing"
	"time"

	"brine/wrasse/model"
	"brine/wrasse/ui/session"
	"brine/wrasse/ui/uitest"

	tea "github.com/charmbracelet/bubbletea"
)

// f2 writes the page for a sitter of what is typed, and nothing into the book: that is left to enter.
func TestF2WritesThePageForASitter(t *testing.T) {
	files := map[string]string{}
	newFile := func(path string, write func(io.Writer) error) error {
		if files[path] != "" {
			return errors.New(path + " is there already")
		}
		var page strings.Builder
		err := write(&page)
		files[path] = page.String()
		return err
	}
	s := asked(t, uitest.Demo(t), func(d *session.Session) tea.Cmd {
		d.NewFile = newFile
		return Away(d)
	})
	before := s.Session.Book.Last()
	s.Keys("<f2>")
	s.Sees("no page without the first day back")
	s.Keys("nonsense<f2>")
	s.Clear()
	if len(files) != 0 {
		t.Fatalf("%d files without a day to be back", len(files))
	}
	s.Pass(time.Second) // a fault can't be typed away before
	s.Keys("sat<tab>Kit, 555 0100")
	s.Sees("before that 7 chores", "2 chores for a")
	s.Keys("<f2>")
	s.Sees("written: sitter-2026-11-25.html", "Away")
	page := files["sitter-2026-11-25.html"]
	for _, want := range []string{"<!DOCTYPE html>", "Wed 25 Nov to Fri 27 Nov 2026", "is back on Sat 28 Nov", "Kit, 555 0100", "Skimmer cup: empty cup"} {
		if !strings.Contains(page, want) {
			t.Errorf("the page has no %q", want)
		}
	}
	if s.Session.Book.Last() != before {
		t.Errorf("f2 wrote %+v into the book", s.Last().Body)
	}
	s.Keys("<f2>")
	s.Sees("sitter-2026-11-25.html is there already", "Away")
	s.Keys("<enter>")
	if s.Session.Book.Def().Contact != "Kit, 555 0100" || s.Session.Book.Last() == before {
		t.Errorf("enter noted %+v", s.LastAct())
	}
	if a := s.Session.Round.Leaving(); a == nil || a.Until != uitest.Today.AddDays(3) {
		t.Errorf("the round has %+v ahead", a)
	}
}

// What a page can't cover, and where none can be written, is said; the form stays.
func TestF2SaysWhyThereIsNoPage(t *testing.T) {
	s := asked(t, uitest.Demo(t), Away)
	s.Keys("sat<f2>")
	s.Sees("no file can be written from here", "2026-11-28 sitter.html", "Away")
	s.Pass(time.Second)
	s.Session.NewFile = func(string, func(io.Writer) error) error { t.Error("a file is written"); return nil }
	s.Clear()
	s.Keys("90d<f2>")
	s.Sees("more than one page for a sitter takes", "Away")
	if _, ok := s.Last().Body.(model.Away); ok {
		t.Error("an absence is noted")
	}
}
