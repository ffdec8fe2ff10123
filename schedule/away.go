package schedule

import (
	"cmp"
	"slices"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
)

// Absence is a span of days on which somebody is not there.
type Absence struct {
	From, Until model.Date // the day of leaving; the first day back
	By          string     // who, "" when that was not said
}

// absence is the one that lasts on a date or, when none does, the next to come; nil without one. One is written before
// it begins, so that its own date does not hide it as it hides other entries.
func absence(b *ledger.Book, on model.Date) *Absence {
	var out *Absence
	for _, a := range b.Aways() {
		next := Absence{a.On, a.What.Until, a.By}
		switch {
		case next.Until <= on:
		case out == nil, next.lasts(on) && !out.lasts(on), next.lasts(on) && next.Until > out.Until, !out.lasts(on) && next.From < out.From:
			out = &next
		}
	}
	return out
}

// lasts tells whether the day of leaving has passed. On that day itself there is still something to do.
func (a *Absence) lasts(on model.Date) bool { return a.From < on }

// Leaving is the absence that is ahead, the day of leaving included; nil when none is.
func (r *Round) Leaving() *Absence {
	if r.Absence == nil || r.Absence.lasts(r.On) {
		return nil
	}
	return r.Absence
}

// Gone is the absence that lasts since an earlier day; nil when none does.
func (r *Round) Gone() *Absence {
	if r.Absence == nil || !r.Absence.lasts(r.On) {
		return nil
	}
	return r.Absence
}

// lateEnough is how many days before leaving a chore is done as late as it can be, the day of leaving included.
const lateEnough = 2

// BeforeYouGo is what falls due before the return from an absence and is not for a sitter, in the order of the round.
// What was done on the day of leaving or the day before can't be done any later.
func (r *Round) BeforeYouGo(a Absence) []*Standing {
	var out []*Standing
	for i := range r.Standings {
		s := &r.Standings[i]
		if s.Chore.Sitter || !s.dueBefore(a.Until) || s.StartTick && s.Start > a.From.AddDays(-lateEnough) {
			continue
		}
		out = append(out, s)
	}
	return out
}

// dueBefore tells whether a chore falls due before a date; one that is put off, not before that ends.
func (s *Standing) dueBefore(until model.Date) bool {
	return s.HasDue && s.from() < until
}

// from is the date on which a chore is due and not put off any more.
func (s *Standing) from() model.Date {
	if s.State == StateDeferred && s.Deferred != nil {
		return max(s.Due, s.Deferred.What.Until)
	}
	return s.Due
}

// ForSitter is what a sitter does in an absence, by date and then in the order of the round: a chore when it is due, on the
// first day where that has passed, and from then on every step.
func (r *Round) ForSitter(a Absence) []Visit {
	var out []Visit
	for i := range r.Standings {
		s := &r.Standings[i]
		if !s.Chore.Sitter || !s.HasDue {
			continue
		}
		for on := max(s.from(), a.From, r.On); on < a.Until; on = on.AddDays(s.step) {
			out = append(out, Visit{on, s})
			if s.step == 0 {
				break
			}
		}
	}
	slices.SortStableFunc(out, func(x, y Visit) int { return cmp.Compare(x.On, y.On) })
	return out
}
