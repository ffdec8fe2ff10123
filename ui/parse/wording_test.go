package parse

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"brine/wrasse/model"
	"brine/wrasse/model/starter"
	"brine/wrasse/model/water"
)

func TestWording(t *testing.T) {
	mixed := model.Units{Volume: "L", Temperature: "C", Pressure: "psi"} // as in Britain
	for _, c := range []struct {
		text  string
		units model.Units
		want  string
	}{
		{"wait", us, "wait"},
		{"{5 to 10 L|1 to 3 gal} to the drain", metric, "5 to 10 L to the drain"},
		{"{5 to 10 L|1 to 3 gal} to the drain", us, "1 to 3 gal to the drain"},
		{"over {5.5 bar|80 psi}, {5 L|1.3 gal}, {1 °C|2 °F}", mixed, "over 80 psi, 5 L, 1 °C"},
		{"fill {40 L}", us, "fill 11 gal"},
		{"fill {40 L}", metric, "fill 40 L"},
		{"at {25 °C}", us, "at 77 °F"},
		{"a {word}, {3 lights}, {", us, "a {word}, {3 lights}, {"},
	} {
		if got := Wording(c.text, c.units); got != c.want {
			t.Errorf("%q in %v: %q, want %q", c.text, c.units, got, c.want)
		}
	}
}

// every is all texts of the starter sets that a keeper reads in the units of the book.
func every(t *testing.T) []string {
	var out []string
	for _, name := range append(starter.Names(), "extras") {
		set, err := starter.Set(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, e := range set {
			if c, ok := e.Body.(model.Chore); ok {
				for _, s := range c.Steps {
					out = append(out, s.Text)
				}
				out = append(out, c.Cautions...)
			}
		}
	}
	return out
}

// In a book of either system no step and no caution speaks the other's units. Grams stay beside ounces, and a dose of
// bleach is measured in mL everywhere, as medicine is.
func TestSetsSpeakTheUnitsOfTheBook(t *testing.T) {
	foreign := map[model.Units]*regexp.Regexp{
		metric: regexp.MustCompile(`\b(gal|gallons?|quart|psi|oz|lb|inch)\b|°F`),
		us:     regexp.MustCompile(`\d ?L\b|\b(litres?|bar|kg|kilograms?|millimetres?)\b|°C`),
	}
	for _, s := range every(t) {
		for u, bad := range foreign {
			if say := Wording(s, u); bad.MatchString(say) || strings.ContainsAny(say, "{}|") {
				t.Errorf("in %s: %q", u.Volume, say)
			}
		}
	}
}

// Both halves of a pair name the same amount, to a tenth (to a third for ranges rounded to whole gallons): the factors are those of
// NIST Handbook 44, appendix C.
func TestPairsOfTheSetsAgree(t *testing.T) {
	amount := regexp.MustCompile(`([\d.]+) (L|gal|bar|psi|kg|lb)\b`)
	pairs := 0
	for _, s := range every(t) {
		for _, p := range braced.FindAllStringSubmatch(s, -1) {
			a, b := amount.FindStringSubmatch(p[1]), amount.FindStringSubmatch(p[2])
			if a == nil || b == nil || strings.Contains(s, " to ") || strings.Contains(s, "waste for") || strings.Contains(s, "can of salt") {
				continue
			}
			pairs++
			v, _ := strconv.ParseFloat(a[1], 64)
			w, _ := strconv.ParseFloat(b[1], 64)
			from, err1 := water.ParseUnit(a[2])
			to, err2 := water.ParseUnit(b[2])
			got, err3 := water.Convert(v, from, to)
			if err := slices.ContainsFunc([]error{err1, err2, err3}, func(e error) bool { return e != nil }); err || got < 0.9*w || got > 1.1*w {
				t.Errorf("%q: %s is %.3g %s, not %s", s, a[0], got, b[2], b[0])
			}
		}
	}
	if pairs < 5 {
		t.Errorf("%d pairs were compared", pairs)
	}
}
