package ui

import tea "github.com/charmbracelet/bubbletea"

// Job is one write to the book.
type Job struct {
	Op  string       // what it does, as an error would name it: "ticking DI resin"
	Run func() error // runs outside the event loop; may do I/O
	// Done is called in the event loop with Run's guarded error, nil on
	// success. Without one, the root shows an error in the status line.
	Done func(error) tea.Cmd
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
	jobs     []Job
	busy     bool
	quitting bool
}

// add queues a job, and returns the command that starts it if none is running.
func (q *queue) add(j Job) tea.Cmd {
	q.jobs = append(q.jobs, j)
	return q.next()
}

// next starts the next job, if there is one and none is running.
func (q *queue) next() tea.Cmd {
	if q.busy || len(q.jobs) == 0 {
		return nil
	}
	j := q.jobs[0]
	q.jobs, q.busy = q.jobs[1:], true
	return func() tea.Msg { return written{j, Guard(j.Op, j.Run)} }
}

// ended notes that the running job has ended. After a failure a quit that was
// waiting is called off: nobody should leave on an act that was not saved.
func (q *queue) ended(err error) {
	q.busy = false
	if err != nil {
		q.quitting = false
	}
}

// proceed starts the next job or, when none is left, the quit that waited.
func (q *queue) proceed() tea.Cmd {
	if q.quitting && !q.busy && len(q.jobs) == 0 {
		return tea.Quit
	}
	return q.next()
}

// quit quits now, or as soon as everything asked for has been written.
func (q *queue) quit() tea.Cmd {
	q.quitting = true
	return q.proceed()
}
