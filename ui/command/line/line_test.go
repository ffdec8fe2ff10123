package line

import (
	"errors"
	"slices"
	"strings"
	"testing"
)

// ran is what a made-up program was told to do.
type ran struct {
	cmd   string
	words []string
	file  string
	all   bool
	many  int
}

// program is a program with two commands, and what it comes to do.
func program(out *strings.Builder) (*Command, *ran) {
	r := new(ran)
	run := func(cmd *Command, words []string) error {
		r.cmd, r.words = cmd.Path(), words
		return nil
	}
	root := &Command{
		Use: "prog", Short: "Does things", Version: func() string { return "1.2" }, Out: out, Run: run,
		Before:    func(*Command) error { return nil },
		FlagError: func(_ *Command, err error) error { return err },
	}
	root.EveryFlags().StringVar(&r.file, "file", "", "the `FILE` to read")
	root.Add("look", func() *Command { return &Command{Use: "look", Short: "Look at things", Run: run} })
	root.Add("list", func() *Command {
		list := &Command{Use: "list [WORD]", Short: "List things", Run: run}
		list.Flags().BoolVar(&r.all, "all", false, "list all")
		list.Flags().IntVar(&r.many, "many", 3, "list so many")
		return list
	})
	root.Completes = func(cmd *Command) {
		if cmd.Name() == "list" {
			cmd.Words = OneOf("one", "two")
			cmd.Flags().Lookup("many").Words = OneOf("5")
		}
	}
	return root, r
}

func TestExecute(t *testing.T) {
	for _, c := range []struct {
		args string
		want ran
	}{
		{"", ran{cmd: "prog"}},
		{"look", ran{cmd: "prog look"}},
		{"--file f look a", ran{cmd: "prog look", words: []string{"a"}, file: "f"}},
		{"look a --file=f b", ran{cmd: "prog look", words: []string{"a", "b"}, file: "f"}},
		{"list --all --many 0x10", ran{cmd: "prog list", all: true, many: 16}},
		{"list --all=false x", ran{cmd: "prog list", words: []string{"x"}, many: 3}},
		{"list -- --all -1", ran{cmd: "prog list", words: []string{"--all", "-1"}, many: 3}},
		{"list -", ran{cmd: "prog list", words: []string{"-"}, many: 3}},
		{"--file list look", ran{cmd: "prog look", file: "list"}},
		{"-- look", ran{cmd: "prog", words: []string{"look"}}},
		{"list look list", ran{cmd: "prog list", words: []string{"look", "list"}, many: 3}},
	} {
		root, got := program(new(strings.Builder))
		if err := root.Execute(strings.Fields(c.args)); err != nil {
			t.Errorf("%q: %v", c.args, err)
		}
		if got.cmd != c.want.cmd || !slices.Equal(got.words, c.want.words) ||
			got.file != c.want.file || got.all != c.want.all || got.many != c.want.many {
			t.Errorf("%q: %+v, want %+v", c.args, *got, c.want)
		}
	}
}

func TestExecuteRefuses(t *testing.T) {
	for args, want := range map[string]string{
		"list --colour":      "unknown flag: --colour",
		"--all list":         "unknown flag: --all",
		"list --file":        "flag needs an argument: --file",
		"list ---":           "bad flag syntax: ---",
		"list --=x":          "bad flag syntax: --=x",
		"list -hx":           "unknown shorthand flag: 'x' in -x",
		"look -v":            "unknown shorthand flag: 'v' in -v",
		"list --many x":      `invalid argument "x" for "--many" flag: strconv.ParseInt: parsing "x": invalid syntax`,
		"list --help=x":      `invalid argument "x" for "-h, --help" flag: strconv.ParseBool: parsing "x": invalid syntax`,
		"__complete":         "__complete takes the words to complete",
		"list --many=1.5 --": `invalid argument "1.5" for "--many" flag: strconv.ParseInt: parsing "1.5": invalid syntax`,
	} {
		root, got := program(new(strings.Builder))
		err := root.Execute(strings.Fields(args))
		if err == nil || err.Error() != want {
			t.Errorf("%q: %v, want %s", args, err, want)
		}
		if got.cmd != "" {
			t.Errorf("%q: ran %s", args, got.cmd)
		}
	}
	root, _ := program(new(strings.Builder))
	var letter *LetterError
	if err := root.Execute([]string{"list", "-12"}); !errors.As(err, &letter) || letter.Letters != "12" {
		t.Errorf("-12: %v", err)
	}
}

func TestHelp(t *testing.T) {
	const listHelp = `List things

Usage:
  prog list [WORD] [flags]

Flags:
      --all        list all
  -h, --help       help for list
      --many int   list so many (default 3)

Global Flags:
      --file FILE   the FILE to read
`
	const progHelp = `Does things

Usage:
  prog [flags]
  prog [command]

Available Commands:
  help  Help about any command
  list  List things
  look  Look at things

Flags:
      --file FILE   the FILE to read
  -h, --help        help for prog
  -v, --version     version for prog

Use "prog [command] --help" for more information about a command.
`
	for args, want := range map[string]string{
		"list --help": listHelp, "list x -h --all": listHelp, "help list": listHelp,
		"--help": progHelp, "help": progHelp, "help xyz": progHelp, "-vh": progHelp,
		"--version": "prog 1.2\n", "-v": "prog 1.2\n",
	} {
		var out strings.Builder
		root, got := program(&out)
		if err := root.Execute(strings.Fields(args)); err != nil || out.String() != want || got.cmd != "" {
			t.Errorf("%q: %v, ran %q\n%s", args, err, got.cmd, out.String())
		}
	}
}

// Words that are typed are joined by |, because the last may be empty.
func TestComplete(t *testing.T) {
	const commands = "help\tHelp about any command\nlist\tList things\nlook\tLook at things\n:4\n"
	for asked, want := range map[string]string{
		"__complete|":                    commands,
		"__complete|l":                   "list\tList things\nlook\tLook at things\n:4\n",
		"__completeNoDesc|l":             "list\nlook\n:4\n",
		"__complete|help|lo":             "look\tLook at things\n:4\n",
		"__complete|--file|x|":           commands,
		"--file|x|__complete|":           commands,
		"__complete|--file|":             ":0\n",
		"__complete|list|":               "one\ntwo\n:4\n",
		"__completeEmpty|list":           "one\ntwo\n:4\n",
		"__complete|list|--many|":        "5\n:4\n",
		"__complete|list|--many=":        "5\n:4\n",
		"__complete|list|--all|":         "one\ntwo\n:4\n",
		"__complete|list|--":             "--file\tthe `FILE` to read\n--all\tlist all\n--help\thelp for list\n--many\tlist so many\n:4\n",
		"__complete|list|--all|--a":      ":4\n",
		"__complete|list|--|-":           "one\ntwo\n:4\n",
		"__complete|list|-h|":            ":4\n",
		"__complete|list|--wrong|":       ":0\n",
		"__complete|look|":               ":0\n",
		"__complete|nothing|":            ":0\n",
		"__complete|list|--many|x|--all": ":4\n",
	} {
		var out strings.Builder
		root, got := program(&out)
		if err := root.Execute(strings.Split(asked, "|")); err != nil || out.String() != want || got.cmd != "" {
			t.Errorf("%q: %v, ran %q\n%s", asked, err, got.cmd, out.String())
		}
	}
}

func TestNear(t *testing.T) {
	root, _ := program(new(strings.Builder))
	for _, c := range []struct {
		word string
		off  int
		want []string
	}{
		{"lst", 1, []string{"list"}}, {"lok", 1, []string{"look"}}, {"L", 1, []string{"list", "look"}},
		{"kool", 1, nil}, {"kook", 1, []string{"look"}}, {"loot", 2, []string{"list", "look"}}, {"xyz", 2, nil},
	} {
		if got := root.Near(c.word, c.off); !slices.Equal(got, c.want) {
			t.Errorf("%q, %d off: %q, want %q", c.word, c.off, got, c.want)
		}
	}
}

// The distances are counted by hand.
func TestDistance(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{{"", "", 0}, {"", "ab", 2}, {"ab", "", 2}, {"round", "rond", 1}, {"sheet", "shelf", 2}, {"abc", "xyz", 3}, {"tick", "ticks", 1}} {
		if got := distance(c.a, c.b); got != c.want {
			t.Errorf("%q to %q: %d, want %d", c.a, c.b, got, c.want)
		}
	}
}
