package round

import (
	"fmt"
	"slices"
	"strconv"
	"time"

	"brine/wrasse/model"
	"brine/wrasse/schedule"
	"brine/wrasse/ui/checklist"
	"brine/wrasse/ui/form"
	"brine/wrasse/ui/keys"
	"brine/wrasse/ui/parse"
	"brine/wrasse/ui/phrase"
	"brine/wrasse/ui/session"
	"brine/wrasse/ui/table"
	"brine/wrasse/ui/text"

	tea "github.com/charmbracelet/bubbletea"
)

// box is the page of the minutes at hand: they are typed, and what fits into them is
// listed, place by place.
type box struct {
	*table.Page
	session *session.Session
	checks  *checklist.Checks
	typed   form.Line
	fit     schedule.TimeBox
}

// boxDigits is enough for the minutes of a day.
const boxDigits = 4

// boxMinutes is what the page begins with: an ordinary half hour.
const boxMinutes = 30

func newBox(d *session.Session, checks *checklist.Checks) *box {
	b := &box{session: d, checks: checks, typed: form.NewLine(boxDigits), fit: d.Round.TimeBox(boxMinutes)}
	b.Page = table.NewPage(d, keys.Box, b.lines, b.act)
	b.typed.Focus()
	return b
}

// TextEntry is true: digits are minutes.
func (b *box) TextEntry() bool { return true }

// Msg takes digits, and fits anew when the book has changed.
func (b *box) Msg(msg tea.Msg) tea.Cmd {
	switch msg := msg.(type) {
	case tea.KeyMsg:
		msg.Runes = slices.DeleteFunc(slices.Clone(msg.Runes), func(r rune) bool { return r < '0' || r > '9' })
		b.typed.Type(msg)
		b.again()
	case session.BookChanged:
		b.again()
	}
	return nil
}

// again fits what there is into the minutes typed.
func (b *box) again() {
	b.ToTop()
	b.fit = b.session.Round.TimeBox(b.minutes())
}

// minutes are those typed, or the ones the page began with.
func (b *box) minutes() int {
	n, err := strconv.Atoi(b.typed.Value())
	if err != nil {
		return boxMinutes
	}
	return min(n, 1440)
}

// act opens the steps of everything that fits as one job.
func (b *box) act(a keys.Action) (cmd tea.Cmd, used bool) {
	if a != keys.Submit {
		return nil, false
	}
	var ids []model.ID
	for _, s := range b.fit.Chores() {
		ids = append(ids, s.Chore.ID)
	}
	if len(ids) > 0 {
		b.session.Root.Push(checklist.New(b.session, b.checks, ids))
	}
	return nil, true
}

func (b *box) lines(w int) []string {
	th, on := b.session.Root.Theme(), b.session.Round.On
	shown, hint := b.typed.Draw(th, len(b.typed.Value())+1), ""
	if b.typed.Value() == "" {
		shown, hint = th.Field.Render(strconv.Itoa(boxMinutes))+th.Cursor.Render(" "), "type the minutes you have"
	}
	lines := []string{th.Title.Render("minutes at hand ") + shown + " " + th.Dim.Render(hint)}
	chosen := b.fit.Chores()
	if len(chosen) == 0 {
		return append(lines, text.Wrap(nothingFits(b.session.Round), w)...)
	}
	lines = append(lines, text.Wrap(th.Words(b.total()), w)...)
	if th.Plain {
		return append(lines, b.inWords(w)...)
	}
	lines = append(lines, "")
	for _, stop := range b.fit.Stops {
		lines = append(lines, text.Spread(th.Title.Render(text.Clean(stop.Place.Name)), th.Dim.Render(fmt.Sprintf("set up %d min", stop.Place.Minutes)), min(w, boxWidth)))
		for _, o := range stop.Openings {
			if o.Component.AccessMinutes > 0 {
				lines = append(lines, text.Spread("  "+th.Dim.Render("get at "+text.Clean(o.Component.Name)), th.Dim.Render(fmt.Sprintf("%d min", o.Component.AccessMinutes)), min(w, boxWidth)))
			}
			for _, s := range o.Chores {
				name := "    " + text.Clean(s.Component.Name+", "+s.Chore.Name)
				right := stateStyle(th, s).Render(phrase.When(s, on)) + text.Right(minutesOf(s.Chore, true)+" min", 12)
				lines = append(lines, text.Spread(name, right, min(w, boxWidth)))
			}
		}
	}
	return lines
}

// total is how many chores fit, and when they would be done, begun now: "The most useful 26 min: 2 chores, 25 min of work and
// getting there; done by 08:20, 35 min of it waiting on timers".
func (b *box) total() string {
	out := fmt.Sprintf("The most useful %d min: %s, %d min of work and getting there",
		b.fit.Minutes, phrase.Count(len(b.fit.Chores()), "chore"), b.fit.Used)
	of := ""
	if b.fit.Waiting > 0 {
		of = ", " + parse.Duration(float64(b.fit.Waiting)) + " of it waiting on timers"
	}
	end := b.session.Root.Now().Add(time.Duration(b.fit.Elapsed()) * time.Minute)
	return out + "; done by " + end.Format("15:04") + of
}

// boxWidth is as wide as the list is drawn: beyond, the eye loses the line.
const boxWidth = 84

// nothingFits says why a time box is empty.
func nothingFits(r *schedule.Round) string {
	for i := range r.Standings {
		switch r.Standings[i].State {
		case schedule.StateLate, schedule.StateDue, schedule.StateSoon:
			return "Nothing fits: the shortest job and the way to it take longer."
		}
	}
	return "Nothing is due in the next days."
}
