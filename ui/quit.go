package ui

import (
	"errors"
	"fmt"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"
)

// A quit waits for writes that are under way. After sayAfter it says so, and can be asked
// for again; after leaveAfter it waits no longer, as the disk may never answer.
const (
	sayAfter   = time.Second
	leaveAfter = 10 * time.Second
)

// leaving is a quit that waits for writes.
type leaving struct {
	said bool // that it waits
	gone bool // it waits no longer
}

// overdue is the message that a quit has waited for some time.
type overdue struct {
	quit *leaving
	end  bool // for as long as it may
}

// Quit quits as soon as every write has ended, asking first if something would
// be lost; asked again at that question, it quits.
func (r *Root) Quit() tea.Cmd {
	question := ""
	if r.cfg.Linger != nil && !r.writes.quitting {
		question = r.cfg.Linger()
	}
	if top, ok := r.top().(*Choice); question == "" || (ok && top.quits) {
		return r.quit()
	}
	r.Push(&Choice{
		Title: question,
		Options: []Answer{
			{Letter: 'y', Label: "quit"},
			{Letter: 'n', Label: "stay"},
		},
		Pick: func(i int) tea.Cmd {
			if i == 0 {
				return r.quit()
			}
			return nil
		},
		root:  r,
		quits: true,
	})
	return nil
}

// quit quits now, or as soon as everything asked for has been written.
func (r *Root) quit() tea.Cmd {
	waited := r.writes.quitting
	r.writes.quitting = true
	switch {
	case r.writes.empty():
		return tea.Quit
	case waited && r.leaving.said:
		r.leaving.gone = true
		return tea.Quit
	case waited:
		return nil
	}
	l := &leaving{}
	r.leaving = l
	return tea.Batch(
		r.after(sayAfter, func(time.Time) tea.Msg { return overdue{l, false} }),
		r.after(leaveAfter, func(time.Time) tea.Msg { return overdue{l, true} }),
	)
}

// overdue says what a quit waits for, and in the end waits no longer.
func (r *Root) overdue(msg overdue) tea.Cmd {
	switch {
	case msg.quit != r.leaving || !r.writes.quitting: // it was called off
		return nil
	case msg.end:
		msg.quit.gone = true
		return tea.Quit
	}
	msg.quit.said = true
	key := "q"
	if r.top().TextEntry() {
		key = "ctrl+c"
	}
	r.status.fail(fmt.Sprintf("still saving: %s; %s again leaves without it", strings.Join(r.unsaved(), ", "), key), r.Now())
	return nil
}

// unsaved is what was asked for and has not ended, as errors name it.
func (r *Root) unsaved() []string {
	var ops []string
	if s := r.writes.running; s != nil {
		ops = append(ops, s.job.Op)
	}
	for _, j := range r.writes.jobs {
		ops = append(ops, j.Op)
	}
	return ops
}

// Finish writes what was asked for and had not been written when the program ended:
// by a signal, by a terminal that is gone, by a fault. It waits no longer than a quit
// does, and not at all where one has waited; say is called when that takes some time. The
// error says in one line what is not saved. Call it when the event loop has ended;
// afterwards the root is of no use.
func (r *Root) Finish(say func()) error {
	late, end := time.After(sayAfter), time.After(r.patience)
	if r.leaving != nil && r.leaving.gone {
		end = time.After(0)
	}
	var failed []string
	for r.writes.next(); r.writes.running != nil; r.writes.next() {
		s, ended := r.writes.running, make(chan error, 1)
		go func() { ended <- s.run() }()
		select {
		case <-late:
			say()
			late = nil
		case err := <-ended:
			if err != nil {
				failed = append(failed, err.Error())
			}
			_ = Guard(s.job.Op, func() error {
				r.written(written{s.job, err})
				return nil
			})
		case <-end:
			ops := r.unsaved()
			failed = append(failed, ops[0]+": perhaps not saved, as the disk does not answer")
			for _, op := range ops[1:] {
				failed = append(failed, op+": not saved")
			}
			return errors.New(strings.Join(append(failed, "look into the log before you do it again"), "; "))
		}
	}
	if failed == nil {
		return nil
	}
	return errors.New(strings.Join(failed, "; "))
}
