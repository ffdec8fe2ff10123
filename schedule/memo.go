package schedule

import (
	"slices"
	"sync"

	"brine/wrasse/model"
	"brine/wrasse/schedule/life"
)

// memo remembers the fits of each chore with what they were made from. What it gives depends only on what it is
// asked, never on what it remembers: a fit is reused when it was made from the very same numbers.
type memo struct {
	mu    sync.Mutex
	fits  map[model.ID]fitted
	lines map[lineKey]lined

	asked, made int // fits, for the tests that count them
	evaluations int // of the likelihood, in the fits made
}

type fitted struct {
	prior life.Prior
	taken []life.Observation
	fit   life.Fit
}

// lineKey is a reading clock: the chore and its index in it.
type lineKey struct {
	chore model.ID
	clock int
}

type lined struct {
	dates []model.Level
	line  fittedLine
}

func newMemo() *memo {
	return &memo{fits: map[model.ID]fitted{}, lines: map[lineKey]lined{}}
}

// fit is the life that observations teach.
func (m *memo) fit(chore model.ID, prior life.Prior, taken []life.Observation) life.Fit {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.asked++
	if was, ok := m.fits[chore]; ok && was.prior == prior && slices.Equal(was.taken, taken) {
		return was.fit
	}
	fit := life.Mode(prior, taken)
	m.made++
	m.evaluations += fit.Evaluations
	m.fits[chore] = fitted{prior, taken, fit}
	return fit
}

// line is the line through the readings of a cycle.
func (m *memo) line(chore model.ID, clock int, dates []model.Level) fittedLine {
	m.mu.Lock()
	defer m.mu.Unlock()
	key := lineKey{chore, clock}
	if was, ok := m.lines[key]; ok && slices.Equal(was.dates, dates) {
		return was.line
	}
	line := fitLine(dates)
	m.lines[key] = lined{dates, line}
	return line
}
