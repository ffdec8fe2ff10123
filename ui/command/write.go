package command

import (
	"fmt"
	"os/signal"
	"slices"
	"syscall"

	"github.com/go-json-experiment/json/jsontext"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/schedule"
	"brine/wrasse/ui/parse"
	"brine/wrasse/ui/phrase"
	"brine/wrasse/ui/request"
)

// stamp is when an act happened, refused when that is after today.
func (p *program) stamp(by string) (request.Stamp, error) {
	when, err := p.happened()
	return request.Stamp{On: when.On, By: by}, err
}

// happened is the date of an act and whether that is a guess, refused when it is after today.
func (p *program) happened() (parse.When, error) {
	when, err := p.date()
	if err == nil {
		err = p.past(when.On)
	}
	return when, err
}

func (p *program) past(on model.Date) error {
	odd := parse.OddDate(on, p.today())
	switch {
	case on <= p.today():
		return p.sure(odd)
	case !p.future:
		return fmt.Errorf("%s; add --future to log it all the same", odd)
	}
	return nil
}

// sure refuses what is far from usual, by the questions a screen would ask, until it is said to be meant.
func (p *program) sure(questions ...string) error {
	questions = slices.DeleteFunc(questions, func(q string) bool { return q == "" })
	if p.yes || len(questions) == 0 {
		return nil
	}
	more := ""
	if n := len(questions) - 1; n > 0 {
		more = fmt.Sprintf(" (and %d more like it)", n)
	}
	return fmt.Errorf("%s%s; add --yes to log it all the same", questions[0], more)
}

// builder makes the entries of an act on the book as it stands when they are written.
type builder func(*ledger.Book) ([]model.Entry, error)

// act writes what is made of the book, the date and whoever did it, and prints what it did.
func (p *program) act(by string, of func(request.Stamp, *ledger.Book) (builder, error)) error {
	stamp, err := p.stamp(by)
	if err != nil {
		return err
	}
	b, err := p.load()
	if err != nil {
		return err
	}
	build, err := of(stamp, b)
	if err != nil {
		return err
	}
	return p.write(build)
}

// write writes an act and prints what it did.
func (p *program) write(build builder) error {
	b, seq, err := p.store().Write(build)
	if err != nil {
		return err
	}
	return p.written(func() error { return p.wrote(b, seq) })
}

// written says what was written. That is done whatever comes of saying it, a reader of the
// output that has gone away too: a script that takes it for undone would do it twice.
func (p *program) written(say func() error) error {
	signal.Ignore(syscall.SIGPIPE)
	if err := say(); err != nil {
		p.remark("written, but could not be printed: %v", err)
	}
	return nil
}

// wrote prints what an act did, and keeps it for undo.
func (p *program) wrote(b *ledger.Book, seq model.Seq) error {
	entries, err := b.Act(seq)
	if err != nil {
		return err
	}
	p.remember(entries, false, 0)
	if p.json {
		return p.printAct(seq, entries)
	}
	var out page
	for _, e := range entries {
		out.line("%s %s%s", e.On, request.Say(b, e), p.again(b, e))
	}
	return out.print(p.Stdout)
}

// again says when what was ticked is due next, and what was read outside its safe range.
func (p *program) again(b *ledger.Book, e *model.Entry) string {
	if r, ok := e.Body.(model.Reading); ok {
		g, _ := b.Gauge(r.Gauge)
		said := ""
		if off := phrase.OffSince(b, g, e.Mark(), e.On); off != "" {
			said = "; " + off
		}
		if g.Safe != nil && r.Counts() && !g.Safe.Holds(r.Value) {
			said += "; outside its safe range, " + phrase.Safe(b, g)
		}
		return said
	}
	t, ok := e.Body.(model.Tick)
	if !ok {
		return ""
	}
	id := fmt.Sprintf(" (%s)", t.Chore)
	ticks := b.Ticks(t.Chore)
	if ticks[len(ticks)-1].Seq != e.Seq {
		return id // an earlier one, put in late
	}
	if s := schedule.Make(b, e.On).Of(t.Chore); s != nil && s.HasDue {
		return fmt.Sprintf("%s; next due %s", id, s.Due)
	}
	return id
}

// writtenAct is an act as JSON: its entries as the book format writes them.
type writtenAct struct {
	Act     model.Seq        `json:"act" says:"the number of the first entry"`
	Entries []jsontext.Value `json:"entries" says:"as the book format writes them"`
}

func (p *program) printAct(seq model.Seq, entries []*model.Entry) error {
	out := writtenAct{Act: seq}
	for _, e := range entries {
		data, err := model.EncodeEntry(*e)
		if err != nil {
			return err
		}
		out.Entries = append(out.Entries, data)
	}
	return p.printJSON(out)
}
