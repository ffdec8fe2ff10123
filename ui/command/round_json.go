package command

import (
	"slices"

	"brine/wrasse/model"
	"brine/wrasse/schedule"
)

// roundOut is a round as JSON. Names and meaning are those of the book format's page;
// figures are not rounded, and what does not exist is null.
type roundOut struct {
	On       model.Date  `json:"on"`
	Book     string      `json:"book"`
	Chores   []choreOut  `json:"chores"`
	Breaches []breachOut `json:"breaches"`
	Faults   []faultOut  `json:"faults"`
	TimeBox  *timeBoxOut `json:"time_box,omitzero"`
	Away     *awayOut    `json:"away,omitzero"` // who is away, or goes next
}

// awayOut is an absence, with what falls due in it: the keeper's own, to be done before, and the sitter's.
type awayOut struct {
	From        model.Date `json:"from"`
	Until       model.Date `json:"until"`
	By          string     `json:"by"`
	BeforeYouGo []model.ID `json:"before_you_go"`
	Sitter      []model.ID `json:"sitter"`
}

type choreOut struct {
	ID             model.ID         `json:"id"`
	Component      model.ID         `json:"component"`
	Place          model.ID         `json:"place"`
	Name           string           `json:"name"`
	State          schedule.State   `json:"state"`
	PastLimit      bool             `json:"past_limit"`
	LastTick       *model.Date      `json:"last_tick"`
	Planned        *model.Date      `json:"planned"`
	Limit          *model.Date      `json:"limit"`
	Due            *model.Date      `json:"due"`
	PutOffUntil    *model.Date      `json:"put_off_until"`
	DaysLate       *int             `json:"days_late"`
	Governs        *model.ClockKind `json:"governs"`
	Reach          int              `json:"reach"`
	LeadDays       int              `json:"lead_days"`
	Minutes        int              `json:"minutes"`
	Risk           float64          `json:"risk"`
	Fixed          bool             `json:"fixed"`
	Work           model.Work       `json:"work"`
	Hidden         bool             `json:"hidden"`
	WaitingMinutes int              `json:"waiting_minutes"`
	Clocks         []clockOut       `json:"clocks"`
	Spares         []spareOut       `json:"spares"`
}

// clockOut is a clock; of a reading clock the figures of an age are null.
type clockOut struct {
	Kind         model.ClockKind  `json:"kind"`
	Planned      *model.Date      `json:"planned"`
	Limit        *model.Date      `json:"limit"`
	Used         *float64         `json:"used"`
	Life         *float64         `json:"life"`
	Stated       *string          `json:"stated"`
	Unit         string           `json:"unit"`
	Rate         *float64         `json:"rate"`
	Shape        *float64         `json:"shape"`
	Median       *float64         `json:"median"`
	Observations *int             `json:"observations"`
	Crossed      bool             `json:"crossed"`
	Confirmed    bool             `json:"confirmed"`
	Reason       *schedule.Reason `json:"reason"`
	Call         *callOut         `json:"call,omitzero"` // of a call, which stands beside the clocks
}

// callOut is the tick that a call came from.
type callOut struct {
	Chore model.ID   `json:"chore"`
	On    model.Date `json:"on"`
}

type spareOut struct {
	Spare    model.ID `json:"spare"`
	Quantity float64  `json:"quantity"`
	OnHand   *float64 `json:"on_hand"` // null until it is counted
}

type faultOut struct {
	Component model.ID   `json:"component"`
	Since     model.Date `json:"since"`
	Note      string     `json:"note"`
}

type breachOut struct {
	Gauge     model.ID   `json:"gauge"`
	Name      string     `json:"name"`
	Component *model.ID  `json:"component"`
	Since     model.Date `json:"since"`
	Taken     model.Date `json:"taken"`
	Value     float64    `json:"value"`
	Unit      string     `json:"unit"`
	Low       *float64   `json:"low"`
	High      *float64   `json:"high"`
}

type timeBoxOut struct {
	Minutes     int        `json:"minutes"`
	RiskRemoved float64    `json:"risk_removed"`
	Chores      []model.ID `json:"chores"`
}

func jsonRound(r *schedule.Round, box *schedule.TimeBox) roundOut {
	out := roundOut{On: r.On, Book: r.Book}
	for i := range r.Standings {
		out.Chores = append(out.Chores, jsonChore(&r.Standings[i]))
	}
	for _, f := range r.Faults {
		out.Faults = append(out.Faults, faultOut{f.Component.ID, f.Since, f.Note})
	}
	for _, v := range r.Breaches {
		b := breachOut{Gauge: v.Gauge.ID, Name: v.Gauge.Name, Since: v.Since, Taken: v.On, Value: v.Value, Unit: v.Gauge.Unit, Low: v.Gauge.Safe.Low, High: v.Gauge.Safe.High}
		if v.Gauge.Component != "" {
			b.Component = &v.Gauge.Component
		}
		out.Breaches = append(out.Breaches, b)
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
		ID: s.Chore.ID, Component: s.Component.ID, Place: s.Place.ID, Name: s.Chore.Name,
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
		line := spareOut{Spare: spare.Spare.ID, Quantity: spare.Quantity}
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
		Crossed: c.Crossed, Confirmed: c.Confirmed,
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
	if c.Reason != schedule.ReasonNone {
		out.Reason = &c.Reason
	}
	return out
}
