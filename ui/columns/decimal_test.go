package columns

import (
	"strings"
	"testing"

	"brine/wrasse/model"
)

// A figure is asked about when the comma and the point before the decimals make two figures of it: one with a comma
// anywhere, one with a point where decimals stand behind a comma or may do so. Either flag settles it.
func TestDecimals(t *testing.T) {
	const head = "date;name;value\n2026-11-20;Water made;"
	for name, c := range map[string]struct {
		table                string
		between              rune
		either, comma, point string // amounts in litres, "?" where it is asked about
	}{
		"a point, decimals behind a comma elsewhere": {head + "40,5 L\n2026-11-21;Water made;1.250 L", ',', "?", "40.5 1250", "40.5 1.25"},
		"a point between semicolons":                 {head + "1.250", ';', "?", "1250", "1.25"},
		"a point between commas":                     {head + "1.250", ',', "1.25", "1250", "1.25"},
		"a comma":                                    {head + "1,250", ',', "?", "1.25", "1250"},
		"a comma in a sum":                           {head + "1,250+20", ',', "?", "21.25", "1270"},
		"both":                                       {head + "1.250,5", ';', "1250.5", "1250.5", "1250.5"},
		"both the other way":                         {head + "1,250.5", ';', "1250.5", "1250.5", "1250.5"},
		"two points":                                 {head + "10.250.000 mL", ';', "10250", "10250", "10250"},
		"less than one":                              {head + "0.250\n2026-11-21;Water made;0,125", ';', "0.25 0.125", "0.25 0.125", "0.25 0.125"},
		"one digit":                                  {head + "10.5\n2026-11-21;Water made;40,5", ';', "10.5 40.5", "10.5 40.5", "10.5 40.5"},
		"four before it":                             {head + "1234.567", ';', "1234.567", "1234.567", "1234.567"},
		"a column each":                              {"date;Water made (L)\n2026-11-20;1.250\n2026-11-21;40,5", ',', "?", "1250 40.5", "1.25 40.5"},
	} {
		for decimal, want := range map[Decimal]string{Either: c.either, Comma: c.comma, Point: c.point} {
			plan, err := Read(reef(t, metric), lines(c.table), Asked{Today: today, Decimal: decimal, Between: c.between})
			if want == "?" {
				if err == nil || !strings.Contains(err.Error(), "say which: --decimal comma or --decimal point") || strings.Contains(err.Error(), "\n") {
					t.Errorf("%s: %v, %v; want a question", name, plan.Items, err)
				}
				continue
			}
			var got []string
			for _, i := range plan.Items {
				got = append(got, figure(*i.What.(model.Usage).Amount))
			}
			if err != nil || strings.Join(got, " ") != want {
				t.Errorf("%s, decimal %q: %q, %v; want %s", name, decimal, got, err, want)
			}
		}
	}
}
