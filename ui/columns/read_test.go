package columns

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/model/starter"
	"brine/wrasse/ui/request"
)

func fold(t testing.TB, b *ledger.Book, entries []model.Entry) *ledger.Book {
	t.Helper()
	next, err := b.Append(entries...)
	if err != nil {
		t.Fatal(err)
	}
	return next
}

// reef is a book with the definitions of all starter sets and nothing logged.
func reef(t testing.TB, units model.Units) *ledger.Book {
	t.Helper()
	out := []model.Entry{model.NewEntry(model.NewDate(2020, 1, 1), model.BookDef{Name: "Reef", Units: units})}
	var sets [][]model.Entry
	for _, name := range starter.Names() {
		set, err := starter.Set(name)
		if err != nil {
			t.Fatal(err)
		}
		sets = append(sets, set)
	}
	for _, e := range starter.Combine(sets...) {
		e.On = model.NewDate(2020, 1, 1)
		out = append(out, e)
	}
	return fold(t, new(ledger.Book), out)
}

var metric = model.Units{Volume: "L", Temperature: "C", Pressure: "bar"}

// lines is a table as it would be read from a file.
func lines(text string) []Row {
	var out []Row
	for i, line := range strings.Split(text, "\n") {
		if line != "" {
			out = append(out, Row{i + 1, strings.Split(line, ";")})
		}
	}
	return out
}

// says is the entries of a plan, written and told.
func says(t *testing.T, b *ledger.Book, p Plan) []string {
	t.Helper()
	acts, err := p.Acts(b)
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, a := range acts {
		b = fold(t, b, a.Entries)
		for i := range a.Entries {
			out = append(out, a.Entries[i].On.String()+" "+request.Say(b, &a.Entries[i]))
		}
	}
	return out
}

func TestRead(t *testing.T) {
	for name, c := range map[string]struct{ table, want string }{
		"headed": {
			"date;name;value;note\n2026-03-03;Water made;40;\n2026-03-02;tds-tap;248;\n2026-03-02;clean-impeller;heavy;sand",
			"2026-03-02 TDS at the tap, 248 ppm|2026-03-02 ticked Mixing pump: clean impeller, found heavy (sand)|2026-03-03 Water made, 40 L",
		},
		"without heads": {"2026-03-03;Water made;40 L\n2026-03-04;water-made;10 gal", "2026-03-03 Water made, 40 L|2026-03-04 Water made, 37.85 L"},
		"other heads":   {"Day;Result;Job\n3.3.2026;h;Mixing pump: clean impeller\n13.3.2026;done;clean-impeller", "2026-03-03 ticked Mixing pump: clean impeller, found heavy|2026-03-13 ticked Mixing pump: clean impeller"},
		"a column each": {
			"date;TDS at the tap (ppm);TDS after the membrane;Water made (gal)\n2026-03-03;248;6;10\n2026-03-04;;;\n2026-03-05;250;;",
			"2026-03-03 TDS at the tap, 248 ppm|2026-03-03 TDS after the membrane, 6 ppm|2026-03-03 Water made, 37.85 L|2026-03-05 TDS at the tap, 250 ppm",
		},
		"guessed":  {"date;name;value\n~2026-03-03;clean-impeller;", "2026-03-03 ticked Mixing pump: clean impeller, about"},
		"decimals": {"date;name;value;unit\n2026-03-03;Alkalinity;8,4;dKH\n2026-03-03;Tank temperature;77;°F", "2026-03-03 Alkalinity, 8.4 dKH|2026-03-03 Tank temperature, 25 °C"},
	} {
		plan, err := Read(reef(t, metric), lines(c.table), Asked{Today: today})
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if got := strings.Join(says(t, reef(t, metric), plan), "|"); got != c.want {
			t.Errorf("%s:\n%s\nwant\n%s", name, got, c.want)
		}
	}
}

func TestReadRefuses(t *testing.T) {
	for table, want := range map[string]string{
		"name;value\ntap;3":                                                 `line 1: no column is headed date, and "name" is no date`,
		"date;value\n2026-03-03;3":                                          "line 1: no column is headed name",
		"date;name\n2026-03-03;tds-tap":                                     "line 1: no column is headed value",
		"date;day;name;value\n":                                             `two columns for the date, "date" and "day"`,
		"date;Sunshine\n2026-03-03;3":                                       `line 1: column "Sunshine" is no chore, gauge or counter`,
		"date;tds-tap;TDS at the tap\n2026-03-03;3;4":                       `both gauge:tds-tap`,
		"date;name;value\n2026-03-03;sunshine;3":                            `line 2: "sunshine" is no chore, gauge or counter`,
		"date;name;value\n2026-03-03;TDS;3":                                 `line 2: "TDS" fits 6 things; give an id or more of the name`,
		"date;name;value\n2026-03-03;TDS after;3":                           `line 2: "TDS after" fits gauge:tds-membrane (TDS after the membrane), gauge:tds-product (TDS after the resin); give one of them`,
		"date;name;value\n2026-03-03;;3":                                    "line 2: no name",
		"date;name;value\n2026-03-03;tds-tap;many":                          `line 2: "many": a number is missing`,
		"date;name;value\n2026-03-03;tds-tap;":                              "line 2: nothing typed",
		"date;name;value\n2026-03-03;clean-impeller;dusty":                  "line 2: found",
		"date;name;value\n2026-12-03;tds-tap;3":                             "line 2: 2026-12-03 is after today, 2026-11-25",
		"date;name;value\n~2026-03-03;tds-tap;3":                            "line 2: only what is ticked off",
		"date;name;value\n3/4/2026;tds-tap;3":                               "--order dmy or --order mdy",
		"date;name;value;minutes\n2026-03-03;clean-impeller;;long":          "line 2: minutes",
		"date;name;value;kind\n2026-03-03;tds-tap;3;sight":                  "line 2: kind",
		"date;name;value;unit\n2026-03-03;Water made;3;psi":                 "line 2: unit",
		"date;name;value\n2026-03-03;tds-tap;x\n2026-03-04;water-made;-3":   "line 3:",
		"date;name;value\nsoon;tds-tap;3\n2026-03-04;tds-tap;3\n7;tds-tap;": "line 4:",
	} {
		_, err := Read(reef(t, metric), lines(table), Asked{Today: today})
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v; want an error with %q", table, err, want)
		}
	}
	if _, err := Read(reef(t, metric), nil, Asked{Today: today}); err == nil {
		t.Error("an empty table is read")
	}
}

// What the log cannot hold is refused with the line that cannot be written.
func TestActsRefuse(t *testing.T) {
	b := fold(t, reef(t, metric), []model.Entry{model.NewEntry(today, model.Counter{ID: "hours", Name: "Pump hours", Unit: "h", Style: model.StyleMeter})})
	plan, err := Read(b, lines("2026-03-03;Pump hours;100\n2026-03-04;Pump hours;90"), Asked{Today: today})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := plan.Acts(b); err == nil || !strings.Contains(err.Error(), "line 2: ") {
		t.Errorf("a meter that runs backwards: %v", err)
	}
}

func TestOddValuesAreNamed(t *testing.T) {
	plan, err := Read(reef(t, metric), lines("2026-03-03;tds-tap;248\n2026-03-04;tds-tap;2480"), Asked{Today: today})
	if err != nil {
		t.Fatal(err)
	}
	acts, err := plan.Acts(reef(t, metric))
	if err != nil || len(acts) != 1 || len(acts[0].Odd) != 1 || !strings.Contains(acts[0].Odd[0], "line 2, 2026-03-04: TDS at the tap") {
		t.Errorf("%+v, %v", acts, err)
	}
}

// So are ticks of a day that has one, from before the part was there, and what lies long back.
func TestOddTicksAndDatesAreNamed(t *testing.T) {
	b := fold(t, reef(t, metric), []model.Entry{model.NewEntry(model.NewDate(2026, 3, 3), model.Tick{Chore: "scrape-glass", Found: model.FoundLight})})
	plan, err := Read(b, lines("2026-03-03;scrape-glass;heavy\n2026-03-04;scrape-glass;light\n2019-03-04;scrape-glass;light\n2016-01-01;water-made;40"), Asked{Today: today})
	if err != nil {
		t.Fatal(err)
	}
	acts, err := plan.Acts(b)
	if err != nil {
		t.Fatal(err)
	}
	want := []string{
		"line 4, 2016-01-01: 2016-01-01 is over 10 years back",
		"line 3, 2019-03-04: Glass: scrape glass: 2019-03-04 is before the part is known to be in use, 2020-01-01",
		"line 1, 2026-03-03: Glass: scrape glass: ticked on 2026-03-03 already",
	}
	if got := acts[0].Odd; !slices.Equal(got, want) {
		t.Errorf("%q\nwant\n%q", got, want)
	}
}

// An act holds whole dates, and as many as one act of the log may.
func TestActsHoldWholeDates(t *testing.T) {
	var text strings.Builder
	for i := range 1100 {
		fmt.Fprintf(&text, "%s;water-made;1%d\n", model.NewDate(2025, 1, 1).AddDays(i/3), i%3)
	}
	b := reef(t, metric)
	plan, err := Read(b, lines(text.String()), Asked{Today: model.NewDate(2027, 1, 1)})
	if err != nil {
		t.Fatal(err)
	}
	acts, err := plan.Acts(b)
	if err != nil || len(acts) != 3 {
		t.Fatalf("%d acts, %v", len(acts), err)
	}
	total := 0
	for i, a := range acts {
		total += len(a.Entries)
		if len(a.Entries) > model.MaxActLen || i > 0 && a.Entries[0].On == acts[i-1].Entries[len(acts[i-1].Entries)-1].On {
			t.Errorf("act %d: %d entries from %s", i, len(a.Entries), a.Entries[0].On)
		}
		again, err := a.Build(b)
		if err != nil || len(again) != len(a.Entries) {
			t.Errorf("act %d made again: %d entries, %v", i, len(again), err)
		}
		b = fold(t, b, again)
	}
	if total != 1100 {
		t.Errorf("%d entries", total)
	}
}

// What is said of a cell that holds a book is a short line, which ends with what to do.
func TestWhatIsSaidOfALongCellIsShort(t *testing.T) {
	_, err := Read(reef(t, metric), lines("date;name;value\n2026-03-03;"+strings.Repeat("é", 30_000)+";3"), Asked{Today: today})
	if err == nil || len([]rune(err.Error())) > maxSaid+50 || !strings.HasPrefix(err.Error(), `line 2: "éééé`) || !strings.Contains(err.Error(), "TDS at the tap") {
		t.Errorf("said: %.1000v", err)
	}
}

// A table with more than can be added at a time is refused before anything is worked out.
func TestTooMuchAtATime(t *testing.T) {
	for name, c := range map[string]struct {
		days int
		want string
	}{
		"values in all": {maxItems, "20001 values are new, and 20000 can be added at a time; split the table"},
		"on one day":    {1, "2025-01-01 has 501 entries, and one act holds 500; leave some out"},
	} {
		var text strings.Builder
		for i := range max(c.days+1, model.MaxActLen+1) {
			fmt.Fprintf(&text, "%s;water-made;%d\n", model.NewDate(2025, 1, 1).AddDays(i%c.days), i%90+1)
		}
		b := reef(t, metric)
		plan, err := Read(b, lines(text.String()), Asked{Today: model.NewDate(2099, 1, 1)})
		if err != nil {
			t.Fatal(err)
		}
		if _, err := plan.Acts(b); err == nil || err.Error() != c.want {
			t.Errorf("%s: %v", name, err)
		}
	}
}
