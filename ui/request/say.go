package request

import (
	"fmt"
	"strings"

	"github.com/go-json-experiment/json"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/ui/parse"
	"brine/wrasse/ui/phrase"
)

// Say is what an entry did, in one line without the date: "ticked Mixing pump:
// clean impeller, found heavy". The names of things are as the book has them, so
// a caller that draws the line cleans it.
func Say(b *ledger.Book, e *model.Entry) string {
	u := b.Def().Units
	switch w := e.Body.(type) {
	case model.Tick:
		if w.Assumed {
			return "not known when last done: " + sayTick(b, w)
		}
		return "ticked " + sayTick(b, w)
	case model.Usage:
		c, _ := b.Counter(w.Counter)
		figure := parse.Quantity(w.Figure(), c.Unit, u)
		if w.Meter != nil {
			return c.Name + " at " + figure
		}
		return c.Name + ", " + figure
	case model.MeterReset:
		c, _ := b.Counter(w.Counter)
		return c.Name + " set back"
	case model.Reading:
		g, _ := b.Gauge(w.Gauge)
		said := fmt.Sprintf("%s, %s", g.Name, parse.Quantity(w.Value, g.Unit, u))
		if _, off := b.Off(g, e.Mark()); off {
			said += ", by a meter that is off"
		}
		return said
	case model.Stock:
		s, _ := b.Spare(w.Spare)
		return fmt.Sprintf("%s, %s on the shelf", s.Name, signed(w.Change, s.Unit, u))
	case model.Flag:
		return sayFlag(b, w)
	case model.Fault:
		c, _ := b.Component(w.Component)
		return strings.TrimSuffix(c.Name+" broken: "+w.Note, ": ")
	case model.Repair:
		return "repaired: " + sayRepair(b, w)
	case model.PutOff:
		c, _ := b.Chore(w.Chore)
		return fmt.Sprintf("put off till %s: %s%s", dated(w.Until), parse.ChoreLabel(b, c), aside(w.Reason))
	case model.Away:
		return "away until " + dated(w.Until)
	case model.Batch:
		salt := parse.Number(w.SaltG) + " g" // as it was typed
		if u.Volume == "gal" {
			salt = phrase.Mass(b, w.SaltG)
		}
		return fmt.Sprintf("mixed %s with %s of salt", parse.Quantity(w.VolumeL, "L", u), salt)
	case model.Normal:
		c, _ := b.Component(w.Component)
		return "from here normal: " + c.Name
	case model.Level:
		return fmt.Sprintf("%s holds %s%s", vesselName(b, w.Vessel), litres(w.Litres, u), aboutWord(w.About))
	case model.Draw:
		s := fmt.Sprintf("drew %s from %s for %s", litres(w.Litres, u), vesselName(b, w.Vessel), PurposeText(w.For))
		if w.Into != "" {
			s += ", into " + vesselName(b, w.Into)
		}
		return s
	case model.Need:
		return fmt.Sprintf("need %s from %s by %s%s", litres(w.Litres, u), vesselName(b, w.Vessel), dated(w.By), aside(w.Note))
	case model.Note:
		return "note: " + w.Text
	case model.Amend:
		return sayAmend(b, w)
	}
	return sayDefinition(b, e.Body)
}

// dated is a date of an entry, which may be read years later.
func dated(d model.Date) string { return d.Format("2 Jan 2006") }

func sayTick(b *ledger.Book, t model.Tick) string {
	c, _ := b.Chore(t.Chore)
	s := parse.ChoreLabel(b, c)
	if t.Found != "" {
		s += ", found " + parse.FoundText(c.Work, t.Found)
	}
	if t.Offset != nil {
		s += ", " + phrase.Offset(b, *t.Offset, parse.OffsetUnit(b, c))
	}
	if t.Litres != nil {
		s += ", " + litres(*t.Litres, b.Def().Units)
	}
	return s + aboutWord(t.About) + aside(t.Note)
}

func aboutWord(about bool) string {
	if about {
		return ", about"
	}
	return ""
}

func litres(v float64, u model.Units) string { return parse.Quantity(v, "L", u) }

func vesselName(b *ledger.Book, id model.ID) string {
	v, _ := b.Vessel(id)
	return v.Name
}

// PurposeText is what water is drawn for, in words.
func PurposeText(p model.Purpose) string {
	switch p {
	case model.ForTopUp:
		return "topping up"
	case model.ForChange:
		return "a water change"
	case model.ForMix:
		return "mixing"
	case model.ForHouse:
		return "the house"
	}
	return "waste"
}

// sayRepair is what was repaired, and what that took off the shelf.
func sayRepair(b *ledger.Book, w model.Repair) string {
	s := fmt.Sprintf("entry %d", w.Fault)
	if f, ok := b.Fault(w.Fault); ok { // it may have been struck since
		c, _ := b.Component(f.What.Component)
		s = c.Name
	}
	s += aside(w.Note)
	if len(w.Uses) > 0 {
		s += ", took " + parse.UsesText(b, w.Uses)
	}
	return s
}

func sayFlag(b *ledger.Book, w model.Flag) string {
	c, _ := b.Component(w.Component)
	s := string(w.State) + " " + c.Name
	if w.Cause != "" {
		s += ", " + CauseText(w.Cause)
	}
	return s + aside(w.Note)
}

// CauseText is the cause of a flag in words.
func CauseText(c model.Cause) string {
	if c == "no-shut-off" {
		return "no shut-off"
	}
	return strings.ReplaceAll(string(c), "-", " ")
}

// SayFlag is a step along the list of what is to be rethought.
func SayFlag(f ledger.Logged[model.Flag], today model.Date) string {
	s := string(f.What.State) + " " + phrase.Day(f.On, today)
	if f.What.Cause != "" {
		s += ": " + CauseText(f.What.Cause)
	}
	if f.What.Note != "" {
		s += ", " + f.What.Note
	}
	return s
}

func sayAmend(b *ledger.Book, a model.Amend) string {
	target, err := b.Written(a.Entry)
	switch {
	case err != nil || target == nil: // the act is said all the same
		return fmt.Sprintf("amended entry %d", a.Entry)
	case !a.Strike:
		if batch, ok := target.Body.(model.Batch); ok {
			return sayBatch(b, batch, a)
		}
		return "amended: " + Say(b, target)
	}
	if undone, ok := target.Body.(model.Amend); ok && undone.Strike {
		if first, err := b.Written(undone.Entry); err == nil && first != nil {
			return "brought back: " + Say(b, first)
		}
	}
	return "took back: " + Say(b, target)
}

// sayBatch says what a batch was measured at, or what was added to it.
func sayBatch(b *ledger.Book, batch model.Batch, a model.Amend) string {
	var with struct {
		Salinity *float64 `json:"salinity"`
		SaltG    *float64 `json:"salt_g"`
		VolumeL  *float64 `json:"volume_l"`
	}
	u := b.Def().Units
	switch err := json.Unmarshal(a.With, &with); {
	case err == nil && with.Salinity != nil:
		return "measured the batch of " + litres(batch.VolumeL, u) + ": " + parse.Quantity(*with.Salinity, "SP", u)
	case err == nil && with.SaltG != nil:
		return "corrected the batch of " + litres(batch.VolumeL, u) + ": now " + parse.Quantity(*with.SaltG, "g", u) + " of salt in all"
	case err == nil && with.VolumeL != nil:
		return "corrected the batch of " + litres(batch.VolumeL, u) + ": now " + litres(*with.VolumeL, u)
	}
	e := model.NewEntry(0, batch)
	return "amended: " + Say(b, &e)
}

func sayDefinition(b *ledger.Book, body model.Body) string {
	switch w := body.(type) {
	case model.BookDef:
		return "book " + w.Name
	case model.Place:
		return "place " + w.Name
	case model.Component:
		return "component " + w.Name
	case model.Counter:
		return "counter " + w.Name
	case model.Gauge:
		return "gauge " + w.Name
	case model.Spare:
		return "spare " + w.Name
	case model.Vessel:
		return "vessel " + w.Name
	case model.Chore:
		return "chore " + parse.ChoreLabel(b, w)
	}
	return string(body.Kind())
}

func signed(v float64, unit string, u model.Units) string {
	q := parse.Quantity(v, unit, u)
	if v > 0 {
		return "+" + q
	}
	return q
}

func aside(note string) string {
	if note == "" {
		return ""
	}
	return " (" + note + ")"
}

// SayAct is what a whole act did: its first entry, and how many more there are.
func SayAct(b *ledger.Book, entries []*model.Entry) string {
	switch len(entries) {
	case 0:
		return "nothing"
	case 1:
		return Say(b, entries[0])
	}
	if def, begun := entries[0].Body.(model.BookDef); begun {
		chores := 0
		for _, e := range entries {
			if e.Kind == model.KindChore {
				chores++
			}
		}
		return fmt.Sprintf("book %s is begun with %d chores", def.Name, chores)
	}
	return fmt.Sprintf("%s, and %d more", Say(b, entries[0]), len(entries)-1)
}
