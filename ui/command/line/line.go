// Package line is a command line: commands with flags, their help, and what a shell
// offers to complete them. What the commands do is not here, nor is anything of a book.
//
// It exists because a process pays at every start for what it links. The usual library
// for this reaches the network's resolver through its flags for addresses, and with that
// the C library: half a millisecond and more before main, of the few that a round takes.
//
// Start at Command.Execute. Flags may stand anywhere behind their command, and those of
// the root that every command has before it too; behind -- all are words.
package line

import (
	"io"
	"slices"
	"strings"
)

// Command is the program, or one of the things it does.
type Command struct {
	Use     string        // the name, then its words for people
	Short   string        // what it does, in a line
	Long    string        // the same at length, where there is more to say
	Version func() string // of the root: what --version prints behind the name

	// Args refuses words that make no sense.
	Args func(cmd *Command, words []string) error
	// Before runs before Run; where a command has none that of the root does.
	Before func(cmd *Command) error
	Run    func(cmd *Command, words []string) error
	// Words completes a word.
	Words Completion

	// Of the root: where help and what a shell asks for go,
	// and what is made of an error in a flag.
	Out       io.Writer
	FlagError func(cmd *Command, err error) error
	// Completes, of the root, gives Words to a command and its flags.
	Completes func(cmd *Command)

	parent *Command
	subs   []sub   // of the root
	flags  FlagSet // its own
	every  FlagSet // of the root: those every command has
}

// sub is a command of a root, made when it is first asked for.
type sub struct {
	name string
	make func() *Command
	made *Command
}

// command is the command.
func (s *sub) command(root *Command) *Command {
	if s.made == nil {
		s.made = s.make()
		s.made.parent = root
	}
	return s.made
}

// Add gives a root a command, which is made when it is asked for.
func (c *Command) Add(name string, make func() *Command) {
	c.subs = append(c.subs, sub{name: name, make: make})
}

// Name is the first word of Use.
func (c *Command) Name() string {
	name, _, _ := strings.Cut(c.Use, " ")
	return name
}

// Path is the name with that of the root before it.
func (c *Command) Path() string {
	if c.parent == nil {
		return c.Name()
	}
	return c.parent.Name() + " " + c.Name()
}

// Root is the program.
func (c *Command) Root() *Command {
	if c.parent == nil {
		return c
	}
	return c.parent
}

// Commands are the commands of a root in the order of their names. Help is among them.
func (c *Command) Commands() []*Command {
	out := []*Command{c.command(helpName)}
	for i := range c.subs {
		out = append(out, c.subs[i].command(c))
	}
	slices.SortFunc(out, func(a, b *Command) int { return strings.Compare(a.Name(), b.Name()) })
	return out
}

// Flags are the flags of the command alone.
func (c *Command) Flags() *FlagSet { return &c.flags }

// EveryFlags are the flags that every command of a root has.
func (c *Command) EveryFlags() *FlagSet { return &c.Root().every }

// IsHelp tells whether the command only prints the help of others.
func (c *Command) IsHelp() bool { return c.Name() == helpName }

// flag finds a flag of the command by its name.
func (c *Command) flag(name string) *Flag {
	if f := c.flags.Lookup(name); f != nil {
		return f
	}
	return c.Root().every.Lookup(name)
}

// short finds a flag of the command by its letter.
func (c *Command) short(letter byte) *Flag {
	if f := c.flags.letter(letter); f != nil {
		return f
	}
	return c.Root().every.letter(letter)
}

// Execute runs the command that args name.
func (c *Command) Execute(args []string) error {
	if at := c.firstWord(args); at >= 0 && isRequest(args[at]) {
		return c.answer(args[at], slices.Concat(args[:at], args[at+1:]))
	}
	cmd, rest := c.find(args)
	return cmd.run(rest)
}

// find is the command that args name and the args without its name.
func (c *Command) find(args []string) (*Command, []string) {
	at := c.firstWord(args)
	if at < 0 {
		return c, args
	}
	if sub := c.command(args[at]); sub != nil {
		return sub, slices.Concat(args[:at], args[at+1:])
	}
	return c, args
}

// command is the command of a name, nil when there is none.
func (c *Command) command(name string) *Command {
	for i := range c.subs {
		if c.subs[i].name == name {
			return c.subs[i].command(c)
		}
	}
	if name != helpName || c.parent != nil {
		return nil
	}
	help := helpCommand()
	help.parent = c
	return help
}

// firstWord is where the first word stands that is no flag and no flag's value, -1 when
// there is none. Only flags that every command has may stand before its name; of others
// it is not known whether they have a value, and they are taken to.
func (c *Command) firstWord(args []string) int {
	for i := 0; i < len(args); i++ {
		switch s := args[i]; {
		case s == "--":
			return -1
		case s == "":
		case s[0] != '-' || s == "-":
			return i
		case strings.Contains(s, "="):
		case strings.HasPrefix(s, "--"):
			if f := c.flag(s[2:]); f == nil || !f.alone() {
				i++
			}
		case len(s) == 2:
			if f := c.short(s[1]); f == nil || !f.alone() {
				i++
			}
		}
	}
	return -1
}

// ownFlags gives a command the flags that all have of their own.
func (c *Command) ownFlags() {
	if c.flags.Lookup(helpName) == nil {
		c.flags.add(&Flag{Name: helpName, Letter: 'h', Usage: "help for " + c.Name(), Value: new(truth)})
	}
	if c.Version != nil && c.flags.Lookup(versionName) == nil {
		c.flags.add(&Flag{Name: versionName, Letter: 'v', Usage: "version for " + c.Name(), Value: new(truth)})
	}
}

const (
	helpName    = "help"
	versionName = "version"
)

// asked tells whether a flag of the command is set to true.
func (c *Command) asked(name string) bool {
	f := c.flags.Lookup(name)
	return f != nil && f.Value.String() == "true"
}

// run runs the command on its flags and words.
func (c *Command) run(args []string) error {
	c.ownFlags()
	root := c.Root()
	words, err := c.parse(args)
	if err != nil {
		return root.FlagError(c, err)
	}
	switch {
	case c.asked(helpName):
		return c.help(root.Out)
	case c.asked(versionName):
		_, err := io.WriteString(root.Out, c.Name()+" "+c.Version()+"\n")
		return err
	}
	if c.Args != nil {
		if err := c.Args(c, words); err != nil {
			return err
		}
	}
	before := c.Before
	if before == nil {
		before = root.Before
	}
	if err := before(c); err != nil {
		return err
	}
	return c.Run(c, words)
}

// Near are the commands whose names begin with a word, or are at most so many letters off.
func (c *Command) Near(word string, off int) []string {
	var out []string
	for _, sub := range c.Commands() {
		name := sub.Name()
		if strings.HasPrefix(name, strings.ToLower(word)) || distance(strings.ToLower(word), name) <= off {
			out = append(out, name)
		}
	}
	return out
}

// distance is how many letters must be put in, taken out or changed to make b of a.
func distance(a, b string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		corner := row[0]
		row[0] = i + 1
		for j := range len(b) {
			change := corner
			if a[i] != b[j] {
				change++
			}
			corner = row[j+1]
			row[j+1] = min(change, row[j]+1, row[j+1]+1)
		}
	}
	return row[len(b)]
}
