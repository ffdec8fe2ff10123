package command

import (
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"brine/wrasse/model"
	"brine/wrasse/ui/parse"
	"brine/wrasse/ui/request"
)

func (p *program) flagCommand() *cobra.Command {
	var cause, note, by string
	cmd := &cobra.Command{
		Use:   "flag COMPONENT",
		Short: "Put a component that is hard to get at on the rethink list",
		Args:  wordCount(1, -1, "a component"),
		RunE: func(_ *cobra.Command, args []string) error {
			if !slices.Contains(model.Causes, model.Cause(cause)) {
				return usagef("--cause %q is not a cause; give one of %s", cause, causes())
			}
			return p.onComponent(args, by, func(s request.Stamp, c model.ID) builder {
				return request.Flag{Stamp: s, Flag: model.Flag{Component: c, Cause: model.Cause(cause), Note: note}}
			})
		},
	}
	cmd.Flags().StringVar(&cause, "cause", string(model.Causes[0]), "why: "+causes())
	cmd.Flags().StringVar(&note, "note", "", "a remark")
	cmd.Flags().StringVar(&by, "by", "", "who says so")
	return cmd
}

func causes() string {
	out := make([]string, len(model.Causes))
	for i, c := range model.Causes {
		out[i] = string(c)
	}
	return strings.Join(out, ", ")
}

func (p *program) faultCommand() *cobra.Command {
	var note, by string
	cmd := &cobra.Command{
		Use:   "fault COMPONENT",
		Short: "Report a component broken now; ticking one of its chores closes it",
		Args:  wordCount(1, -1, "a component"),
		RunE: func(_ *cobra.Command, args []string) error {
			return p.onComponent(args, by, func(s request.Stamp, c model.ID) builder {
				return request.Fault{Stamp: s, Fault: model.Fault{Component: c, Note: note}}
			})
		},
	}
	cmd.Flags().StringVar(&note, "note", "", "what is wrong")
	cmd.Flags().StringVar(&by, "by", "", "who says so")
	return cmd
}

// builder is an act of package act.
type builder interface {
	Entries(*model.Book) ([]model.Entry, error)
}

// onComponent writes an act on the component that words name.
func (p *program) onComponent(words []string, by string, of func(request.Stamp, model.ID) builder) error {
	stamp, err := p.stamp(by)
	if err != nil {
		return err
	}
	b, err := p.load()
	if err != nil {
		return err
	}
	c, err := parse.Component(b, strings.Join(words, " "))
	if err != nil {
		return err
	}
	return p.write(of(stamp, c.ID).Entries)
}

func (p *program) awayCommand() *cobra.Command {
	var by string
	cmd := &cobra.Command{
		Use:   "away UNTIL",
		Short: "Say that nobody is there until a date, the first day back",
		Args:  wordCount(1, -1, "the first day back"),
		RunE: func(_ *cobra.Command, args []string) error {
			stamp, err := p.stamp(by)
			if err != nil {
				return err
			}
			until, err := parse.Until(strings.Join(args, " "), stamp.On)
			if err != nil {
				return usageError{err}
			}
			if _, err := p.load(); err != nil {
				return err
			}
			return p.write(request.Away{Stamp: stamp, Away: model.Away{Until: until}}.Entries)
		},
	}
	cmd.Flags().StringVar(&by, "by", "", "who says so")
	return cmd
}
