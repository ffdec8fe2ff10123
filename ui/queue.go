package ui

import (
	"sync"

	tea "github.com/charmbracelet/bubbletea"
)

// Job is one write to the book.
type Job struct {
	Op  string       // what it does, as an error would name it: "ticking DI resin"
	Run func() error // runs outside the event loop; may do I/O
	// Done is called in the event loop with Run's guarded error, nil on
	// success. Without one, the root shows an error in the status line.
	Done func(error) tea.Cmd
}

// started is a job whose turn has come. run runs it, once, and whoever calls it again
// waits for the same end: the program may stop before its command was begun.
type started struct {
	job Job
	run func() error
}

// written is the message that a job has ended.
type written struct {
	job Job
	err error
}

// queue runs jobs one at a time in the order they were asked for, and holds
// back quitting until the last has ended: bubbletea runs commands in no order
// and abandons those still running when it quits, so a save followed at once by
// q would be lost.
type queue struct {
	jobs     []Job // that wait
	running  *started
	quitting bool
}

// add queues a job, and returns the command that starts it if none is running.
func (q *queue) add(j Job) tea.Cmd {
	q.jobs = append(q.jobs, j)
	return q.next()
}

// next starts the next job, if there is one and none is running.
func (q *queue) next() tea.Cmd {
	if q.running != nil || len(q.jobs) == 0 {
		return nil
	}
	j := q.jobs[0]
	s := &started{j, sync.OnceValue(func() error { return Guard(j.Op, j.Run) })}
	q.jobs, q.running = q.jobs[1:], s
	return func() tea.Msg { return written{j, s.run()} }
}

// empty tells whether everything that was asked for has ended.
func (q *queue) empty() bool { return q.running == nil && len(q.jobs) == 0 }

// ended notes that the running job has ended. After a failure a quit that was
// waiting is called off: nobody should leave on an act that was not saved.
func (q *queue) ended(err error) {
	q.running = nil
	if err != nil {
		q.quitting = false
	}
}

// proceed starts the next job or, when none is left, the quit that waited.
func (q *queue) proceed() tea.Cmd {
	if q.quitting && q.empty() {
		return tea.Quit
	}
	return q.next()
}
