package longlog

import (
	"math"
	"math/rand/v2"

	"brine/wrasse/model"
)

// saltMix is the spare that batches are mixed of.
const saltMix model.ID = "salt-mix"

// tick ticks the chore whose turn it is, with the readings it consists of.
func (h *household) tick() {
	turn := h.rounds.next(0.85+0.4*h.rng.Float64(), h.on)
	c := h.gear.chore(turn.chore)
	t := model.Tick{Chore: c.ID, Found: found(c.Work, h.rng), About: h.rng.IntN(100) == 0}
	if h.rng.IntN(10) < 6 {
		minutes := max(1, int(math.Round(float64(c.Minutes)*(0.8+float64(0.5*h.rng.Float64())))))
		t.Minutes = &minutes
	}
	if turn.last != 0 && h.rng.IntN(10) < 7 {
		t.Planned = turn.last.AddDays(max(1, int(turn.every)))
	}
	if h.rng.IntN(16) == 0 {
		t.Note = pick(h, "crust on the back, out of sight", "brush needed twice", "should have come sooner",
			"went smoothly", "a joint wept for an hour, dry since", "took the spare from the lower shelf")
	}
	for _, use := range c.Spares {
		h.shelf[use.Spare] -= use.Quantity
	}
	h.made[c.ID] = h.litres
	h.write(append(h.readingsOf(c.ID), t)...)
}

// found is what a tick found.
func found(w model.Work, rng *rand.Rand) model.Found {
	n := rng.IntN(100)
	switch {
	case w == model.WorkRead || w != model.WorkTest && n >= 95:
		return ""
	case n < 4:
		return model.FoundFailed
	case w == model.WorkTest:
		return model.FoundPassed
	case n < 30:
		return model.FoundHeavy
	case n < 45:
		return model.FoundClean
	}
	return model.FoundLight
}

// stock buys a spare, or corrects the shelf after a count; salt also goes by the kilo
// that was weighed out for batches.
func (h *household) stock() {
	s := h.gear.spares[h.rng.IntN(len(h.gear.spares))]
	for _, other := range h.gear.spares {
		if missing := h.shelf[other.ID] < h.shelf[s.ID]; missing && h.rng.IntN(2) == 0 {
			s = other
		}
	}
	switch lack := -h.shelf[s.ID]; {
	case s.ID == saltMix && h.rng.IntN(2) == 0:
		// What batches took was not written down with them.
		h.write(model.Stock{Spare: s.ID, Change: -shown(min(25, max(1, lack)), 0.1)})
	case h.rng.IntN(12) == 0:
		h.write(model.Stock{Spare: s.ID, Change: -1})
	default:
		change := math.Ceil(max(1, lack)) + float64(h.rng.IntN(4))
		h.shelf[s.ID] += change
		bought := model.Stock{Spare: s.ID, Change: change}
		if h.rng.IntN(3) > 0 {
			price := shown(*s.Price*(0.9+float64(0.3*h.rng.Float64())), 0.05)
			bought.Price = &price
		}
		h.write(bought)
	}
}

func (h *household) note() {
	n := model.Note{Text: pick(h, "power out for an hour; all came back by itself", "two new corals on the left ledge",
		"waterworks flushed the mains in our street", "moved the hose so that nobody trips over it",
		"skimmate thin and pale all week", "glass stays clear for longer since the lamp is dimmed",
		"a snail sat in the overflow; put back", "read the manual of the top-up again: sensor sits 1 cm higher now")}
	switch h.rng.IntN(4) {
	case 0:
		n.OnWhat = "component:" + string(h.component().ID)
	case 1:
		n.OnWhat = string(h.gear.chores[h.rng.IntN(len(h.gear.chores))].ID)
	}
	h.write(n)
}

func (h *household) putOff() {
	c := h.gear.chores[h.rng.IntN(len(h.gear.chores))]
	h.write(model.PutOff{Chore: c.ID, Until: h.on.AddDays(2 + h.rng.IntN(12)), Reason: pick(h, "", "waiting for the part", "guests in the room", "no second pair of hands")})
}

func (h *household) fault() {
	h.write(model.Fault{Component: h.component().ID, Note: pick(h, "", "hums and does not turn", "drips at the union", "shows nothing")})
}

// flag moves a component on through its rethinking: flagged, planned, then rebuilt or
// dropped.
func (h *household) flag() {
	c := h.component()
	f := model.Flag{Component: c.ID, State: model.FlagFlagged, Cause: pick(h, model.Causes...)}
	switch h.flags[c.ID] {
	case model.FlagFlagged:
		f = model.Flag{Component: c.ID, State: model.FlagPlanned, Note: "hang it on a rail"}
	case model.FlagPlanned:
		f = model.Flag{Component: c.ID, State: model.FlagDropped}
		if h.rng.IntN(3) > 0 {
			minutes := 1 + h.rng.IntN(12)
			f = model.Flag{Component: c.ID, State: model.FlagRebuilt, Reach: 1 + h.rng.IntN(5), AccessMinutes: &minutes}
			c.Reach, c.AccessMinutes, c.Guess = f.Reach, minutes, nil
		}
	}
	h.flags[c.ID] = f.State
	h.write(f)
}

// leave logs days away: a fortnight at most, a day or two in a log dense enough for many.
func (h *household) leave() {
	const dense = 20 // entries a day
	longest := 13
	if h.entries > dense*h.days {
		longest = 2
	}
	h.write(model.Away{Until: h.on.AddDays(1 + h.rng.IntN(longest))})
}

// redefine writes a definition anew: a part renewed, or a figure of a thing corrected.
func (h *household) redefine() {
	switch h.rng.IntN(6) {
	case 0, 1:
		c := h.component()
		c.InService = h.on
		h.write(*c)
	case 2, 3:
		c := &h.gear.chores[h.rng.IntN(len(h.gear.chores))]
		c.Minutes = 2 + h.rng.IntN(40)
		if k := &c.Clocks[0]; k.Kind == model.ClockUsage && k.Amount > 1 {
			clocks := append([]model.Clock{}, c.Clocks...) // the last definition keeps its own
			clocks[0].Amount = shown(k.Amount*(0.9+float64(0.2*h.rng.Float64())), 1)
			c.Clocks = clocks
		}
		h.write(*c)
	case 4:
		s := &h.gear.spares[h.rng.IntN(len(h.gear.spares))]
		s.LeadDays = 2 + h.rng.IntN(20)
		h.write(*s)
	default:
		p := &h.gear.places[h.rng.IntN(len(h.gear.places))]
		p.Minutes = 1 + h.rng.IntN(6)
		h.write(*p)
	}
}

// component is any of the components.
func (h *household) component() *model.Component {
	return &h.gear.components[h.rng.IntN(len(h.gear.components))]
}

func pick[T any](h *household, from ...T) T { return from[h.rng.IntN(len(from))] }
