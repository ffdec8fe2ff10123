package schedule

import (
	"time"

	"brine/wrasse/model"
)

// Outlook is what the year ahead comes to.
type Outlook struct {
	Minutes int     // of work and of getting at it
	Harmful float64 // times that something is spent before it is done, where that costs or endangers, by the chances its plans take
}

// Outlook is that of the 365 days from the round's date on.
func (r *Round) Outlook() (out Outlook) {
	for _, w := range r.Year(time.Monday) {
		out.Minutes += w.Hands + w.Access
		for _, v := range w.Visits {
			c := &v.Standing.Chore
			if g := v.Standing.Governing(); g != nil && g.Kind.HasLife() && c.Consequence > 1 && !c.Fixed && (c.Work == model.WorkClean || c.Work == model.WorkRenew) {
				out.Harmful += g.Plan.Quantile
			}
		}
	}
	return out
}
