package columns

import (
	"fmt"
	"slices"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/ui/parse"
	"brine/wrasse/ui/request"
)

// Act is a part of a plan that is written together: whole dates, as many as one act
// of the log may hold.
type Act struct {
	Items   []Item
	Entries []model.Entry // as they would be written to the book they were made for
	Odd     []string      // values and ticks that can be meant but often are a slip

	today model.Date
}

// By is the plan with a name where the table itself gives none.
func (p Plan) By(who string) Plan {
	p.Items = slices.Clone(p.Items)
	for i := range p.Items {
		if p.Items[i].By == "" {
			p.Items[i].By = who
		}
	}
	return p
}

// Acts are what to write, in order, made for a book. Readings that complete a chore
// done by reading bring its tick, unless the table has it.
func (p Plan) Acts(b *ledger.Book) ([]Act, error) {
	if err := p.tooMany(); err != nil {
		return nil, err
	}
	var out []Act
	for len(p.Items) > 0 {
		n := oneDate(p.Items)
		day := Act{Items: p.Items[:n], today: p.today}
		p.Items = p.Items[n:]
		next, err := day.make(b)
		if err != nil {
			return nil, err
		}
		b = next
		last := len(out) - 1
		if last < 0 || len(out[last].Entries)+len(day.Entries) > model.MaxActLen {
			out = append(out, day)
			continue
		}
		out[last].Items = append(slices.Clip(out[last].Items), day.Items...)
		out[last].Entries = append(out[last].Entries, day.Entries...)
		out[last].Odd = append(out[last].Odd, day.Odd...)
	}
	return out, nil
}

// maxItems is how many values a table may add at a time: each is tried on the book that the
// ones before it leave, and more would take minutes.
const maxItems = 20_000

// tooMany refuses at once what would be refused in the end, or take too long.
func (p Plan) tooMany() error {
	if n := len(p.Items); n > maxItems {
		return fmt.Errorf("%d values are new, and %d can be added at a time; split the table", n, maxItems)
	}
	for rest := p.Items; len(rest) > 0; rest = rest[oneDate(rest):] {
		if n := oneDate(rest); n > model.MaxActLen {
			return tooFull(rest[0].On, n)
		}
	}
	return nil
}

// tooFull is the error of a date that holds more than one act may.
func tooFull(on model.Date, n int) error {
	return fmt.Errorf("%s has %d entries, and one act holds %d; leave some out", on, n, model.MaxActLen)
}

func oneDate(items []Item) int {
	n := slices.IndexFunc(items, func(i Item) bool { return i.On != items[0].On })
	if n < 0 {
		n = len(items)
	}
	return n
}

// Build makes the entries of an act anew for a book as it has become, in the form
// that a store's write takes.
func (a Act) Build(b *ledger.Book) ([]model.Entry, error) {
	again := Act{Items: a.Items, today: a.today}
	_, err := again.make(b)
	return again.Entries, err
}

// make fills in entries and remarks, item after item, each on the book that the ones
// before it leave.
func (a *Act) make(b *ledger.Book) (*ledger.Book, error) {
	for _, item := range a.Items {
		a.Odd = append(a.Odd, odd(b, item, a.today)...)
		made, err := item.entries(b)
		if err != nil {
			return nil, lineError(item.Line, err)
		}
		made = slices.DeleteFunc(made, func(e model.Entry) bool {
			chore, follows := item.follows(e)
			return follows && a.ticked(chore, e.On)
		})
		if b, err = b.Append(made...); err != nil {
			return nil, lineError(item.Line, err)
		}
		a.Entries = append(a.Entries, made...)
	}
	if len(a.Entries) > model.MaxActLen {
		return nil, tooFull(a.Items[0].On, len(a.Entries))
	}
	return b, nil
}

// ticked tells whether the table itself has a tick of a chore on a date.
func (a *Act) ticked(chore model.ID, on model.Date) bool {
	return slices.ContainsFunc(a.Items, func(i Item) bool {
		t, ok := i.What.(model.Tick)
		return ok && i.On == on && t.Chore == chore
	})
}

// follows tells whether an entry of an item is a tick that only follows from it.
func (i Item) follows(e model.Entry) (chore model.ID, ok bool) {
	t, tick := e.Body.(model.Tick)
	return t.Chore, tick && i.What.Kind() == model.KindReading
}

func (i Item) entries(b *ledger.Book) ([]model.Entry, error) {
	stamp := request.Stamp{On: i.On, By: i.By}
	switch w := i.What.(type) {
	case model.Tick:
		return request.Tick{By: i.By, Done: []request.Done{{On: i.On, What: w}}}.Entries(b)
	case model.Usage:
		return request.Use{Stamp: stamp, Counter: w.Counter, Amount: w.Figure()}.Entries(b)
	case model.Reading:
		return request.Read{Stamp: stamp, Readings: []model.Reading{w}}.Entries(b)
	}
	return nil, fmt.Errorf("a table holds no %s; log it by hand", i.What.Kind())
}

// odd is what to ask about a value or a tick.
func odd(b *ledger.Book, i Item, today model.Date) []string {
	var questions []string
	ask := func(all ...string) {
		for _, q := range all {
			if q != "" {
				questions = append(questions, fmt.Sprintf("line %d, %s: %s", i.Line, i.On, q))
			}
		}
	}
	if i.On <= today { // one after it was said to be meant
		ask(parse.OddDate(i.On, today))
	}
	switch w := i.What.(type) {
	case model.Tick:
		c, _ := b.Chore(w.Chore)
		ask(parse.OfChore(b, c, parse.OddTick(b, c, i.On)), parse.OfChore(b, c, parse.Again(b, c, i.On, today)))
	case model.Usage:
		c, _ := b.Counter(w.Counter)
		ask(parse.OddAmount(b, c, w.Figure(), i.On))
	case model.Reading:
		ask(parse.OddReading(b, w, i.On))
	}
	return questions
}
