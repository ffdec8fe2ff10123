package command

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/schedule"
	"brine/wrasse/ui/phrase"
)

func (p *program) roundCommand() *cobra.Command {
	var all, short bool
	var box int
	cmd := &cobra.Command{
		Use:     "round",
		Short:   "Print what is due, and exit 0, 10 or 11 by how late it is",
		Example: "  wrasse round\n  wrasse round --minutes 45\n  wrasse round --short",
		Args:    wordCount(0, 0, "no words, only flags"),
		RunE: func(cmd *cobra.Command, _ []string) error {
			minutes := &box
			if !cmd.Flags().Changed("minutes") {
				minutes = nil
			}
			if short && (p.json || all || minutes != nil) {
				return usagef("--short is one line, and goes with no --json, --all or --minutes")
			}
			return p.round(all, short, minutes)
		},
	}
	cmd.Flags().BoolVar(&all, "all", false, "also list what is ahead and what has no date")
	cmd.Flags().BoolVar(&short, "short", false, "one line, as for a prompt: 1 broken, 2 late")
	cmd.Flags().Var(whole{&box, 1, maxBox}, "minutes", "also say what to do with `M` minutes")
	return cmd
}

const maxBox = 24 * 60

// round prints the round and, given minutes, what fits into them.
func (p *program) round(all, short bool, minutes *int) error {
	b, r, err := p.ahead()
	if err != nil {
		return err
	}
	var box *schedule.TimeBox
	if minutes != nil {
		t := r.TimeBox(*minutes)
		box = &t
	}
	if p.json {
		return verdict(r).or(p.printJSON(jsonRound(r, box)))
	}
	if short {
		var out page
		out.line("%s", strings.ReplaceAll(phrase.Counts(r, false), " · ", ", "))
		return verdict(r).or(out.print(p.Stdout))
	}
	t := roundText{page: new(page), book: b, on: r.On, plain: p.config.Plain}
	t.write(r, box, all)
	return verdict(r).or(t.print(p.Stdout))
}

// verdict is the exit code of a round.
func verdict(r *schedule.Round) exitCode {
	switch {
	case r.Counts.PastLimitHarm > 0 || len(r.Faults) > 0 || len(r.Breaches) > 0:
		return exitHarm
	case r.Counts.Late > 0:
		return exitLate
	}
	return 0
}

// roundText is the round on its way out: in columns, or in plain words, a fact a line.
type roundText struct {
	*page
	book  *ledger.Book
	on    model.Date
	plain bool
}

func (out roundText) write(r *schedule.Round, box *schedule.TimeBox, all bool) {
	counts := phrase.Counts(r, false)
	out.line("%s, %s: %s", r.Book, phrase.Today(r.On), counts)
	if now := r.Cost(r.Today()...); now.Hands > 0 {
		out.line("due now: %d min of work, %d of getting there", now.Hands, now.Access)
	}
	switch {
	case r.Leaving() != nil:
		out.line("%s", phrase.Leaving(r, *r.Absence))
	case r.Gone() != nil:
		out.line("%s", phrase.Gone(r, *r.Absence))
	}
	if wanted := phrase.Wanted(out.book, r); wanted != "" {
		out.line("%s", wanted)
	}
	if box != nil {
		out.box(*box)
	}
	if len(r.Faults) > 0 {
		out.head("broken now")
		out.faults(r.Faults)
	}
	if len(r.Breaches) > 0 {
		out.head("outside its safe range")
		out.breaches(out.book, r.Breaches)
	}
	for _, section := range phrase.Sections(r) {
		var list []*schedule.Standing
		for _, i := range section.Chores {
			list = append(list, &r.Standings[i])
		}
		switch {
		case len(list) == 0:
		case section.Far && !all:
			out.line("")
			first := strings.Join(row(out.book, r.On, list[0])[:whatCell+1], "  ")
			if out.plain {
				first = phrase.Said(list[0], r.On)
			}
			out.line("%s (%d), first: %s", section.Title, len(list), first)
		default:
			out.head(section.Title)
			out.chores(list, placeCell+1)
		}
	}
}

// chores lists chores by so many of their cells.
func (out roundText) chores(list []*schedule.Standing, cells int) {
	if out.plain {
		for _, s := range list {
			say := phrase.Said(s, out.on)
			if flag := phrase.Flagged(out.book, s.Component.ID); flag != nil {
				say += ", " + string(flag.What.State)
			}
			out.line("%s; id %s", say, s.Chore.ID)
		}
		return
	}
	var rows [][]string
	for _, s := range list {
		rows = append(rows, row(out.book, out.on, s)[:cells])
	}
	out.table(rows, minutesCell).fits(whatCell, placeCell)
}

func (out roundText) faults(list []schedule.OpenFault) {
	if out.plain {
		for i := range list {
			out.line("%s; id %s", phrase.FaultSaid(&list[i], out.on), list[i].Component.ID)
		}
		return
	}
	var rows [][]string
	for _, f := range list {
		rows = append(rows, []string{string(f.Component.ID), "since " + phrase.Day(f.Since, out.on), f.Component.Name, f.Note})
	}
	out.table(rows)
}

func (out roundText) breaches(b *ledger.Book, list []schedule.Breach) {
	var rows [][]string
	for i := range list {
		v := &list[i]
		if out.plain {
			out.line("%s; id %s", phrase.BreachSaid(b, v, out.on), v.Gauge.ID)
			continue
		}
		rows = append(rows, []string{string(v.Gauge.ID), "since " + phrase.Day(v.Since, out.on), v.Gauge.Name, phrase.Amount(b, v.Value, v.Gauge.Unit), phrase.Safe(b, v.Gauge)})
	}
	out.table(rows)
}

// box says what to do with the minutes there are, place by place.
func (out roundText) box(box schedule.TimeBox) {
	out.line("")
	if len(box.Stops) == 0 {
		out.line("with %d min: nothing that is due soon fits", box.Minutes)
		return
	}
	waiting := ""
	if box.Waiting > 0 {
		waiting = fmt.Sprintf(", done after %d with the waiting", box.Elapsed())
	}
	out.line("with %d min: %d of work and getting at it%s", box.Minutes, box.Used, waiting)
	for _, stop := range box.Stops {
		out.line("%s, %d min to set up", stop.Place.Name, stop.Place.Minutes)
		var list []*schedule.Standing
		for _, o := range stop.Openings {
			list = append(list, o.Chores...)
		}
		out.chores(list, placeCell) // the place stands above
	}
}

// The cells of a row that others refer to.
const (
	whatCell    = 2
	minutesCell = 4
	placeCell   = 5
)

// row is one chore as its cells: id, when, what, reach, minutes, place.
func row(b *ledger.Book, on model.Date, s *schedule.Standing) []string {
	minutes := fmt.Sprintf("%d", s.Chore.Minutes)
	if w := s.Chore.WaitingMinutes(); w > 0 {
		minutes = fmt.Sprintf("%d+%d", s.Chore.Minutes, w)
	}
	return []string{
		string(s.Chore.ID), phrase.When(s, on), phrase.Label(b, s),
		"reach " + phrase.ReachCell(fmt.Sprint(s.Component.Reach), phrase.Flagged(b, s.Component.ID) != nil), minutes + " min", s.Place.Name + aside(s),
	}
}

func aside(s *schedule.Standing) string {
	if s.State == schedule.StateDeferred && s.Deferred != nil && s.Deferred.What.Reason != "" {
		return "  put off: " + s.Deferred.What.Reason
	}
	return ""
}
