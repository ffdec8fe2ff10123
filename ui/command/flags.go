package command

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"brine/wrasse/ui/parse"
)

// whole is a flag of a whole number within a range.
type whole struct {
	n         *int
	low, high int
}

func (w whole) Set(s string) error {
	n, err := strconv.Atoi(s)
	if err != nil || n < w.low || n > w.high {
		return fmt.Errorf("%q: give a whole number from %d to %d", s, w.low, w.high)
	}
	*w.n = n
	return nil
}

func (w whole) String() string {
	if w.n == nil {
		return "0" // asked by pflag of a flag that was never made
	}
	return strconv.Itoa(*w.n)
}

func (w whole) Type() string { return "N" }

// minutes is a flag of the minutes something ran; nil until it is given.
type minutes struct{ of **float64 }

func (m minutes) Set(s string) error {
	n, err := parse.Minutes(s)
	*m.of = &n
	return err
}

func (m minutes) String() string { return "" }
func (m minutes) Type() string   { return "N" }

// flagError says in one line what is wrong with the flags of a command line, and what a flag takes.
func flagError(cmd *cobra.Command, err error) error {
	var short *pflag.NotExistError
	var value *pflag.InvalidValueError
	if errors.As(err, &short) && short.GetSpecifiedShortnames() == "" {
		var known []string
		add := func(f *pflag.Flag) { known = append(known, f.Name) }
		cmd.LocalFlags().VisitAll(add)
		cmd.InheritedFlags().VisitAll(add)
		if flag := near(short.GetSpecifiedName(), known); flag != "" {
			err = fmt.Errorf("%w%s", err, meant("--"+flag))
		}
	}
	switch {
	case errors.As(err, &short) && strings.ContainsAny(short.GetSpecifiedShortnames(), "0123456789"):
		return usagef("-%s is no flag; put -- before the first word where a value is negative", short.GetSpecifiedShortnames())
	case errors.As(err, &value):
		why := value.Unwrap()
		if value.GetFlag().Value.Type() == "bool" {
			why = fmt.Errorf("%q: it is there or not, and takes no value", value.GetValue())
		}
		err = fmt.Errorf("--%s %w", value.GetFlag().Name, why)
	}
	return usagef("%w; see %s --help", err, cmd.CommandPath())
}
