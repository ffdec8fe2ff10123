package model

// Chore is recurring work on a component.
type Chore struct {
	ID          ID         `json:"id"`
	Component   ID         `json:"component"`
	Name        string     `json:"name"`
	Work        Work       `json:"work"`
	Minutes     int        `json:"minutes"`     // hands-on
	Consequence int        `json:"consequence"` // 1 looks bad, 2 costs money or water, 3 endangers animals or people
	Hidden      bool       `json:"hidden,omitzero"`
	Fixed       bool       `json:"fixed,omitzero"` // the log never moves its dates
	DoneBy      []ID       `json:"done_by,omitzero"`
	Cost        *Cost      `json:"cost,omitzero"`
	Clocks      []Clock    `json:"clocks"`
	Spares      []SpareUse `json:"spares"`
	Takes       []Take     `json:"takes,omitempty" since:"2"` // what a tick draws
	Steps       []Step     `json:"steps"`
	Hazards     []Hazard   `json:"hazards"`
	Cautions    []string   `json:"cautions"`
	Then        []Call     `json:"then,omitempty" since:"2"`  // what a tick calls for
	Sitter      bool       `json:"sitter,omitzero" since:"2"` // somebody who has never kept a tank can do it
	Guess       []string   `json:"guess,omitzero"`
	Retired     Date       `json:"retired,omitzero"`
}

// Call is a follow-up: a tick of the chore that holds it calls for another chore within a span.
type Call struct {
	Chore ID   `json:"chore"`
	After Span `json:"after"`
}

// Work is what kind of work a chore is. It decides the as-found words and whether
// the log can teach its life.
type Work string

// The kinds of work.
const (
	WorkClean Work = "clean"
	WorkRenew Work = "renew"
	WorkTest  Work = "test"
	WorkRead  Work = "read"
)

// Cost is what a chore costs when planned and when it comes too late.
type Cost struct {
	Planned float64 `json:"planned"`
	Failure float64 `json:"failure"`
}

// SpareUse is what one tick of a chore takes off the shelf.
type SpareUse struct {
	Spare    ID      `json:"spare"`
	Quantity float64 `json:"quantity"`
}

// Step is one line of a chore's checklist, with a timer where it must wait.
type Step struct {
	Text         string `json:"text"`
	TimerMinutes int    `json:"timer_minutes,omitzero"`
}

// Hazard is a danger a chore brings with it.
type Hazard string

// The hazards a chore may name.
const (
	HazardMains     Hazard = "mains"
	HazardAcid      Hazard = "acid"
	HazardCaustic   Hazard = "caustic"
	HazardChlorine  Hazard = "chlorine"
	HazardPressure  Hazard = "pressure"
	HazardLift      Hazard = "lift"
	HazardGlass     Hazard = "glass"
	HazardCO2       Hazard = "co2"
	HazardOzone     Hazard = "ozone"
	HazardUV        Hazard = "uv"
	HazardPalytoxin Hazard = "palytoxin"
)

// WaitingMinutes is the time a chore's steps spend waiting on timers.
func (c Chore) WaitingMinutes() int {
	sum := 0
	for _, s := range c.Steps {
		sum += s.TimerMinutes
	}
	return sum
}

// Kind implements Body.
func (Chore) Kind() Kind { return KindChore }

// Learner is the index of the clock that a chore's ticks teach: its first usage or load clock, else its first calendar
// clock; -1 when there is none.
func (c *Chore) Learner() int {
	calendar := -1
	for i := range c.Clocks {
		switch c.Clocks[i].Kind {
		case ClockUsage, ClockLoad:
			return i
		case ClockCalendar:
			if calendar < 0 {
				calendar = i
			}
		}
	}
	return calendar
}

// Learns tells whether the ticks of a chore move its dates.
func (c *Chore) Learns() bool {
	return !c.Fixed && c.Work != WorkTest && c.Work != WorkRead && c.Learner() >= 0
}
