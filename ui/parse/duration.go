package parse

import (
	"fmt"
	"math"
)

// Duration is a length of time in minutes as a keeper says it: "8 min", "3 h 30",
// "2 d 4 h". Parts of a minute are rounded.
func Duration(minutes float64) string {
	m := int(math.Floor(max(minutes, 0) + 0.5))
	switch {
	case m < 60:
		return fmt.Sprintf("%d min", m)
	case m < 24*60 && m%60 == 0:
		return fmt.Sprintf("%d h", m/60)
	case m < 24*60:
		return fmt.Sprintf("%d h %02d", m/60, m%60)
	}
	h := (m + 30) / 60
	if h%24 == 0 {
		return fmt.Sprintf("%d d", h/24)
	}
	return fmt.Sprintf("%d d %d h", h/24, h%24)
}

// Labour is a sum of working time, given in minutes. It never turns into days: nobody
// works 24 hours of one.
func Labour(minutes int) string {
	if minutes < 24*60 {
		return Duration(float64(minutes))
	}
	return fmt.Sprintf("%d h", (minutes+30)/60)
}
