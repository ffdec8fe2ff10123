package ledger

import (
	"sort"

	"brine/wrasse/model"
)

// upTo is the part of a list in order of time that stands before end.
func upTo[E any](list []E, mark func(*E) model.Mark, end model.Mark) []E {
	n := sort.Search(len(list), func(i int) bool { return !mark(&list[i]).Before(end) })
	return list[:n:n]
}

// within is the part of a list in order of time that stands after one place and before another.
func within[E any](list []E, mark func(*E) model.Mark, after, end model.Mark) []E {
	list = upTo(list, mark, end)
	n := sort.Search(len(list), func(i int) bool { return after.Before(mark(&list[i])) })
	return list[n:]
}

// TicksUpTo are the ticks of a chore dated not after on, in order of time. Like all parts of a list they are found in
// O(log n) and share its memory.
func (b *Book) TicksUpTo(chore model.ID, on model.Date) []TickRecord {
	return upTo(b.ticks.of(chore), markOf, model.EndOf(on))
}

// TicksWithin are the ticks of a chore after one place and before another.
func (b *Book) TicksWithin(chore model.ID, after, end model.Mark) []TickRecord {
	return within(b.ticks.of(chore), markOf, after, end)
}

// ReadingsWithin are the readings of a gauge after one place and before another, unsettled ones too.
func (b *Book) ReadingsWithin(gauge model.ID, after, end model.Mark) []Logged[model.Reading] {
	return within(b.readings.of(gauge), markOf, after, end)
}

// PutOffsWithin are the times a chore was put off, after one place and before another.
func (b *Book) PutOffsWithin(chore model.ID, after, end model.Mark) []Logged[model.PutOff] {
	return within(b.putOffs.of(chore), markOf, after, end)
}
