package water

// Readings older than these many days say nothing about today: what is read at a fill, and what is timed or tested
// about once a month. Readings that are weighed together lie at most sameDays apart. Common practice, no source.
const (
	staleDays       = 30
	staleSlowDays   = 60
	staleSupplyDays = 400 // what a supplier reports once a year
	sameDays        = 7
)

// A gaugeKind is what Diagnose knows of one gauge: how it is called, what it may show, when it is stale.
type gaugeKind struct {
	name   string
	unit   string
	lo, hi float64
	stale  int
	of     func(*Readings) **Reading

	derived bool // worked out from others, which are named when they are old
}

var gauges = []gaugeKind{
	{"tap", "ppm", 0, maxTDS, staleDays, func(r *Readings) **Reading { return &r.TapTDS }, false},
	{"after membrane", "ppm", 0, maxTDS, staleDays, func(r *Readings) **Reading { return &r.MembraneTDS }, false},
	{"after resin", "ppm", 0, maxTDS, staleDays, func(r *Readings) **Reading { return &r.ProductTDS }, false},
	{"waste", "ppm", 0, maxTDS, staleSlowDays, func(r *Readings) **Reading { return &r.WasteTDS }, false},
	{"reservoir", "ppm", 0, maxTDS, staleDays, func(r *Readings) **Reading { return &r.ReservoirTDS }, false},
	{"line pressure", "bar", 0, maxPressure, staleDays, func(r *Readings) **Reading { return &r.LinePressure }, false},
	{"membrane pressure", "bar", 0, maxPressure, staleDays, func(r *Readings) **Reading { return &r.MembranePressure }, false},
	{"water temperature", "°C", 0, 45, staleDays, func(r *Readings) **Reading { return &r.WaterTemperature }, false},
	{"product flow", "L/h", 0, maxFlow, staleSlowDays, func(r *Readings) **Reading { return &r.ProductFlow }, false},
	{"waste flow", "L/h", 0, maxFlow, staleSlowDays, func(r *Readings) **Reading { return &r.WasteFlow }, false},
	{"normalised flow", "%", 0, 1000, staleSlowDays, func(r *Readings) **Reading { return &r.NormalisedFlow }, false},
	{"chlorine at the tap", "mg/L", 0, 10, staleSlowDays, func(r *Readings) **Reading { return &r.ChlorineTap }, false},
	{"chlorine after the carbon", "mg/L", 0, 10, staleSlowDays, func(r *Readings) **Reading { return &r.ChlorineCarbon }, false},
	{"product pH", "", 0, 14, staleDays, func(r *Readings) **Reading { return &r.ProductPH }, false},
	{"tap pH", "", 0, 14, staleSupplyDays, func(r *Readings) **Reading { return &r.TapPH }, false},
	{"tap alkalinity", "mg/L", 0, 1000, staleSupplyDays, func(r *Readings) **Reading { return &r.TapAlkalinity }, false},
	{"pressure over the prefilters", "bar", -maxPressure, maxPressure, staleDays, func(r *Readings) **Reading { return &r.Drop }, true},
	{"waste ratio", "", 0, maxRatio, staleSlowDays, func(r *Readings) **Reading { return &r.Ratio }, true},
}

// check refuses what no instrument shows.
func (r *Readings) check() error {
	if err := within("meter resolution", r.MeterPPM, 0, 10, "ppm"); err != nil {
		return err
	}
	for _, g := range gauges {
		if err := g.check(*g.of(r)); err != nil {
			return err
		}
	}
	return nil
}

func (g gaugeKind) check(r *Reading) error {
	if r == nil {
		return nil
	}
	err := first(within(g.name, r.Value, g.lo, g.hi, g.unit), within("age of "+g.name, float64(r.AgeDays), 0, 1e6, "d"))
	if err == nil && r.Baseline != nil {
		err = within("baseline of "+g.name, *r.Baseline, g.lo, g.hi, g.unit)
	}
	if err == nil && r.Previous != nil {
		err = within("reading before of "+g.name, *r.Previous, g.lo, g.hi, g.unit)
	}
	if err == nil && r.MinutesRunning != nil {
		err = within("minutes running before "+g.name, *r.MinutesRunning, 0, 1e5, "min")
	}
	return err
}
