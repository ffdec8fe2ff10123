package logbook

import (
	"errors"

	"brine/wrasse/model"
	"brine/wrasse/ui"
	"brine/wrasse/ui/text"

	tea "github.com/charmbracelet/bubbletea"
)

// The messages of commands that read the log. What was made for another book than is shown
// by then is dropped.
type (
	stepped struct {
		step step
		err  error
	}
	prepared struct {
		age   int
		lines lines
		err   error
	}
	looked struct {
		part part
		err  error
	}
)

// ahead is how many rows are prepared above and below the cursor at least, and how many
// there have to be: far more than a key moves by.
const (
	ahead    = 256
	aheadMin = 96
)

// read is the commands that bring what is missing: at most one each that reads further,
// prepares lines and looks for what is typed.
func (v *View) read() tea.Cmd {
	further := v.readFurther()
	if v.index.book != v.book {
		return further // once that has ended, the index is of the book
	}
	return tea.Batch(further, v.prepareLines(), v.lookOn())
}

// renew takes in that the session's book may be another one, and tries again what failed.
func (v *View) renew() {
	v.book, v.stuck = v.session.Book, -1
	if v.failed != nil {
		v.failed = nil
		v.session.Root.Unsay(v.told)
		v.filter()
	}
}

// fail keeps what could not be read from being tried again until the book is read anew. It
// may have been already: then what is read next is of that one.
func (v *View) fail(err error) {
	if v.index.book != v.book {
		v.filter()
		return
	}
	v.failed = err
	v.told = v.session.Root.Fail(err)
}

// readFurther reads the next stretch for the index.
func (v *View) readFurther() tea.Cmd {
	if v.stepping || v.failed != nil {
		return nil
	}
	if v.index.book != v.book {
		v.turnTo(v.book)
	}
	if v.index.complete() {
		return nil
	}
	v.stepping = true
	x := v.index
	return func() tea.Msg {
		var msg stepped
		msg.err = ui.Guard("reading the log", func() (err error) {
			msg.step, err = x.next()
			return err
		})
		return msg
	}
}

// turnTo goes on with another book: from what is known, where that is of the same log.
func (v *View) turnTo(b *model.Book) {
	if x := v.index.on(b); x != nil {
		v.index = x
		return
	}
	v.anew(b)
}

// anew forgets what is known of the log.
func (v *View) anew(b *model.Book) {
	v.age++
	v.lines, v.wish = lines{}, wish{}
	v.index = newIndex(b, v.stride)
	v.search = newSearch(v.search.query, v.search.id+1)
	v.before = order{}
}

// stepped takes in what was read. The cursor stays on its entry, but at the top it stays
// at the top, where what was just written comes in.
func (v *View) stepped(msg stepped) {
	v.stepping = false
	switch {
	case errors.Is(msg.err, errAnew):
		if v.At() > 0 {
			v.stay = v.selected().seq()
		}
		v.anew(v.book)
		return
	case msg.err != nil:
		v.fail(msg.err)
		return
	}
	at := v.selected()
	v.index = msg.step.made
	if !v.search.query.empty() {
		v.search.follow(msg.step)
		if msg.step.redefined && v.index.top > msg.step.of.top {
			v.filter()
			if v.At() > 0 {
				v.stay = at.seq()
			}
		}
	}
	v.hold(at, msg.step.in)
}

// hold keeps the cursor on the row it was on, which may be among those that came in: it
// may have another date.
func (v *View) hold(at key, in []key) {
	if v.At() > 0 && at != 0 && v.stay == 0 && !v.rows().has(at) {
		for _, k := range in {
			if k.seq() == at.seq() && v.rows().has(k) {
				at = k
			}
		}
	}
	if v.At() > 0 {
		v.put(at)
	}
	if v.stay == 0 || v.rows().n == 0 || !v.search.query.empty() && !v.search.begun {
		return
	}
	for _, k := range in {
		if k.seq() == v.stay && v.rows().has(k) {
			v.put(k)
			v.stay = 0
		}
	}
}

// prepareLines prepares the lines around the cursor before it comes to where there are
// none, and all of them anew when entries may read otherwise.
func (v *View) prepareLines() tea.Cmd {
	if v.preparing || v.stuck == v.At() || v.index.rows.n == 0 || v.lines.as == v.index.stamp() && !v.lacks() {
		return nil
	}
	_, h := v.session.Root.Body()
	from, end := v.around(max(ahead, 3*h))
	rows, besides, x := v.rows().slice(from, end), []model.Seq{v.open, v.wish.seq}, v.index
	v.preparing = true
	age := v.age
	return func() tea.Msg {
		msg := prepared{age: age}
		msg.err = ui.Guard("reading the log", func() (err error) {
			msg.lines, err = x.prepare(rows, besides)
			return err
		})
		return msg
	}
}

// around is the places of up to n rows on either side of the cursor.
func (v *View) around(n int) (from, end int) {
	rows := v.rows()
	at := rows.n - 1 - v.At()
	return min(max(at-n, 0), rows.n), max(min(at+n+1, rows.n), 0)
}

// lacks tells whether a line is missing that may soon be drawn.
func (v *View) lacks() bool {
	_, h := v.session.Root.Body()
	from, end := v.around(max(aheadMin, h))
	for _, k := range v.rows().slice(from, end) {
		if v.lines.of[k.seq()] == nil {
			return true
		}
	}
	return v.index.shows(v.open) && v.lines.of[v.open] == nil || v.wish.seq != 0
}

// prepared takes in lines, and does what was asked of one of them meanwhile.
func (v *View) prepared(msg prepared) tea.Cmd {
	v.preparing = false
	switch {
	case msg.age != v.age:
		return nil
	case msg.err != nil && v.index.book == v.book:
		v.stuck = v.At() // elsewhere it may be done
		v.told = v.session.Root.Fail(msg.err)
		return nil
	case msg.err != nil:
		return nil
	}
	v.lines, v.stuck = msg.lines, -1
	if w := v.wish; w.seq != 0 && v.lines.of[w.seq] != nil {
		v.wish = wish{}
		cmd, _ := v.change(w.action, w.seq)
		return cmd
	}
	return nil
}

// lookOn looks at the next rows for what is typed.
func (v *View) lookOn() tea.Cmd {
	s := &v.search
	if s.query.empty() || s.looking || v.failed != nil || !s.behind(v.index) {
		return nil
	}
	rows, q, id, x := s.next(v.index), s.query, s.id, v.index
	return func() tea.Msg {
		msg := looked{part: part{id: id}}
		msg.err = ui.Guard("looking through the log", func() (err error) {
			msg.part.found, err = q.look(x, rows)
			return err
		})
		return msg
	}
}

// looked takes in what was found. The cursor stays on its row.
func (v *View) looked(msg looked) {
	if msg.part.id != v.search.id {
		return
	}
	if msg.err != nil {
		v.fail(msg.err)
		return
	}
	at := v.selected()
	v.search.take(msg.part)
	v.hold(at, msg.part.found)
}

// pendingWords is what is said in place of what has not been read yet: that it is being
// read, or why it can't be.
func (v *View) pendingWords() string {
	if v.failed != nil {
		return "the log can't be read: " + v.failed.Error()
	}
	return "reading the log ..."
}

// reading is that in lines of w cells, where rows would begin.
func (v *View) reading(w int) []string {
	return append([]string{""}, text.Para(w, "  ", "  ", v.session.Root.Theme().Dim.Render, v.pendingWords())...)
}
