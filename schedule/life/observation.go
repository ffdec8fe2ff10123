package life

import "math"

// heavyReach is how far past its age a heavily worn part might have gone on, as a multiple of that age.
const heavyReach = 1.25

// kind says what is known of the age at which a life ended.
type kind uint8

const (
	rightCensored kind = iota
	exact
	leftCensored
	intervalCensored
)

// Observation is what one closed cycle tells of a life. Make one with Survived, FailedAt, FailedBy or Worn. Ages are
// above 0 and finite, in the clock's own unit; one that is not teaches nothing.
type Observation struct {
	kind kind
	age  float64
	low  float64 // lower end of an interval; its upper end is heavyReach * age
}

// Survived is a life that was still going at the given age (right-censored).
func Survived(age float64) Observation { return Observation{kind: rightCensored, age: age} }

// FailedAt is a life that ended at the given age, known exactly.
func FailedAt(age float64) Observation { return Observation{kind: exact, age: age} }

// FailedBy is a life that was found to have ended, at some unknown age up to the given one (left-censored).
func FailedBy(age float64) Observation { return Observation{kind: leftCensored, age: age} }

// Worn is a life found heavily spent at the given age: it ended, or would have, in (min(age, sound), 1.25 age]
// (interval-censored), sound being the age by which none is taken to have ended before anything is known.
func Worn(age, sound float64) Observation {
	low := math.Min(age, sound)
	if !(low > 0) {
		return Observation{kind: leftCensored, age: heavyReach * age}
	}
	return Observation{kind: intervalCensored, age: age, low: low}
}

// teaches reports whether the observation's ages can be used.
func (o Observation) teaches() bool { return o.age > 0 && heavyReach*o.age <= math.MaxFloat64 }
