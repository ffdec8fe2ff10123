package round

import (
	"fmt"

	"brine/wrasse/model"
	"brine/wrasse/schedule"
)

// minutes are what a list of chores costs.
type minutes struct {
	hands   int // hands-on
	waiting int // on timers
	getting int // at it: each access group once, each place once
}

// costOf adds chores up.
func costOf(b *model.Book, list []*schedule.Standing) minutes {
	var m minutes
	opened, places := map[model.ID]bool{}, map[model.ID]bool{}
	for _, s := range list {
		m.hands += s.Chore.Minutes
		m.waiting += s.Chore.WaitingMinutes()
		group, access := s.Component.ID, s.Component.AccessMinutes
		if with := s.Component.OpensWith; with != "" {
			leader, _ := b.Component(with)
			group, access = with, leader.AccessMinutes
		}
		if !opened[group] {
			opened[group] = true
			m.getting += access
		}
		if !places[s.Place.ID] {
			places[s.Place.ID] = true
			m.getting += s.Place.Minutes
		}
	}
	return m
}

// sayings are the answer to "how long will it take", longest first.
func (m minutes) sayings() []string {
	if m.hands == 0 && m.getting == 0 {
		return []string{"nothing now", ""}
	}
	return []string{
		fmt.Sprintf("now %d min, and %d to get at it", m.hands, m.getting),
		fmt.Sprintf("now %d min, %d to reach", m.hands, m.getting),
		fmt.Sprintf("now %d+%d min", m.hands, m.getting),
		fmt.Sprintf("%d+%d", m.hands, m.getting),
	}
}
