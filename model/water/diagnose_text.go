package water

import (
	"math"
	"strconv"
	"strings"
)

// short prints a reading the way a display would: no decimals from 100 up, one from 10, else two, zeros trimmed.
func short(v float64) string {
	decimals := 2
	if a := math.Abs(v); a >= 100 {
		decimals = 0
	} else if a >= 10 {
		decimals = 1
	}
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if decimals > 0 {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}

func percent(fraction float64) string { return short(100*fraction) + " %" }

func inPPM(v float64) string { return short(v) + " ppm" }

func inMgL(v float64) string { return short(v) + " mg/L" }

// inBar, inDegrees and inFlow write a metric value in the keeper's unit.
func (d Display) inBar(v float64) string {
	if d.PSI {
		return short(v/barPerPSI) + " psi"
	}
	return short(v) + " bar"
}

// housings says what bowls and push-fit tube are made for.
func (d Display) housings() string {
	if d.PSI {
		return "housings are made for 100 to 125 psi at the most"
	}
	return "housings are made for 6.9 to 8.6 bar at the most"
}

func (d Display) inDegrees(v float64) string {
	if d.Fahrenheit {
		return short(v*1.8+32) + " °F"
	}
	return short(v) + " °C"
}

func (d Display) inLitres(v float64) string {
	if d.GallonsPerDay {
		return short(v/litresPerUSGallon) + " gal"
	}
	return short(v) + " L"
}

// days is a span of days: "1 d".
func days(n int) string { return strconv.Itoa(n) + " d" }

func (d Display) inFlow(v float64) string {
	if d.GallonsPerDay {
		return short(v*24/litresPerUSGallon) + " gpd"
	}
	return short(v) + " L/h"
}

// now writes a reading with its name, and its age once that matters: "tap 250 ppm (12 d old)".
func (r *Reading) now(name string, in func(float64) string) string {
	s := name + " " + in(r.Value)
	if r.AgeDays > sameDays {
		s += " (" + strconv.Itoa(r.AgeDays) + " d old)"
	}
	return s
}

// within writes a reading as now does, without brackets of its own: "tap 250 ppm 12 d ago".
func (r *Reading) within(name string, in func(float64) string) string {
	s := name + " " + in(r.Value)
	if r.AgeDays > sameDays {
		s += " " + days(r.AgeDays) + " ago"
	}
	return s
}

// then adds what it was in the first weeks: "line pressure 2.4 bar, 3.4 bar in the first weeks".
func (r *Reading) then(name string, in func(float64) string) string {
	s := r.now(name, in)
	if r.Baseline != nil {
		s += ", " + in(*r.Baseline) + " in the first weeks"
	}
	return s
}
