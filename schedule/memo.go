package schedule

import (
	"encoding/binary"
	"math"
	"strconv"
	"sync"

	"brine/wrasse/model"
	"brine/wrasse/schedule/life"
	"brine/wrasse/schedule/trend"
)

// memo remembers fits with a digest of what they were made from. What it gives depends only on what it is asked, never
// on what it remembers: a fit is reused when it was made from the very same numbers.
//
// A fit is kept as bytes, which may outlast the program: a format, the digest, then the numbers of the fit, bit by bit.
// Bytes of any other form are as good as none. The key is the chore's id of a life, with the index of the clock of a line.
type memo struct {
	mu    sync.Mutex
	given map[string][]byte // what it began with, never written to
	made  map[string][]byte
	fresh map[string][]byte // those of made that learnt has not given yet

	tell func(lesson) // in tests: hears of every life that is fitted
}

// lesson is a life fitted and what taught it.
type lesson struct {
	chore model.ID
	prior life.Prior
	taken []life.Observation
	fit   life.Fit
}

// memoFormat is raised when a fit is kept in another form, or when the same numbers come to be fitted differently.
const memoFormat = 1

func newMemo(given map[string][]byte) *memo {
	return &memo{given: given, made: map[string][]byte{}, fresh: map[string][]byte{}}
}

// learnt are the fits made since it was last asked.
func (m *memo) learnt() map[string][]byte {
	m.mu.Lock()
	defer m.mu.Unlock()
	out := m.fresh
	m.fresh = map[string][]byte{}
	return out
}

// recall fills in the numbers of the fit kept under a key, when it was made from what the digest says.
func (m *memo) recall(key string, from [digestSize]byte, numbers []float64) bool {
	m.mu.Lock()
	made, given := m.made[key], m.given[key]
	m.mu.Unlock()
	return decodeFit(made, from, numbers) || decodeFit(given, from, numbers)
}

func (m *memo) keep(key string, from [digestSize]byte, numbers ...float64) {
	bytes := encodeFit(from, numbers)
	m.mu.Lock()
	defer m.mu.Unlock()
	m.made[key], m.fresh[key] = bytes, bytes
}

// numberSize is the length of a bytes number in bytes.
const numberSize = 8

func encodeFit(from [digestSize]byte, numbers []float64) []byte {
	out := make([]byte, 0, 1+digestSize+numberSize*len(numbers))
	out = append(out, memoFormat)
	out = append(out, from[:]...)
	for _, v := range numbers {
		out = binary.LittleEndian.AppendUint64(out, math.Float64bits(v))
	}
	return out
}

func decodeFit(bytes []byte, from [digestSize]byte, numbers []float64) bool {
	const head = 1 + digestSize
	if len(bytes) != head+numberSize*len(numbers) || bytes[0] != memoFormat || [digestSize]byte(bytes[1:head]) != from {
		return false
	}
	for i := range numbers {
		numbers[i] = math.Float64frombits(binary.LittleEndian.Uint64(bytes[head+numberSize*i:]))
	}
	return true
}

// fit is the life that lessons teach.
func (m *memo) fit(chore model.ID, of taught) life.Fit {
	if !of.teaches() {
		return life.Mode(of.prior, nil)
	}
	key, from := string(chore), of.digest()
	var kept [3]float64
	if m.recall(key, from, kept[:]) {
		return life.Fit{Weibull: life.Weibull{Shape: kept[0], Median: kept[1]}, Observations: int(kept[2])}
	}
	taken := of.observations()
	fit := life.Mode(of.prior, taken)
	if m.tell != nil {
		m.tell(lesson{chore, of.prior, taken, fit})
	}
	m.keep(key, from, fit.Shape, fit.Median, float64(fit.Observations))
	return fit
}

// line is the line through the readings of a cycle.
func (m *memo) line(chore model.ID, clock int, dates []model.Level) fittedLine {
	key, from := string(chore)+"/"+strconv.Itoa(clock), plotted(dates)
	var kept [7]float64
	if m.recall(key, from, kept[:]) {
		return fittedLine{
			trend.Line{Slope: kept[0], Low: kept[1], High: kept[2], Intercept: kept[3], MidT: kept[4], MidY: kept[5]},
			kept[6],
		}
	}
	l := fitLine(dates)
	m.keep(key, from, l.Slope, l.Low, l.High, l.Intercept, l.MidT, l.MidY, l.p)
	return l
}

// plotted is the digest of all that a line is fitted to: days from the first date, and values.
func plotted(dates []model.Level) [digestSize]byte {
	var d digest
	for _, l := range dates {
		d.number(float64(l.On.Sub(dates[0].On)))
		d.number(l.Value)
	}
	return d.sum()
}
