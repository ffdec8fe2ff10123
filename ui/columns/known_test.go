package columns

import (
	"strconv"
	"strings"
	"testing"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/model/starter"
)

// What Log writes of a book, Read finds in that book, whatever units it is shown in.
func TestTheLogIsKnown(t *testing.T) {
	for _, units := range []model.Units{metric, {Volume: "gal", Temperature: "F", Pressure: "psi"}} {
		log := starter.Demo(today)
		for i := range log {
			if def, ok := log[i].Body.(model.BookDef); ok {
				def.Units = units
				log[i].Body = def
			}
		}
		b := fold(t, new(ledger.Book), log)
		for _, litres := range []float64{39, 38.7, 1234.5678} {
			b = fold(t, b, []model.Entry{model.NewEntry(today, model.Usage{Counter: "water-made", Amount: &litres})})
		}
		rows := rowsOf(logRows(t, b))
		plan, err := Read(b, rows, Asked{Today: today, Future: true})
		if err != nil || len(plan.Items) != 0 {
			t.Errorf("%v: %v; %d of %d are new, the first %+v", units, err, len(plan.Items), len(rows), plan.Items[:min(1, len(plan.Items))])
		}
	}
}

// A value is known as far as it was written: within half of its last digit, whatever its unit. Each value of the book is
// so for one row; the row that names it by its number comes first, then the nearest.
func TestKnownAsFarAsWritten(t *testing.T) {
	b := reef(t, model.Units{Volume: "gal", Temperature: "F", Pressure: "psi"})
	add := func(body model.Body) string {
		b = fold(t, b, []model.Entry{model.NewEntry(today, body)})
		return strconv.Itoa(int(b.Last()))
	}
	used := func(v float64) string { return add(model.Usage{Counter: "water-made", Amount: &v}) }
	first, second := used(39), used(40.5) // 10.3027 and 10.6990 gal
	add(model.Reading{Gauge: "tank-temperature", Value: 25})
	add(model.Reading{Gauge: "tank-salinity", Value: 35})
	add(model.Tick{Chore: "scrape-glass", Found: model.FoundLight})
	const head = "date;name;value;unit;seq\n2026-11-25;"
	for name, c := range map[string]struct {
		table string
		fresh int
	}{
		"all digits":               {head + "Water made;10.30271004;gal;", 0},
		"one decimal":              {head + "Water made;10.3;gal;", 0},
		"in litres":                {head + "Water made;39;L;", 0},
		"a whole number":           {head + "Water made;11;gal;", 0},
		"beyond the last digit":    {head + "Water made;10.4;gal;", 1},
		"a sum":                    {head + "Water made;5.1+5.2;gal;", 0},
		"another day":              {"2026-11-24;Water made;10.3 gal", 1},
		"degrees":                  {head + "Tank temperature;77.0;F;", 0},
		"off by a tenth":           {head + "Tank temperature;77.1;F;", 1},
		"a specific gravity":       {head + "Salinity of the tank;1.0264;SG;", 0},
		"another specific gravity": {head + "Salinity of the tank;1.0270;SG;", 1},
		"a tick":                   {head + "scrape-glass;light;;", 0},
		"another word":             {head + "scrape-glass;heavy;;", 1},
		"each once":                {head + "Water made;10.3;gal;\n2026-11-25;Water made;10.3;gal;", 1},
		"the nearest":              {head + "Water made;10;gal;\n2026-11-25;Water made;10.3;gal;\n2026-11-25;Water made;10.7;gal;", 1},
		"by its number":            {head + "Water made;11;gal;" + second + "\n2026-11-25;Water made;10.30;gal;" + first, 0},
		"rounded, by their number": {head + "Water made;10.5;gal;" + first + "\n2026-11-25;Water made;10.3;gal;", 1},
		"a number of another book": {head + "Water made;10.4;gal;" + first, 1},
		"no number at all":         {head + "Water made;10.3;gal;first", 0},
	} {
		plan, err := Read(b, lines(c.table), Asked{Today: today})
		if err != nil || len(plan.Items) != c.fresh {
			t.Errorf("%s: %d are new, want %d; %v", name, len(plan.Items), c.fresh, err)
		}
	}
}

// What can't be, or lies ahead, is refused as new and known as old: it may have been logged when it was let through.
func TestWhatCannotBeIsKnown(t *testing.T) {
	b := reef(t, metric)
	rows := lines("date;name;value\n2026-11-25;tds-tap;-3\n2026-11-25;Water made;250000\n2026-11-30;tds-tap;248")
	_, err := Read(b, rows, Asked{Today: today})
	for _, says := range []string{"line 2: -3 ppm can't be; give 0 to 50000 ppm", "line 3: 250000 L at once can't be", "line 4: 2026-11-30 is after today"} {
		if err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%v, without %q", err, says)
		}
	}
	large := 250000.0
	b = fold(t, b, []model.Entry{
		model.NewEntry(today, model.Reading{Gauge: "tds-tap", Value: -3}), model.NewEntry(today, model.Usage{Counter: "water-made", Amount: &large}),
		model.NewEntry(today.AddDays(5), model.Reading{Gauge: "tds-tap", Value: 248}),
	})
	if plan, err := Read(b, rows, Asked{Today: today}); err != nil || len(plan.Items) != 0 || plan.Known != 3 {
		t.Errorf("%d new, %d known, %v", len(plan.Items), plan.Known, err)
	}
}
