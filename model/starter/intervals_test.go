package starter

import (
	"testing"

	"brine/wrasse/model"
)

// within is what careful keepers keep to for a chore. Every figure is common practice,
// no source, unless a line says otherwise. Days are those of the stated life, from a
// common date; zero bounds mean that the chore has no such clock.
type within struct {
	days    [2]int     // calendar
	batches [2]float64 // usage of the counter of batches
	feedL   [2]float64 // usage of water made, as litres of feed through the stage
	minutes [2]int     // hands-on
}

var ranges = map[model.ID]within{
	"make-water":         {minutes: [2]int{3, 8}},
	"read-taps":          {days: [2]int{1, 7}, minutes: [2]int{2, 5}},
	"measure-flows":      {days: [2]int{28, 31}, minutes: [2]int{6, 10}},
	"read-chlorine":      {days: [2]int{28, 31}, minutes: [2]int{3, 6}},
	"feel-for-leaks":     {days: [2]int{28, 31}, minutes: [2]int{4, 8}},
	"renew-sediment":     {days: [2]int{89, 184}, feedL: [2]float64{5000, 20000}, minutes: [2]int{12, 20}},
	"renew-carbon":       {days: [2]int{89, 184}, feedL: [2]float64{9460, 12500}, minutes: [2]int{12, 20}},
	"renew-membrane":     {days: [2]int{730, 1827}, minutes: [2]int{20, 30}},
	"renew-restrictor":   {days: [2]int{730, 1096}, minutes: [2]int{8, 15}},
	"renew-resin":        {days: [2]int{28, 366}, minutes: [2]int{12, 20}},
	"renew-o-rings":      {days: [2]int{365, 366}, minutes: [2]int{10, 15}},
	"test-shut-off":      {days: [2]int{89, 92}, minutes: [2]int{5, 8}},
	"test-leak-alarm":    {days: [2]int{28, 92}, minutes: [2]int{2, 4}},
	"check-tds-meter":    {days: [2]int{89, 184}, minutes: [2]int{6, 10}},
	"wipe-reservoir":     {days: [2]int{28, 92}, minutes: [2]int{12, 20}},
	"sanitise-reservoir": {days: [2]int{180, 366}, minutes: [2]int{35, 45}},
	"renew-tubing":       {days: [2]int{1095, 1827}, minutes: [2]int{15, 30}},
	"sanitise-lines":     {days: [2]int{180, 366}, minutes: [2]int{40, 50}},
	"count-shelf":        {days: [2]int{28, 31}, minutes: [2]int{5, 10}},

	"test-batch":               {batches: [2]float64{1, 1}, minutes: [2]int{5, 8}},
	"rinse-vat":                {batches: [2]float64{1, 1}, minutes: [2]int{5, 8}},
	"clean-impeller":           {days: [2]int{89, 184}, batches: [2]float64{20, 40}, minutes: [2]int{25, 35}},
	"renew-impeller":           {days: [2]int{365, 1096}, minutes: [2]int{15, 25}},
	"descale-vat":              {days: [2]int{89, 184}, batches: [2]float64{4, 12}, minutes: [2]int{20, 30}},
	"check-vat-heater":         {days: [2]int{28, 31}, minutes: [2]int{3, 5}},
	"look-over-vat-heater":     {days: [2]int{89, 92}, minutes: [2]int{6, 10}},
	"look-over-hoses":          {days: [2]int{89, 366}, minutes: [2]int{5, 8}},
	"test-mixing-rcd":          {days: [2]int{28, 31}, minutes: [2]int{2, 4}},
	"look-over-mixing-sockets": {days: [2]int{28, 31}, minutes: [2]int{5, 8}},
	"check-salinity-meter":     {days: [2]int{28, 31}, minutes: [2]int{3, 6}},

	"wipe-cup":             {days: [2]int{2, 7}, minutes: [2]int{4, 6}},
	"change-sock":          {days: [2]int{2, 7}, minutes: [2]int{4, 6}},
	"scrape-glass":         {days: [2]int{2, 7}, minutes: [2]int{6, 10}},
	"change-water":         {days: [2]int{7, 31}, minutes: [2]int{30, 45}},
	"read-alkalinity":      {days: [2]int{2, 7}, minutes: [2]int{5, 10}},
	"read-nutrients":       {days: [2]int{7, 14}, minutes: [2]int{20, 30}},
	"compare-thermometers": {days: [2]int{7, 31}, minutes: [2]int{2, 4}},
	"trip-top-up":          {days: [2]int{28, 31}, minutes: [2]int{4, 8}},
	"clear-overflow":       {days: [2]int{28, 31}, minutes: [2]int{5, 8}},
	"look-over-stand":      {days: [2]int{89, 366}, minutes: [2]int{8, 12}},
	"wipe-lights":          {days: [2]int{28, 92}, minutes: [2]int{8, 12}},
	"test-rcd-restart":     {days: [2]int{28, 31}, minutes: [2]int{8, 10}},
	"look-over-plugs":      {days: [2]int{28, 31}, minutes: [2]int{6, 10}},
	"clean-wave-pumps":     {days: [2]int{59, 123}, minutes: [2]int{25, 35}},
	"clean-return-pump":    {days: [2]int{89, 184}, minutes: [2]int{35, 45}},
	"strip-skimmer":        {days: [2]int{89, 184}, minutes: [2]int{40, 50}},
	"siphon-sump":          {days: [2]int{28, 184}, minutes: [2]int{20, 30}},
	"look-over-heater":     {days: [2]int{89, 92}, minutes: [2]int{6, 10}},

	"run-backup":               {days: [2]int{89, 184}, minutes: [2]int{8, 12}},
	"renew-backup-battery":     {days: [2]int{1095, 1827}, minutes: [2]int{5, 15}},
	"test-temperature-alarm":   {days: [2]int{28, 31}, minutes: [2]int{4, 8}},
	"test-floor-alarm":         {days: [2]int{28, 31}, minutes: [2]int{2, 4}},
	"fill-top-up":              {days: [2]int{2, 7}, minutes: [2]int{4, 8}},
	"wipe-top-up-vessel":       {days: [2]int{28, 92}, minutes: [2]int{5, 10}},
	"wipe-top-up-sensors":      {days: [2]int{7, 7}, minutes: [2]int{2, 5}},
	"fill-dosing-cans":         {days: [2]int{7, 42}, minutes: [2]int{6, 10}},
	"measure-doses":            {days: [2]int{28, 184}, minutes: [2]int{5, 8}},
	"renew-dosing-tubes":       {days: [2]int{180, 550}, minutes: [2]int{10, 15}},
	"look-over-booster":        {days: [2]int{89, 92}, minutes: [2]int{8, 12}},
	"renew-booster-head":       {days: [2]int{1095, 1827}, minutes: [2]int{15, 30}},
	"rotate-beds":              {days: [2]int{28, 366}, minutes: [2]int{15, 25}},
	"flush-membrane":           {days: [2]int{7, 7}, minutes: [2]int{1, 5}},
	"renew-heater":             {days: [2]int{730, 1461}, minutes: [2]int{10, 20}},
	"clean-chiller":            {days: [2]int{28, 92}, minutes: [2]int{15, 25}},
	"test-gas-alarm":           {days: [2]int{28, 31}, minutes: [2]int{1, 3}},
	"renew-lamps":              {days: [2]int{270, 457}, minutes: [2]int{10, 20}}, // T5 9 to 15 months of use, halide 9 to 12
	"look-over-unions":         {days: [2]int{89, 92}, minutes: [2]int{6, 10}},
	"calibrate-ph-probe":       {days: [2]int{28, 92}, minutes: [2]int{6, 10}},
	"calibrate-salinity-probe": {days: [2]int{28, 92}, minutes: [2]int{6, 10}},
	"renew-ph-probe":           {days: [2]int{365, 731}, minutes: [2]int{4, 8}},
	"clean-kalk":               {days: [2]int{14, 28}, minutes: [2]int{10, 20}},
	"look-over-reactor":        {days: [2]int{7, 7}, minutes: [2]int{6, 10}},
	"renew-reactor-media":      {days: [2]int{180, 550}, minutes: [2]int{20, 40}},
	"test-ozone":               {days: [2]int{28, 31}, minutes: [2]int{8, 12}},
	"renew-ozone-carbon":       {days: [2]int{28, 92}, minutes: [2]int{5, 10}},
	"renew-uv-lamp":            {days: [2]int{270, 366}, minutes: [2]int{20, 40}}, // 9 to 12 months of hours
	"clean-uv-sleeve":          {days: [2]int{89, 184}, minutes: [2]int{20, 40}},
	"renew-media-carbon":       {days: [2]int{14, 28}, minutes: [2]int{8, 12}},
	"renew-media-phosphate":    {days: [2]int{28, 56}, minutes: [2]int{10, 20}},
	"look-over-feeder":         {days: [2]int{7, 31}, minutes: [2]int{4, 8}},
	"check-timers":             {days: [2]int{28, 31}, minutes: [2]int{2, 5}},
}

func TestIntervalsAreThoseACarefulKeeperAccepts(t *testing.T) {
	from := model.NewDate(2026, 3, 1)
	seen := map[model.ID]bool{}
	for _, c := range allChores() {
		seen[c.ID] = true
		r, ok := ranges[c.ID]
		if !ok {
			t.Errorf("%s: no range to hold it to", c.ID)
			continue
		}
		if c.Minutes < r.minutes[0] || c.Minutes > r.minutes[1] {
			t.Errorf("%s: %d min, want %v", c.ID, c.Minutes, r.minutes)
		}
		got := within{}
		for _, k := range c.Clocks {
			switch {
			case k.Kind == model.ClockCalendar:
				d := k.Every.Days(from)
				got.days = [2]int{d, d}
				if d < r.days[0] || d > r.days[1] {
					t.Errorf("%s: every %s is %d days, want %v", c.ID, k.Every, d, r.days)
				}
			case k.Kind == model.ClockUsage && k.Counter == "batches":
				got.batches = [2]float64{k.Amount, k.Amount}
				if k.Amount < r.batches[0] || k.Amount > r.batches[1] {
					t.Errorf("%s: %g batches, want %v", c.ID, k.Amount, r.batches)
				}
			case k.Kind == model.ClockUsage:
				got.feedL = [2]float64{k.Amount, k.Amount}
				if k.FeedRatio <= 0 {
					t.Errorf("%s passes the waste stream and has no feed ratio", c.ID)
				}
				if k.Amount < r.feedL[0] || k.Amount > r.feedL[1] {
					t.Errorf("%s: %g L of feed, want %v", c.ID, k.Amount, r.feedL)
				}
			}
		}
		if (got.days[0] > 0) != (r.days[0] > 0) || (got.batches[0] > 0) != (r.batches[0] > 0) || (got.feedL[0] > 0) != (r.feedL[0] > 0) {
			t.Errorf("%s: clocks %+v, want those of %+v", c.ID, got, r)
		}
	}
	for id := range ranges {
		if !seen[id] {
			t.Errorf("%s is in no set", id)
		}
	}
}

func clock(t *testing.T, chore model.ID, pick func(model.Clock) bool) model.Clock {
	t.Helper()
	for _, c := range allChores() {
		if c.ID != chore {
			continue
		}
		for _, k := range c.Clocks {
			if pick(k) {
				return k
			}
		}
	}
	t.Fatalf("%s has no such clock", chore)
	return model.Clock{}
}

func TestReadingsThatCallForWork(t *testing.T) {
	cases := []struct {
		chore, gauge model.ID
		bad          model.Side
		low, high    float64
	}{
		// 5 to 8 psi (0.35 to 0.55 bar) over the prefilters while running; common practice, no source.
		{"renew-sediment", model.PrefilterDrop, model.SideAbove, 0.35, 0.55},
		// Act at 0.1 mg/L total chlorine after the carbon, so the threshold lies below it; dialysis
		// practice (ANSI/AAMI/ISO 23500 series, from memory) holds total chlorine to 0.1 mg/L.
		{"renew-carbon", "chlorine-carbon", model.SideAbove, 0.01, 0.099},
		// A floor of 95 to 96 % rejection ahead of resin; common practice, no source.
		{"renew-membrane", model.Rejection, model.SideBelow, 95, 96},
		// Clean or renew at 10 to 15 % less normalised flow: membrane makers' manuals, from memory.
		{"renew-membrane", model.NormalisedFlow, model.SideBelow, 85, 90},
		// Change at a product of 1 to 2 ppm; common practice, no source.
		{"renew-resin", "tds-product", model.SideAbove, 1, 2},
		// Half of a 4:1 baseline means a clogged restrictor; common practice, no source.
		{"renew-restrictor", model.WasteRatio, model.SideBelow, 1.5, 2.5},
	}
	for _, c := range cases {
		k := clock(t, c.chore, func(k model.Clock) bool { return k.Kind == model.ClockReading && k.Gauge == c.gauge })
		if k.Bad != c.bad || k.Limit < c.low || k.Limit > c.high {
			t.Errorf("%s: %s bad %s %g, want bad %s %g to %g", c.chore, c.gauge, k.Bad, k.Limit, c.bad, c.low, c.high)
		}
	}
}

// A carbon block printed with 10,000 US gal at 2 mg/L of chlorine, the challenge of
// NSF/ANSI 42 (from memory), takes up 75.7 g; a quarter to a third of that protects a
// membrane (common practice, no source). At 2 mg/L its two clocks must agree.
func TestCarbonLoadIsAQuarterToAThirdOfThePrintedRating(t *testing.T) {
	const printed = 10000 * 3.785412 * 2 / 1000 // g
	load := clock(t, "renew-carbon", func(k model.Clock) bool { return k.Kind == model.ClockLoad })
	if load.Amount < 0.25*printed || load.Amount > 0.33*printed {
		t.Errorf("%g g, want %.1f to %.1f", load.Amount, 0.25*printed, 0.33*printed)
	}
	litres := clock(t, "renew-carbon", func(k model.Clock) bool { return k.Kind == model.ClockUsage })
	if got := litres.Amount * 2 / 1000; got > load.Amount*1.02 || got < load.Amount*0.98 {
		t.Errorf("%g L at 2 mg/L carry %.1f g, and the load clock says %g", litres.Amount, got, load.Amount)
	}
	if load.FeedRatio != litres.FeedRatio {
		t.Errorf("feed ratios %g and %g differ", load.FeedRatio, litres.FeedRatio)
	}
}

// 0.6 L of mixed bed at 0.55 eq/L takes up 0.330 eq, of which 0.85 to 0.9 is used before it leaks (common practice,
// no source).
func TestResinBedByItsLitres(t *testing.T) {
	k := clock(t, "renew-resin", func(k model.Clock) bool { return k.Kind == model.ClockLoad })
	if low, high := 0.85*330, 0.95*330; !k.Meq || k.Amount < low || k.Amount > high {
		t.Errorf("%g, want %.0f to %.0f meq", k.Amount, low, high)
	}
	if k.Inlet != "tds-membrane" || k.Outlet != "tds-product" || k.FeedRatio != 0 {
		t.Errorf("resin sees product only, after the membrane: %+v", k)
	}
}

// Waiting times: 30 minutes at least to waste after a new membrane (membrane makers'
// start-up sheets, from memory), 30 min to 2 h of chlorine contact (after AWWA C652,
// from memory), 10 to 15 min for a heater to cool, 30 to 60 min in 5 % citric acid, 5 min
// of running before a reading, 5 to 15 min until no more fines come from a new carbon
// block, an hour for a batch to mix (common practice, no source). New resin is rinsed with
// 2 to 10 bed volumes, 1.2 to 6 L of 0.6 L, which a unit of 12 L/h makes in 6 to 30 min
// (common practice, no source).
func TestTimersRunLongEnough(t *testing.T) {
	cases := []struct {
		chore     model.ID
		low, high int
	}{
		{"renew-membrane", 30, 60},
		{"sanitise-reservoir", 30, 120},
		{"look-over-heater", 10, 15},
		{"look-over-vat-heater", 10, 15},
		{"read-taps", 5, 15},
		{"read-chlorine", 5, 15},
		{"renew-carbon", 5, 15},
		{"renew-resin", 6, 30},
		{"test-batch", 60, 60},
		{"clean-impeller", 35, 65},
		{"clean-wave-pumps", 30, 60},
		{"clean-return-pump", 35, 65},
		{"strip-skimmer", 30, 60},
		{"descale-vat", 30, 60},
	}
	for _, k := range cases {
		found := false
		for _, c := range allChores() {
			if c.ID != k.chore {
				continue
			}
			found = true
			if w := c.WaitingMinutes(); w < k.low || w > k.high {
				t.Errorf("%s waits %d min, want %d to %d", c.ID, w, k.low, k.high)
			}
		}
		if !found {
			t.Errorf("%s is in no set", k.chore)
		}
	}
}
