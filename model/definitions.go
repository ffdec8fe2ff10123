package model

import "slices"

// BookDef names the book and the units it is shown in.
type BookDef struct {
	Name        string  `json:"name"`
	Units       Units   `json:"units"`
	MinuteValue float64 `json:"minute_value,omitzero"`        // money a minute of the keeper's time is worth; 0 when not said
	Care        Care    `json:"care,omitzero" since:"2"`      // "" when not said
	RunHours    float64 `json:"run_hours,omitzero" since:"2"` // a day that the unit may run; 0 when not said
	MixDays     *int    `json:"mix_days,omitzero" since:"2"`  // that a batch needs before use; nil when not said
	Contact     string  `json:"contact,omitzero" since:"2"`   // whom a sitter calls
}

// What a book is taken to say of water where it says nothing. Our own choice.
const (
	usualRunHours = 12
	usualMixDays  = 1
)

// HoursToRun is the hours a day that the unit may run.
func (b BookDef) HoursToRun() float64 {
	if b.RunHours > 0 {
		return b.RunHours
	}
	return usualRunHours
}

// DaysToMix is the days that a batch needs before use.
func (b BookDef) DaysToMix() int {
	if b.MixDays != nil {
		return *b.MixDays
	}
	return usualMixDays
}

// Care is what a day on which something is spent weighs against a minute of work, in one word for the whole book.
type Care string

// The words for care. A book that has none is taken as usual.
const (
	CareCareful Care = "careful"
	CareUsual   Care = "usual"
	CareEasy    Care = "easy"
)

// Units are what the keeper sees and types; the book itself stores L, degC and bar.
type Units struct {
	Volume      string `json:"volume"`      // L or gal
	Temperature string `json:"temperature"` // C or F
	Pressure    string `json:"pressure"`    // bar or psi
}

// Place is where components stand.
type Place struct {
	ID      ID       `json:"id"`
	Name    string   `json:"name"`
	Minutes int      `json:"minutes"` // to get set up there
	Guess   []string `json:"guess,omitzero"`
}

// Component is a thing that is looked after.
type Component struct {
	ID            ID       `json:"id"`
	Name          string   `json:"name"`
	Place         ID       `json:"place"`
	Reach         int      `json:"reach"`                    // grade 1 (open) to 5 (help needed)
	AccessMinutes int      `json:"access_minutes"`           // before hands reach the part
	OpensWith     ID       `json:"opens_with,omitzero"`      // the component whose opening also opens this one
	InService     Date     `json:"in_service,omitzero"`      // when the present part went in
	Stage         Stage    `json:"stage,omitzero"`           // which stage of the water station it is, if any
	Rated         *Rated   `json:"rated,omitzero" since:"2"` // the label of a membrane element
	Guess         []string `json:"guess,omitzero"`           // fields nobody has confirmed yet
	Retired       Date     `json:"retired,omitzero"`
}

// guessService in the guesses of a component says that its in-service date is one. It came with version 2.
const guessService = "in_service"

// Serve puts a component into service on a date.
func (c *Component) Serve(on Date, about bool) {
	c.InService, c.Guess = on, without(c.Guess, guessService)
	if about {
		c.Guess = append(c.Guess, guessService)
	}
}

// ServiceAbout tells whether the date on which the component went into service is a guess.
func (c *Component) ServiceAbout() bool { return slices.Contains(c.Guess, guessService) }

// Rated is what the label of a membrane element promises at 25 degC.
type Rated struct {
	FlowLH      float64 `json:"flow_l_h"`
	PressureBar float64 `json:"pressure_bar"`
}

// Stage is the part a component plays in the water station.
type Stage string

// The stages, in the order the water flows.
const (
	StageSediment Stage = "sediment"
	StageCarbon   Stage = "carbon"
	StageMembrane Stage = "membrane"
	StageResin    Stage = "resin"
)

// Counter is something used up or run: litres made, batches mixed, pump hours. Counter
// and gauge are types of an open standard, SMIv2 (RFC 2578): what a counter has counted
// only grows, until it is set back; a gauge goes up and down.
type Counter struct {
	ID           ID       `json:"id"`
	Name         string   `json:"name"`
	Unit         string   `json:"unit"`
	Style        Style    `json:"style"`
	Role         string   `json:"role,omitzero"`
	DeclaredRate float64  `json:"declared_rate,omitzero"` // unit a day, 0 when not declared
	Guess        []string `json:"guess,omitzero"`
	Retired      Date     `json:"retired,omitzero"`
}

// Style says what is typed for a counter: the amount of the day, or the value of a
// running meter.
type Style string

// The styles of counter.
const (
	StyleAmount Style = "amount"
	StyleMeter  Style = "meter"
)

// The roles of counters and spares.
const (
	RoleWaterMade = "water-made"
	RoleBatches   = "batches"
	RoleSalt      = "salt"
)

// Gauge is something read, a type of SMIv2 as a counter is.
type Gauge struct {
	ID         ID       `json:"id"`
	Name       string   `json:"name"`
	Unit       string   `json:"unit"`
	Role       string   `json:"role,omitzero"`
	Component  ID       `json:"component,omitzero"`
	Instrument ID       `json:"instrument,omitzero" since:"2"` // the component that it is read with; "" when not said
	Scale      string   `json:"scale,omitzero"`                // SG reference such as 25/25, TDS factor such as 0.5
	Safe       *Range   `json:"safe,omitzero" since:"2"`       // a value outside stands above the round until one inside is read
	Guess      []string `json:"guess,omitzero"`
	Retired    Date     `json:"retired,omitzero"`
}

// Range is what a gauge should read, in its unit. A missing end is open.
type Range struct {
	Low  *float64 `json:"low,omitzero"`
	High *float64 `json:"high,omitzero"`
}

// Holds tells whether a value lies in the range, its ends included.
func (r *Range) Holds(v float64) bool {
	return (r.Low == nil || v >= *r.Low) && (r.High == nil || v <= *r.High)
}

// The roles of gauges that the program itself looks for.
const (
	RoleTDSTap           = "tds-tap"
	RoleTDSMembrane      = "tds-membrane"
	RoleTDSProduct       = "tds-product"
	RolePressureLine     = "pressure-line"
	RolePressureMembrane = "pressure-membrane"
	RoleTemperatureWater = "temperature-water"
	RoleFlowProduct      = "flow-product"
	RoleFlowWaste        = "flow-waste"
	RoleSalinity         = "salinity"
	RoleChlorineTap      = "chlorine-tap"
	RoleChlorineCarbon   = "chlorine-carbon"
)

// Spare is a consumable on the shelf.
type Spare struct {
	ID       ID       `json:"id"`
	Name     string   `json:"name"`
	Unit     string   `json:"unit"`
	LeadDays int      `json:"lead_days"`      // from ordering to having it
	Price    *float64 `json:"price,omitzero"` // of one unit
	Role     string   `json:"role,omitzero"`
	Part     string   `json:"part,omitzero" since:"2"`    // the maker's or the dealer's number of it
	Source   string   `json:"source,omitzero" since:"2"`  // where it is bought, as the keeper puts it
	Expires  Date     `json:"expires,omitzero" since:"2"` // the last day that what is on the shelf may be used, as its label says
	Guess    []string `json:"guess,omitzero"`
	Retired  Date     `json:"retired,omitzero"`
}

// Expired tells whether what is on the shelf may be used no more.
func (s Spare) Expired(on Date) bool { return !s.Expires.IsZero() && s.Expires < on }

// Kind implements Body.
func (BookDef) Kind() Kind { return KindBook }

// Kind implements Body.
func (Place) Kind() Kind { return KindPlace }

// Kind implements Body.
func (Component) Kind() Kind { return KindComponent }

// Kind implements Body.
func (Counter) Kind() Kind { return KindCounter }

// Kind implements Body.
func (Gauge) Kind() Kind { return KindGauge }

// Kind implements Body.
func (Spare) Kind() Kind { return KindSpare }
