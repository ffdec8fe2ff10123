package command

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/ui/parse"
	"brine/wrasse/ui/request"
)

func (p *program) useCommand() *cobra.Command {
	var by string
	var reset bool
	cmd := &cobra.Command{
		Use:     "use COUNTER AMOUNT[unit]",
		Short:   "Log an amount: wrasse use water 40, or 10gal, 20+18, 100-60",
		Example: "  wrasse use water 40\n  wrasse use water 10gal --on yesterday",
		Long: `Logs an amount of a counter, or the value its running meter shows. The amount is in
the book's units unless one stands behind it: 40, 10gal, 20+18, 100-60. One over 4
times the usual takes --yes.`,
		Args: wordCount(2, -1, "a counter and an amount"),
		RunE: func(_ *cobra.Command, args []string) error {
			return p.use(args[0], strings.Join(args[1:], " "), by, reset)
		},
	}
	cmd.Flags().StringVar(&by, "by", "", "who did it")
	cmd.Flags().BoolVar(&reset, "reset", false, "the meter was set back before this value")
	return cmd
}

func (p *program) use(counter, amount, by string, reset bool) error {
	return p.act(by, func(s request.Stamp, b *ledger.Book) (builder, error) {
		c, err := parse.Counter(b, counter)
		if err != nil {
			return nil, err
		}
		v, err := parse.Usage(amount, c, b.Def().Units)
		if err != nil {
			return nil, fmt.Errorf("amount for %s: %w", c.ID, err)
		}
		return request.Use{Stamp: s, Counter: c.ID, Amount: v, Reset: reset}.Entries, p.sure(parse.OddAmount(b, c, v, s.On))
	})
}

func (p *program) readCommand() *cobra.Command {
	var by string
	var running *float64
	cmd := &cobra.Command{
		Use:     "read GAUGE VALUE [GAUGE VALUE ...]",
		Short:   "Log readings: wrasse read tds-tap 248 tds-membrane 6 tds-product 0",
		Example: "  wrasse read tds-tap 248 tds-membrane 6 tds-product 0\n  wrasse read tank-temperature 77F",
		Long: `Logs readings, all as one act. Reading the last gauge of a chore that is done by
reading ticks it off. A value is in the book's units unless one stands behind it:
248, 77F, 60psi, "1.0264 SG". Put -- before the first word where a value is negative.
One that is 5 times and 3 units off the last, or above that of the water before it,
takes --yes.`,
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 || len(args)%2 != 0 {
				return usagef("%s takes gauges and values in pairs; see %s --help", cmd.CommandPath(), cmd.CommandPath())
			}
			return nil
		},
		RunE: func(_ *cobra.Command, args []string) error {
			return p.read(args, by, running)
		},
	}
	cmd.Flags().StringVar(&by, "by", "", "who did it")
	cmd.Flags().Var(minutes{&running}, "running", "`MINUTES` the unit had run before; under 5 the readings are shown and count nowhere")
	return cmd
}

func (p *program) read(pairs []string, by string, running *float64) error {
	return p.act(by, func(s request.Stamp, b *ledger.Book) (builder, error) {
		var readings []model.Reading
		var odd []string
		for i := 0; i < len(pairs); i += 2 {
			g, err := parse.Gauge(b, pairs[i])
			if err != nil {
				return nil, err
			}
			v, err := parse.Value(pairs[i+1], g, b.Def().Units)
			if err != nil {
				return nil, fmt.Errorf("value for %s: %w", g.ID, err)
			}
			r := model.Reading{Gauge: g.ID, Value: v, MinutesRunning: running}
			readings, odd = append(readings, r), append(odd, parse.OddReading(b, r, s.On))
		}
		return request.Read{Stamp: s, Readings: readings}.Entries, p.sure(append(odd, parse.OddOrder(b, readings))...)
	})
}
