package gear

import (
	"strings"
	"testing"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/ui/uitest"
)

func open(t *testing.T, b *ledger.Book) *uitest.Window { return uitest.Open(t, b, New, 80, 24) }

// station is a cellar with a pump and a heater that opens with it, and a lobby with
// nothing in it yet.
func house(t *testing.T, more ...model.Entry) *ledger.Book {
	t.Helper()
	on := func(d int, body model.Body) model.Entry { return model.NewEntry(uitest.Today.AddDays(d), body) }
	months := func(n int) []model.Clock {
		return []model.Clock{{Kind: model.ClockCalendar, Every: model.Span{N: n, Unit: model.SpanMonths}, Rule: model.RuleEvery}}
	}
	entries := []model.Entry{
		on(-200, model.BookDef{Name: "Home reef", Units: model.Units{Volume: "L", Temperature: "C", Pressure: "bar"}}),
		on(-200, model.Place{ID: "cellar", Name: "Cellar", Minutes: 4}),
		on(-200, model.Place{ID: "lobby", Name: "Lobby", Minutes: 1}),
		on(-200, model.Component{ID: "pump", Name: "Mixing pump", Place: "cellar", Reach: 3, AccessMinutes: 5, Guess: []string{"reach"}}),
		on(-200, model.Component{ID: "heater", Name: "Vat heater", Place: "cellar", Reach: 2, AccessMinutes: 2, OpensWith: "pump"}),
		on(-200, model.Counter{ID: "batches", Name: "Batches", Unit: "batch", Style: model.StyleAmount, Role: model.RoleBatches}),
		on(-200, model.Gauge{ID: "vat-temp", Name: "Vat temperature", Unit: "C", Component: "heater"}),
		on(-200, model.Spare{ID: "impeller", Name: "Impeller", Unit: "pc", LeadDays: 7}),
		on(-200, model.Chore{ID: "clean", Component: "pump", Name: "clean impeller", Work: model.WorkClean, Minutes: 20, Consequence: 1, Fixed: true, Clocks: months(2)}),
		on(-200, model.Chore{ID: "check", Component: "heater", Name: "check heater", Work: model.WorkTest, Minutes: 5, Consequence: 3, Clocks: months(3),
			Cautions: []string{"Pull the plug first."}, Hazards: []model.Hazard{model.HazardMains},
			Steps: []model.Step{{Text: "unplug"}, {Text: "let it cool", TimerMinutes: 20}, {Text: "look at the glass"}}}),
		on(-200, model.Chore{ID: "log", Component: "heater", Name: "read the vat", Work: model.WorkRead, Minutes: 1, Consequence: 1, Clocks: months(1), DoneBy: []model.ID{"vat-temp"}}),
		on(-20, model.Tick{Chore: "clean", Found: model.FoundLight}),
		on(-10, model.Tick{Chore: "check", Found: model.FoundPassed}),
	}
	return uitest.Book(t, append(entries, more...))
}

// What nobody has counted is no stock, and less than none neither.
func TestShelfNotCountedYet(t *testing.T) {
	b := house(t, model.NewEntry(uitest.Today.AddDays(-9), model.Chore{ID: "renew", Component: "pump", Name: "renew impeller", Work: model.WorkRenew, Minutes: 20,
		Consequence: 1, Clocks: []model.Clock{{Kind: model.ClockUsage, Counter: "batches", Amount: 40, Rule: model.RuleLasts}},
		Spares: []model.SpareUse{{Spare: "impeller", Quantity: 1}}}),
		model.NewEntry(uitest.Today.AddDays(-8), model.Tick{Chore: "renew", Found: model.FoundLight}))
	s := open(t, b)
	s.Keys("<down><enter>")
	s.Sees("1 pc Impeller to renew impeller, shelf not counted yet")
}

func TestTreeOpensAndCloses(t *testing.T) {
	s := open(t, house(t))
	s.Sees("> - Cellar", "+ Mixing pump", "+ Vat heater", "2 components, 3 chores", "+ Vessels, counters, gauges")
	s.Misses("   clean impeller")
	s.Keys("<down><right>")
	s.Sees("- Mixing pump", "clean impeller", "every 2 months")
	s.Keys("<down><left>")
	s.On("Mixing pump")
	s.Keys("<left>")
	s.Sees("+ Mixing pump")
	s.Keys("<left><left>")
	s.Sees("> + Cellar")
	s.Misses("Vat heater  ")
	s.Keys("<enter>")
	s.Sees("> - Cellar", "Vat heater")
}

func TestEditPlace(t *testing.T) {
	s := open(t, house(t))
	s.Keys("e, left half<tab><backspace>7<enter>")
	if p, _ := s.Session.Book.Place("cellar"); p.Name != "Cellar, left half" || p.Minutes != 7 {
		t.Errorf("the place is %+v", p)
	}
	s.Keys("z")
	if p, _ := s.Session.Book.Place("cellar"); p.Name != "Cellar" {
		t.Errorf("taken back, the place is %+v", p)
	}
}

func TestAddFromNothing(t *testing.T) {
	s := open(t, uitest.Book(t, []model.Entry{
		model.NewEntry(uitest.Today, model.BookDef{Name: "Home reef", Units: model.Units{Volume: "L", Temperature: "C", Pressure: "bar"}})}))
	s.Sees("No gear yet")
	s.Keys("apCellar<tab><backspace>3<enter>")
	s.Sees(">   Cellar")
	s.Keys("acRO/DI unit<tab>4<tab><backspace>12<enter>")
	s.Sees("RO/DI unit")
	c, ok := s.Session.Book.Component("ro-di-unit")
	if !ok || c.Reach != 4 || c.AccessMinutes != 12 || c.Place != "cellar" || c.InService != uitest.Today {
		t.Fatalf("the component is %+v", c)
	}
	s.Keys("ahrinse it<tab><tab><backspace><backspace>15<tab>2<tab>")
	s.Clear()
	s.Keys("30d<tab><tab>10d")
	s.Sees("it would be due 12 Dec")
	s.Keys("<enter>")
	ch, ok := s.Session.Book.Chore("rinse-it")
	if !ok || ch.Minutes != 15 || ch.Consequence != 2 || ch.Clocks[0].Every.String() != "30d" {
		t.Fatalf("the chore is %+v", ch)
	}
	s.On("rinse it")
	if ticks := s.Session.Book.Ticks("rinse-it"); len(ticks) != 1 || ticks[0].On != uitest.Today.AddDays(-10) || ticks[0].About {
		t.Errorf("the ticks are %+v", ticks)
	}
}

func TestNewChoreNobodyRemembers(t *testing.T) {
	s := open(t, house(t))
	s.Keys("<down>ahwipe<enter>")
	ticks := s.Session.Book.Ticks("wipe")
	if len(ticks) != 1 || !ticks[0].About || ticks[0].On != uitest.Today.AddDays(-15) {
		t.Errorf("half of a month is not taken to be gone: %+v", ticks)
	}
}

func TestRetireChoreAndBringBack(t *testing.T) {
	s := open(t, house(t))
	s.Keys("<down><right><down>R")
	if c, _ := s.Session.Book.Chore("clean"); c.Retired != uitest.Today {
		t.Fatalf("the chore is %+v", c)
	}
	s.Sees("retired")
	if s.Session.Round.Of("clean") != nil {
		t.Error("it is still in the round")
	}
	s.Keys("R")
	if c, _ := s.Session.Book.Chore("clean"); !c.Retired.IsZero() {
		t.Errorf("the chore is %+v", c)
	}
}

func TestRetireComponent(t *testing.T) {
	s := open(t, house(t))
	s.Keys("<down><down>R")
	s.Sees("Vat heater goes out of use")
	s.Keys("r")
	if c, _ := s.Session.Book.Component("heater"); c.Retired != uitest.Today {
		t.Fatalf("the component is %+v", c)
	}
	if s.Session.Round.Of("check") != nil {
		t.Error("its chores are still in the round")
	}
	s.Sees("1 component, 1 chore")
}

func TestSwappedPartStartsNewCycles(t *testing.T) {
	s := open(t, house(t))
	before := s.Session.Round.Of("clean").Due
	s.Keys("<down>Rs")
	s.Sees("in use since", "Mixing pump: clean impeller: due")
	s.Keys("<enter>")
	c, _ := s.Session.Book.Component("pump")
	if c.InService != uitest.Today || c.ID != "pump" || len(s.Session.Book.Ticks("clean")) != 1 {
		t.Fatalf("the component is %+v", c)
	}
	if st := s.Session.Round.Of("clean"); st.Start != uitest.Today || st.Due == before {
		t.Errorf("no new cycle: start %s, due %s", st.Start, st.Due)
	}
	s.Keys("Rs<enter>")
	s.Sees("give a date after 2026-11-25")
}

func TestAnotherModelStartsANewHistory(t *testing.T) {
	s := open(t, house(t))
	s.Keys("<down>Rm")
	s.Clear()
	s.Keys("Big pump<enter>")
	b := s.Session.Book
	old, _ := b.Component("pump")
	fresh, ok := b.Component("big-pump")
	if !ok || old.Retired != uitest.Today || fresh.InService != uitest.Today || fresh.Reach != 3 {
		t.Fatalf("old %+v, new %+v", old, fresh)
	}
	copied, ok := b.Chore("clean-impeller")
	if !ok || copied.Component != "big-pump" || len(b.Ticks("clean-impeller")) != 0 || len(b.Ticks("clean")) != 1 {
		t.Errorf("the chore is %+v", copied)
	}
	if h, _ := b.Component("heater"); h.OpensWith != "big-pump" {
		t.Errorf("the heater opens with %q", h.OpensWith)
	}
	s.Keys("z")
	if p, _ := s.Session.Book.Component("pump"); !p.Retired.IsZero() {
		t.Error("one z did not take it all back")
	}
}

func TestMoveTakesAlongWhatOpensWithIt(t *testing.T) {
	s := open(t, house(t))
	s.Keys("<down>v")
	s.Sees("Move Mixing pump", "[Lobby]", "1 component that opens with it")
	s.Keys("<enter>")
	for _, id := range []model.ID{"pump", "heater"} {
		if c, _ := s.Session.Book.Component(id); c.Place != "lobby" {
			t.Errorf("%s stands at %s", id, c.Place)
		}
	}
	s.On("Mixing pump")
	if h, _ := s.Session.Book.Component("heater"); h.OpensWith != "pump" || h.InService != uitest.Today.AddDays(-200) {
		t.Errorf("the heater is %+v", h)
	}
	s.Keys("<down>v<enter>")
	if h, _ := s.Session.Book.Component("heater"); h.Place != "cellar" || h.OpensWith != "" {
		t.Errorf("moved by itself, the heater is %+v", h)
	}
}

func TestCopyPlaceWithAllInIt(t *testing.T) {
	s := open(t, house(t))
	s.Keys("c")
	s.Sees("2 components, 3 chores", "1 counters and gauges of its own")
	s.Clear()
	s.Keys("Tank 2<enter>")
	b := s.Session.Book
	if p, ok := b.Place("tank-2"); !ok || p.Minutes != 4 {
		t.Fatalf("the place is %+v", p)
	}
	pump, _ := b.Component("mixing-pump")
	heater, _ := b.Component("vat-heater")
	if pump.Place != "tank-2" || heater.OpensWith != "mixing-pump" || heater.InService != uitest.Today {
		t.Errorf("pump %+v, heater %+v", pump, heater)
	}
	read, _ := b.Chore("read-the-vat")
	gauge, _ := b.Gauge("vat-temperature-tank-2")
	if read.Component != "vat-heater" || len(read.DoneBy) != 1 || read.DoneBy[0] != gauge.ID || gauge.Component != "vat-heater" {
		t.Errorf("chore %+v, gauge %+v", read, gauge)
	}
	if old, _ := b.Chore("log"); old.DoneBy[0] != "vat-temp" {
		t.Errorf("the original chore has changed: %+v", old)
	}
	s.On("Tank 2")
}

func TestComponentPage(t *testing.T) {
	s := open(t, house(t))
	s.Keys("<down><enter>")
	s.Sees("Mixing pump", "Cellar", "chores", "clean impeller", "history", "clean impeller, found light", "reach 3?, 5 min", "a guess; g grades it")
	s.Keys("f<enter>")
	s.Sees("flagged 25 Nov: in the way")
	s.Keys("bhums<enter>")
	s.Sees("broken since 25 Nov: hums")
	s.Keys("<enter>")
	s.Sees("clocks", "every 2 months")
	s.Keys("<esc><esc>")
	s.Sees("broken, flagged")
}

func TestGradeByQuestions(t *testing.T) {
	s := open(t, house(t))
	s.Keys("<down>g")
	s.Sees("How hard is Mixing pump to get at?")
	s.Keys("<tab>2<tab>3<tab>4<tab>1<tab>n<enter>")
	c, _ := s.Session.Book.Component("pump")
	if c.Reach != 5 || len(c.Guess) != 0 {
		t.Errorf("highest 4, and one more unseen: %+v", c)
	}
}

func TestEditComponentKeepsInService(t *testing.T) {
	s := open(t, house(t))
	s.Keys("<down>e")
	s.Sees("no date moves")
	s.Keys(" A<enter>")
	if c, _ := s.Session.Book.Component("pump"); len(c.Guess) != 1 {
		t.Errorf("renamed, its reach is no guess any more: %+v", c)
	}
	s.Keys("z")
	s.Keys("e B<tab>5<enter>")
	c, _ := s.Session.Book.Component("pump")
	if len(c.Guess) != 0 {
		t.Errorf("graded, its reach is still a guess: %+v", c)
	}
	if c.Name != "Mixing pump B" || c.Reach != 5 || c.InService != uitest.Today.AddDays(-200) || c.AccessMinutes != 5 {
		t.Errorf("the component is %+v", c)
	}
}

func TestCountersAndGauges(t *testing.T) {
	s := open(t, house(t))
	s.Keys("auPump hours<tab>h<tab>m<enter>")
	if c, ok := s.Session.Book.Counter("pump-hours"); !ok || c.Style != model.StyleMeter || c.Unit != "h" {
		t.Fatalf("the counter is %+v", c)
	}
	s.On("Pump hours")
	s.Keys("agTDS at the tap<tab>ppm<tab><right><enter>")
	if g, ok := s.Session.Book.Gauge("tds-at-the-tap"); !ok || g.Role != model.RoleTDSTap {
		t.Fatalf("the gauge is %+v", g)
	}
	s.Keys("e 2<enter>R")
	if g, _ := s.Session.Book.Gauge("tds-at-the-tap"); g.Name != "TDS at the tap 2" || g.Retired != uitest.Today {
		t.Errorf("the gauge is %+v", g)
	}
}

// A gauge has a safe range in the keeper's unit, either end open; one that was not touched stays to the last digit.
func TestSafeRange(t *testing.T) {
	s := open(t, house(t))
	edit := func(keys string) *model.Range {
		t.Helper()
		s.Keys("<end><up><left><right><end><up>e" + keys + "<enter>")
		g, _ := s.Session.Book.Gauge("vat-temp")
		return g.Safe
	}
	const toSafe = "<tab><tab><tab><tab><tab>"
	if r := edit(toSafe + "24<tab>27.5"); r == nil || *r.Low != 24 || *r.High != 27.5 {
		t.Fatalf("the range is %+v", r)
	}
	if r := edit(toSafe + "<backspace><backspace>80 F"); r == nil || *r.Low < 26.6 || *r.Low > 26.7 || *r.High != 27.5 {
		t.Fatalf("the range is %+v", r)
	}
	s.Keys("e" + toSafe + "<tab><backspace><backspace><backspace><backspace>20<enter>")
	s.Sees("lies below where it is safe from")
	s.Keys("<esc>y")
	if r := edit(toSafe + "<tab><backspace><backspace><backspace><backspace>"); r == nil || r.High != nil || r.Low == nil {
		t.Fatalf("the range is %+v", r)
	}
}

// A membrane asks for its element's label, in the keeper's unit or as the label has it.
func TestLabelOfAnElement(t *testing.T) {
	s := open(t, house(t, model.NewEntry(uitest.Today.AddDays(-100),
		model.Component{ID: "element", Name: "Element", Place: "lobby", Reach: 2, Stage: model.StageMembrane})))
	s.Keys("/Element<enter><end>e<tab><tab><tab><tab><tab><tab>75 gpd<tab>50 psi<enter>")
	c, _ := s.Session.Book.Component("element")
	if c.Rated == nil || c.Rated.FlowLH < 11.82 || c.Rated.FlowLH > 11.84 || c.Rated.PressureBar < 3.44 || c.Rated.PressureBar > 3.46 {
		t.Fatalf("the label is %+v", c.Rated)
	}
	was := *c.Rated
	s.Keys("e<tab> II<enter>")
	if c, _ := s.Session.Book.Component("element"); c.Rated == nil || *c.Rated != was {
		t.Errorf("the label became %+v", c.Rated)
	}
}

func TestFilterShowsWhatMatchesWithItsPlace(t *testing.T) {
	s := open(t, house(t))
	s.Keys("/impeller")
	s.Sees("Cellar", "Mixing pump", "clean impeller")
	s.Misses("+ Vat heater", "Lobby")
	s.Keys("<esc>")
	s.Sees("Vat heater", "Lobby")
}

func TestWhatCannotBeDoneIsSaid(t *testing.T) {
	s := open(t, house(t))
	for keys, says := range map[string]string{
		"R": "a place is not retired", "v": "only a component moves", "f": "flags, faults and reach are of components",
		"<end>c": "places are copied",
	} {
		s.Keys("<home>" + keys)
		s.Sees(says)
	}
}

func TestClick(t *testing.T) {
	s := open(t, house(t))
	s.Click("Vat heater")
	s.On("Vat heater")
}

func TestExactAtEverySize(t *testing.T) {
	s := open(t, uitest.Demo(t))
	for _, keys := range []string{"", "<down><right>", "e", "<esc>a", "<esc><enter>", "<esc><down><enter>", "<down>e", "<esc>a", "<esc><esc>R", "<esc>/resin", "<esc><home>c", "<esc><end><up><right>", "<down>e"} {
		s.Keys(keys)
		s.Exact()
	}
}

func TestGolden(t *testing.T) {
	s := open(t, uitest.Demo(t))
	s.Keys("/renew resin<enter><down><right><down>")
	s.Golden("gear-chore")
	s.Keys("<enter>")
	s.Golden("gear-definition")
	s.Keys("<esc><up><enter>")
	s.Golden("gear-component")
}

func TestHostileText(t *testing.T) {
	for name, text := range uitest.Hostile() {
		t.Run(name, func(t *testing.T) {
			short := string([]rune(text)[:min(len([]rune(text)), model.MaxNameLen)])
			later := func(body model.Body) model.Entry { return model.NewEntry(uitest.Today, body) }
			s := open(t, house(t,
				later(model.Place{ID: "cellar", Name: short, Minutes: 4}),
				later(model.Component{ID: "pump", Name: short, Place: "cellar", Reach: 3, AccessMinutes: 5, InService: uitest.Today.AddDays(-200)}),
				later(model.Chore{ID: "clean", Component: "pump", Name: short, Work: model.WorkClean, Minutes: 20, Consequence: 1,
					Clocks:   []model.Clock{{Kind: model.ClockUsage, Counter: "batches", Amount: 3, Rule: model.RuleEvery}},
					Cautions: []string{text}, Steps: []model.Step{{Text: text}}}),
				later(model.Counter{ID: "batches", Name: short, Unit: short, Style: model.StyleAmount}),
				later(model.Gauge{ID: "vat-temp", Name: short, Unit: short}),
				later(model.Flag{Component: "pump", State: model.FlagFlagged, Note: text}),
				later(model.Tick{Chore: "clean", Note: text})))
			for _, keys := range []string{"<down><right>", "<enter>", "<enter>", "<down>e", "<esc><down><down>e", "<esc><esc><esc>R", "<esc><end><up><right><down>"} {
				s.Keys(keys)
				s.Exact()
			}
		})
	}
}

// A vessel, what fills it, a chore that watches its level and one that takes from it, all by keys.
func TestAddVessel(t *testing.T) {
	s := open(t, house(t))
	s.Keys("avCan<tab>")
	s.Keys("<tab>25<tab><tab>")
	s.Keys("<enter>")
	v, ok := s.Session.Book.Vessel("can")
	if !ok || v.Capacity != 25 || v.Keep != 0 || v.Holds != model.HoldsFresh || v.Place != "cellar" || v.DeclaredUse != nil {
		t.Fatalf("the vessel is %+v", v)
	}
	s.On("Can")
	s.Keys("e<tab><tab><backspace><backspace>0<enter>")
	s.Sees("give an amount above 0")
	s.Keys("30<enter>")
	if v, _ := s.Session.Book.Vessel("can"); v.Capacity != 30 {
		t.Errorf("it holds %g L", v.Capacity)
	}
	s.Keys("R")
	if v, _ := s.Session.Book.Vessel("can"); v.Retired.IsZero() {
		t.Error("it is not retired")
	}
}

// Units and care are the book's, and may change at any time: screens follow, and nothing in the log does.
func TestTheBookIsEdited(t *testing.T) {
	s := open(t, house(t))
	s.Keys("<end>e")
	s.Sees("The year ahead", "careful", "h of work")
	s.Keys("<tab>c<tab>g<tab>f<tab>p<enter>")
	def := s.Session.Book.Def()
	if def.Care != model.CareCareful || def.Units != (model.Units{Volume: "gal", Temperature: "F", Pressure: "psi"}) || def.RunHours != 0 || def.MixDays != nil {
		t.Fatalf("the book is %+v", def)
	}
	s.Sees("gal, °F, psi; care careful")
	s.Keys("z")
	if def := s.Session.Book.Def(); def.Units.Volume != "L" {
		t.Errorf("z left %+v", def)
	}
	// How long the unit may run, and how long a batch needs.
	s.Keys("e<tab><tab><tab><tab><tab>")
	s.Sees("hours a day")
	s.Clear()
	s.Keys("25<enter>")
	s.Sees("give hours above 0, at most 24")
	s.Clear()
	s.Keys("0<enter>")
	if def := s.Session.Book.Def(); def.RunHours != 0 {
		t.Errorf("0 hours are kept: %+v", def)
	}
	s.Clear()
	s.Keys("7.5<tab><backspace>15<enter>")
	s.Sees("give a whole number from 0 to 14")
	s.Clear()
	s.Keys("0<enter>")
	if def := s.Session.Book.Def(); def.RunHours != 7.5 || def.HoursToRun() != 7.5 || def.MixDays == nil || def.DaysToMix() != 0 {
		t.Errorf("the book is %+v", def)
	}
}

// Extras of the start are added later from the same list: only what the book lacks is offered, what it has stays as it is, a
// new part begins today and what saves animals is tested first.
func TestExtrasAreAddedLater(t *testing.T) {
	s := uitest.Open(t, house(t), New, 80, 40)
	s.Keys("ax")
	s.Sees("What else is there now?", "in use since", "Battery air pump or UPS")
	s.Keys("<enter>")
	s.Sees("nothing is ticked; y ticks a row")
	s.Keys("<tab>y")
	s.Sees("1 component, 2 chores")
	s.Keys("<enter>")
	b := s.Session.Book
	part, _ := b.Component("backup-air")
	if part.InService != uitest.Today || part.Place != "sump-cabinet" {
		t.Errorf("the part is %+v", part)
	}
	if got := s.Session.Round.Of("run-backup"); got == nil || got.Due != uitest.Today {
		t.Errorf("a new one is tried at once, not %+v", got)
	}
	if got := s.Session.Round.Of("renew-backup-battery"); got == nil || got.Start != uitest.Today {
		t.Errorf("its battery is new today, not %+v", got)
	}
	if heater, _ := b.Component("heater"); heater.Place != "cellar" {
		t.Errorf("the book's own heater is %+v", heater)
	}
	s.Keys("ax")
	s.Sees("Temperature alarm and cut-off")
	if n := strings.Count(s.Screen(), "Battery air pump or UPS"); n != 1 {
		t.Errorf("it stands in the tree, and is offered again: %d times on the screen", n)
	}
	s.Keys("<esc>z")
	if _, there := s.Session.Book.Component("backup-air"); there {
		t.Error("z does not take the extras back")
	}
	s.Keys("ax")
	s.Sees("Battery air pump or UPS")
	s.Clear()
	s.Keys("never<tab>y<enter>")
	if s.Session.Round.Of("run-backup") != nil {
		t.Error("what is not in use yet stands in the round")
	}
}

// What was put out of use is not offered again: R brings it back.
func TestExtrasOutOfUseAreNotOffered(t *testing.T) {
	s := open(t, house(t, model.NewEntry(uitest.Today.AddDays(-9), model.Component{ID: "uv", Name: "UV", Place: "lobby", Reach: 2, AccessMinutes: 2,
		Retired: uitest.Today.AddDays(-1)})))
	s.Keys("ax<tab><tab><tab>")
	s.Sees("Floor alarm at the tank")
	s.Keys("<up><up><up><up>")
	s.Misses("UV steriliser")
}
