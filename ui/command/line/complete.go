package line

import (
	"fmt"
	"slices"
	"strings"
)

// Completion is what a word may be: it gets the words before it and what is typed of it.
// Each of what it returns may have a description behind a tab.
type Completion func(cmd *Command, words []string, begins string) ([]string, Directive)

// Directive tells a shell what else to offer.
type Directive int

// The directives: names of files when there is nothing else, or nothing else.
const (
	Files   Directive = 0
	NoFiles Directive = 4
)

// None offers nothing.
func None(*Command, []string, string) ([]string, Directive) { return nil, NoFiles }

// OneOf offers the same words always.
func OneOf(words ...string) Completion {
	return func(*Command, []string, string) ([]string, Directive) { return words, NoFiles }
}

// Described is a word with its description.
func Described(word, description string) string { return word + "\t" + description }

// What a shell asks with: the words up to the one that is being typed, which is the last.
// A shell that cannot pass an empty word asks with the third when none is typed yet.
const (
	request      = "__complete"
	requestBare  = "__completeNoDesc" // without descriptions
	requestEmpty = "__completeEmpty"
)

func isRequest(word string) bool {
	return word == request || word == requestBare || word == requestEmpty
}

// answer writes what a shell offers, a line each, and the directive on a line of its own.
func (c *Command) answer(how string, args []string) error {
	if how == requestEmpty {
		args = append(args, "")
	}
	if len(args) == 0 {
		return fmt.Errorf("%s takes the words to complete", how)
	}
	last := len(args) - 1
	cmd, before := c.find(args[:last])
	cmd.ownFlags()
	if c.Completes != nil && !cmd.IsHelp() {
		c.Completes(cmd)
	}
	offers, directive := cmd.complete(before, args[last])
	var b strings.Builder
	for _, offer := range offers {
		offer, _, _ = strings.Cut(offer, "\n")
		if how == requestBare {
			offer, _, _ = strings.Cut(offer, "\t")
		}
		b.WriteString(strings.TrimSpace(offer) + "\n")
	}
	_, err := fmt.Fprintf(c.Out, "%s:%d\n", b.String(), directive)
	return err
}

// complete is what may come behind args in place of what begins so.
func (c *Command) complete(args []string, begins string) ([]string, Directive) {
	if slices.Contains(args, "--") {
		words, err := c.parse(args)
		if err != nil {
			return nil, Files
		}
		return c.word(words, begins)
	}
	if name, value, ok := strings.Cut(begins, "="); ok && strings.HasPrefix(name, "--") {
		return c.value(c.flag(name[2:]), args, value)
	}
	if strings.HasPrefix(begins, "-") {
		_, err := c.parse(args)
		if err != nil || c.answered() {
			return nil, NoFiles
		}
		return c.flagNames(begins), NoFiles
	}
	if n := len(args); n > 0 && strings.HasPrefix(args[n-1], "--") && !strings.Contains(args[n-1], "=") {
		if f := c.flag(args[n-1][2:]); f != nil && !f.alone() {
			return c.value(f, args[:n-1], begins)
		}
	}
	words, err := c.parse(args)
	if err != nil {
		return nil, Files
	}
	if c.answered() {
		return nil, NoFiles
	}
	return c.word(words, begins)
}

// answered tells whether a flag says that nothing more is wanted.
func (c *Command) answered() bool {
	return c.flags.Changed(helpName) || c.flags.Changed(versionName)
}

// value completes the value of a flag.
func (c *Command) value(f *Flag, args []string, begins string) ([]string, Directive) {
	words, err := c.parse(args)
	if err != nil || f == nil || f.Words == nil {
		return nil, Files
	}
	return f.Words(c, words, begins)
}

// word completes a word that is no flag: the name of a command, or what a command says.
func (c *Command) word(words []string, begins string) ([]string, Directive) {
	switch {
	case c.Words != nil:
		return c.Words(c, words, begins)
	case c.parent != nil || len(words) > 0:
		return nil, Files
	}
	return c.names(begins), NoFiles
}

// names are the commands that begin so.
func (c *Command) names(begins string) []string {
	var out []string
	for _, sub := range c.Commands() {
		if strings.HasPrefix(sub.Name(), begins) {
			out = append(out, Described(sub.Name(), sub.Short))
		}
	}
	return out
}

// flagNames are the flags that begin so and were not given yet.
func (c *Command) flagNames(begins string) []string {
	sets := []*FlagSet{&c.Root().every, &c.flags}
	if c.parent == nil {
		sets = []*FlagSet{c.both()}
	}
	var out []string
	for _, set := range sets {
		for _, f := range set.list {
			if f.Changed {
				continue
			}
			names := []string{"--" + f.Name}
			if f.Letter != 0 {
				names = append(names, "-"+string(f.Letter))
			}
			for _, name := range names {
				if strings.HasPrefix(name, begins) {
					out = append(out, Described(name, f.Usage))
				}
			}
		}
	}
	return out
}
