package app

import (
	"strings"
	"testing"
	"time"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/ui/session"

	tea "github.com/charmbracelet/bubbletea"
)

// BenchmarkFirstFrame makes the program on the demo book as it was read, its round and
// its first frame. Reading the book is BenchmarkOpenDemo of package storage.
func BenchmarkFirstFrame(b *testing.B) {
	book, err := Demo(model.NewDate(2026, time.November, 25)).Load()
	if err != nil {
		b.Fatal(err)
	}
	now := func() time.Time { return time.Date(2026, time.November, 25, 7, 30, 0, 0, time.UTC) }
	for b.Loop() {
		store := session.NewMemory(func() (*ledger.Book, error) { return book, nil })
		a := New(store, Options{Now: now, Getenv: func(string) string { return "" }, after: noTimer})
		if frame := firstFrame(a.Root); !strings.Contains(frame, "overdue, worst first") {
			b.Fatalf("the round is not in the first frame:\n%s", frame)
		}
		a.Session.Close()
	}
}

// BenchmarkBareFrame is its floor: a model that draws as many lines, all of them known.
func BenchmarkBareFrame(b *testing.B) {
	for b.Loop() {
		if firstFrame(bare{}) == "" {
			b.Fatal("nothing drawn")
		}
	}
}

// bare is the least there is to draw.
type bare struct{ w, h int }

func (m bare) Init() tea.Cmd { return nil }

func (m bare) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	if msg, ok := msg.(tea.WindowSizeMsg); ok {
		m.w, m.h = msg.Width, msg.Height
	}
	return m, nil
}

func (m bare) View() string {
	return strings.Repeat(strings.Repeat("-", m.w)+"\n", m.h)
}

// started is a program once all that it asked for at its start is there.
func started(m tea.Model) tea.Model {
	cmd := m.Init()
	_ = m.View()
	m, _ = m.Update(tea.WindowSizeMsg{Width: 120, Height: 40})
	_ = m.View()
	return settled(m, cmd)
}

// firstFrame is what it shows then.
func firstFrame(m tea.Model) string { return started(m).View() }

// settled is a program once a command and all that comes of it has been carried out. It
// is drawn as often as the framework does: after every message.
func settled(m tea.Model, cmd tea.Cmd) tea.Model {
	if cmd == nil {
		return m
	}
	switch msg := cmd().(type) {
	case nil:
	case tea.BatchMsg:
		for _, c := range msg {
			m = settled(m, c)
		}
	default:
		m, cmd = m.Update(msg)
		_ = m.View()
		m = settled(m, cmd)
	}
	return m
}

// noTimer makes no timers.
func noTimer(time.Duration, func(time.Time) tea.Msg) tea.Cmd { return nil }
