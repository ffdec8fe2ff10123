package command_test

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/ui/uitest"
)

// mixCase is a question to mix or salinity, with the right answer. Computed by hand and with GSW from PSS-78, EOS-80 and the
// mass balance; densities carried on above 42.
type mixCase struct {
	ask   string // in a metric book
	us    string // the same in gallons and degrees Fahrenheit
	want  map[string]float64
	off   float64 // relative, of each
	says  []string
	never []string
}

var mixCases = []mixCase{
	// New batches: grams a litre 38.33, 40.54, 43.03 for f 0.95, 0.90, 0.85 at 25 degC.
	{ask: "mix --volume 40 --target 35", us: "mix --volume 10.5669gal --target 35 --temp 77", want: map[string]float64{"first_dose_g": 1533, "salt_g": 1621.6, "most_g": 1721, "final_l": 40.56}, off: 1e-3},
	{ask: "mix --volume 113.562 --target 35", us: "mix --volume 30 --target 35", want: map[string]float64{"first_dose_g": 4353, "salt_g": 4604, "most_g": 4887}, off: 1e-3},
	{ask: "mix --volume 120 --target 35 --final", us: "mix --volume 31.7006 --target 35 --final", want: map[string]float64{"salt_g": 4798, "water_l": 118.35, "final_l": 120}, off: 1e-3},
	{ask: "mix --volume 40 --target 35 --temp 10", us: "mix --volume 10.5669 --target 35 --temp 50", want: map[string]float64{"salt_g": 1626, "final_l": 40.55}, off: 2e-3},
	{ask: "mix --volume 40 --target 35 --temp 35", us: "mix --volume 10.5669 --target 35 --temp 95", want: map[string]float64{"salt_g": 1616.6, "final_l": 40.56}, off: 2e-3},
	{ask: "mix --volume 100 --target 33", us: "mix --volume 26.4172 --target 33", want: map[string]float64{"salt_g": 3815}, off: 2e-3},
	{ask: "mix --volume 40 --target 1.0264sg", us: "mix --volume 10.5669 --target 1.0264sg", want: map[string]float64{"target": 35.04}, off: 3e-4},
	{ask: "mix --volume 40 --target 1.0264sg --reference 20/20", us: "mix --volume 10.5669 --target 1.0264sg --reference 20/20", want: map[string]float64{"target": 34.73}, off: 3e-4},
	{ask: "mix --volume 40 --target 1.0264sg --reference 60F/60F", us: "mix --volume 10.5669 --target 1.0264sg --reference 60F/60F", want: map[string]float64{"target": 34.40}, off: 3e-4},
	{ask: "mix --volume 40 --target 1.0264sg --reference 20/4", us: "mix --volume 10.5669 --target 1.0264sg --reference 20/4", want: map[string]float64{"target": 37.11}, off: 3e-4},
	{ask: "mix --volume 40 --target 1.0264sg --reference 25/4", us: "mix --volume 10.5669 --target 1.0264sg --reference 25/4", want: map[string]float64{"target": 39.01}, off: 3e-4},
	{ask: "mix --volume 40 --target 25", us: "mix --volume 10.5669 --target 25", says: []string{"is 25 meant"}},
	{ask: "mix --volume 40 --target 42", us: "mix --volume 10.5669 --target 42", says: []string{"is 42 meant"}},
	{ask: "mix --volume 40 --target 34", us: "mix --volume 10.5669 --target 34", never: []string{"meant"}},

	// A vat put right.
	{ask: "mix --volume 40 --now 33 --target 35", us: "mix --volume 10.5669 --now 33 --target 35", want: map[string]float64{"salt_g": 94.9}, off: 5e-3, says: []string{"vat without animals", "no dry salt", "Salt into water"}},
	{ask: "mix --volume 100 --now 33 --target 35", us: "mix --volume 26.4172 --now 33 --target 35", want: map[string]float64{"salt_g": 237.3}, off: 1e-3},
	{ask: "mix --volume 40 --now 37 --target 35", us: "mix --volume 10.5669 --now 37 --target 35", want: map[string]float64{"water_l": 2.35, "swap_l": 2.22, "salt_g": 0}, off: 5e-3, says: []string{"vat without animals"}, never: []string{"Salt into water"}},
	{ask: "mix --volume 40 --now 41 --target 35", us: "mix --volume 10.5669 --now 41 --target 35", want: map[string]float64{"water_l": 7.07, "swap_l": 6.00}, off: 5e-3},
	{ask: "mix --volume 40 --now 45 --target 35", us: "mix --volume 10.5669 --now 45 --target 35", want: map[string]float64{"water_l": 11.82, "swap_l": 9.12}, off: 5e-3},
	{ask: "mix --volume 40 --now 1.0340sg --target 35", us: "mix --volume 10.5669 --now 1.0340sg --target 35", want: map[string]float64{"now": 45.0, "swap_l": 9.14}, off: 5e-3},
	{ask: "mix --volume 40 --now 35.1 --target 35", us: "mix --volume 10.5669 --now 35.1 --target 35", never: []string{"Salt into water", "Mains", "vat without animals"}},
	{ask: "mix --volume 40 --now 36.5brine --target 35", us: "mix --volume 10.5669 --now 36.5brine --target 35", want: map[string]float64{"now": 35}, off: 1e-3},
	{ask: "mix --volume 40 --now 53.1mS --target 35 --temp 20 --meter compensating", us: "mix --volume 10.5669 --now 53.1mS --target 35 --temp 68 --meter compensating", want: map[string]float64{"now": 35.02}, off: 1e-3},

	// A tank with animals.
	{ask: "mix --volume 400 --now 33 --target 34 --for tank", us: "mix --volume 105.669 --now 33 --target 34 --for tank", want: map[string]float64{"change_l": 40, "days": 1, "days.0.batch": 43, "salt_g": 0}, off: 1e-3},
	{ask: "mix --volume 400 --now 33 --target 35 --for tank", us: "mix --volume 105.669 --now 33 --target 35 --for tank", want: map[string]float64{"days": 2, "days.0.to": 34, "days.1.batch": 44, "salt_g": 0}, off: 1e-3},
	{ask: "mix --volume 400 --now 37 --target 35 --for tank --change 80", us: "mix --volume 105.669 --now 37 --target 35 --for tank --change 21.1338", want: map[string]float64{"days": 2, "days.0.batch": 32, "days.1.batch": 31}, off: 1e-3},
	{ask: "mix --volume 400 --now 33 --target 33.5 --for tank", us: "mix --volume 105.669 --now 33 --target 33.5 --for tank", want: map[string]float64{"days": 1, "days.0.batch": 38}, off: 1e-3},

	// One reading on every scale.
	{ask: "salinity 35", us: "salinity 35", want: map[string]float64{"g_per_kg": 35.165, "conductivity_ms_cm": 53.07, "density_kg_m3": 1023.34, "refractometer_brine": 36.5, "sg.25/25": 1.02637}, off: 2e-4},
	{ask: "salinity 53.1mS/cm --temp 20", us: "salinity 53.1mS/cm --temp 68", want: map[string]float64{"practical": 39.29, "if_compensated": 35.02}, off: 1e-3},
	{ask: "salinity 53.0mS --temp 25", us: "salinity 53.0mS --temp 77", want: map[string]float64{"practical": 34.947}, off: 1e-4},
	{ask: "salinity 48.0mS --temp 20 --meter raw", us: "salinity 48.0mS --temp 68 --meter raw", want: map[string]float64{"practical": 35.067}, off: 1e-4},
	{ask: "salinity 52mS/cm --temp 35 --meter raw", us: "salinity 52mS/cm --temp 95 --meter raw", want: map[string]float64{"practical": 27.83}, off: 1e-3},
	{ask: "salinity 1.0245float --temp 25 --reference 60F/60F", us: "salinity 1.0245float --temp 77 --reference 60F/60F", want: map[string]float64{"practical": 34.88}, off: 1e-3},
	{ask: "salinity 34.4brine", us: "salinity 34.4brine", want: map[string]float64{"practical": 33}, off: 2e-3},
	{ask: "salinity 31.1brine", us: "salinity 31.1brine", want: map[string]float64{"practical": 30}, off: 2e-3},
	{ask: "salinity 35.165g/kg", us: "salinity 35.165g/kg", want: map[string]float64{"practical": 35}, off: 1e-4},
}

// unitBook is a book of nothing but its units.
func unitBook(t *testing.T, u model.Units) *ledger.Book {
	t.Helper()
	return uitest.Book(t, []model.Entry{model.NewEntry(model.NewDate(2026, 1, 1), model.BookDef{Name: "Reef", Units: u})})
}

// figureAt is a figure of a JSON object by its path; of a list its length.
func figureAt(v any, path string) (float64, bool) {
	for path != "" {
		var name string
		name, path, _ = strings.Cut(path, ".")
		switch x := v.(type) {
		case map[string]any:
			v = x[name]
		case []any:
			i := int(name[0] - '0')
			if i >= len(x) {
				return 0, false
			}
			v = x[i]
		}
	}
	switch x := v.(type) {
	case float64:
		return x, true
	case []any:
		return float64(len(x)), true
	}
	return 0, false
}

func TestMixAndSalinityInBothUnits(t *testing.T) {
	if len(mixCases) < 35 {
		t.Errorf("%d cases", len(mixCases))
	}
	metric := unitBook(t, model.Units{Volume: "L", Temperature: "C", Pressure: "bar"})
	us := unitBook(t, model.Units{Volume: "gal", Temperature: "F", Pressure: "psi"})
	for _, c := range mixCases {
		for _, in := range []struct {
			book *ledger.Book
			ask  string
			not  []string // what such a book does not read
		}{{metric, c.ask, []string{" lb", " oz", " gal", "°F"}}, {us, c.us, []string{" kg", " g ", " L ", " L,", "°C"}}} {
			args := strings.Fields(in.ask)
			var out any
			if err := json.Unmarshal([]byte(answer(t, in.book, append(args, "--json")...)), &out); err != nil {
				t.Fatalf("%s: %v", in.ask, err)
			}
			for path, want := range c.want {
				if got, ok := figureAt(out, path); !ok || math.Abs(got-want) > c.off*math.Max(math.Abs(want), 1e-9)+1e-9 {
					t.Errorf("%s: %s is %v, want %v", in.ask, path, got, want)
				}
			}
			text := answer(t, in.book, args...)
			for _, s := range c.says {
				if !strings.Contains(text, s) {
					t.Errorf("%s does not say %q:\n%s", in.ask, s, text)
				}
			}
			for _, s := range c.never {
				if strings.Contains(text, s) {
					t.Errorf("%s says %q:\n%s", in.ask, s, text)
				}
			}
			for _, s := range in.not {
				for _, line := range strings.Split(text, "\n") {
					if strings.Contains(line, s) && !strings.Contains(line, "g/kg") && !strings.Contains(line, "(77 °F)") && !strings.Contains(line, "(2 °F)") && !strings.Contains(line, "kg/m3") && !strings.Contains(line, "g a litre)") {
						t.Errorf("%s reads %q in %q", in.ask, s, line)
					}
				}
			}
		}
	}
}
