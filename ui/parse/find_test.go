package parse

import (
	"strings"
	"testing"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
)

// book is a small book of its own kind: two things called alike, one of them retired.
func book(t *testing.T, more ...model.Body) *ledger.Book {
	t.Helper()
	bodies := []model.Body{
		model.BookDef{Name: "Reef", Units: metric},
		model.Place{ID: "basement", Name: "Basement"},
		model.Component{ID: "mixing-pump", Name: "Mixing pump", Place: "basement", Reach: 4},
		model.Component{ID: "return-pump", Name: "Return pump", Place: "basement", Reach: 4},
		model.Component{ID: "old-pump", Name: "Mixing pump, old", Place: "basement", Reach: 4, Retired: wed},
		model.Component{ID: "filtre", Name: "Filtre à charbon", Place: "basement", Reach: 2},
		model.Counter{ID: "water-made", Name: "Water made", Unit: "L", Style: model.StyleAmount, Role: model.RoleWaterMade},
		model.Counter{ID: "hours", Name: "Pump hours", Unit: "h", Style: model.StyleMeter},
		model.Gauge{ID: "tds-tap", Name: "TDS at the tap", Unit: "ppm", Role: model.RoleTDSTap},
		model.Gauge{ID: "tds-membrane", Name: "TDS after the membrane", Unit: "ppm", Role: model.RoleTDSMembrane},
		model.Gauge{ID: "tds-product", Name: "TDS after the resin", Unit: "ppm", Role: model.RoleTDSProduct},
		chore("clean-impeller", "mixing-pump", "clean impeller"),
		chore("renew-impeller", "mixing-pump", "renew impeller"),
		chore("clean-return", "return-pump", "clean"),
		chore("clean-old", "old-pump", "clean"),
	}
	var log []model.Entry
	for _, body := range append(bodies, more...) {
		e := model.NewEntry(wed, body)
		e.Seq = model.Seq(len(log) + 1)
		log = append(log, e)
	}
	b, err := ledger.Fold(log)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func chore(id, component model.ID, name string) model.Chore {
	return model.Chore{ID: id, Component: component, Name: name, Work: model.WorkClean, Minutes: 10, Consequence: 1,
		Clocks: []model.Clock{{Kind: model.ClockCalendar, Every: model.Span{N: 1, Unit: model.SpanMonths}, Rule: model.RuleEvery}}}
}

func TestFind(t *testing.T) {
	b := book(t)
	for typed, want := range map[string]model.ID{
		"clean-impeller":               "clean-impeller",
		"chore:clean-impeller":         "clean-impeller",
		"clean impeller":               "clean-impeller",
		"CLEAN Impeller":               "clean-impeller",
		"impeller clean":               "clean-impeller",
		"renew":                        "renew-impeller",
		"return":                       "clean-return",
		"Return pump: clean":           "clean-return",
		"clean":                        "clean-return", // the whole name of one in use
		"clean-old":                    "clean-old",    // by id, though retired
		"Mixing pump: renew impeller ": "renew-impeller",
	} {
		if got, err := Chore(b, typed); err != nil || got.ID != want {
			t.Errorf("Chore(%q) = %s, %v; want %s", typed, got.ID, err, want)
		}
	}
	for typed, want := range map[string]model.ID{"mixing": "mixing-pump", "component:filtre": "filtre", "filtre a charbon": "filtre", "charbon": "filtre", "Return": "return-pump"} {
		if got, err := Component(b, typed); err != nil || got.ID != want {
			t.Errorf("Component(%q) = %s, %v; want %s", typed, got.ID, err, want)
		}
	}
	if got, err := Counter(b, "water"); err != nil || got.ID != "water-made" {
		t.Errorf("Counter(water) = %s, %v", got.ID, err)
	}
	if got, err := Gauge(b, "tap"); err != nil || got.ID != "tds-tap" {
		t.Errorf("Gauge(tap) = %s, %v", got.ID, err)
	}
}

// A word of under four letters is a word of its own, and no part of one: pH is not phosphate, nor is CO2 any old code.
func TestShortWordsAreWhole(t *testing.T) {
	gauge := func(id model.ID, name string) model.Gauge { return model.Gauge{ID: id, Name: name, Unit: "u"} }
	b := book(t, gauge("tank-phosphate", "Phosphate"), gauge("tank-temperature", "Temperature of the tank"), gauge("air-co2", "Room air"))
	for typed, want := range map[string]model.ID{
		"phos": "tank-phosphate", "tank temp": "tank-temperature", "tap": "tds-tap", "co2": "air-co2", "room": "air-co2", "air": "air-co2", "the tap": "tds-tap",
	} {
		if got, err := Gauge(b, typed); err != nil || got.ID != want {
			t.Errorf("Gauge(%q) = %s, %v; want %s", typed, got.ID, err, want)
		}
		if kind, id, err := Loggable(b, typed); err != nil || kind != model.KindGauge || id != want {
			t.Errorf("Loggable(%q) = %s, %s, %v; want %s", typed, kind, id, err, want)
		}
	}
	for _, typed := range []string{"ph", "pho", "co", "tem", "tank tem"} {
		if got, err := Gauge(b, typed); err == nil || !strings.Contains(err.Error(), "no gauge fits") || !strings.Contains(err.Error(), "4 letters") {
			t.Errorf("Gauge(%q) = %s, %v", typed, got.ID, err)
		}
		if _, id, err := Loggable(b, typed); err == nil {
			t.Errorf("Loggable(%q) = %s", typed, id)
		}
	}
	if _, err := Gauge(b, "ph"); err == nil || !strings.Contains(err.Error(), "such as tank-phosphate (Phosphate)") {
		t.Errorf("what there is is not said: %v", err)
	}
	b = book(t, gauge("tank-phosphate", "Phosphate"), gauge("tank-ph", "pH"))
	if got, err := Gauge(b, "ph"); err != nil || got.ID != "tank-ph" {
		t.Errorf("Gauge(ph) = %s, %v", got.ID, err)
	}
}

func TestFindSaysWhatToDo(t *testing.T) {
	b := book(t)
	for typed, says := range map[string][]string{
		"impeller":         {"fits 2 chores", "clean-impeller (Mixing pump: clean impeller)", "renew-impeller"},
		"":                 {"no chore named"},
		"impellor":         {"no chore fits", "such as", "clean-impeller"},
		"zzz":              {"no chore fits", "such as"},
		"component:filtre": {"names a component; give a chore"},
	} {
		_, err := Chore(b, typed)
		for _, part := range says {
			if err == nil || !strings.Contains(err.Error(), part) || strings.Contains(err.Error(), "\n") {
				t.Errorf("Chore(%q): %v; want one line with %q", typed, err, part)
			}
		}
	}
	if _, err := Chore(new(ledger.Book), "x"); err == nil {
		t.Error("a chore was found in an empty book")
	}
}

func TestOdd(t *testing.T) {
	f := func(v float64) *float64 { return &v }
	b := book(t,
		model.Usage{Counter: "water-made", Amount: f(40)}, model.Usage{Counter: "water-made", Amount: f(38)}, model.Usage{Counter: "water-made", Amount: f(42)},
		model.Usage{Counter: "hours", Meter: f(100)}, model.Usage{Counter: "hours", Meter: f(110)}, model.Usage{Counter: "hours", Meter: f(120)}, model.Usage{Counter: "hours", Meter: f(130)},
		model.Reading{Gauge: "tds-tap", Value: 248}, model.Reading{Gauge: "tds-membrane", Value: 6}, model.Reading{Gauge: "tds-product", Value: 0},
	)
	water, _ := b.Counter("water-made")
	hours, _ := b.Counter("hours")
	for _, c := range []struct {
		counter model.Counter
		v       float64
		odd     bool
	}{
		{water, 40, false}, {water, 160, false}, {water, 161, true}, {water, 400, true}, {water, 0, false},
		{hours, 140, false}, {hours, 170, false}, {hours, 171, true}, {hours, 90, false},
	} {
		if got := OddAmount(b, c.counter, c.v, wed); (got != "") != c.odd {
			t.Errorf("OddAmount(%s, %v) = %q", c.counter.ID, c.v, got)
		}
	}
	if got := OddAmount(book(t), water, 4000, wed); got != "" {
		t.Errorf("an amount is odd with nothing usual: %q", got)
	}
	for _, c := range []struct {
		gauge model.ID
		v     float64
		odd   bool
	}{
		{"tds-tap", 260, false}, {"tds-tap", 2480, true}, {"tds-tap", 24, true}, {"tds-tap", 60, false},
		{"tds-product", 2, false}, {"tds-product", 3, true}, {"tds-membrane", 29, false}, {"tds-membrane", 30, true},
	} {
		if got := OddReading(b, model.Reading{Gauge: c.gauge, Value: c.v}, wed); (got != "") != c.odd {
			t.Errorf("OddReading(%s, %v) = %q", c.gauge, c.v, got)
		}
	}
	for _, c := range []struct {
		tap, membrane, product float64
		odd                    bool
	}{{248, 6, 0, false}, {248, 248, 248, false}, {6, 248, 0, true}, {248, 0, 6, true}} {
		got := OddOrder(b, []model.Reading{{Gauge: "tds-product", Value: c.product}, {Gauge: "tds-membrane", Value: c.membrane}, {Gauge: "tds-tap", Value: c.tap}})
		if (got != "") != c.odd {
			t.Errorf("OddOrder(%v) = %q", c, got)
		}
	}
	if got := OddOrder(b, []model.Reading{{Gauge: "tds-tap", Value: 5}, {Gauge: "tds-product", Value: 6}}); got == "" {
		t.Error("product above tap is not odd where the membrane was not read")
	}
	for on, odd := range map[model.Date]bool{wed: false, wed + 1: true, wed.AddMonths(-120): false, wed.AddMonths(-120) - 1: true} {
		if got := OddDate(on, wed); (got != "") != odd {
			t.Errorf("OddDate(%s) = %q", on, got)
		}
	}
}

// A new part reads otherwise than the old one.
func TestReadingsOfANewPartAreNotOdd(t *testing.T) {
	resin := model.Component{ID: "resin", Name: "DI resin", Place: "basement", Reach: 1}
	renew := chore("renew-resin", "resin", "renew resin")
	renew.Work = model.WorkRenew
	product := model.Gauge{ID: "product", Name: "Product", Unit: "ppm", Component: "resin"}
	b := book(t, resin, renew, product, model.Reading{Gauge: "product", Value: 9})
	now := model.Reading{Gauge: "product", Value: 0}
	if OddReading(b, now, wed+1) == "" {
		t.Error("0 after 9 is not odd")
	}
	b = book(t, resin, renew, product, model.Reading{Gauge: "product", Value: 9}, model.Tick{Chore: "renew-resin"})
	if got := OddReading(b, now, wed+1); got != "" {
		t.Errorf("0 after 9 and a renewal: %q", got)
	}
	b = book(t, resin, renew, product, model.Tick{Chore: "renew-resin"}, model.Reading{Gauge: "product", Value: 9})
	if OddReading(b, now, wed+1) == "" {
		t.Error("0 after 9 that was read of the new part is not odd")
	}
	soon := 2.0
	if got := OddReading(b, model.Reading{Gauge: "product", Value: 90, MinutesRunning: &soon}, wed+1); got != "" {
		t.Errorf("a reading that counts nowhere: %q", got)
	}
	b = book(t, resin, renew, product, model.Reading{Gauge: "product", Value: 1}, model.Reading{Gauge: "product", Value: 90, MinutesRunning: &soon})
	if got := OddReading(b, now, wed+1); got != "" {
		t.Errorf("0 after 1, and one between them that counts nowhere: %q", got)
	}
}

// A tick from before the part was there, and a second one on a day, are asked about.
func TestOddTicks(t *testing.T) {
	pump := model.Component{ID: "mixing-pump", Name: "Mixing pump", Place: "basement", Reach: 4, InService: wed - 100}
	b := book(t, pump, model.Tick{Chore: "clean-return"}) // entries are of the day
	clean, _ := b.Chore("clean-impeller")
	back, _ := b.Chore("clean-return")
	for _, c := range []struct {
		chore model.Chore
		on    model.Date
		odd   bool
	}{{clean, wed, false}, {clean, wed - 100, false}, {clean, wed - 101, true}, {back, wed, false}, {back, wed - 1, true}} {
		if got := OddTick(b, c.chore, c.on); (got != "") != c.odd {
			t.Errorf("OddTick(%s, %s) = %q", c.chore.ID, c.on, got)
		}
	}
	if got := Again(b, back, wed, wed); got != "ticked today already" || OfChore(b, back, got) != "Return pump: clean: ticked today already" {
		t.Errorf("again today: %q", got)
	}
	if got := Again(b, back, wed, wed+7); got != "ticked on 2026-11-25 already" {
		t.Errorf("again then: %q", got)
	}
	if got := Again(b, back, wed+1, wed+1) + Again(b, clean, wed, wed); got != "" {
		t.Errorf("for the first time: %q", got)
	}
}

func TestLoggable(t *testing.T) {
	b := book(t, model.Gauge{ID: "hours", Name: "Sun hours", Unit: "h"})
	for typed, want := range map[string]string{
		"water made":                  "counter:water-made",
		"Mixing pump: clean impeller": "chore:clean-impeller",
		"tap":                         "gauge:tds-tap",
		"pump hours":                  "counter:hours",
		"gauge:hours":                 "gauge:hours",
		"counter:hours":               "counter:hours",
		"chore:renew":                 "chore:renew-impeller",
		"clean-old":                   "chore:clean-old",
	} {
		kind, id, err := Loggable(b, typed)
		if got := string(kind) + ":" + string(id); err != nil || got != want {
			t.Errorf("Loggable(%q) = %s, %v; want %s", typed, got, err, want)
		}
	}
	for typed, says := range map[string]string{
		"":            "no name",
		"hours":       "fits gauge:hours (Sun hours), counter:hours (Pump hours)",
		"sunshine":    "is no chore, gauge or counter of the book",
		"tds":         "give one of them",
		"gauge:water": "no gauge fits",
	} {
		if kind, id, err := Loggable(b, typed); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("Loggable(%q) = %s:%s, %v; want an error with %q", typed, kind, id, err, says)
		}
	}
}
