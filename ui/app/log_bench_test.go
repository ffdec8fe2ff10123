package app

import (
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/model/longlog"
	"brine/wrasse/storage"

	tea "github.com/charmbracelet/bubbletea"
)

// fileStore is the part of main's store that shows a book.
type fileStore struct{ *storage.Book }

// Wait reports that nobody else wrote.
func (fileStore) Wait(<-chan struct{}) bool { return false }

// Write is that of a session.
func (s fileStore) Write(build func(*ledger.Book) ([]model.Entry, error)) (*ledger.Book, model.Seq, error) {
	w, err := s.Book.Write(build)
	return w.Book, w.Act, err
}

// Warning is none.
func (fileStore) Warning() string { return "" }

// BenchmarkLog is from the key of the Log view to its newest page drawn, with a file of 100,000 entries: the first time in
// a window, then a jump to the other end of the log and back. Run it with -benchtime 20x.
func BenchmarkLog(b *testing.B) {
	now := func() time.Time { return time.Date(2026, time.November, 25, 7, 30, 0, 0, time.UTC) }
	path := filepath.Join(b.TempDir(), "book.db")
	made := storage.At(path, now)
	if _, err := made.Create(slices.Collect(longlog.Household(1, 100_000, model.DateOf(now())))); err != nil {
		b.Fatal(err)
	}
	made.Close()
	opened := func() *App {
		a := New(fileStore{storage.At(path, now)}, Options{Now: now, Getenv: func(string) string { return "" }, after: noTimer})
		if frame := firstFrame(a.Root); !strings.Contains(frame, "overdue, worst first") {
			b.Fatalf("the round is not in the first frame:\n%s", frame)
		}
		return a
	}
	shows := func(m tea.Model, text string) {
		if view := m.View(); !strings.Contains(view, text) {
			b.Fatalf("%q is not drawn:\n%s", text, view)
		}
	}
	b.Run("first", func(b *testing.B) {
		windows := make([]*App, b.N)
		for i := range windows {
			windows[i] = opened()
			defer windows[i].Session.Close()
		}
		b.ResetTimer()
		for _, a := range windows {
			shows(press(a.Root, keysIn("6")[0]), "entry 100000")
		}
	})
	b.Run("ends", func(b *testing.B) {
		a := opened()
		defer a.Session.Close()
		m := press(a.Root, keysIn("6")[0])
		for b.Loop() {
			m = press(m, keysIn("end")[0])
			shows(m, "entry 1,")
			m = press(m, keysIn("home")[0])
			shows(m, "entry 100000")
		}
	})
}
