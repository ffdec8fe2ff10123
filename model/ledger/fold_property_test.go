package ledger

import (
	"bytes"
	"fmt"
	"reflect"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"brine/wrasse/model"
)

// start is a small book for acts to be drawn on.
func start() []model.Entry {
	chore := func(id, component model.ID, work model.Work, uses ...model.SpareUse) model.Chore {
		return model.Chore{ID: id, Component: component, Name: string(id), Work: work, Minutes: 5, Consequence: 2, Spares: uses,
			Clocks: []model.Clock{{Kind: model.ClockUsage, Counter: "litres", Amount: 100, Rule: model.RuleLasts}}}
	}
	bodies := []model.Body{
		model.BookDef{Name: "Vat", Units: model.Units{Volume: "L", Temperature: "C", Pressure: "bar"}},
		model.Place{ID: "cellar", Name: "Cellar", Minutes: 3},
		model.Place{ID: "stand", Name: "Stand", Minutes: 1},
		model.Component{ID: "pump", Name: "Pump", Place: "cellar", Reach: 2, AccessMinutes: 4},
		model.Component{ID: "membrane", Name: "Membrane", Place: "cellar", Reach: 4, AccessMinutes: 9, OpensWith: "pump"},
		model.Counter{ID: "litres", Name: "Litres", Unit: "L", Style: model.StyleAmount, Role: model.RoleWaterMade},
		model.Counter{ID: "hours", Name: "Hours", Unit: "h", Style: model.StyleMeter},
		model.Gauge{ID: "tds", Name: "TDS", Unit: "ppm", Role: model.RoleTDSProduct},
		model.Spare{ID: "salt", Name: "Salt", Unit: "kg", LeadDays: 3, Role: model.RoleSalt},
		chore("clean", "pump", model.WorkClean, model.SpareUse{Spare: "salt", Quantity: 0.5}),
		chore("renew", "membrane", model.WorkRenew),
		chore("test", "membrane", model.WorkTest),
	}
	var out []model.Entry
	for _, b := range bodies {
		out = append(out, model.NewEntry(model.NewDate(2024, 1, 1), b))
	}
	return out
}

// startWithVessels is that book with what holds water.
func startWithVessels() []model.Entry {
	return append(start(),
		model.NewEntry(model.NewDate(2024, 1, 1), model.Vessel{ID: "reservoir", Name: "Reservoir", Place: "cellar", Holds: model.HoldsFresh, Capacity: 100, FedBy: "litres"}),
		model.NewEntry(model.NewDate(2024, 1, 1), model.Vessel{ID: "vat", Name: "Vat", Place: "cellar", Holds: model.HoldsSalt, Capacity: 60}))
}

// act draws an act of one to three entries: any kind of event or definition, on any
// date, and amends of any earlier entry. Many of them no log can accept.
func act(t *rapid.T, b *Book) []model.Entry {
	if rapid.IntRange(0, 4).Draw(t, "take back") == 0 {
		seq := model.Seq(rapid.IntRange(1, int(b.Last())).Draw(t, "act of"))
		return must(b.Strike(must(b.Act(seq))[0].Seq, 0))
	}
	var out []model.Entry
	for range rapid.IntRange(1, 3).Draw(t, "entries") {
		on := model.NewDate(2024, 1, 1).AddDays(rapid.IntRange(0, 30).Draw(t, "day"))
		e := model.NewEntry(on, body(t, b, on))
		if e.Kind != model.KindNeed { // whose by is a date
			e.By = rapid.SampledFrom([]string{"", "", "ann", "bo"}).Draw(t, "by")
		}
		out = append(out, e)
	}
	return out
}

func body(t *rapid.T, b *Book, on model.Date) model.Body {
	chore := model.ID(rapid.SampledFrom([]string{"clean", "renew", "test"}).Draw(t, "chore"))
	component := model.ID(rapid.SampledFrom([]string{"pump", "membrane"}).Draw(t, "component"))
	vessel := model.ID(rapid.SampledFrom([]string{"reservoir", "vat"}).Draw(t, "vessel"))
	n := float64(rapid.IntRange(0, 9).Draw(t, "n"))
	switch rapid.SampledFrom(append(model.Kinds(), model.KindAmend, model.KindTick, model.KindUsage)).Draw(t, "kind") {
	case model.KindBook:
		return model.BookDef{Name: fmt.Sprint("Vat ", n), Units: model.Units{Volume: "gal", Temperature: "F", Pressure: "psi"}}
	case model.KindPlace:
		return model.Place{ID: "cellar", Name: fmt.Sprint("Cellar ", n), Minutes: int(n)}
	case model.KindComponent:
		c, _ := b.Component(component)
		c.Reach = 1 + int(n)/2
		c.Guess = nil
		c.Serve(rapid.SampledFrom([]model.Date{0, on, model.NotInUse}).Draw(t, "in service"), rapid.Bool().Draw(t, "about"))
		c.Place = model.ID(rapid.SampledFrom([]string{"cellar", "stand"}).Draw(t, "place"))
		return c
	case model.KindCounter:
		c, _ := b.Counter("hours")
		c.Style = rapid.SampledFrom([]model.Style{model.StyleMeter, model.StyleMeter, model.StyleAmount}).Draw(t, "style")
		c.Name = fmt.Sprint("Hours ", n)
		return c
	case model.KindGauge:
		return model.Gauge{ID: model.ID(rapid.SampledFrom([]string{"tds", "tds2"}).Draw(t, "gauge")), Name: "TDS", Unit: "ppm", Role: model.RoleTDSProduct,
			Retired: rapid.SampledFrom([]model.Date{0, on}).Draw(t, "retired")}
	case model.KindSpare:
		return model.Spare{ID: "salt", Name: fmt.Sprint("Salt ", n), Unit: "kg", LeadDays: int(n)}
	case model.KindVessel:
		return model.Vessel{ID: "vat", Name: fmt.Sprint("Vat ", n), Place: "stand", Holds: model.HoldsSalt, Capacity: 50 + n}
	case model.KindChore:
		c, _ := b.Chore(chore)
		c.Takes = rapid.SampledFrom([][]model.Take{nil, {{Vessel: "vat", Litres: 20}, {Vessel: "nothing", Litres: 1}}}).Draw(t, "takes")
		c.Minutes, c.Component = int(n), component
		c.Spares = rapid.SampledFrom([][]model.SpareUse{nil, {{Spare: "salt", Quantity: 2}}}).Draw(t, "uses")
		c.Then = rapid.SampledFrom([][]model.Call{nil, {{Chore: "test", After: model.Span{N: 1, Unit: model.SpanDays}}}, {{Chore: "late", After: model.Span{N: 2, Unit: model.SpanWeeks}}}}).Draw(t, "then")
		c.ID = rapid.SampledFrom([]model.ID{c.ID, c.ID, c.ID, "late"}).Draw(t, "chore defined")
		return c
	case model.KindTick:
		about := rapid.Bool().Draw(t, "about")
		return model.Tick{Chore: chore, Found: rapid.SampledFrom([]model.Found{"", model.FoundClean, model.FoundFailed, model.FoundPassed}).Draw(t, "found"),
			About: about, Assumed: about && rapid.Bool().Draw(t, "assumed"), Minutes: rapid.SampledFrom([]*int{nil, new(int)}).Draw(t, "minutes"),
			Planned: rapid.SampledFrom([]model.Date{0, on - 1}).Draw(t, "planned"), Note: text(t),
			Litres: rapid.SampledFrom([]*float64{nil, &n}).Draw(t, "litres"), Offset: rapid.SampledFrom([]*float64{nil, nil, nil, &n}).Draw(t, "offset")}
	case model.KindUsage:
		if rapid.Bool().Draw(t, "meter") {
			return model.Usage{Counter: "hours", Meter: &n}
		}
		return model.Usage{Counter: "litres", Amount: &n}
	case model.KindMeterReset:
		return model.MeterReset{Counter: "hours"}
	case model.KindReading:
		return model.Reading{Gauge: "tds", Value: n, MinutesRunning: rapid.SampledFrom([]*float64{nil, &n}).Draw(t, "running")}
	case model.KindStock:
		return model.Stock{Spare: "salt", Change: n - 3, Price: rapid.SampledFrom([]*float64{nil, &n}).Draw(t, "price")}
	case model.KindFlag:
		f := model.Flag{Component: component, Note: text(t), Cause: rapid.SampledFrom([]model.Cause{"", "heavy"}).Draw(t, "cause"),
			State: rapid.SampledFrom([]model.FlagState{model.FlagFlagged, model.FlagRebuilt, model.FlagDropped}).Draw(t, "state")}
		if f.State == model.FlagRebuilt {
			f.Reach = 1 + int(n)/2
			f.AccessMinutes = rapid.SampledFrom([]*int{nil, new(int)}).Draw(t, "access")
		}
		return f
	case model.KindPutOff:
		return model.PutOff{Chore: chore, Until: on.AddDays(1 + int(n)), Reason: text(t)}
	case model.KindBatch:
		return model.Batch{VolumeL: 1 + n, SaltG: 35 * n, Salinity: rapid.SampledFrom([]*float64{nil, &n}).Draw(t, "salinity"),
			TemperatureC: rapid.SampledFrom([]*float64{nil, &n}).Draw(t, "temperature"),
			From:         rapid.SampledFrom([]model.ID{"", "reservoir"}).Draw(t, "from"),
			Into:         rapid.SampledFrom([]model.ID{"", "vat", "nothing"}).Draw(t, "into")}
	case model.KindLevel:
		return model.Level{Vessel: vessel, Litres: n, About: rapid.Bool().Draw(t, "about")}
	case model.KindDraw:
		return model.Draw{Vessel: vessel, Litres: 1 + n, For: rapid.SampledFrom(model.Purposes).Draw(t, "for"),
			Into: rapid.SampledFrom([]model.ID{"", "vat", "reservoir"}).Draw(t, "into")}
	case model.KindNeed:
		return model.Need{Vessel: vessel, Litres: 1 + n, By: on.AddDays(int(n) - 1), Note: text(t),
			Chore: rapid.SampledFrom([]model.ID{"", chore}).Draw(t, "chore of need")}
	case model.KindAway:
		return model.Away{Until: on.AddDays(1 + int(n))}
	case model.KindFault:
		return model.Fault{Component: component, Note: text(t)}
	case model.KindRepair:
		seqs := []model.Seq{model.Seq(rapid.IntRange(1, int(b.Last())+1).Draw(t, "entry repaired"))}
		for _, f := range slices.Concat(b.Faults("pump"), b.Faults("membrane")) {
			seqs = append(seqs, f.Seq)
		}
		return model.Repair{Fault: rapid.SampledFrom(seqs).Draw(t, "fault"), Note: text(t),
			Uses: rapid.SampledFrom([][]model.SpareUse{nil, {{Spare: "salt", Quantity: 1}}, {{Spare: "none", Quantity: 1}}}).Draw(t, "uses")}
	case model.KindNormal:
		return model.Normal{Component: component}
	case model.KindNote:
		return model.Note{Text: "n", OnWhat: rapid.SampledFrom([]string{"", "pump", "chore:clean", "nothing"}).Draw(t, "on what")}
	}
	return amend(t, b, on, n)
}

func text(t *rapid.T) string {
	return rapid.SampledFrom([]string{"", "läuft", "slow"}).Draw(t, "text")
}

func amend(t *rapid.T, b *Book, on model.Date, n float64) model.Body {
	a := model.Amend{Entry: model.Seq(rapid.IntRange(1, int(b.Last())).Draw(t, "entry"))}
	fields := map[string]any{"on": on}
	switch e := must(b.Written(a.Entry)).Body.(type) {
	case model.Amend:
		fields["entry"] = max(1, e.Entry-1)
	case model.Usage:
		if e.Amount != nil {
			fields["amount"] = n
		} else {
			fields["meter"] = n
		}
	case model.Tick:
		fields["chore"] = "renew"
	case model.Component:
		fields["in_service"] = nil
	}
	if a.Strike = rapid.Bool().Draw(t, "strike"); !a.Strike {
		a.With, _ = model.With(fields)
	}
	return a
}

// numbered gives an act its seqs as a store does.
func numbered(entries []model.Entry, last model.Seq) []model.Entry {
	out := slices.Clone(entries)
	for i := range out {
		out[i].Seq = last + 1 + model.Seq(i)
		if out[i].Act = 0; len(out) > 1 {
			out[i].Act = last + 1
		}
	}
	return out
}

// Any sequence of acts, backdated ones, edits of definitions, amends of amends, undos
// and redos included, comes to the same book step by step, from any snapshot and the entries behind it, and from the
// whole log, and is refused at the same act; what was refused leaves no trace.
func TestStepByStepEqualsRebuild(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		log := numbered(startWithVessels(), 0)
		book := must(Fold(log))
		file := &memory{log: log}
		snapshot, behind := pack(t, book), book.Last()
		for range rapid.IntRange(1, 40).Draw(t, "acts") {
			entries := numbered(act(t, book), book.Last())
			whole, wholeErr := Fold(append(slices.Clip(log), entries...))
			next, err := book.Extend(entries)
			if (err == nil) != (wholeErr == nil) {
				t.Fatalf("step by step: %v; from the whole log: %v", err, wholeErr)
			}
			if err != nil {
				continue
			}
			log = append(log, entries...)
			file.log = log
			same(t, "extended", next, whole)
			if rapid.IntRange(0, 3).Draw(t, "read") == 0 { // the next act goes on from what a file holds
				opened := must(Unpack(snapshot, file))
				if next, err = opened.Extend(slices.Clone(log[behind:])); err != nil {
					t.Fatalf("the entries behind a snapshot: %v", err)
				}
				same(t, "snapshot and tail", next, whole)
				snapshot, behind = pack(t, next), next.Last()
				if next, err = Unpack(snapshot, file); err != nil {
					t.Fatal(err)
				}
			}
			if rapid.Bool().Draw(t, "let go") {
				next = next.In(file)
			}
			book = next
		}
		byHand(t, log, book)
	})
}

// memory is a file of entries.
type memory struct{ log []model.Entry }

func (m *memory) Entries(from, to model.Seq) ([]model.Entry, error) {
	return slices.Clone(m.log[from-1 : to]), nil
}

func (m *memory) Newest(before model.Mark, n int) ([]Row, error) {
	b, err := Fold(m.log)
	if err != nil {
		return nil, err
	}
	return b.Newest(before, n)
}

func (m *memory) Oldest(after model.Mark, n int) ([]Row, error) {
	b, err := Fold(m.log)
	if err != nil {
		return nil, err
	}
	return b.Oldest(after, n)
}

func (m *memory) Same(o Source) bool { return o == Source(m) }

// pack is a snapshot of a book.
func pack(t interface{ Fatal(...any) }, b *Book) []byte {
	data, err := b.Pack()
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// same fails unless two books are equal in all that is asked of them: packed after every list was unpacked.
func same(t *rapid.T, what string, got, want *Book) {
	t.Helper()
	for _, b := range []*Book{got, want} {
		for _, c := range b.Chores() {
			b.Ticks(c.ID)
		}
		for _, g := range b.Gauges() {
			b.Readings(g.ID)
		}
	}
	if !bytes.Equal(pack(t, got), pack(t, want)) {
		t.Fatalf("%s: after entry %d the book differs from that of the whole log", what, got.Last())
	}
	for _, c := range want.Counters() {
		if !slices.Equal(got.Amounts(c.ID), want.Amounts(c.ID)) {
			t.Fatalf("%s: counter %s counts %v, by the whole log %v", what, c.ID, got.Amounts(c.ID), want.Amounts(c.ID))
		}
	}
	for seq := model.Seq(1); seq <= want.Last(); seq++ {
		g, err1 := got.RowOf(seq)
		w, err2 := want.RowOf(seq)
		if err1 != nil || err2 != nil || !reflect.DeepEqual(g, w) {
			t.Fatalf("%s: the row of entry %d is %v (%v), by the whole log %v (%v)", what, seq, g, err1, w, err2)
		}
	}
}

// An event comes back from a snapshot with every field it was packed with.
func TestSnapshotKeepsEveryField(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		log := numbered(startWithVessels(), 0)
		book, err := Fold(log)
		for range rapid.IntRange(1, 40).Draw(t, "acts") {
			if err != nil {
				t.Fatal(err)
			}
			if next, err := book.Extend(numbered(act(t, book), book.Last())); err == nil {
				book = next
			}
		}
		back := must(Unpack(pack(t, book), &memory{}))
		for _, of := range [][2]any{
			{back.Def(), book.Def()}, {back.Places(), book.Places()}, {back.Components(), book.Components()}, {back.Counters(), book.Counters()},
			{back.Gauges(), book.Gauges()}, {back.Spares(), book.Spares()}, {back.Vessels(), book.Vessels()}, {back.Chores(), book.Chores()}, {back.versions, book.versions},
			{listed(back.ticks), listed(book.ticks)}, {listed(back.usages), listed(book.usages)}, {listed(back.resets), listed(book.resets)},
			{listed(back.readings), listed(book.readings)}, {listed(back.stocks), listed(book.stocks)}, {listed(back.flags), listed(book.flags)},
			{listed(back.putOffs), listed(book.putOffs)}, {listed(back.faults), listed(book.faults)}, {listed(back.repairs), listed(book.repairs)}, {listed(back.aways), listed(book.aways)},
			{listed(back.levels), listed(book.levels)}, {listed(back.draws), listed(book.draws)}, {listed(back.needs), listed(book.needs)},
			{listed(back.batches), listed(book.batches)}, {listed(back.notes), listed(book.notes)}, {listed(back.amends), listed(book.amends)},
		} {
			if diff := cmp.Diff(of[1], of[0], cmpopts.EquateEmpty(), cmp.AllowUnexported(Version{})); diff != "" {
				t.Fatal(diff)
			}
		}
	})
}

func listed[E any](ev events[E]) map[model.ID][]E {
	out := map[model.ID][]E{}
	for id := range ev {
		out[id] = ev.of(id)
	}
	return out
}

// A snapshot stays as it is whatever is built on it.
func TestSnapshotsStand(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		log := numbered(startWithVessels(), 0)
		book := must(Fold(log))
		for range rapid.IntRange(1, 15).Draw(t, "acts") {
			one, err1 := book.Extend(numbered(act(t, book), book.Last()))
			two, err2 := book.Extend(numbered(act(t, book), book.Last()))
			still := must(Fold(log))
			same(t, "the book under two books built on it", book, still)
			if err1 == nil && err2 == nil {
				entries := slices.Clip(log)
				for seq := book.Last() + 1; seq <= one.Last(); seq++ {
					entries = append(entries, *must(one.Written(seq)))
				}
				whole := must(Fold(entries))
				same(t, "the first book, when a second was built beside it", one, whole)
			}
			if err2 == nil {
				for seq := book.Last() + 1; seq <= two.Last(); seq++ {
					log = append(log, *must(two.Written(seq)))
				}
				book = two
			}
		}
	})
}

// byHand works out a few figures of a log the slow and plain way.
func byHand(t *rapid.T, log []model.Entry, book *Book) {
	struck := map[model.Seq]bool{}
	read := map[model.Seq]model.Entry{}
	target := map[model.Seq][]model.Amend{}
	for i := len(log) - 1; i >= 0; i-- {
		e := log[i]
		for _, a := range target[e.Seq] {
			struck[e.Seq] = struck[e.Seq] || a.Strike
		}
		if struck[e.Seq] {
			continue
		}
		var withs []model.Fields
		for _, a := range slices.Backward(target[e.Seq]) { // gathered latest first
			withs = append(withs, a.With)
		}
		amended, err := model.Amended(&e, withs)
		if err != nil {
			t.Fatal(err)
		}
		read[e.Seq] = *amended
		if a, ok := amended.Body.(model.Amend); ok {
			target[a.Entry] = append(target[a.Entry], a)
		}
	}
	ticks, litres := map[model.ID]int{}, 0.0
	type change struct {
		at  model.Mark
		qty float64
		use bool
	}
	var salt []change
	uses := map[model.ID][]model.SpareUse{}
	for seq := model.Seq(1); seq <= book.Last(); seq++ {
		if book.Struck(seq) != struck[seq] {
			t.Fatalf("entry %d: struck is %v", seq, book.Struck(seq))
		}
		switch w := read[seq].Body.(type) {
		case model.Chore:
			uses[w.ID] = w.Spares
		case model.Tick:
			ticks[w.Chore]++
			if w.Assumed { // no work was done
				continue
			}
			for _, u := range uses[w.Chore] {
				e := read[seq]
				salt = append(salt, change{e.Mark(), -u.Quantity, true})
			}
		case model.Repair:
			for _, u := range w.Uses {
				e := read[seq]
				salt = append(salt, change{e.Mark(), -u.Quantity, true})
			}
		case model.Usage:
			if w.Counter == "litres" {
				litres += *w.Amount
			}
		case model.Stock:
			e := read[seq]
			salt = append(salt, change{e.Mark(), w.Change, w.Change < 0})
		}
	}
	for id, n := range ticks {
		if got := len(book.Ticks(id)); got != n {
			t.Fatalf("%s has %d ticks, counted by hand %d", id, got, n)
		}
	}
	sum := 0.0
	for _, a := range book.Amounts("litres") {
		sum += a.Qty
	}
	if sum != litres {
		t.Fatalf("%v litres, by hand %v", sum, litres)
	}
	slices.SortStableFunc(salt, func(a, b change) int {
		if a.at.Before(b.at) {
			return -1
		}
		return 1
	})
	hand, counted := 0.0, false
	for _, c := range salt {
		if counted = counted || !c.use; counted {
			hand += c.qty
		}
	}
	if book.Counted("salt", model.LastDate) != counted {
		t.Fatalf("counted by hand %v", counted)
	}
	if got, ok := book.Shelf(model.LastDate)["salt"]; got != hand || ok != counted {
		t.Fatalf("%v salt on the shelf, by hand %v, counted %v", got, hand, counted)
	}
}
