package phrase

import (
	"fmt"
	"math"
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/model/station"
	"brine/wrasse/schedule"
	"brine/wrasse/ui/parse"
)

// Level is what is in a vessel: "62 of 100 L".
func Level(b *ledger.Book, o *schedule.OnHand) string {
	switch {
	case o.Vessel.Auto:
		return "kept full by its float valve"
	case o.Counted == nil:
		return "count it once"
	}
	return parse.Number(whole(b, o.Level)) + " of " + Amount(b, o.Vessel.Capacity, "L")
}

// whole is litres as they are shown, in the keeper's unit: to a tenth below ten, else whole.
func whole(b *ledger.Book, litres float64) float64 {
	v := parse.Shown(litres, "L", b.Def().Units)
	if v < 10 {
		return math.Round(v*10) / 10
	}
	return math.Round(v)
}

// Counted is the age of the latest count: "counted 3 d ago".
func Counted(o *schedule.OnHand, today model.Date) string {
	if o.Counted == nil {
		return ""
	}
	s := "counted " + ago(today.Sub(o.Counted.On))
	if o.Counted.What.About {
		s += ", about"
	}
	return s
}

// ToMake is what a vessel asks for: "make 62 L", "mix 40 L", "carry 10.5 L into it"; "" while it holds enough.
func ToMake(b *ledger.Book, o *schedule.OnHand) string {
	switch {
	case len(o.Mixes) > 0 && o.Vessel.Holds == model.HoldsSalt:
		return "mix " + Amount(b, o.Mixes[0].Litres, "L")
	case len(o.Mixes) > 0:
		return "carry " + Amount(b, o.Mixes[0].Litres, "L") + " into it"
	case o.Missing > 0:
		return "make " + Amount(b, o.Missing, "L")
	}
	return ""
}

// Begin is the last day to begin what a vessel asks for: "start by Wed 2 Dec", "not before Sun 15 Nov"; "" while it holds
// enough.
func Begin(o *schedule.OnHand, today model.Date) string {
	switch {
	case len(o.Mixes) > 0:
		return "by " + Weekday(o.Mixes[0].By, today)
	case !o.Ready.IsZero():
		return "start now; not before " + Weekday(o.Ready, today)
	case !o.StartBy.IsZero():
		return "start by " + Weekday(o.StartBy, today)
	}
	return ""
}

// Lasts is how long the water in a vessel does, and what it takes to have more: "4.1 L a day and 40 L on Sat: short on Fri
// 4 Dec; making 62 L takes 12 h 45 at 4.87 L/h".
func Lasts(b *ledger.Book, o *schedule.OnHand, today model.Date) string {
	if o.Vessel.Auto || o.Counted == nil {
		return ""
	}
	var uses []string
	switch {
	case o.HasUse && o.Use > 0:
		uses = append(uses, Amount(b, o.Use, "L")+" a day")
	case !o.HasUse:
		uses = append(uses, "nothing a day that is known: count it once more")
	}
	next := nextOut(o)
	if next.Litres > 0 {
		uses = append(uses, Amount(b, next.Litres, "L")+" on "+Weekday(next.On, today))
	}
	taken := strings.Join(uses, " and ")
	if taken != "" {
		taken += ": "
	}
	if o.Short.IsZero() {
		return taken + "enough for four weeks"
	}
	s := taken + "short on " + Weekday(o.Short, today)
	if next.Litres > 0 && o.Short == next.On {
		s = taken + "short then"
	}
	if o.Missing > 0 {
		s += "; making " + Amount(b, o.Missing, "L") + " " + Running(b, o)
	}
	return s
}

// nextOut is what is taken next, of one date together.
func nextOut(o *schedule.OnHand) (next schedule.Outflow) {
	for _, out := range o.Out {
		switch {
		case next.On.IsZero():
			next = out
		case out.On == next.On:
			next.Litres += out.Litres
		}
	}
	return next
}

// Running is the time the unit runs to make what is missing: "takes 12 h 45 at 4.87 L/h".
func Running(b *ledger.Book, o *schedule.OnHand) string {
	if !o.Flow.Known() {
		return "takes a while: time the flow once"
	}
	return "takes " + parse.Duration(60*o.Hours) + " at " + Amount(b, o.Flow.LH, "L/h")
}

// Over says what of the water that is to go into a vessel it can't hold at once; "" when it holds all.
func Over(b *ledger.Book, o *schedule.OnHand) string {
	room := o.Missing - o.Over
	over := o.Over
	if len(o.Mixes) > 0 {
		room = o.Vessel.Capacity - max(o.Level, 0)
		for _, out := range o.Out {
			if out.On <= o.Mixes[0].By {
				room += out.Litres
			}
		}
		room = min(room, o.Vessel.Capacity)
		over = o.Mixes[0].Litres - room
	}
	if over < 0.5 {
		return ""
	}
	return "it holds " + Amount(b, room, "L") + " more; the rest after the first draw"
}

// Unlogged asks about water that was in a vessel beyond what was logged; "" when that is little.
func Unlogged(b *ledger.Book, o *schedule.OnHand) string {
	if o.Unlogged == 0 {
		return ""
	}
	return Amount(b, o.Unlogged, "L") + " more is in it than was logged: was water made and not logged?"
}

// Made is what a batch was measured at: "mixed 3 d ago, 35.1 as measured".
func Made(b *ledger.Book, vessel model.ID, today model.Date) string {
	batches := b.Batches()
	for i := len(batches) - 1; i >= 0; i-- {
		m := &batches[i]
		if m.On > today || m.What.Into != vessel {
			continue
		}
		s := "mixed " + ago(today.Sub(m.On))
		if v := m.What.Salinity; v != nil {
			return s + ", measured at " + parse.Number(math.Round(*v*100)/100)
		}
		return s + ", not measured yet"
	}
	return ""
}

// Answer is what a vessel asks for and what that takes, a fact a line: litres to make, when to start, the batches, the salt
// against the shelf, the waste, and what is to be carried.
func Answer(b *ledger.Book, r *schedule.Round, vessel model.ID) []string {
	o := r.OnHandIn(vessel)
	if o == nil {
		return nil
	}
	today := r.On
	var out []string
	add := func(s string) {
		if s != "" {
			out = append(out, s)
		}
	}
	add(o.Vessel.Name + ": " + Level(b, o) + "; " + Lasts(b, o, today))
	if do := ToMake(b, o); do != "" {
		add(do + ", " + Begin(o, today))
	}
	add(Over(b, o))
	if len(o.Mixes) > 0 {
		add(saltFor(b, o, today))
		add(carried(b, o))
		if from := r.OnHandIn(o.From); from != nil {
			if do := ToMake(b, from); do != "" {
				add(from.Vessel.Name + ": " + do + ", " + Begin(from, today) + "; " + Running(b, from))
			} else {
				add(from.Vessel.Name + ": " + Level(b, from) + ", enough")
			}
			add(wasted(b, from, today))
		}
		return out
	}
	add(wasted(b, o, today))
	return out
}

// saltFor is the salt that the first mix takes, against the shelf.
func saltFor(b *ledger.Book, o *schedule.OnHand, today model.Date) string {
	if o.Vessel.Holds != model.HoldsSalt {
		return ""
	}
	m, err := station.Plan(o.Mixes[0].Litres, usualMixC, usualSalinity, station.StrengthOf(b, today))
	if err != nil {
		return ""
	}
	s := Mass(b, m.SaltG) + " of salt likely for it"
	spare, ok := b.SpareByRole(model.RoleSalt)
	if ok && b.Counted(spare.ID, today) {
		s += ", " + Amount(b, b.OnHand(spare.ID, today), spare.Unit) + " on the shelf"
	}
	return s
}

// What a batch is reckoned with before anything is said of it: common practice, no source.
const (
	usualMixC     = 25.0
	usualSalinity = 35.0
)

// canLitres is what one carries at a time where the book has no can: some 10 kg. Common practice, no source.
const canLitres = 10.0

// carried is what is to be carried, in trips.
func carried(b *ledger.Book, o *schedule.OnHand) string {
	litres := o.Mixes[0].Litres
	trips := int(math.Ceil(litres/canLitres - 1e-9))
	if trips < 2 {
		return ""
	}
	return fmt.Sprintf("to carry: %s, %d trips with %s", weight(b, litres), trips, Amount(b, canLitres, "L"))
}

// wasted is what runs to waste while the missing water is made; "" where the waste was never timed.
func wasted(b *ledger.Book, o *schedule.OnHand, today model.Date) string {
	if !(o.Missing > 0) {
		return ""
	}
	s := station.From(b.Series(today))
	if !s.WasteRatio.Known() {
		return ""
	}
	return Amount(b, o.Missing*s.WasteRatio.Value, "L") + " run to waste meanwhile"
}

// OddLevel is the question to ask about a count of more than a vessel holds, or "".
func OddLevel(b *ledger.Book, v model.Vessel, litres float64) string {
	if litres <= v.Capacity {
		return ""
	}
	return fmt.Sprintf("%s holds %s at the most, not %s", v.Name, Amount(b, v.Capacity, "L"), Amount(b, litres, "L"))
}

// OddDraw is the question to ask about more taken out of a vessel than was in it, or "".
func OddDraw(b *ledger.Book, v model.Vessel, litres float64, on model.Date) string {
	o := schedule.Make(b, on).OnHandIn(v.ID)
	if o == nil || o.Counted == nil || v.Auto || litres <= o.Level+0.05*v.Capacity {
		return ""
	}
	return fmt.Sprintf("%s held %s by the log, not %s; count it first", v.Name, Amount(b, o.Level, "L"), Amount(b, litres, "L"))
}

// levelLine is how long the water of a level clock's vessel lasts: "62 of 100 L; 4.1 L a day and 40 L on Sat: short on Fri 4
// Dec; making 62 L takes 12 h 45 at 4.87 L/h".
func levelLine(b *ledger.Book, c *schedule.ClockStanding, today model.Date) string {
	o := c.OnHand
	if o == nil {
		return "its vessel is not in use"
	}
	s := o.Vessel.Name + ": " + Level(b, o)
	for _, more := range []string{Lasts(b, o, today), Over(b, o), Unlogged(b, o)} {
		if more != "" {
			s += "; " + more
		}
	}
	return s
}

// Name is a chore as the round calls it. One that a level makes due says how much is wanted: "make 62 L".
func Name(b *ledger.Book, s *schedule.Standing) string {
	if g := s.Governing(); g != nil && g.OnHand != nil {
		if do := ToMake(b, g.OnHand); do != "" {
			return do
		}
	}
	return s.Chore.Name
}

// Label is a chore with what it is done to, as the round calls it.
func Label(b *ledger.Book, s *schedule.Standing) string { return s.Component.Name + ": " + Name(b, s) }

// Wanted is the next water that somebody needs, and what that asks for: "60 L from Mixing vat wanted by Sat 28 Nov: mix 45 L,
// by Fri 27 Nov"; "" while no need is open.
func Wanted(b *ledger.Book, r *schedule.Round) string {
	var next *schedule.Outflow
	var from *schedule.OnHand
	all := r.OnHand()
	for i := range all {
		for j := range all[i].Out {
			if out := &all[i].Out[j]; out.Need != nil && (next == nil || out.On < next.On) {
				next, from = out, &all[i]
			}
		}
	}
	if next == nil {
		return ""
	}
	s := Amount(b, next.Litres, "L") + " from " + from.Vessel.Name + " wanted by " + Weekday(next.On, r.On) + ": "
	switch {
	case from.Counted == nil && !from.Vessel.Auto:
		return s + "count once what is in it (l)"
	case from.Short.IsZero() || from.Short > next.On: // what it asks for later is another matter
		return s + "there is enough"
	}
	return s + ToMake(b, from) + ", " + Begin(from, r.On)
}

// Brief is a vessel in one line: what is in it, and what it asks for or how long it lasts.
func Brief(b *ledger.Book, o *schedule.OnHand, today model.Date) string {
	s := o.Vessel.Name + ": " + Level(b, o)
	switch do := ToMake(b, o); {
	case do != "":
		return s + "; " + do + ", " + Begin(o, today)
	case o.Short.IsZero() && o.Counted != nil && !o.Vessel.Auto:
		return s + ", enough for four weeks"
	}
	return s
}

// Card is what is known of the water in a vessel: first what is in it, then how long it lasts and what it asks for.
func Card(b *ledger.Book, o *schedule.OnHand, today model.Date) []string {
	head := o.Vessel.Name + ": " + Level(b, o)
	for _, s := range []string{Counted(o, today), Made(b, o.Vessel.ID, today)} {
		if s != "" {
			head += ", " + s
		}
	}
	out := []string{head}
	do := ToMake(b, o)
	if do != "" {
		do += ", " + Begin(o, today)
	}
	for _, s := range []string{Lasts(b, o, today), do, Over(b, o), Unlogged(b, o)} {
		if s != "" {
			out = append(out, s)
		}
	}
	return out
}
