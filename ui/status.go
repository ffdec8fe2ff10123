package ui

import "time"

// status is the one line in which the program answers.
//
// A fault outranks a success: it is replaced only by another fault. Both stay until a key
// takes them away: any key, once they have stood a second, as keys that were on their way
// must not; esc at once. A success also goes with the screen it was said on. Nothing fades
// by a timer, which would wake an idle program.
type status struct {
	id    int // of the present text; ids are never used twice
	text  string
	fault bool
	since time.Time // when it appeared
}

// grace is how long a text can't be typed away.
const grace = time.Second

// say shows a success or a remark, unless a fault stands. It returns the text's
// id, or zero if it was not shown.
func (s *status) say(text string, now time.Time) int {
	if s.fault {
		return 0
	}
	s.id++
	s.text, s.since = text, now
	return s.id
}

// fail shows a fault.
func (s *status) fail(text string, now time.Time) int {
	s.id++
	s.text, s.fault, s.since = text, true, now
	return s.id
}

// clear takes away the text with this id and no other.
func (s *status) clear(id int) {
	if id == s.id {
		s.text, s.fault = "", false
	}
}

// typed notes a key, and takes away a text that has stood long enough to have been read.
func (s *status) typed(now time.Time) {
	if now.Sub(s.since) >= grace {
		s.clear(s.id)
	}
}
