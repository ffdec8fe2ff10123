package line

import (
	"fmt"
	"io"
	"strings"
)

// helpCommand prints the help of the command that is named, or of all.
func helpCommand() *Command {
	return &Command{
		Use:   helpName + " [command]",
		Short: "Help about any command",
		Long: `Prints the help of a command, as --help behind its name does. Without one it is
that of the program, with all commands.`,
		Before: func(*Command) error { return nil },
		Run: func(cmd *Command, words []string) error {
			about, _ := cmd.Root().find(words)
			about.ownFlags()
			return about.help(cmd.Root().Out)
		},
		Words: func(cmd *Command, words []string, begins string) ([]string, Directive) {
			if len(words) > 0 {
				return nil, NoFiles
			}
			return cmd.Root().names(begins), NoFiles
		},
	}
}

// help writes what is to be known of a command.
func (c *Command) help(w io.Writer) error {
	about := c.Long
	if about == "" {
		about = c.Short
	}
	var b strings.Builder
	fmt.Fprintf(&b, "%s\n\nUsage:\n", about)
	if c.parent == nil {
		fmt.Fprintf(&b, "  %s [flags]\n  %[1]s [command]\n\nAvailable Commands:\n", c.Use)
		commands, widest := c.Commands(), 0
		for _, sub := range commands {
			widest = max(widest, len(sub.Name()))
		}
		for _, sub := range commands {
			fmt.Fprintf(&b, "  %-*s  %s\n", widest, sub.Name(), sub.Short)
		}
	} else {
		fmt.Fprintf(&b, "  %s %s [flags]\n", c.parent.Name(), c.Use)
	}
	b.WriteString("\nFlags:\n")
	if c.parent == nil {
		c.both().help(&b)
		fmt.Fprintf(&b, "\nUse %q for more information about a command.\n", c.Name()+" [command] --help")
	} else {
		c.flags.help(&b)
		b.WriteString("\nGlobal Flags:\n")
		c.parent.every.help(&b)
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// both are the flags of a root with those every command has.
func (c *Command) both() *FlagSet {
	var all FlagSet
	all.list = append(all.list, c.flags.list...)
	for _, f := range c.every.list {
		all.insert(f)
	}
	return &all
}

// help writes a line for each flag.
func (s *FlagSet) help(b *strings.Builder) {
	heads, widest := make([]string, len(s.list)), 0
	for i, f := range s.list {
		head := "      --" + f.Name
		if f.Letter != 0 {
			head = fmt.Sprintf("  -%c, --%s", f.Letter, f.Name)
		}
		if value, _ := f.Unquote(); value != "" {
			head += " " + value
		}
		heads[i] = head
		widest = max(widest, len(head))
	}
	for i, f := range s.list {
		_, usage := f.Unquote()
		fmt.Fprintf(b, "%-*s   %s%s\n", widest, heads[i], usage, f.unlessGiven())
	}
}

// unlessGiven is what a flag is when it is not given, where that is not nothing.
func (f *Flag) unlessGiven() string {
	switch {
	case f.initial == "" || f.initial == "0" || f.initial == "false":
		return ""
	case f.Value.Type() == "string":
		return fmt.Sprintf(" (default %q)", f.initial)
	}
	return " (default " + f.initial + ")"
}
