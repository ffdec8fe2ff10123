package parse

import (
	"fmt"
	"strconv"
	"strings"
)

// mostMinutes is a day.
const mostMinutes = 1440

// Plain reads one number without a unit: `40`, `7,5`, `-1.5`.
func Plain(s string) (float64, error) {
	terms, err := parseSum(s)
	if err != nil || len(terms) != 1 || terms[0].unit != "" {
		return 0, fmt.Errorf("%q is not a number; give such as 40 or 12.5", strings.TrimSpace(s))
	}
	return terms[0].value, nil
}

// Minutes reads for how long something has run: `10`, `7,5`.
func Minutes(s string) (float64, error) {
	n, err := Plain(s)
	if err != nil || n < 0 || n > mostMinutes {
		return 0, fmt.Errorf("%q: give minutes from 0 to %d, such as 10 or 7.5", strings.TrimSpace(s), mostMinutes)
	}
	return n, nil
}

// WholeMinutes reads how long a job took.
func WholeMinutes(s string) (int, error) {
	n, err := strconv.Atoi(strings.TrimSpace(s))
	if err != nil || n < 0 || n > mostMinutes {
		return 0, fmt.Errorf("%q: give whole minutes from 0 to %d", strings.TrimSpace(s), mostMinutes)
	}
	return n, nil
}
