package command

import (
	"slices"

	"brine/wrasse/model"
	"brine/wrasse/schedule"
)

// roundOut is a round as JSON.
type roundOut struct {
	On       model.Date  `json:"on" says:"the day it is of"`
	Book     string      `json:"book" says:"the name of the book"`
	Chores   []choreOut  `json:"chores" says:"in the order of the round"`
	Breaches []breachOut `json:"breaches" says:"gauges outside their safe range, oldest first"`
	Faults   []faultOut  `json:"faults" says:"components broken now, oldest first"`
	TimeBox  *timeBoxOut `json:"time_box" says:"what to do with --minutes; null without"`
	Away     *awayOut    `json:"away" says:"who is away, or goes next"`
}

// awayOut is an absence, with what falls due in it: the keeper's own, to be done before, and the sitter's.
type awayOut struct {
	From        model.Date `json:"from" says:"the first day away"`
	Until       model.Date `json:"until" says:"the first day back"`
	By          string     `json:"by" says:"who; empty where that was not said"`
	BeforeYouGo []model.ID `json:"before_you_go" says:"chores to be done before"`
	Sitter      []model.ID `json:"sitter" says:"chores for the sitter"`
}

type choreOut struct {
	ID             model.ID         `json:"id" says:"the chore"`
	Name           string           `json:"name" says:"its name"`
	Component      model.ID         `json:"component" says:"what it is done to"`
	ComponentName  string           `json:"component_name" says:"its name"`
	Place          model.ID         `json:"place" says:"where that is"`
	PlaceName      string           `json:"place_name" says:"its name"`
	State          schedule.State   `json:"state" says:"late, due (on the day), soon (within 7 days), deferred, ahead or idle (without a date)"`
	PastLimit      bool             `json:"past_limit" says:"the limit has passed"`
	LastTick       *model.Date      `json:"last_tick" says:"when it was last ticked off"`
	Planned        *model.Date      `json:"planned" says:"do it by, before the lead"`
	Limit          *model.Date      `json:"limit" says:"more likely spent than not from then on"`
	Due            *model.Date      `json:"due" says:"planned, brought forward by the lead"`
	PutOffUntil    *model.Date      `json:"put_off_until" says:"null unless state is deferred"`
	DaysLate       *int             `json:"days_late" says:"days from due to on, negative while ahead"`
	Governs        *model.ClockKind `json:"governs" says:"the kind of the clock that decides"`
	Reach          int              `json:"reach" says:"grade of the component, 1 to 5"`
	LeadDays       int              `json:"lead_days" says:"days from due to planned"`
	Minutes        int              `json:"minutes" says:"hands-on"`
	Risk           float64          `json:"risk" says:"chance of a failure within 7 days, times 1, 3 or 10 by what it would harm"`
	Fixed          bool             `json:"fixed" says:"what is found does not move its life"`
	Work           model.Work       `json:"work" says:"clean, renew, test or read"`
	Hidden         bool             `json:"hidden" says:"out of sight"`
	WaitingMinutes int              `json:"waiting_minutes" says:"besides minutes"`
	Clocks         []clockOut       `json:"clocks" says:"each gives dates"`
	Spares         []spareOut       `json:"spares" says:"what a tick takes off the shelf"`
}

type clockOut struct {
	Kind         model.ClockKind  `json:"kind" says:"calendar, usage, load, reading or level"`
	Planned      *model.Date      `json:"planned" says:"do it by, by this clock"`
	Limit        *model.Date      `json:"limit" says:"by this clock"`
	Used         *float64         `json:"used" says:"of its life, in unit; null of a reading"`
	Life         *float64         `json:"life" says:"as the book states it, in unit; null of a reading"`
	Stated       *string          `json:"stated" says:"the life as it was typed; null of a reading"`
	Unit         string           `json:"unit" says:"d, g or that of the counter or gauge"`
	Rate         *float64         `json:"rate" says:"unit a day of late"`
	Shape        *float64         `json:"shape" says:"of the Weibull life"`
	Median       *float64         `json:"median" says:"of the life, in unit"`
	Observations *int             `json:"observations" says:"lives it has learnt from"`
	Crossed      bool             `json:"crossed" says:"a reading is past its threshold"`
	Confirmed    bool             `json:"confirmed" says:"two in a row are"`
	Reason       *schedule.Reason `json:"reason" says:"why there is no date"`
	Call         *callOut         `json:"call" says:"of a call, which stands beside the clocks"`
}

// callOut is the tick that a call came from.
type callOut struct {
	Chore model.ID   `json:"chore" says:"the chore that was ticked"`
	On    model.Date `json:"on" says:"the day of the tick"`
}

type spareOut struct {
	Spare    model.ID `json:"spare" says:"the spare"`
	Name     string   `json:"name" says:"its name"`
	Unit     string   `json:"unit" says:"of the figures"`
	Quantity float64  `json:"quantity" says:"taken by a tick"`
	OnHand   *float64 `json:"on_hand" says:"how much is on the shelf, in unit; null until it is counted"`
}

type faultOut struct {
	Component model.ID   `json:"component" says:"what is broken"`
	Name      string     `json:"name" says:"its name"`
	Since     model.Date `json:"since" says:"the day it was reported"`
	Note      string     `json:"note" says:"as reported"`
}

type breachOut struct {
	Gauge     model.ID   `json:"gauge" says:"the gauge"`
	Name      string     `json:"name" says:"its name"`
	Component *model.ID  `json:"component" says:"what it is on"`
	Since     model.Date `json:"since" says:"the first reading outside"`
	Taken     model.Date `json:"taken" says:"the day of the last reading"`
	Value     float64    `json:"value" says:"that reading"`
	Unit      string     `json:"unit" says:"of value, low and high"`
	Low       *float64   `json:"low" says:"of the safe range"`
	High      *float64   `json:"high" says:"of the safe range"`
}

type timeBoxOut struct {
	Minutes     int        `json:"minutes" says:"as asked"`
	RiskRemoved float64    `json:"risk_removed" says:"sum of what is chosen"`
	Chores      []model.ID `json:"chores" says:"ids of what is chosen, in the order to do it"`
}

func jsonRound(r *schedule.Round, box *schedule.TimeBox) roundOut {
	out := roundOut{On: r.On, Book: r.Book}
	for i := range r.Standings {
		out.Chores = append(out.Chores, jsonChore(&r.Standings[i]))
	}
	for _, f := range r.Faults {
		out.Faults = append(out.Faults, faultOut{f.Component.ID, f.Component.Name, f.Since, f.Note})
	}
	for _, v := range r.Breaches {
		out.Breaches = append(out.Breaches, breachOut{v.Gauge.ID, v.Gauge.Name, orNull(v.Gauge.Component), v.Since, v.On, v.Value, v.Gauge.Unit, v.Gauge.Safe.Low, v.Gauge.Safe.High})
	}
	out.Away = jsonAway(r)
	if box != nil {
		out.TimeBox = &timeBoxOut{Minutes: box.Minutes, RiskRemoved: box.RiskRemoved}
		for _, s := range box.Chores() {
			out.TimeBox.Chores = append(out.TimeBox.Chores, s.Chore.ID)
		}
	}
	return out
}

func jsonAway(r *schedule.Round) *awayOut {
	a := r.Absence
	if a == nil {
		return nil
	}
	out := &awayOut{From: a.From, Until: a.Until, By: a.By, BeforeYouGo: []model.ID{}, Sitter: []model.ID{}}
	if r.Leaving() != nil {
		for _, s := range r.BeforeYouGo(*a) {
			out.BeforeYouGo = append(out.BeforeYouGo, s.Chore.ID)
		}
	}
	for _, v := range r.ForSitter(*a) {
		if !slices.Contains(out.Sitter, v.Standing.Chore.ID) {
			out.Sitter = append(out.Sitter, v.Standing.Chore.ID)
		}
	}
	return out
}

func jsonChore(s *schedule.Standing) choreOut {
	out := choreOut{
		ID: s.Chore.ID, Name: s.Chore.Name,
		Component: s.Component.ID, ComponentName: s.Component.Name, Place: s.Place.ID, PlaceName: s.Place.Name,
		State: s.State, PastLimit: s.PastLimit,
		LastTick: orNull(s.LastTick), Planned: orNull(s.Planned), Limit: orNull(s.Limit), Due: orNull(s.Due),
		Reach: s.Component.Reach, LeadDays: s.LeadDays, Minutes: s.Chore.Minutes, Risk: s.Risk,
		Fixed: s.Chore.Fixed, Work: s.Chore.Work, Hidden: s.Chore.Hidden, WaitingMinutes: s.Chore.WaitingMinutes(),
	}
	if s.HasDue {
		out.DaysLate = &s.DaysLate
	}
	if s.State == schedule.StateDeferred {
		out.PutOffUntil = &s.Deferred.What.Until
	}
	if c := s.Governing(); c != nil {
		out.Governs = &c.Kind
	}
	for i := range s.Clocks {
		out.Clocks = append(out.Clocks, jsonClock(&s.Clocks[i]))
	}
	for _, spare := range s.Spares {
		line := spareOut{Spare: spare.Spare.ID, Name: spare.Spare.Name, Unit: spare.Spare.Unit, Quantity: spare.Quantity}
		if spare.Counted {
			line.OnHand = &spare.OnHand
		}
		out.Spares = append(out.Spares, line)
	}
	return out
}

func jsonClock(c *schedule.ClockStanding) clockOut {
	out := clockOut{
		Kind: c.Kind, Planned: orNull(c.Planned), Limit: orNull(c.Limit), Unit: c.Unit,
		Crossed: c.Crossed, Confirmed: c.Confirmed, Reason: orNull(c.Reason),
	}
	if c.Call != nil {
		out.Call = &callOut{c.Call.By.ID, c.Call.On}
	}
	if c.Kind.HasLife() {
		out.Used, out.Life, out.Stated, out.Observations = &c.Used, &c.Life, &c.Stated, &c.Observations
		if c.HasRate {
			out.Rate = &c.Rate
		}
		if c.Reason != schedule.ReasonNoInlet {
			out.Shape, out.Median = &c.Shape, &c.Median
		}
	}
	return out
}
