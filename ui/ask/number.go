package ask

import (
	"fmt"
	"strconv"
	"strings"
)

// mostMinutes is a day.
const mostMinutes = 1440

// wholeMinutes reads minutes; ok is false when nothing was typed.
func wholeMinutes(s string) (n int, ok bool, err error) {
	s = strings.TrimSpace(s)
	if s == "" {
		return 0, false, nil
	}
	n, err = strconv.Atoi(s)
	if err != nil || n < 0 || n > mostMinutes {
		return 0, false, fmt.Errorf("%q: give whole minutes from 0 to %d", s, mostMinutes)
	}
	return n, true, nil
}
