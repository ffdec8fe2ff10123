package ledger

import (
	"slices"
	"sort"

	"brine/wrasse/model"
	"brine/wrasse/model/water"
)

// settlingDays is how long after its renewal a membrane's flow is not yet taken as its own.
const settlingDays = 2

// flowReadings are what the normalised product flow is computed from.
type flowReadings struct{ product, waste, line, membrane, warmth, tap Samples }

// flowSet is a complete set of readings of one date.
type flowSet struct {
	model.Mark
	water.FlowSet
}

// flowHistory is the normalised product flow over time, in percent of the baseline of the membrane of the time.
type flowHistory struct {
	percent  []Sample
	baseline model.Date // of the latest membrane; none when it has no complete set yet
	ever     bool       // no renewal is known before the latest set: its baseline is the first set ever
}

// sets are the complete ones: product flow, pressure at the membrane (else in the line), temperature and tap of a
// date. Each counts as taken with its latest reading.
func (r flowReadings) sets() []flowSet {
	var out []flowSet
	for _, q := range r.product {
		p, ok := r.membrane.On(q.On)
		if !ok {
			p, ok = r.line.On(q.On)
		}
		t, warm := r.warmth.On(q.On)
		c, tapped := r.tap.On(q.On)
		if !ok || !warm || !tapped {
			continue
		}
		set := flowSet{
			model.Mark{On: q.On, Seq: max(q.Seq, p.Seq, t.Seq, c.Seq)},
			water.FlowSet{ProductLH: q.Value, PressureBar: p.Value, WaterC: t.Value, TapPPM: c.Value},
		}
		if w, ok := r.waste.On(q.On); ok {
			set.WasteLH, set.Seq = &w.Value, max(set.Seq, w.Seq)
		}
		if _, err := water.NormalisedFlowPercent(set.FlowSet, set.FlowSet); err == nil {
			out = append(out, set)
		}
	}
	return out
}

// newFlowHistory measures each set against the first one at least 2 days after the renewal that came before it;
// sets from before any renewal, against the first set ever.
func newFlowHistory(readings flowReadings, renewals []renewal) flowHistory {
	sets := readings.sets()
	var h flowHistory
	for era := 0; era <= len(renewals); era++ {
		first, last := 0, len(sets)
		if era > 0 {
			first = firstAfter(sets, renewals[era-1].Mark)
		}
		if era < len(renewals) {
			last = firstAfter(sets, renewals[era].Mark)
		}
		of := sets[first:max(first, last)]
		base := 0
		if era > 0 {
			base = slices.IndexFunc(of, func(s flowSet) bool { return s.On >= renewals[era-1].settled })
		}
		h.baseline, h.ever = 0, era == 0
		if base < 0 || len(of) == 0 {
			continue
		}
		h.baseline = of[base].On
		for _, s := range of {
			if v, err := water.NormalisedFlowPercent(s.FlowSet, of[base].FlowSet); err == nil {
				h.percent = append(h.percent, Sample{s.Mark, v})
			}
		}
	}
	return h
}

func firstAfter(sets []flowSet, m model.Mark) int {
	return sort.Search(len(sets), func(i int) bool { return m.Before(sets[i].Mark) })
}

// renewal is a place after which a membrane's flow has another normal value, and the date from which on a set of flows is
// taken for it.
type renewal struct {
	model.Mark
	settled model.Date
}

// membraneRenewals are the ticks of renew chores on components of stage membrane, and the words that such a component is
// normal, in order of time: each gives its flow a new normal value.
func (b *Book) membraneRenewals(on model.Date) []renewal {
	var out []renewal
	for _, id := range b.chores.order {
		c := b.chores.byID[id]
		if c.Work != model.WorkRenew || b.components.byID[c.Component].Stage != model.StageMembrane {
			continue
		}
		for _, t := range b.TicksUpTo(id, on) {
			out = append(out, renewal{t.Mark(), t.On + settlingDays})
		}
	}
	for id, said := range b.normals {
		if b.components.byID[id].Stage != model.StageMembrane {
			continue
		}
		for _, n := range said.all() {
			if n.On <= on {
				out = append(out, renewal{n.Mark(), n.On})
			}
		}
	}
	slices.SortFunc(out, func(a, b renewal) int { return a.Compare(b.Mark) })
	return out
}

// FlowBaseline is the date of the set of readings that counts as 100 % of normalised flow now, and whether that is the
// first set ever because no renewal of the membrane is known; ok is false when there is none yet.
func (s *Series) FlowBaseline() (date model.Date, firstEver, ok bool) {
	flow := s.flow()
	return flow.baseline, flow.ever, !flow.baseline.IsZero()
}
