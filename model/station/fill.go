package station

import (
	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/model/water"
)

// Fill is what making some water takes.
type Fill struct {
	ProductL float64
	FeedL    float64 // what passes sediment and carbon meanwhile; 0 when no waste ratio is known
	Ratio    float64 // waste over product by which FeedL is counted
	Measured Derived // waste over product as last measured, when FeedL is counted by another
	Minutes  float64 // 0 when no product flow is known
	FlowLH   float64
	Taken    model.Date // when the flow was read
}

// Fill is how long litres of product take at the flow last read, and how much passes
// the prefilters meanwhile: they see the waste stream too. That is counted by the ratio which their clocks state, so that
// an amount comes to the same litres here and on the clock; by the ratio measured where no clock states one.
func (s *Station) Fill(b *ledger.Book, litres float64) Fill {
	f := Fill{ProductL: litres}
	q := s.Of(model.RoleFlowProduct)
	if q.Read() && !q.Counts && q.Before != nil {
		q.Value = *q.Before // the unit had only just started
	}
	if q.Read() && q.Value > 0 {
		f.FlowLH, f.Taken = q.Value, q.Taken
		f.Minutes = litres / q.Value * 60
	}
	ratio, stated := declaredRatio(b)
	switch {
	case stated:
		f.Measured = s.WasteRatio
	case s.WasteRatio.Known():
		ratio = s.WasteRatio.Value
	default:
		return f
	}
	if feed, err := water.FeedLitres(litres, ratio); err == nil {
		f.FeedL, f.Ratio = feed, ratio
	}
	return f
}

// declaredRatio is the waste ratio that the clocks of the prefilters were given.
func declaredRatio(b *ledger.Book) (float64, bool) {
	for _, c := range b.Chores() {
		for _, k := range c.Clocks {
			if k.FeedRatio > 0 {
				return k.FeedRatio, true
			}
		}
	}
	return 0, false
}

// Stood is how many days ago water was last made, when that is known: what crept
// through the membrane at standstill makes the first minutes read high.
func Stood(b *ledger.Book, on model.Date) (int, bool) {
	c, ok := b.CounterByRole(model.RoleWaterMade)
	if !ok {
		return 0, false
	}
	amounts := b.Tally(c.ID).UpTo(on)
	if len(amounts) == 0 {
		return 0, false
	}
	return on.Sub(amounts[len(amounts)-1].On), true
}

// Checked is when the instrument that reads salinity was last tested, by the latest
// tick of a test that names it; no date when none is known. A tick whose date is a guess
// is no check: a new book writes one for what it knows nothing of.
func Checked(b *ledger.Book, on model.Date) model.Date {
	last := model.Date(0)
	for _, c := range b.Chores() {
		if c.Work != model.WorkTest || !namesSalinity(b, c) {
			continue
		}
		for _, t := range b.TicksUpTo(c.ID, on) {
			if !t.About {
				last = max(last, t.On)
			}
		}
	}
	return last
}
