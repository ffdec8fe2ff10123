package sheet

import "brine/wrasse/ui/phrase"

// part is a stretch of the page in words: a heading, what to know, and lines to write on.
type part struct {
	title  string
	danger bool // it comes before all else, and is set so
	say    string
	cases  []instance
	items  []string
	blanks []string // what is written behind each line
}

// instance is something that may happen, and what to do then.
type instance struct {
	when string
	do   []string
}

// parts are what the page says beside days and tasks: what fills its first sheet, what comes before the days, and what comes
// behind the tasks. What it advises is common practice, no source; the words of the fire brigade, of local codes and of
// licensed trades come before it.
func (s Sitter) parts() (first, before, after []part) {
	before = []part{s.look()}
	if len(s.Words) > 0 {
		before = append(before, part{title: "What is what", items: s.Words})
	}
	before = append(before, s.water(), food())
	return []part{s.call(), s.trouble(), places(s.unit), leave()}, before, []part{s.parked(), s.handover()}
}

// intro is what somebody who has never kept a tank wants to hear first.
const intro = "You need to know nothing about such a tank: all you do stands on this paper, and it takes a few minutes. " +
	"When in doubt, do nothing and call. A job done a day late harms nothing; something well meant put into the water may."

func (s Sitter) call() part {
	p := part{title: "Whom to call, at any hour"}
	if s.Contact != "" {
		p.say = s.Contact
		p.blanks = []string{"if nobody answers, call"}
		return p
	}
	p.blanks = []string{"call first", "if nobody answers, call"}
	return p
}

// trouble is what to do when something goes wrong: people first, then the house, then the tank.
func (s Sitter) trouble() part {
	floor := []string{
		"Don't step into it while it may reach a plug, a socket strip or a cable: power off at the fuse box first, as above.",
		"Then stop the water, if it still runs, and lay towels. Call.",
	}
	if s.unit != "" {
		floor[1] = "Then close the tap that feeds the water unit (" + s.unit + "), if the way there is dry: clockwise until it stops. Lay towels. Call."
	}
	return part{
		title:  "If something is wrong: you first, then the house, then the tank",
		danger: true,
		cases: []instance{
			{"It smells burnt, smokes, crackles, or tingles when it is touched", []string{
				"Hands off everything that is wet or plugged in. Power off at the fuse box, with dry hands and feet; not at the plug, nor at the " + s.rcd + " beside the tank. Can't get there dry? Keep out, and call.",
				"Smoke or flames: everybody out, doors closed, fire brigade from outside. Never water on anything electric.",
				"Leave the power off and call. The animals last some hours without it, and somebody will tell you what to do.",
			}},
			{"Water on the floor", floor},
			{"An alarm sounds, or a lamp blinks that did not before", []string{
				"Stay where you are and look: smoke, a burnt smell, water on the floor? Then do as above.",
				"None of these: read what it shows, write it down, call. Don't pull its plug to make it quiet.",
			}},
			{"The water in the tank stands still, or the power was off", []string{
				"Leave all switches as they are, the " + s.rcd + " too if it has gone off; don't feed, and look again after ten minutes.",
				"Still no movement at the surface: call at once. The animals breathe by moving water.",
			}},
			{"An animal lies still, the water is cloudy, or something has fallen in", []string{
				"Take nothing out, put nothing in. Take a photograph, and call.",
			}},
			{"A splash in the eye, or you feel ill after a job", []string{
				"Rinse with tap water for a quarter of an hour, and ask a doctor. Say that it was a reef tank, and that palytoxin is possible.",
			}},
		},
		say: phrase.Closing + " What the fire brigade says comes before this paper.",
	}
}

func places(unit string) part {
	p := part{title: "Where things are", blanks: []string{"address, for the fire brigade", "fuse box, and which switch in it", "towels, torch, gloves", "keys, and who else has them", "its lights are on from, to"}}
	if unit != "" {
		p.blanks = append(p.blanks, "tap of the water unit")
	}
	return p
}

func (s Sitter) look() part {
	p := part{title: "Each time you come, while its lights are on: two minutes of looking", items: []string{
		"The floor is dry, nothing smells, nothing sounds other than the day before.",
		"The water moves at the surface, and stands at its mark, a strip of tape on the glass. A hand below it, or a pump gurgles: call. Don't fill it up, unless a job says so.",
		"The fish you saw last time are there and breathe quietly. Some hide; look for a minute.",
	}}
	for _, r := range s.Readings {
		p.items = append(p.items, r+". Outside that: change nothing, call.")
	}
	for _, b := range s.Broken {
		p.items = append(p.items, "Known already: "+b+".")
	}
	p.items = append(p.items, "Lights and pumps go on and off by themselves, and some light is blue. That is meant so.")
	return p
}

// water is what of it stands ready, and who fills what dries up.
func (s Sitter) water() part {
	p := part{title: "Water", items: s.Water, blanks: []string{"who fills the top-up can meanwhile, and from what"}}
	if len(s.Water) > 0 {
		p.say = "Salt water and fresh water are never taken one for the other, nor tap water for either. With a clean can, half full rather than full, lid back on."
	}
	return p
}

func food() part {
	return part{title: "Food", blanks: []string{"what, and where it is", "how much", "on which days"},
		say: "Only what is written here, once on the day. Nothing written: don't feed. They always look hungry; a meal missed harms nothing, a second one fouls the water.",
	}
}

func leave() part {
	return part{title: "Leave alone", items: []string{
		"Every plug, switch, tap and dial that this paper doesn't name for you.",
		"The water: nothing goes into it, no other food, no tap water, no medicine, no hands.",
		"Corals, anemones and all that grows: not touched, brushed or scraped. Wash your hands after every job.",
	}}
}

// parked is what stands there that no job is about.
func (s Sitter) parked() part {
	return part{title: "Also there, and to be left alone", items: s.Alone}
}

func (s Sitter) handover() part {
	p := part{title: "For whoever leaves this paper", items: []string{
		"Show every job once, and let it be done once while you watch. Let the alarms be heard.",
		"Name plugs and parts on strips of tape, mark the water's height on the glass, lay out the food in portions.",
		"Fill in the lines, ring the days on which somebody comes, show the fuse box and the tap.",
	}}
	if s.keepers {
		p.items = append(p.items, "Water that is not the sitter's job, above: see to it before you leave, or send somebody and write the name beside it.")
	}
	return p
}
