package starter

import (
	"math"
	"math/rand/v2"
	"slices"

	"brine/wrasse/model"
)

// reserve is the planned age of a life that `lasts`, as a share of it, with no history:
// the Weibull quantile of shape 6 at 30, 20 and 10 % over its median, for each consequence.
var reserve = [...]float64{1: 0.895, 2: 0.828, 3: 0.730}

// stated is the first calendar clock of a chore; every chore planned by due has one.
func stated(c model.Chore) model.Clock {
	for _, k := range c.Clocks {
		if k.Kind == model.ClockCalendar {
			return k
		}
	}
	return model.Clock{}
}

// planned is the age in days at which a chore ticked on a day is planned next.
func (l *library) planned(c model.Chore, life float64, day int) int {
	k := stated(c)
	age := float64(k.Every.Days(l.date(day)))
	if k.Rule == model.RuleLasts {
		age *= reserve[c.Consequence]
	}
	if life > 0 {
		age *= life
	}
	return max(1, int(math.Round(age)))
}

// dueAge is the age in days at which the round calls a chore due: planned, less the lead
// for its reach.
func (l *library) dueAge(c model.Chore, life float64, day int) int {
	age := l.planned(c, life, day)
	lead := int(math.Floor(leadShare[l.reachOn(c.Component, 0)]*float64(age) + 0.5))
	return age - min(28, age/4, lead)
}

// lastTick is the latest day from which a chore is due by the day its plan names.
func (l *library) lastTick(c model.Chore, p plan) int {
	const slack = 5 // months differ by 3 days, and a lead by a day or two
	for day := min(p.due-l.dueAge(c, p.life, p.due)+slack, -1); ; day-- {
		if day+l.dueAge(c, p.life, day) <= p.due {
			return present(day)
		}
	}
}

// days are the days on which a chore was ticked: the last as its plan wants it, the
// earlier ones planned and then late by as much as its reach makes people late.
func (l *library) days(p plan) []int {
	if p.on != nil {
		days := slices.Clone(p.on)
		for i := range days {
			days[i] = present(days[i])
		}
		return days
	}
	c := l.chores[p.chore]
	r := dice("days of " + string(p.chore))
	var days []int
	for day := l.lastTick(c, p); day > firstDay; {
		days = append(days, day)
		age := l.planned(c, 0, day-l.planned(c, 0, day))
		slip := slipShare[l.reachOn(c.Component, day)] * float64(age) * 2 * r.Float64()
		day = presentBefore(day, age+int(slip+r.Float64()))
	}
	slices.Reverse(days)
	return days
}

// tickAll writes the ticks of a chore, with the readings that go with them.
func (l *library) tickAll(p plan) {
	c := l.chores[p.chore]
	r := dice("ticks of " + string(p.chore))
	days := l.ticked[p.chore]
	for i, day := range days {
		t := model.Tick{Chore: c.ID, Found: p.found.draw(c.Work, r)}
		if p.chore == "clean-return-pump" && day == pumpStopped+1 {
			t.Found = model.FoundFailed
		}
		if r.IntN(5) > 0 {
			m := int(math.Round(float64(c.Minutes) * (0.85 + 0.45*r.Float64())))
			t.Minutes = &m
		}
		if i > 0 && p.on == nil && r.IntN(8) > 0 {
			t.Planned = l.date(days[i-1] + l.planned(c, 0, days[i-1]))
		}
		t.Note = remarkOn(t, r)
		when := doing
		bodies := l.readingsWith(c.ID, day)
		if c.Work == model.WorkRead {
			when = reading
		}
		l.add(day, when, append(bodies, t)...)
		for _, s := range c.Spares {
			l.uses[s.Spare] = append(l.uses[s.Spare], use{day, s.Quantity})
		}
	}
}

// draw is what a tick found.
func (m mix) draw(w model.Work, r *rand.Rand) model.Found {
	n := r.IntN(100)
	switch {
	case w == model.WorkRead || m == (mix{}) && w != model.WorkTest:
		return ""
	case n < m.failed:
		return model.FoundFailed
	case w == model.WorkTest:
		return model.FoundPassed
	case n < m.failed+m.heavy:
		return model.FoundHeavy
	case n < m.failed+m.heavy+m.clean:
		return model.FoundClean
	}
	return model.FoundLight
}

// remarkOn is a note on what was found, now and then.
func remarkOn(t model.Tick, r *rand.Rand) string {
	pick := func(notes ...string) string { return notes[r.IntN(len(notes))] }
	switch {
	case t.Found == model.FoundFailed && t.Chore == "clean-return-pump":
		return "seized after the power cut; sump filled to its mark, no further"
	case t.Found == model.FoundFailed && t.Chore == "renew-resin":
		return pick("", "colour through to the top", "smelt of nothing, read 3")
	case t.Found == model.FoundFailed && t.Chore == "renew-membrane":
		return "old element brown at the inlet; rejection was down to 94"
	case t.Found == model.FoundFailed:
		return pick("put right at once", "put right the next day, looked again", "told the caretaker; done by noon")
	case t.Found == model.FoundHeavy && r.IntN(3) == 0:
		return pick("worse than last time", "brush needed twice", "should have come sooner", "crust on the back, out of sight")
	}
	return ""
}
