package schedule

import (
	"cmp"
	"slices"

	"brine/wrasse/model"
)

// whileDays is how far ahead a chore may be due and still be suggested.
const whileDays = 45

// Suggestion is a chore that is not on the list but worth doing while one is there.
type Suggestion struct {
	Standing   *Standing
	Saved      int     // minutes of getting at it that the list pays already
	Wasted     float64 // minutes' worth of the life thrown away by doing it early
	SameAccess bool    // its access group is opened by the list
	SamePlace  bool
}

// Today is the list of what is late or due, in the order of the round.
func (r *Round) Today() []*Standing {
	var out []*Standing
	for i := range r.Standings {
		if s := &r.Standings[i]; s.State == StateLate || s.State == StateDue {
			out = append(out, s)
		}
	}
	return out
}

// WhileThere suggests chores due within 45 days that the list (Today, or a time box's choice) brings one near enough
// to: doing them now saves more minutes of getting at them than it wastes of their life and of their spares. Best
// first. What was put off is not suggested.
func (r *Round) WhileThere(list []*Standing) []Suggestion {
	on := map[*Standing]bool{}
	groups, places := map[model.ID]bool{}, map[model.ID]bool{}
	for _, s := range list {
		on[s] = true
		groups[r.sight.leaders[s.Component.ID].ID] = true
		places[s.Place.ID] = true
	}
	var out []Suggestion
	for i := range r.Standings {
		s := &r.Standings[i]
		if on[s] || !s.HasDue || s.State == StateDeferred || s.Due > r.On+whileDays {
			continue
		}
		leader := r.sight.leaders[s.Component.ID]
		g := Suggestion{Standing: s, SameAccess: groups[leader.ID], SamePlace: places[s.Place.ID]}
		if g.SameAccess {
			g.Saved += leader.AccessMinutes
		}
		if g.SamePlace {
			g.Saved += s.Place.Minutes
		}
		g.Wasted = r.wasted(s)
		if above(float64(g.Saved), g.Wasted) {
			out = append(out, g)
		}
	}
	slices.SortStableFunc(out, func(a, b Suggestion) int {
		return cmp.Compare(float64(b.Saved)-b.Wasted, float64(a.Saved)-a.Wasted)
	})
	return out
}

// wasted is what doing a chore now throws away, in minutes: of its work and its spares, the share of the cycle that
// is still to come; nothing once it is due.
func (r *Round) wasted(s *Standing) float64 {
	left, cycle := s.Due.Sub(r.On), s.Due.Sub(s.Start)
	if left <= 0 || cycle <= 0 {
		return 0
	}
	worth := float64(s.Chore.Minutes)
	if value := r.sight.book.Def().MinuteValue; value > 0 {
		worth += r.sight.spareCost(&s.Chore) / value
	}
	return float64(left) / float64(cycle) * worth
}

// spareCost is what the spares of one tick of a chore cost, in the book's money.
func (v *sight) spareCost(c *model.Chore) float64 {
	sum := 0.0
	for _, use := range c.Spares {
		if spare, _ := v.book.Spare(use.Spare); spare.Price != nil {
			sum += float64(*spare.Price * use.Quantity)
		}
	}
	return sum
}
