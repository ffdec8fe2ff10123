package model

import "cmp"

func (t Tick) check() error {
	var minutes error
	if t.Minutes != nil {
		minutes = checkMinutes("minutes", *t.Minutes)
	}
	return cmp.Or(
		checkID("chore", t.Chore),
		checkOptionalWord("found", t.Found, FoundClean, FoundLight, FoundHeavy, FoundFailed, FoundPassed),
		minutes,
		checkOptional("litres", t.Litres, 0, MaxAmount),
		checkOptional("offset", t.Offset, -MaxAmount, MaxAmount),
		checkText("note", t.Note, MaxNoteLen),
		t.checkAssumed(),
	)
}

func (t Tick) checkAssumed() error {
	if t.Assumed && !t.About {
		return Missing("about", "true, as what is assumed is a guess")
	}
	return nil
}

func (u Usage) check() error {
	if (u.Amount == nil) == (u.Meter == nil) {
		return Missing("amount", "either amount or meter, and not both")
	}
	return cmp.Or(
		checkID("counter", u.Counter),
		checkOptional("amount", u.Amount, 0, MaxAmount),
		checkOptional("meter", u.Meter, 0, MaxAmount),
	)
}

func (m MeterReset) check() error { return checkID("counter", m.Counter) }

func (r Reading) check() error {
	return cmp.Or(
		checkID("gauge", r.Gauge),
		checkNumber("value", r.Value, -MaxAmount, MaxAmount),
		checkOptional("minutes_running", r.MinutesRunning, 0, MaxAmount),
	)
}

func (s Stock) check() error {
	return cmp.Or(
		checkID("spare", s.Spare),
		checkNumber("change", s.Change, -MaxAmount, MaxAmount),
		checkOptional("price", s.Price, 0, MaxAmount),
	)
}

func (f Flag) check() error {
	err := cmp.Or(
		checkID("component", f.Component),
		checkWord("state", f.State, FlagFlagged, FlagPlanned, FlagRebuilt, FlagDropped),
		checkOptionalWord("cause", f.Cause, Causes...),
		checkText("note", f.Note, MaxNoteLen),
	)
	if err != nil {
		return err
	}
	if f.Reach != 0 {
		if f.State != FlagRebuilt {
			return Wrong("reach", f.Reach, "a new grade only with state rebuilt")
		}
		if err := checkInt("reach", f.Reach, 1, 5); err != nil {
			return err
		}
	}
	if f.AccessMinutes != nil {
		if f.State != FlagRebuilt {
			return Wrong("access_minutes", *f.AccessMinutes, "new minutes only with state rebuilt")
		}
		return checkMinutes("access_minutes", *f.AccessMinutes)
	}
	return nil
}

func (d PutOff) check() error {
	if d.Until.IsZero() {
		return Missing("until", "a date later than on")
	}
	return cmp.Or(checkID("chore", d.Chore), checkText("reason", d.Reason, MaxNoteLen))
}

func (b Batch) check() error {
	if b.Into != "" && b.Into == b.From {
		return Wrong("into", b.Into, "another vessel than the one the fresh water comes from")
	}
	return cmp.Or(
		checkPositive("volume_l", b.VolumeL),
		checkNumber("salt_g", b.SaltG, 0, MaxAmount),
		checkOptional("salinity", b.Salinity, 0, 100),
		checkOptional("temperature_c", b.TemperatureC, -5, 60),
		checkOptionalID("from", b.From),
		checkOptionalID("into", b.Into),
	)
}

func (a Away) check() error {
	if a.Until.IsZero() {
		return Missing("until", "the first day back, later than on")
	}
	return nil
}

func (f Fault) check() error {
	return cmp.Or(checkID("component", f.Component), checkText("note", f.Note, MaxNoteLen))
}

func (r Repair) check() error {
	if r.Fault == 0 {
		return Missing("fault", "the seq of the entry that reported it")
	}
	if n := len(r.Uses); n > MaxUses {
		return Wrong("uses", n, "at most %d spares", MaxUses)
	}
	return cmp.Or(checkText("note", r.Note, MaxNoteLen), checkUses("uses", r.Uses))
}

// MaxUses is how many spares a repair may take.
const MaxUses = 20

func (n Normal) check() error { return checkID("component", n.Component) }

func (n Note) check() error {
	if n.Text == "" {
		return Missing("text", "the note")
	}
	return cmp.Or(checkText("text", n.Text, MaxNoteLen), checkText("on_what", n.OnWhat, maxIDLen+16))
}

func (a Amend) check() error {
	if a.Entry == 0 {
		return Missing("entry", "the seq of an earlier entry")
	}
	if a.Strike == (a.With != nil) {
		return Missing("strike", "either strike true or with, and not both")
	}
	return nil
}
