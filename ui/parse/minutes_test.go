package parse

import (
	"strings"
	"testing"
)

func TestMinutes(t *testing.T) {
	for s, want := range map[string]float64{"0": 0, "10": 10, "7.5": 7.5, "7,5": 7.5, " 3 ": 3, "1440": 1440} {
		if got, err := Minutes(s); err != nil || got != want {
			t.Errorf("Minutes(%q) = %g, %v; want %g", s, got, err, want)
		}
	}
	for _, s := range []string{"", "nan", "inf", "1e1", "0x10", "-1", "1441", "5+5", "10 gal", "1,250", "a while"} {
		if got, err := Minutes(s); err == nil || !strings.Contains(err.Error(), "give minutes from 0 to 1440") {
			t.Errorf("Minutes(%q) = %g, %v", s, got, err)
		}
	}
	for s, want := range map[string]int{"0": 0, " 25": 25, "1440": 1440} {
		if got, err := WholeMinutes(s); err != nil || got != want {
			t.Errorf("WholeMinutes(%q) = %d, %v; want %d", s, got, err, want)
		}
	}
	for _, s := range []string{"", "-1", "1441", "2.5", "2,5", "an hour"} {
		if got, err := WholeMinutes(s); err == nil || !strings.Contains(err.Error(), "give whole minutes from 0 to 1440") {
			t.Errorf("WholeMinutes(%q) = %d, %v", s, got, err)
		}
	}
}

func TestPlain(t *testing.T) {
	for s, want := range map[string]float64{"40": 40, "-1,5": -1.5, "−2": -2, "12.5": 12.5} {
		if got, err := Plain(s); err != nil || got != want {
			t.Errorf("Plain(%q) = %g, %v; want %g", s, got, err, want)
		}
	}
	for _, s := range []string{"", "nan", "1e3", "3 kg", "1+1", "1,250"} {
		if got, err := Plain(s); err == nil || !strings.Contains(err.Error(), "is not a number; give such as") {
			t.Errorf("Plain(%q) = %g, %v", s, got, err)
		}
	}
}
