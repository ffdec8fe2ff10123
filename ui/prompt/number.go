package prompt

import (
	"strings"

	"brine/wrasse/ui/parse"
)

// wholeMinutes reads minutes; ok is false when nothing was typed.
func wholeMinutes(s string) (n int, ok bool, err error) {
	if strings.TrimSpace(s) == "" {
		return 0, false, nil
	}
	n, err = parse.WholeMinutes(s)
	return n, err == nil, err
}
