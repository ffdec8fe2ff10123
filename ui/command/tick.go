package command

import (
	"bufio"
	"cmp"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/schedule"
	"brine/wrasse/ui/parse"
	"brine/wrasse/ui/phrase"
	"brine/wrasse/ui/request"
)

// ticking is the flags of tick.
type ticking struct {
	found, note, by string
	offset          string // of a check that failed
	made            string // what was made, of a chore that fills a vessel
	minutes         int
	timed           bool // minutes were given
	again           bool // ticked that day already, and done twice
}

func (t ticking) plain() bool {
	return t.found == "" && t.made == "" && t.offset == "" && t.note == "" && !t.timed
}

func (p *program) tickCommand() *cobra.Command {
	var t ticking
	cmd := &cobra.Command{
		Use:     "tick [CHORE | -]",
		Short:   "Tick a chore off, with what was found",
		Example: "  wrasse tick clean-impeller --found light --minutes 40\n  echo \"~2025-09-01 renew-carbon\" | wrasse tick -",
		Long: `Ticks a chore off. What was found is a word or its letter: clean, light, heavy,
stopped (c l h f); for a renewal also under half, half, nearly, spent; for a test
passed, failed (p f). Making water is told what was made: --made 40, in a line "make-water 40".

Without a CHORE it prints the round with numbers and reads lines such as "2 l" up to
an empty one. With - it reads lines such as "2026-03-03 clean-impeller heavy"; a ~
before the date says that it is a guess. All lines are one act.

What is ticked on that day already takes --again, a day before the part was in service
--yes.`,
		RunE: func(cmd *cobra.Command, args []string) error {
			t.timed = cmd.Flags().Changed("minutes")
			if len(args) > 0 && args[0] != "-" {
				return p.tick(strings.Join(args, " "), t)
			}
			if !t.plain() {
				return usagef("--found, --made, --offset, --minutes and --note go with one CHORE; name it, or put the word into the line")
			}
			if len(args) == 0 {
				return p.tickNumbered(t)
			}
			return p.tickLines(t)
		},
	}
	f := cmd.Flags()
	f.StringVar(&t.found, "found", "", "what was found, a word or its letter")
	f.StringVar(&t.made, "made", "", "`AMOUNT[unit]` that was made, or what the meter shows")
	f.Var(whole{&t.minutes, 0, 24 * 60}, "minutes", "minutes it took")
	f.StringVar(&t.offset, "offset", "", "of a check that failed: what the instrument showed too much, `N`")
	f.StringVar(&t.note, "note", "", "a remark")
	f.StringVar(&t.by, "by", "", "who did it")
	f.BoolVar(&t.again, "again", false, "tick what is ticked on that day already")
	return cmd
}

func (p *program) tick(chore string, t ticking) error {
	when, err := p.happened()
	if err != nil {
		return err
	}
	b, err := p.load()
	if err != nil {
		return err
	}
	c, err := parse.Chore(b, chore)
	if err != nil {
		return err
	}
	if _, fills := b.Fills(c.ID); !fills && t.made != "" {
		return usagef("--made goes with a chore that fills a vessel; %s fills none", c.ID)
	}
	d, err := done(b, when, c, cmp.Or(t.made, t.found))
	if err != nil {
		return err
	}
	d.What.Note = t.note
	if d.What.Offset, err = parse.Offset(b, t.offset, c, d.What.Found); err != nil {
		return usagef("--offset: %w", err)
	}
	if t.timed {
		d.What.Minutes = &t.minutes
	}
	return p.tickAll(b, t, []request.Done{d})
}

// done is a chore done on a date, with the word for what was found or, where it fills a vessel, what was made.
func done(b *ledger.Book, when parse.When, c model.Chore, found string) (request.Done, error) {
	d := request.Done{On: when.On, What: model.Tick{Chore: c.ID, About: when.About}}
	var err error
	if counter, fills := b.Fills(c.ID); !fills {
		d.What.Found, err = parse.Found(found, c.Work)
	} else if strings.TrimSpace(found) == "" {
		err = fmt.Errorf("say how much was made: --made 40, or %s 40 in a line", c.ID)
	} else {
		d.Made = new(float64)
		*d.Made, err = parse.Usage(found, counter, b.Def().Units)
	}
	if err != nil {
		err = fmt.Errorf("%s: %w", c.ID, err)
	}
	return d, err
}

// tickLines ticks off what lines of date, chore and word say.
func (p *program) tickLines(t ticking) error {
	b, err := p.load()
	if err != nil {
		return err
	}
	var all []request.Done
	err = p.eachLine(func(line string) error {
		if len(all) == model.MaxActLen {
			return fmt.Errorf("one act holds at most %d ticks; give the others after it", model.MaxActLen)
		}
		fields := strings.Fields(line)
		if len(fields) < 2 {
			return errors.New("give a date, a chore and what was found, such as: 2026-03-03 clean-impeller heavy")
		}
		when, err := parse.Date(fields[0], p.today())
		if err != nil {
			return err
		}
		if err := p.past(when.On); err != nil {
			return err
		}
		c, err := parse.Chore(b, fields[1])
		if err != nil {
			return err
		}
		d, err := done(b, when, c, strings.Join(fields[2:], " "))
		all = append(all, d)
		return err
	})
	if err != nil {
		return err
	}
	return p.tickAll(b, t, all)
}

// tickAll writes ticks as one act, unless one of them is odd or there twice and nothing says that it is meant.
func (p *program) tickAll(b *ledger.Book, t ticking, all []request.Done) error {
	if len(all) == 0 {
		return errors.New("nothing was ticked off: no line named a chore")
	}
	if len(all) > model.MaxActLen {
		return fmt.Errorf("%d ticks are more than one act holds; give at most %d at a time", len(all), model.MaxActLen)
	}
	var odd []string
	for i, d := range all {
		c, _ := b.Chore(d.What.Chore)
		again := parse.Again(b, c, d.On, p.today())
		if again == "" && slices.ContainsFunc(all[:i], func(o request.Done) bool { return o.On == d.On && o.What.Chore == c.ID }) {
			again = fmt.Sprintf("named twice for %s", d.On)
		}
		if again != "" && !t.again {
			return fmt.Errorf("%s; add --again if it was done twice", parse.OfChore(b, c, again))
		}
		odd = append(odd, parse.OfChore(b, c, parse.OddTick(b, c, d.On)))
		if counter, fills := b.Fills(c.ID); fills {
			odd = append(odd, parse.OddAmount(b, counter, *d.Made, d.On))
		}
	}
	if err := p.sure(odd...); err != nil {
		return err
	}
	return p.write(request.Tick{By: t.by, Done: all}.Entries)
}

const maxLine = 16 << 10

// eachLine calls f for every line of standard input that is not empty and no remark
// (#). An error names the line.
func (p *program) eachLine(f func(string) error) error {
	lines := bufio.NewScanner(p.Stdin)
	lines.Buffer(nil, maxLine)
	for n := 1; lines.Scan(); n++ {
		line := strings.TrimSpace(lines.Text())
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		if err := f(line); err != nil {
			return fmt.Errorf("line %d: %w; nothing was written", n, err)
		}
	}
	if err := lines.Err(); err != nil {
		return fmt.Errorf("reading standard input: %w", err)
	}
	return nil
}

// tickNumbered prints what can be ticked off with numbers and reads which.
func (p *program) tickNumbered(t ticking) error {
	if p.json {
		return usagef("--json goes with a CHORE or with -; a list to pick from is for reading")
	}
	when, err := p.happened()
	if err != nil {
		return err
	}
	b, err := p.load()
	if err != nil {
		return err
	}
	offered := nextWeek(schedule.Make(b, when.On))
	if len(offered) == 0 {
		return errors.New("nothing is due within a week; name a chore, or see all of them with: wrasse round --all")
	}
	var out page
	rows := make([][]string, len(offered))
	for i, s := range offered {
		rows[i] = append([]string{strconv.Itoa(i + 1)}, row(b, when.On, &s)...)
		if p.config.Plain {
			rows[i] = []string{strconv.Itoa(i + 1), phrase.Said(&s, when.On)}
		}
	}
	out.table(rows, 0).fits(whatCell+1, placeCell+1)
	if err := out.print(p.Stdout); err != nil {
		return err
	}
	all, err := p.pick(b, when, offered)
	if err != nil {
		return err
	}
	return p.tickAll(b, t, all)
}

// nextWeek is what is late, due, due within a week or put off, in round order.
func nextWeek(r *schedule.Round) []schedule.Standing {
	var out []schedule.Standing
	for _, s := range r.Standings {
		switch s.State {
		case schedule.StateLate, schedule.StateDue, schedule.StateSoon, schedule.StateDeferred:
			out = append(out, s)
		}
	}
	return out
}

// pick reads lines of a number and what was found, up to an empty one.
func (p *program) pick(b *ledger.Book, when parse.When, offered []schedule.Standing) ([]request.Done, error) {
	if p.Terminal() {
		p.remark("number and what was found, such as 2 l; an empty line ends")
	}
	var all []request.Done
	in := bufio.NewReader(io.LimitReader(p.Stdin, maxLine*model.MaxActLen))
	for {
		line, err := in.ReadString('\n')
		line = strings.TrimSpace(line)
		if err != nil && !errors.Is(err, io.EOF) {
			return nil, fmt.Errorf("reading standard input: %w", err)
		}
		if line == "" {
			return all, nil
		}
		d, bad := picked(b, when, offered, line)
		if bad != nil {
			return nil, fmt.Errorf("%w; nothing was written", bad)
		}
		all = append(all, d)
		if err != nil {
			return all, nil
		}
	}
}

// picked reads one line: `2 l`, `2l`, `2`.
func picked(b *ledger.Book, when parse.When, offered []schedule.Standing, line string) (request.Done, error) {
	end := strings.IndexFunc(line, func(r rune) bool { return r < '0' || r > '9' })
	if end < 0 {
		end = len(line)
	}
	n, err := strconv.Atoi(line[:end])
	if err != nil || n < 1 || n > len(offered) {
		return request.Done{}, fmt.Errorf("%q is no number of the list; give 1 to %d and what was found, such as 2 l", line, len(offered))
	}
	return done(b, when, offered[n-1].Chore, line[end:])
}
