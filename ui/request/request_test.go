package request

import (
	"slices"
	"strings"
	"testing"
	"time"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
)

// day is a day of May 2026.
func day(d int) model.Date { return model.NewDate(2026, time.May, d) }

func on(d model.Date) Stamp { return Stamp{On: d} }

// reef is a book begun on 1 May with one chore of each kind of work.
func reef(t *testing.T) *ledger.Book {
	t.Helper()
	every := func(n int) []model.Clock {
		return []model.Clock{{Kind: model.ClockCalendar, Every: model.Span{N: n, Unit: model.SpanDays}, Rule: model.RuleEvery}}
	}
	bodies := []model.Body{
		model.BookDef{Name: "Reef", Units: model.Units{Volume: "L", Temperature: "C", Pressure: "bar"}},
		model.Place{ID: "basement", Name: "Basement"},
		model.Component{ID: "pump", Name: "Mixing pump", Place: "basement", Reach: 1},
		model.Component{ID: "unit", Name: "RO/DI unit", Place: "basement", Reach: 1},
		model.Counter{ID: "water", Name: "Water made", Unit: "L", Style: model.StyleAmount, Role: model.RoleWaterMade},
		model.Counter{ID: "batches", Name: "Batches mixed", Unit: "batch", Style: model.StyleAmount, Role: model.RoleBatches},
		model.Counter{ID: "hours", Name: "Pump hours", Unit: "h", Style: model.StyleMeter},
		model.Gauge{ID: "tap", Name: "Tap", Unit: "ppm", Role: model.RoleTDSTap},
		model.Gauge{ID: "membrane", Name: "Membrane", Unit: "ppm", Role: model.RoleTDSMembrane},
		model.Spare{ID: "salt", Name: "Salt", Unit: "kg", Role: model.RoleSalt},
		model.Chore{ID: "clean", Component: "pump", Name: "clean impeller", Work: model.WorkClean, Consequence: 2, Clocks: every(20)},
		model.Chore{ID: "renew", Component: "pump", Name: "renew impeller", Work: model.WorkRenew, Consequence: 2, Clocks: every(30)},
		model.Chore{ID: "test", Component: "pump", Name: "test the breaker", Work: model.WorkTest, Consequence: 3, Clocks: every(30)},
		model.Chore{ID: "read", Component: "unit", Name: "read the taps", Work: model.WorkRead, Consequence: 2, Clocks: every(7), DoneBy: []model.ID{"tap", "membrane"}},
	}
	return wrote(t, new(ledger.Book), on(day(1)).entries(bodies...))
}

// wrote is the book with entries written as one act.
func wrote(t *testing.T, b *ledger.Book, entries []model.Entry) *ledger.Book {
	t.Helper()
	next, err := extended(b, entries)
	if err != nil {
		t.Fatal(err)
	}
	return next
}

// taken is the entries of a request that a book takes, or why it does not.
func taken(b *ledger.Book, request func(*ledger.Book) ([]model.Entry, error)) ([]model.Entry, error) {
	entries, err := request(b)
	if err == nil {
		_, err = extended(b, entries)
	}
	return entries, err
}

// did runs a request and writes it.
func did(t *testing.T, b *ledger.Book, request func(*ledger.Book) ([]model.Entry, error)) *ledger.Book {
	t.Helper()
	entries, err := request(b)
	if err != nil {
		t.Fatal(err)
	}
	return wrote(t, b, entries)
}

// lines is entries in the book format, for comparing.
func lines(t *testing.T, entries []model.Entry) string {
	t.Helper()
	var out []string
	for _, e := range entries {
		data, err := model.EncodeEntry(e)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, string(data))
	}
	return strings.Join(out, "\n")
}

func TestRequests(t *testing.T) {
	b := reef(t)
	salinity := 35.0
	for name, c := range map[string]struct {
		request func(*ledger.Book) ([]model.Entry, error)
		want    []string
	}{
		"an amount": {Use{Stamp: on(day(3)), Counter: "water", Amount: 40}.Entries,
			[]string{`{"on":"2026-05-03","kind":"usage","counter":"water","amount":40}`}},
		"a meter": {Use{Stamp: on(day(3)), Counter: "hours", Amount: 120}.Entries,
			[]string{`{"on":"2026-05-03","kind":"usage","counter":"hours","meter":120}`}},
		"a meter set back": {Use{Stamp: on(day(3)), Counter: "hours", Amount: 0, Reset: true}.Entries,
			[]string{`{"on":"2026-05-03","kind":"meter-reset","counter":"hours"}`, `{"on":"2026-05-03","kind":"usage","counter":"hours","meter":0}`}},
		"by whom": {Use{Stamp: Stamp{day(3), "Ines"}, Counter: "water", Amount: 40}.Entries,
			[]string{`{"on":"2026-05-03","kind":"usage","by":"Ines","counter":"water","amount":40}`}},
		"a flag": {Flag{Stamp: on(day(3)), Flag: model.Flag{Component: "pump"}}.Entries,
			[]string{`{"on":"2026-05-03","kind":"flag","component":"pump","state":"flagged","cause":"in-the-way"}`}},
		"a flag dropped": {Flag{Stamp: on(day(3)), Flag: model.Flag{Component: "pump", State: model.FlagDropped}}.Entries,
			[]string{`{"on":"2026-05-03","kind":"flag","component":"pump","state":"dropped"}`}},
		"a fault": {Log{on(day(3)), model.Fault{Component: "pump", Note: "hums"}}.Entries,
			[]string{`{"on":"2026-05-03","kind":"fault","component":"pump","note":"hums"}`}},
		"from here normal": {Log{on(day(3)), model.Normal{Component: "pump"}}.Entries,
			[]string{`{"on":"2026-05-03","kind":"normal","component":"pump"}`}},
		"two put off": {PutOff{on(day(3)), []model.ID{"clean", "renew"}, day(9), "o-ring on order"}.Entries,
			[]string{`{"on":"2026-05-03","kind":"put-off","chore":"clean","until":"2026-05-09","reason":"o-ring on order"}`,
				`{"on":"2026-05-03","kind":"put-off","chore":"renew","until":"2026-05-09","reason":"o-ring on order"}`}},
		"away": {Away{Stamp: on(day(3)), Away: model.Away{Until: day(17)}}.Entries,
			[]string{`{"on":"2026-05-03","kind":"away","until":"2026-05-17"}`}},
		"a batch": {Mix{on(day(3)), model.Batch{VolumeL: 60, SaltG: 2250, Salinity: &salinity}}.Entries,
			[]string{`{"on":"2026-05-03","kind":"batch","volume_l":60,"salt_g":2250,"salinity":35}`,
				`{"on":"2026-05-03","kind":"usage","counter":"batches","amount":1}`,
				`{"on":"2026-05-03","kind":"stock","spare":"salt","change":-2.25}`}},
		"bought": {Log{on(day(3)), model.Stock{Spare: "salt", Change: 20}}.Entries,
			[]string{`{"on":"2026-05-03","kind":"stock","spare":"salt","change":20}`}},
		"one reading": {Read{on(day(3)), []model.Reading{{Gauge: "tap", Value: 248}}}.Entries,
			[]string{`{"on":"2026-05-03","kind":"reading","gauge":"tap","value":248}`}},
	} {
		got, err := taken(b, c.request)
		if err != nil || lines(t, got) != strings.Join(c.want, "\n") {
			t.Errorf("%s: %v\n%s\nwant\n%s", name, err, lines(t, got), strings.Join(c.want, "\n"))
		}
	}
}

func TestRefused(t *testing.T) {
	b := did(t, reef(t), Use{Stamp: on(day(2)), Counter: "hours", Amount: 100}.Entries)
	for name, c := range map[string]struct {
		request func(*ledger.Book) ([]model.Entry, error)
		says    string
	}{
		"no chore":                {Tick{}.Entries, "nothing to tick off"},
		"unknown chore":           {Tick{Done: []Done{{On: day(3), What: model.Tick{Chore: "polish"}}}}.Entries, `"polish" is not in the book`},
		"a word of other work":    {Tick{Done: []Done{{On: day(3), What: model.Tick{Chore: "test", Found: model.FoundHeavy}}}}.Entries, "one of passed, failed for test"},
		"a word for a reading":    {Tick{Done: []Done{{On: day(3), What: model.Tick{Chore: "read", Found: model.FoundClean}}}}.Entries, "read"},
		"no date":                 {Tick{Done: []Done{{On: 0, What: model.Tick{Chore: "clean"}}}}.Entries, "on is missing"},
		"unknown counter":         {Use{Stamp: on(day(3)), Counter: "wine", Amount: 1}.Entries, `"wine" is not in the book`},
		"negative":                {Use{Stamp: on(day(3)), Counter: "water", Amount: -1}.Entries, "amount"},
		"a falling meter":         {Use{Stamp: on(day(3)), Counter: "hours", Amount: 90}.Entries, "as it stood before"},
		"a reset without a meter": {Use{Stamp: on(day(3)), Counter: "water", Amount: 1, Reset: true}.Entries, "no meter to reset"},
		"nothing read":            {Read{Stamp: on(day(3))}.Entries, "nothing was read"},
		"unknown gauge":           {Read{on(day(3)), []model.Reading{{Gauge: "ph", Value: 8}}}.Entries, "gauge"},
		"back before leaving":     {Away{Stamp: on(day(3)), Away: model.Away{Until: day(3)}}.Entries, "until"},
		"no such cause":           {Flag{Stamp: on(day(3)), Flag: model.Flag{Component: "pump", Cause: "ugly"}}.Entries, "in-the-way"},
		"nothing to undo":         {Undo{on(day(3)), &ledger.Window{}}.Entries, "nothing to take back"},
		"nothing to redo":         {Redo{on(day(3)), &ledger.Window{}}.Entries, "taken nothing back"},
		"no such act":             {Strike{on(day(3)), 900}.Entries, "no such entry"},
	} {
		got, err := taken(b, c.request)
		if err == nil || !strings.Contains(err.Error(), c.says) || strings.HasPrefix(err.Error(), "entry ") {
			t.Errorf("%s: %v, %s; want an error with %q", name, err, lines(t, got), c.says)
		}
	}
}

func ticksOf(entries []model.Entry) []model.Tick {
	var out []model.Tick
	for _, e := range entries {
		if tick, ok := e.Body.(model.Tick); ok {
			out = append(out, tick)
		}
	}
	return out
}

func TestPlannedIsStampedOnTheLatestCycleOnly(t *testing.T) {
	b := did(t, reef(t), Tick{Done: []Done{{On: day(2), What: model.Tick{Chore: "clean"}}}}.Entries)
	for name, c := range map[string]struct {
		done []Done
		want []model.Date
	}{
		"the latest cycle":      {[]Done{{On: day(20), What: model.Tick{Chore: "clean"}}}, []model.Date{day(22)}},
		"before a later tick":   {[]Done{{On: day(1), What: model.Tick{Chore: "clean"}}}, []model.Date{0}},
		"what a caller made up": {[]Done{{On: day(1), What: model.Tick{Chore: "clean", Planned: day(9)}}}, []model.Date{0}},
		"twice in one act": {[]Done{{On: day(10), What: model.Tick{Chore: "clean"}}, {On: day(12), What: model.Tick{Chore: "clean"}}},
			[]model.Date{day(22), day(30)}},
		"two chores": {[]Done{{On: day(20), What: model.Tick{Chore: "clean"}}, {On: day(20), What: model.Tick{Chore: "renew"}}},
			[]model.Date{day(22), day(31)}},
		"a late line for an earlier day": {[]Done{{On: day(10), What: model.Tick{Chore: "clean"}}, {On: day(8), What: model.Tick{Chore: "clean"}}},
			[]model.Date{day(22), 0}},
	} {
		got, err := Tick{Done: c.done}.Entries(b)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		var planned []model.Date
		for _, tick := range ticksOf(got) {
			planned = append(planned, tick.Planned)
		}
		if !slices.Equal(planned, c.want) {
			t.Errorf("%s: planned %v, want %v", name, planned, c.want)
		}
	}
}

func TestANewPartLaterIsTheLatestCycle(t *testing.T) {
	b := reef(t)
	pump, _ := b.Component("pump")
	pump.InService = day(15)
	b = wrote(t, b, on(day(15)).entries(pump))
	got, err := Tick{Done: []Done{{On: day(10), What: model.Tick{Chore: "clean"}}}}.Entries(b)
	if err != nil || ticksOf(got)[0].Planned != 0 {
		t.Errorf("a tick before the part was swapped is stamped %v, %v", ticksOf(got), err)
	}
}

func TestReadingTheLastGaugeTicks(t *testing.T) {
	tap, membrane := model.Reading{Gauge: "tap", Value: 248}, model.Reading{Gauge: "membrane", Value: 6}
	early := membrane
	early.MinutesRunning = new(float64)
	for name, c := range map[string]struct {
		before []Read
		now    Read
		want   int
	}{
		"both at once":             {nil, Read{on(day(3)), []model.Reading{tap, membrane}}, 1},
		"one of two":               {nil, Read{on(day(3)), []model.Reading{tap}}, 0},
		"the second of the day":    {[]Read{{on(day(3)), []model.Reading{tap}}}, Read{on(day(3)), []model.Reading{membrane}}, 1},
		"the second, a day later":  {[]Read{{on(day(3)), []model.Reading{tap}}}, Read{on(day(4)), []model.Reading{membrane}}, 0},
		"again the same day":       {[]Read{{on(day(3)), []model.Reading{tap, membrane}}}, Read{on(day(3)), []model.Reading{tap, membrane}}, 0},
		"taken too soon":           {nil, Read{on(day(3)), []model.Reading{tap, early}}, 0},
		"the first taken too soon": {[]Read{{on(day(3)), []model.Reading{early}}}, Read{on(day(3)), []model.Reading{tap}}, 0},
	} {
		b := reef(t)
		for _, r := range c.before {
			b = did(t, b, r.Entries)
		}
		got, err := c.now.Entries(b)
		if ticks := ticksOf(got); err != nil || len(ticks) != c.want || c.want == 1 && ticks[0].Chore != "read" {
			t.Errorf("%s: %v, ticks %v; want %d", name, err, ticks, c.want)
		}
	}
}

func TestReadTickIsStamped(t *testing.T) {
	got, err := Read{on(day(6)), []model.Reading{{Gauge: "tap", Value: 248}, {Gauge: "membrane", Value: 6}}}.Entries(reef(t))
	if err != nil || len(ticksOf(got)) != 1 || ticksOf(got)[0].Planned != day(8) {
		t.Errorf("the tick of a reading: %v, %v; want it planned %s", ticksOf(got), err, day(8))
	}
}

func TestUndoAndRedo(t *testing.T) {
	b, w := reef(t), &ledger.Window{}
	act := func(request func(*ledger.Book) ([]model.Entry, error)) []model.Entry {
		first := b.Last() + 1
		b = did(t, b, request)
		return entriesOf(b, first)
	}
	w.Did(act(Mix{on(day(3)), model.Batch{VolumeL: 60, SaltG: 2250}}.Entries))
	w.Did(act(Tick{Done: []Done{{On: day(3), What: model.Tick{Chore: "clean"}}}}.Entries))
	w.Undid(act(Undo{on(day(3)), w}.Entries))
	if len(b.Ticks("clean")) != 0 || len(b.Batches()) != 1 {
		t.Fatalf("the first undo left %d ticks, %d batches", len(b.Ticks("clean")), len(b.Batches()))
	}
	w.Undid(act(Undo{on(day(3)), w}.Entries))
	if len(b.Batches()) != 0 || len(b.StockChanges("salt")) != 0 || len(b.Usages("batches")) != 0 {
		t.Fatal("the second undo left a part of the batch")
	}
	if _, err := (Undo{on(day(3)), w}).Entries(b); err != ErrNothingToUndo {
		t.Fatalf("a third undo: %v", err)
	}
	act(Redo{on(day(3)), w}.Entries)
	if len(b.Batches()) != 1 || len(b.StockChanges("salt")) != 1 || b.Counted("salt", day(3)) {
		t.Fatal("redo did not bring the whole batch back")
	}
	act(Redo{on(day(3)), w}.Entries)
	if len(b.Ticks("clean")) != 1 {
		t.Fatal("the second redo did not bring the tick back")
	}
	if _, err := (Redo{on(day(3)), w}).Entries(b); err != ErrNothingToRedo {
		t.Fatalf("a third redo: %v", err)
	}
}

func TestStrikeSaysWhatRestsOnIt(t *testing.T) {
	b := wrote(t, reef(t), on(day(2)).entries(model.Place{ID: "attic", Name: "Attic"}))
	attic := b.Last()
	b = wrote(t, b, on(day(2)).entries(model.Component{ID: "tank", Name: "Tank", Place: "attic", Reach: 1}))
	_, err := taken(b, Strike{on(day(3)), attic}.Entries)
	if err == nil || !strings.Contains(err.Error(), "entry 16") || !strings.Contains(err.Error(), "attic") {
		t.Errorf("striking a place in use: %v; want the entry that rests on it", err)
	}
}

func TestSay(t *testing.T) {
	b := reef(t)
	for _, c := range []struct {
		body model.Body
		want string
	}{
		{model.Tick{Chore: "clean", Found: model.FoundFailed}, "ticked Mixing pump: clean impeller, found stopped"},
		{model.Tick{Chore: "renew", Found: model.FoundFailed, About: true, Note: "late"}, "ticked Mixing pump: renew impeller, found spent, about (late)"},
		{model.Reading{Gauge: "tap", Value: 248}, "Tap, 248 ppm"},
		{model.Flag{Component: "pump", State: model.FlagFlagged, Cause: "must-drain"}, "flagged Mixing pump, must drain"},
		{model.Stock{Spare: "salt", Change: -2.25}, "Salt, -2.25 kg on the shelf"},
		{model.Stock{Spare: "salt", Change: 20}, "Salt, +20 kg on the shelf"},
		{model.PutOff{Chore: "clean", Until: day(9)}, "put off till 9 May 2026: Mixing pump: clean impeller"},
		{model.Fault{Component: "pump", Note: "hums"}, "Mixing pump broken: hums"},
		{model.Amend{Entry: 2, Strike: true}, "took back: place Basement"},
	} {
		e := model.NewEntry(day(3), c.body)
		if got := Say(b, &e); got != c.want {
			t.Errorf("Say(%+v) = %q, want %q", c.body, got, c.want)
		}
	}
	b = did(t, b, Mix{on(day(3)), model.Batch{VolumeL: 60, SaltG: 2250}}.Entries)
	act, err := b.Act(b.Last())
	if err != nil {
		t.Fatal(err)
	}
	if got, want := SayAct(b, act), "mixed 60 L with 2250 g of salt, and 2 more"; got != want {
		t.Errorf("SayAct = %q, want %q", got, want)
	}
}
