package command

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"brine/wrasse/ui/text"
)

// helpWidth is what help is folded to.
const helpWidth = 80

// textOnly are the commands that write the same whatever the book, the day and the flags are.
var textOnly = []string{"completion", "man"}

// help prints what --help says of a command: the text of the library's own help, which is
// neither folded nor, once it has a template, small.
func (p *program) help(cmd *cobra.Command, _ []string) {
	var out strings.Builder
	for part := range strings.SplitSeq(about(cmd), "\n\n") {
		if strings.HasPrefix(part, " ") { // lines that stand for themselves
			out.WriteString(part + "\n")
		} else {
			hang(&out, "", strings.Join(strings.Fields(part), " "))
		}
		out.WriteByte('\n')
	}
	out.WriteString("Usage:\n")
	if cmd.HasParent() {
		fmt.Fprintf(&out, "  %s\n", cmd.UseLine())
	} else {
		fmt.Fprintf(&out, "  %s [flags]\n  %s COMMAND [flags]\n", cmd.Name(), cmd.Name())
	}
	if cmd.Example != "" {
		fmt.Fprintf(&out, "\nExamples:\n%s\n", cmd.Example)
	}
	for _, g := range cmd.Groups() {
		fmt.Fprintf(&out, "\n%s\n", g.Title)
		for _, c := range cmd.Commands() {
			if c.GroupID == g.ID {
				hang(&out, fmt.Sprintf("  %-*s ", cmd.NamePadding(), c.Name()), c.Short)
			}
		}
	}
	flags := func(title, usages string) {
		if usages != "" {
			fmt.Fprintf(&out, "\n%s:\n%s", title, usages)
		}
	}
	flags("Flags", cmd.LocalFlags().FlagUsagesWrapped(helpWidth))
	if !slices.Contains(textOnly, cmd.Name()) {
		common := pflag.NewFlagSet("", pflag.ContinueOnError)
		cmd.InheritedFlags().VisitAll(func(f *pflag.Flag) {
			if f.Name != "json" || !slices.Contains(jsonless, cmd.Name()) {
				common.AddFlag(f)
			}
		})
		flags("Flags of every command", common.FlagUsagesWrapped(helpWidth))
	}
	_, _ = io.WriteString(p.Stdout, out.String()) // nobody is left to tell
}

// about is what a command does.
func about(cmd *cobra.Command) string { return cmp.Or(cmd.Long, cmd.Short+".") }

// hang writes text behind a head, folded, its further lines below its first.
func hang(out *strings.Builder, head, s string) {
	for _, line := range text.Wrap(s, helpWidth-text.Width(head)) {
		out.WriteString(head + line + "\n")
		head = strings.Repeat(" ", text.Width(head))
	}
}
