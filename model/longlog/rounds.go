package longlog

import (
	"container/heap"

	"brine/wrasse/model"
)

// rounds says which chore comes next: each in its own time, those with the shortest
// most often. How long a day of this time is depends on how fast it is taken.
type rounds []turn

// turn is when a chore is next.
type turn struct {
	due   float64
	chore model.ID
	every float64 // days
	last  model.Date
}

func (r *rounds) add(chore model.ID, due, every float64) {
	heap.Push(r, turn{due: due, chore: chore, every: every})
}

// next takes the chore whose turn it is and puts its next turn at late times its usual
// number of days later.
func (r rounds) next(late float64, on model.Date) (was turn) {
	was = r[0]
	r[0].due += float64(was.every * late)
	r[0].last = on
	heap.Fix(&r, 0)
	return was
}

// Len implements heap.Interface.
func (r rounds) Len() int { return len(r) }

// Less implements heap.Interface.
func (r rounds) Less(i, j int) bool {
	if r[i].due != r[j].due {
		return r[i].due < r[j].due
	}
	return r[i].chore < r[j].chore
}

// Swap implements heap.Interface.
func (r rounds) Swap(i, j int) { r[i], r[j] = r[j], r[i] }

// Push implements heap.Interface.
func (r *rounds) Push(t any) { *r = append(*r, t.(turn)) }

// Pop implements heap.Interface.
func (r *rounds) Pop() any {
	last := (*r)[len(*r)-1]
	*r = (*r)[:len(*r)-1]
	return last
}
