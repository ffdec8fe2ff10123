package prompt

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/schedule"
	"brine/wrasse/ui"
	"brine/wrasse/ui/form"
	"brine/wrasse/ui/parse"
	"brine/wrasse/ui/phrase"
	"brine/wrasse/ui/request"
	"brine/wrasse/ui/session"

	tea "github.com/charmbracelet/bubbletea"
)

// Tick asks what was found of each chore, one letter each, and writes all ticks as
// one act. Chores done by reading gauges are asked for their readings instead. after,
// if any, is called once the ticks are written, with a component that was ticked for
// the first time and whose reach is a guess so far, or "".
func Tick(d *session.Session, chores []model.ID, after func(first model.ID)) tea.Cmd {
	w := &walk{session: d, todo: chores, after: after}
	return w.next()
}

// walk is the questions of one tick, put one after another.
type walk struct {
	session *session.Session
	todo    []model.ID
	done    []request.Done
	read    []model.ID    // gauges of chores that are done by reading them
	fill    []model.ID    // chores that fill a vessel, which are told how much
	off     []model.Chore // checks of an instrument that failed, which are told by how much
	after   func(model.ID)
}

// next asks about the next chore or, when none is left, writes.
func (w *walk) next() tea.Cmd {
	for len(w.todo) > 0 {
		c, ok := w.session.Book.Chore(w.todo[0])
		w.todo = w.todo[1:]
		_, fills := w.session.Book.Fills(c.ID)
		today := w.session.Today()
		switch again := parse.Again(w.session.Book, c, today, today); {
		case !ok:
		case len(c.DoneBy) > 0:
			w.read = append(w.read, c.DoneBy...)
		case fills:
			w.fill = append(w.fill, c.ID)
		case again != "":
			w.askAgain(c, parse.OfChore(w.session.Book, c, again))
			return nil
		case w.tick(c):
			return nil
		}
	}
	return w.write()
}

// askAgain asks whether a chore that is ticked today already was done twice.
func (w *walk) askAgain(c model.Chore, already string) {
	w.session.Root.Push(ui.NewChoice(w.session.Root, already+"; again?", []ui.Answer{
		{Letter: 'n', Label: "no, once"}, {Letter: 'y', Label: "yes, done twice"},
	}, func(i int) tea.Cmd {
		if i == 1 && w.tick(c) {
			return nil
		}
		return w.next()
	}))
}

// tick ticks a chore, and tells whether it asks first what was found. Enter says that it is done and no more: a habit
// must teach nothing.
func (w *walk) tick(c model.Chore) (asks bool) {
	if c.Work == model.WorkRead {
		w.did(c, "")
		return false
	}
	words := parse.WordsOf(w.session.Book, c)
	options := []ui.Answer{{Letter: 'n', Label: "done, nothing to say", Note: "enter"}}
	title := parse.ChoreLabel(w.session.Book, c) + " - as found?"
	if len(words) == 0 {
		title = parse.ChoreLabel(w.session.Book, c) + " - done? No eye can tell how worn the old one was"
	}
	for _, word := range words {
		options = append(options, ui.Answer{Letter: []rune(word.Letter)[0], Label: word.Text, Note: meaning(c.Work, word.Found)})
	}
	w.session.Root.Push(ui.NewChoice(w.session.Root, title, options, func(i int) tea.Cmd {
		if i == 0 {
			w.did(c, "")
			return w.next()
		}
		return w.found(c, words[i-1])
	}))
	return true
}

func (w *walk) did(c model.Chore, found model.Found) {
	w.done = append(w.done, request.Done{On: w.session.Today(), What: model.Tick{Chore: c.ID, Found: found}})
}

// found takes what was found; a part said to be worn while a reading says it is good is asked about first.
func (w *walk) found(c model.Chore, word parse.Word) tea.Cmd {
	changed := changedEarly(w.session, c, word.Found, w.session.Today())
	switch {
	case changed == "" && word.Found == model.FoundFailed && parse.OffsetUnit(w.session.Book, c) != "":
		w.off = append(w.off, c)
		return w.next()
	case changed == "":
		w.did(c, word.Found)
		return w.next()
	}
	w.session.Root.Push(ui.NewChoice(w.session.Root, parse.OfChore(w.session.Book, c, changed), []ui.Answer{
		{Letter: 'y', Label: "yes, it was still good"}, {Letter: 'n', Label: "no, it was " + word.Text, Note: "logged so, but dates go by the reading"},
	}, func(i int) tea.Cmd {
		w.did(c, [...]model.Found{model.FoundClean, word.Found}[i])
		return w.next()
	}))
	return nil
}

// askOffset asks how far off an instrument was that failed its check, and ticks the check; enter says nothing of it.
func (w *walk) askOffset(c model.Chore) tea.Cmd {
	d := w.session
	d.Root.Push(ui.NewFormSheet(d.Root, form.Spec{
		Title:  parse.ChoreLabel(d.Book, c) + " - failed: by how much?",
		Fields: []form.Field{offsetField(d.Book, c)},
		Problems: func(v form.Values) map[string]string {
			return offsetProblem(d.Book, c, model.FoundFailed, v, map[string]string{})
		},
	}, func(v form.Values) ui.Job {
		done := []request.Done{{On: d.Today(), What: model.Tick{Chore: c.ID, Found: model.FoundFailed}}}
		done[0].What.Offset, _ = parse.Offset(d.Book, v[fieldOffset+string(c.ID)], c, model.FoundFailed) // no problem, or it could not be saved
		return w.ticking(done)
	}))
	return nil
}

// offsetField asks what an instrument shows too much.
func offsetField(b *ledger.Book, c model.Chore) form.Field {
	unit := parse.UnitName(parse.Unit(parse.OffsetUnit(b, c), b.Def().Units))
	return form.Field{Name: fieldOffset + string(c.ID), Label: "shows too much", Cells: 10, Limit: 20, Hint: unit + ", of a check that failed: 2, or -0.5; may stay empty"}
}

// offsetProblem adds what is wrong with an offset as it was typed.
func offsetProblem(b *ledger.Book, c model.Chore, found model.Found, v form.Values, problems map[string]string) map[string]string {
	if _, err := parse.Offset(b, v[fieldOffset+string(c.ID)], c, found); err != nil {
		problems[fieldOffset+string(c.ID)] = err.Error()
	}
	return problems
}

// changedEarly asks about a part said to be worn on a date, where a reading of the week before says that it was good: "after
// resin read 0 ppm on 23 Nov: changed early?". Empty when there is nothing to ask.
func changedEarly(d *session.Session, c model.Chore, found model.Found, on model.Date) string {
	if found != model.FoundHeavy && found != model.FoundFailed {
		return ""
	}
	read, ok := schedule.ReadGood(d.Book, c.ID, on)
	if !ok {
		return ""
	}
	return phrase.Read(d.Book, read, d.Today()) + ": changed early?"
}

// meaning says what an as-found word stands for.
func meaning(w model.Work, f model.Found) string {
	switch w {
	case model.WorkClean:
		return map[model.Found]string{
			model.FoundClean: "could have waited", model.FoundLight: "about in time",
			model.FoundHeavy: "should have been sooner", model.FoundFailed: "did not work any more",
		}[f]
	case model.WorkRenew:
		return map[model.Found]string{
			model.FoundClean: "used up", model.FoundLight: "used up",
			model.FoundHeavy: "used up", model.FoundFailed: "nothing left in it",
		}[f]
	}
	return ""
}

// write writes the ticks, and then asks what was made and read by chores that are done by that.
func (w *walk) write() tea.Cmd {
	if len(w.done) == 0 {
		return w.rest()
	}
	return w.session.Root.Write(w.ticking(w.done))
}

// ticking is the write of ticks, behind which the other questions are put.
func (w *walk) ticking(done []request.Done) ui.Job {
	d := w.session
	first := firstTicked(d.Book, done)
	return d.Job("ticking "+naming(d.Book, done), request.Tick{By: d.By, Done: done}, func() tea.Cmd {
		w.ticked(first)
		return w.rest()
	})
}

// ticked tells that ticks are written, first being a component to be graded.
func (w *walk) ticked(first model.ID) {
	if first != "" {
		c, _ := w.session.Book.Component(first)
		w.session.Root.Say("ticked " + c.Name + " · G: how hard was it to get at? · z takes it back")
	}
	if w.after != nil {
		w.after(first)
	}
}

// rest asks how far off an instrument was, how much was made by each chore that fills a vessel, then for the readings.
func (w *walk) rest() tea.Cmd {
	if len(w.off) > 0 {
		c := w.off[0]
		w.off = w.off[1:]
		return w.askOffset(c)
	}
	if len(w.fill) > 0 {
		chore := w.fill[0]
		w.fill = w.fill[1:]
		counter, _ := w.session.Book.Fills(chore)
		return logUsage(w.session, counter.ID, chore, func() tea.Cmd {
			w.ticked("")
			return w.rest()
		})
	}
	if len(w.read) > 0 {
		return Readings(w.session, w.read)
	}
	return nil
}

// naming names what is ticked, as an error would.
func naming(b *ledger.Book, done []request.Done) string {
	if len(done) > 1 {
		return fmt.Sprintf("%d chores", len(done))
	}
	c, _ := b.Chore(done[0].What.Chore)
	return parse.ChoreLabel(b, c)
}

// firstTicked is a component among those ticked now that was never ticked before but
// by a guess, and whose reach nobody has graded; "" when there is none.
func firstTicked(b *ledger.Book, done []request.Done) model.ID {
	for _, d := range done {
		c, _ := b.Chore(d.What.Chore)
		comp, ok := b.Component(c.Component)
		if ok && slices.Contains(comp.Guess, "reach") && !tickedBefore(b, comp.ID) {
			return comp.ID
		}
	}
	return ""
}

func tickedBefore(b *ledger.Book, component model.ID) bool {
	return slices.ContainsFunc(b.Chores(), func(c model.Chore) bool {
		return c.Component == component && slices.ContainsFunc(b.Ticks(c.ID), func(t ledger.TickRecord) bool { return !t.About })
	})
}

// The fields of the long form of a tick.
const (
	fieldDate    = "date"
	fieldMinutes = "minutes"
	fieldNote    = "note"
	fieldFound   = "found "  // and the chore's id
	fieldMade    = "made "   // likewise
	fieldOffset  = "offset " // likewise
)

// TickAsk ticks chores with their date, what was found, the minutes it took and a
// note. "about" in the date makes it a guess, which starts a cycle and teaches nothing:
// the way to catch up after a neglected month.
func TickAsk(d *session.Session, chores []model.ID, after func(first model.ID)) tea.Cmd {
	b := d.Book
	title := fmt.Sprintf("Tick %d chores", len(chores))
	if len(chores) == 1 {
		c, _ := b.Chore(chores[0])
		title = "Tick " + parse.ChoreLabel(b, c)
	}
	spec := form.Spec{
		Title:    title,
		Fields:   []form.Field{{Name: fieldDate, Label: "done", Cells: 18, Limit: 40, Hint: "empty: today; 3d, 5 nov; about 2w: a guess"}},
		Problems: func(v form.Values) map[string]string { return tickProblems(d, chores, v) },
		Queries: func(v form.Values) map[string]string {
			w, err := when(v[fieldDate], d.Today())
			if err != nil {
				return nil
			}
			odd := map[string]string{fieldDate: oddTicks(d, chores, w.On)}
			for _, id := range chores {
				c, _ := d.Book.Chore(id)
				odd[fieldFound+string(id)] = changedEarly(d, c, model.Found(v[fieldFound+string(id)]), w.On)
				if counter, fills := d.Book.Fills(id); fills {
					if made, err := parse.Usage(v[fieldMade+string(id)], counter, d.Book.Def().Units); err == nil {
						odd[fieldMade+string(id)] = parse.OddAmount(d.Book, counter, made, w.On)
					}
				}
			}
			return odd
		},
	}
	for _, id := range chores {
		if f, ok := foundField(b, id, len(chores) > 1); ok {
			spec.Fields = append(spec.Fields, f)
		}
		if c, _ := b.Chore(id); parse.OffsetUnit(b, c) != "" {
			spec.Fields = append(spec.Fields, offsetField(b, c))
		}
		if counter, fills := b.Fills(id); fills {
			spec.Fields = append(spec.Fields, form.Field{Name: fieldMade + string(id), Label: counter.Name, Cells: 16, Limit: 60, Hint: "40, 10 gal, 20+18"})
		}
	}
	if len(chores) == 1 {
		spec.Fields = append(spec.Fields, form.Field{Name: fieldMinutes, Label: "minutes", Cells: 6, Limit: 4, Hint: "hands-on; leave it empty to say nothing"})
	}
	spec.Fields = append(spec.Fields, form.Field{Name: fieldNote, Label: "note", Cells: 44, Limit: 2000})
	d.Root.Push(ui.NewFormSheet(d.Root, spec, func(v form.Values) ui.Job {
		return (&walk{session: d, after: after}).ticking(ticksOf(d, chores, v))
	}))
	return nil
}

// oddTicks is the first question to ask about ticks of chores on a date, or "".
func oddTicks(d *session.Session, chores []model.ID, on model.Date) string {
	odd := parse.OddDate(on, d.Today())
	for _, id := range chores {
		c, _ := d.Book.Chore(id)
		about := cmp.Or(parse.OddTick(d.Book, c, on), parse.Again(d.Book, c, on, d.Today()))
		if len(chores) > 1 {
			about = parse.OfChore(d.Book, c, about)
		}
		odd = cmp.Or(odd, about)
	}
	return odd
}

// foundField asks what was found of a chore; ok is false where there is no telling.
func foundField(b *ledger.Book, id model.ID, several bool) (f form.Field, ok bool) {
	c, _ := b.Chore(id)
	words := parse.WordsOf(b, c)
	if len(words) == 0 {
		return f, false
	}
	f = form.Field{Name: fieldFound + string(id), Label: "as found"}
	for _, w := range words {
		f.Options = append(f.Options, form.Option{Letter: []rune(w.Letter)[0], Value: string(w.Found), Label: w.Text})
	}
	f.Options = append(f.Options, form.Option{Letter: 'n', Value: "", Label: "not said"})
	if several { // the label leaves little room for the answers
		f.Label = parse.ChoreLabel(b, c)
		for i, o := range f.Options {
			if i > 0 {
				f.Hint += ", "
			}
			f.Hint += string(o.Letter) + " " + o.Label
		}
	}
	return f, true
}

// when reads the date of a tick; nothing typed is today, "about" alone about today.
func when(s string, today model.Date) (parse.When, error) {
	if strings.EqualFold(strings.TrimSpace(s), "about") {
		return parse.When{On: today, About: true}, nil
	}
	return day(s, today)
}

// day reads a date; nothing typed is today.
func day(s string, today model.Date) (parse.When, error) {
	if strings.TrimSpace(s) == "" {
		return parse.When{On: today}, nil
	}
	return parse.Date(s, today)
}

func tickProblems(d *session.Session, chores []model.ID, v form.Values) map[string]string {
	out := map[string]string{}
	for _, id := range chores {
		c, _ := d.Book.Chore(id)
		offsetProblem(d.Book, c, model.Found(v[fieldFound+string(id)]), v, out)
		if counter, fills := d.Book.Fills(id); fills {
			if _, err := parse.Usage(v[fieldMade+string(id)], counter, d.Book.Def().Units); err != nil {
				out[fieldMade+string(id)] = err.Error()
			}
		}
	}
	if _, err := when(v[fieldDate], d.Today()); err != nil {
		out[fieldDate] = err.Error()
	}
	if _, _, err := wholeMinutes(v[fieldMinutes]); err != nil {
		out[fieldMinutes] = err.Error()
	}
	return out
}

// ticksOf is the ticks a filled-in form stands for.
func ticksOf(d *session.Session, chores []model.ID, v form.Values) []request.Done {
	w, _ := when(v[fieldDate], d.Today()) // without problems, or it could not be saved
	var out []request.Done
	for _, id := range chores {
		t := model.Tick{Chore: id, Found: model.Found(v[fieldFound+string(id)]), About: w.About, Note: strings.TrimSpace(v[fieldNote])}
		if n, ok, _ := wholeMinutes(v[fieldMinutes]); ok {
			t.Minutes = &n
		}
		c, _ := d.Book.Chore(id)
		t.Offset, _ = parse.Offset(d.Book, v[fieldOffset+string(id)], c, t.Found) // likewise
		done := request.Done{On: w.On, What: t}
		if counter, fills := d.Book.Fills(id); fills {
			made, _ := parse.Usage(v[fieldMade+string(id)], counter, d.Book.Def().Units) // likewise
			done.Made = &made
		}
		out = append(out, done)
	}
	return out
}
