package ui

import "time"

// status is the one line in which the program answers.
//
// A fault outranks a success: it is replaced only by another fault, and stays
// until a key takes it away. Keys already on their way when it appeared must
// not, so for a moment only esc does. A success stays until something newer is
// said; nothing fades by a timer, which would wake an idle program.
type status struct {
	id    int // of the present text; ids are never used twice
	text  string
	fault bool
	since time.Time // when a fault appeared
}

// faultGrace is how long a fault cannot be typed away.
const faultGrace = time.Second

// say shows a success or a remark, unless a fault stands. It returns the text's
// id, or zero if it was not shown.
func (s *status) say(text string) int {
	if s.fault {
		return 0
	}
	s.id++
	s.text = text
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

// typed notes a key, and takes away a fault that has stood long enough to have
// been read.
func (s *status) typed(now time.Time) {
	if s.fault && now.Sub(s.since) >= faultGrace {
		s.clear(s.id)
	}
}
