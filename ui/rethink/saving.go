package rethink

import (
	"fmt"
	"math"

	"brine/wrasse/schedule"
	"brine/wrasse/ui/parse"
)

// ticksToTell is how many ticks a rebuilt part needs before its figures are set
// beside those it had.
const ticksToTell = 2

// saving is the minutes a year that rebuilding a part has saved, below 0 where it
// costs more now; ok is false while there is no telling. A part that opened with another
// shared its opening, which goes on costing what it is still opened for.
func saving(a *schedule.Awkward) (minutes float64, ok bool) {
	if a.Rebuilt == nil || a.After.Ticks < ticksToTell {
		return 0, false
	}
	saved := a.Before.MinutesAYear - a.After.MinutesAYear
	if a.Left != nil {
		saved -= a.Left.MinutesAYear
	}
	return saved, true
}

// saved is what all rebuilt parts together save, and how many of them tell.
func (v *View) saved() (minutes float64, parts int) {
	for i := range v.all {
		if s, ok := saving(&v.all[i]); ok {
			minutes, parts = minutes+s, parts+1
		}
	}
	return minutes, parts
}

// placing is what getting at all parts takes in minutes a year, and what moving them could save: all of them, and those on
// the list.
type placing struct{ spent, save, listed float64 }

// cost is what a move would save. The opening of a part that opens with another is the other's.
func (v *View) cost() (p placing) {
	for i := range v.all {
		a := &v.all[i]
		if a.Component.OpensWith != "" {
			continue
		}
		p.spent += a.MinutesAYear
		p.save += a.Score
		if section(a) == sectionListed {
			p.listed += a.Score
		}
	}
	return p
}

// hours is minutes a year as they are said: "45 min", "3 h 20", "41 h".
func hours(minutes float64) string {
	const exactTo = 10 * 60
	if math.Abs(minutes) < exactTo {
		if minutes < 0 {
			return "-" + parse.Duration(-minutes)
		}
		return parse.Duration(minutes)
	}
	return fmt.Sprintf("%.0f h", minutes/60)
}

// percent is a share as it is said.
func percent(share float64) string { return fmt.Sprintf("%.0f %%", share*100) }
