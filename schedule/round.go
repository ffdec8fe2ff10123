package schedule

import (
	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
)

// State is where a chore stands on a date.
type State string

// The states, in the order of the round.
const (
	StateLate     State = "late"     // its due date has passed
	StateDue      State = "due"      // due on the date itself
	StateSoon     State = "soon"     // due within 7 days
	StateDeferred State = "deferred" // put off until a later date
	StateAhead    State = "ahead"    // due later
	StateIdle     State = "idle"     // no clock has a date
)

// Round is what a book says on a date, in the order in which to look at it: late, due, soon, deferred, ahead, idle;
// within each by risk. It is a snapshot: nothing in it is changed once it is made, and nothing may be written to it.
type Round struct {
	On        model.Date
	Book      string // the book's name
	Standings []Standing
	Faults    []OpenFault // oldest first
	Breaches  []Breach    // readings outside their safe range, oldest first
	Counts    Counts
	Absence   *Absence // that lasts, or the next to come; nil without one

	at    map[model.ID]int // of each chore, the index of its standing
	sight *sight
}

// Of is where a chore stands, nil when it takes no part in the round.
func (r *Round) Of(chore model.ID) *Standing {
	if i, ok := r.at[chore]; ok {
		return &r.Standings[i]
	}
	return nil
}

// Counts are how many chores stand how, for the title strip and the exit code.
type Counts struct {
	Late, Due, Soon, Deferred, Ahead, Idle int
	PastLimit                              int // past their limit and not put off
	PastLimitHarm                          int // of consequence 2 or 3 past their limit, put off or not
}

// OpenFault is a component broken now.
type OpenFault struct {
	Component model.Component
	Since     model.Date
	Note      string
	Seq       model.Seq
}

// Standing is one chore of the round with everything its dates rest on.
type Standing struct {
	Chore     model.Chore
	Component model.Component
	Place     model.Place

	State     State
	PastLimit bool // the limit has passed; a word in the row, not a rank

	LastTick   model.Date  // latest tick, no date when there is none
	LastFound  model.Found // what it found, "" when that was not said
	Start      model.Date  // start of the present cycle
	StartAbout bool        // the start is a guess
	StartTick  bool        // the start is a tick, else the component's going into service

	Planned  model.Date // do it by; no date when idle
	Limit    model.Date // more likely spent than not; may be no date
	Due      model.Date // planned, brought forward by the lead; no date when idle
	HasDue   bool
	DaysLate int // on - due: negative while ahead, 0 when idle (see HasDue)

	Governs  int // index into Clocks of the clock that decides, -1 when none has a date
	Lead     Lead
	LeadDays int // planned - due, at least 0

	Chance float64 // of failing, or of being found failed, within 7 days
	Risk   float64 // Chance times 1, 3 or 10 for consequence 1, 2 or 3

	Clocks   []ClockStanding              // in the chore's order; behind them the call that holds for it, if one does
	Deferred *ledger.Logged[model.PutOff] // the latest put-off since the start that still holds, else nil
	Spares   []SpareStanding

	step int // days from tick to tick, 0 where no clock tells
}

// Governing is the clock that decides the chore's dates, nil when none has a date.
func (s *Standing) Governing() *ClockStanding {
	if s.Governs < 0 {
		return nil
	}
	return &s.Clocks[s.Governs]
}

// Lead is how far jobs on the component are taken to slip past their planned dates.
type Lead struct {
	Grade int     // reach grade of the component
	Slip  float64 // as a fraction of the planned interval
	Ticks int     // ticks of the grade that the slip rests on
}

// LeadHeld says what kept a lead below the slip it answers.
type LeadHeld string

// What may hold a lead.
const (
	HeldNot     LeadHeld = ""
	HeldQuarter LeadHeld = "quarter" // of the planned interval, the most that is taken off
	HeldDays    LeadHeld = "days"    // 28 of them
)

// SpareStanding is a spare that a tick of the chore uses, with what the shelf holds.
type SpareStanding struct {
	Spare    model.Spare
	Quantity float64
	OnHand   float64 // may be negative: count it
	Counted  bool    // somebody has said how much there is
	Expired  bool    // what there is may be used no more
}

// ClockStanding is one clock of a chore, with the facts behind its dates.
type ClockStanding struct {
	Clock model.Clock
	Kind  model.ClockKind

	Planned  model.Date // no date when the clock gives none; Reason says why
	Limit    model.Date
	Due      model.Date // planned, brought forward by the lead; the day after the start at the earliest, but of a crossing
	LeadDays int        // taken off the planned date
	LeadHeld LeadHeld
	Reason   Reason // why there is no planned date, or, of a reading clock with one, no limit date

	// Of calendar, usage and load clocks.
	Used    float64 // in the present cycle by its last entry, in Unit
	Age     float64 // Used, and since then at the present rate
	Life    float64 // the life as declared, in Unit
	Rate    float64 // Unit a day; 1 for calendar, 0 when there is none
	HasRate bool
	Unit    string // "d", the counter's unit, "g" or "meq"
	Stated  string // the life as given: "6mo", "40", "7"
	Plan    Plan
	Price   Price   // what the chance taken rests on
	Shape   float64 // of the life distribution
	Median  float64 // of the life distribution, in Unit

	// Of usage and load clocks: what was counted on without an entry.
	Before   Before    // of a cycle that began before its counter's record
	Silences []Silence // of the present cycle, the last of them may last
	TapOnly  bool      // of a load in meq, the water that comes in was never read: a share of the tap's is reckoned with
	Unlogged bool      // the counter has no entry at all: a date is reckoned at the declared rate alone

	Learns       bool // this is the clock that the chore's ticks teach
	Observations int  // cycles that taught something
	Evidence     Evidence

	// Of reading clocks. Unit is the gauge's.
	Crossed   bool       // the latest reading is beyond the threshold
	Confirmed bool       // two or more readings in a row are
	Since     model.Date // date of the first of them
	Recent    []Point    // the readings of the present cycle, newest last
	Trend     *Trend     // the line, when there are readings enough
	Drift     *Drift     // a drift toward the threshold, when there is one
	Baseline  model.Date // of normalised flow: date of the set that counts as 100 %
	OnHand    *OnHand    // of a level clock: the water in its vessel; nil when that is not in use
	FirstEver bool       // of normalised flow: no renewal is known, the baseline is the first set ever

	Call *Call // of a call, which stands beside the clocks and watches no gauge; else nil

	clock clock
}

// HasPlanned tells whether the clock gives a date.
func (c *ClockStanding) HasPlanned() bool { return !c.Planned.IsZero() }

// limitAge is the age by which it is more likely spent than not, but never below the planned one.
func (c *ClockStanding) limitAge() float64 { return max(c.Median, c.Plan.Age) }

// Plan is the planned age and what decided it.
type Plan struct {
	Age      float64 // planned age, in the clock's unit
	Quantile float64 // the chance taken of being spent by then
	By       PlanBy
	Log      float64 // what the log alone would plan, in the clock's unit; equals Age unless the rule is shorter
}

// OneIn is the chance taken as one in so many.
func (p Plan) OneIn() int { return max(2, round(1/p.Quantile)) }

// PlanBy says what decided a planned age.
type PlanBy string

// What may decide a planned age.
const (
	PlanRule   PlanBy = "rule"   // the declared `every` life itself
	PlanLife   PlanBy = "life"   // the quantile of the life, as declared or learnt
	PlanGuess  PlanBy = "guess"  // 0.7 of a life as declared: nothing is thrown away young on a guess
	PlanCost   PlanBy = "cost"   // the age of least cost
	PlanMedian PlanBy = "median" // the age of least cost lies beyond the median, which caps it
	PlanGuard  PlanBy = "guard"  // the age at which the latest was found failed, beyond which none is left
	PlanWorse  PlanBy = "worse"  // what a worse word for the latest would have planned
	PlanBefore PlanBy = "before" // what stood before the latest good ones
)

// Evidence is what a learnt life rests on: the closed cycles, by what they taught.
type Evidence struct {
	Cycles    int   // closed cycles, whether or not they taught
	Good      int   // found clean or light, or so by a reading: still good at their age
	Heavy     int   // found heavy
	Failed    int   // found failed, at some unknown age before
	FailedAt  int   // seen to cross a reading's threshold: failed at a known age
	Untaught  int   // left out: nothing recorded, a guessed date, cut by new service, no age, hardly logged
	FailAges  []Age // of Failed and FailedAt, the newest 16, newest last
	Overruled int   // of Good: found heavy or failed, against a good reading
	Latest    Overruled
}

// Overruled is a finding that a reading, taken within a week before, overrode.
type Overruled struct {
	On    model.Date // the tick
	Found model.Found
	Gauge model.ID
	Read  model.Date
	Value float64
}

// Age is the age at which a cycle closed or failed.
type Age struct {
	On    model.Date
	Value float64 // in the clock's unit
	Exact bool    // known to the day, else somewhere before
}

// Point is a reading, or a value of a derived gauge.
type Point struct {
	On    model.Date
	Value float64
	Shown bool // shown only: taken too soon after standstill, it counts nowhere
}

// Reason says why a clock gives no date.
type Reason string

// The reasons.
const (
	ReasonNone       Reason = ""
	ReasonNoRate     Reason = "no rate"          // the counter has no rate yet
	ReasonStill      Reason = "not used"         // the rate is 0
	ReasonFar        Reason = "too far"          // beyond what can be forecast
	ReasonNoInlet    Reason = "no inlet reading" // a load clock without a concentration
	ReasonNoReadings Reason = "no readings"      // in this cycle
	ReasonTooFew     Reason = "too few readings" // fewer than 5 dates, or less than 14 days
	ReasonNoTrend    Reason = "no trend"         // p above 0.10
	ReasonAway       Reason = "moving away"      // the trend leads away from the threshold
	ReasonNotCounted Reason = "not counted"      // the level of a vessel never was
	ReasonEnough     Reason = "enough"           // a vessel holds water for four weeks
	ReasonReadAgain  Reason = "read again"       // one reading beyond the threshold: no limit date
)

// Trend is the straight line through a cycle's readings.
type Trend struct {
	Slope   float64 // unit a day, median of the pairwise slopes
	Steep   float64 // unit a day, the end of the 95 % interval that is steeper toward the threshold
	P       float64 // two-sided, Mann-Kendall
	Dates   int
	From    model.Date
	Through model.Date
}

// Drift is a gauge that has left the range of its first readings.
type Drift struct {
	Since model.Date // first reading of the run outside that lasts to the latest reading
	Up    bool       // it reads higher than it did
	Mean  float64    // of the first eight readings
	Value float64    // the moving average now
}
