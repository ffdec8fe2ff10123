package command

import (
	"io"
	"slices"
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/ui/command/line"
	"brine/wrasse/ui/text"
	"brine/wrasse/ui/typed"
)

// shells are the shells that completion is written for.
var shells = []string{"bash", "zsh", "fish", "powershell"}

func (p *program) completionCommand() *line.Command {
	return &line.Command{
		Use:   "completion SHELL",
		Short: "Write a script that completes commands and ids: source <(wrasse completion bash)",
		Long: `Writes the script that lets a shell complete commands, flags, and the ids of the
book. SHELL is bash, zsh, fish or powershell.

  bash        source <(wrasse completion bash)    in ~/.bashrc; needs bash-completion
  zsh         wrasse completion zsh > DIR/_wrasse with DIR in $fpath
  fish        wrasse completion fish > ~/.config/fish/completions/wrasse.fish
  powershell  wrasse completion powershell | Out-String | Invoke-Expression`,
		Args: wordCount(1, 1, "a shell: bash, zsh, fish or powershell"),
		// A script is the same whatever the configuration holds.
		Before: func(*line.Command) error { return nil },
		Run: func(cmd *line.Command, args []string) error {
			script, ok := cmd.Root().Script(args[0])
			if !ok {
				return usagef("shell %q is not known; give bash, zsh, fish or powershell", args[0])
			}
			_, err := io.WriteString(p.Stdout, script)
			return err
		},
	}
}

// completes tells a command what its words may be. What is not named here has no words;
// that of files is left to the shell.
func (p *program) completes(cmd *line.Command) {
	if on := cmd.EveryFlags().Lookup("on"); on != nil {
		on.Words = line.None
	}
	if cmd == cmd.Root() {
		return
	}
	words := map[string]line.Completion{
		"tick":       p.first(chores),
		"use":        p.first(counters),
		"read":       p.readings,
		"flag":       p.first(components),
		"fault":      p.first(components),
		"export":     formatThenFile,
		"completion": line.OneOf(shells...),
	}
	files := []string{"import", "backup", "restore", "sheet"}
	switch f, known := words[cmd.Name()]; {
	case known:
		cmd.Words = f
	case !slices.Contains(files, cmd.Name()):
		cmd.Words = line.None
	}
	for name, values := range map[string]line.Completion{
		"found": p.foundWords,
		"cause": line.OneOf(causeWords()...),
		"order": line.OneOf("ymd", "dmy", "mdy"),
		"by":    line.None,
		"note":  line.None,
	} {
		if f := cmd.Flags().Lookup(name); f != nil {
			f.Words = values
		}
	}
}

func causeWords() []string {
	out := make([]string, len(model.Causes))
	for i, c := range model.Causes {
		out[i] = string(c)
	}
	return out
}

// choice is an id with what it stands for.
func choice(id model.ID, name string) string {
	return line.Described(string(id), text.Clean(name))
}

// known is the book for completion, where nothing may be said and nothing can fail.
func (p *program) known() (*model.Book, bool) {
	_ = p.configure()
	b, err := p.store().Load()
	return b, err == nil && !b.Empty()
}

// first completes the first word from the book, and no other.
func (p *program) first(list func(*model.Book) []string) line.Completion {
	return func(_ *line.Command, args []string, begins string) ([]string, line.Directive) {
		b, ok := p.known()
		if !ok || len(args) > 0 {
			return nil, line.NoFiles
		}
		return beginning(list(b), begins), line.NoFiles
	}
}

func chores(b *model.Book) []string {
	var out []string
	for _, c := range b.Chores() {
		if on, _ := b.Component(c.Component); c.Retired.IsZero() && on.Retired.IsZero() {
			out = append(out, choice(c.ID, typed.ChoreLabel(b, c)))
		}
	}
	return out
}

func components(b *model.Book) []string {
	var out []string
	for _, c := range b.Components() {
		if c.Retired.IsZero() {
			out = append(out, choice(c.ID, c.Name))
		}
	}
	return out
}

func counters(b *model.Book) []string {
	var out []string
	for _, c := range b.Counters() {
		if c.Retired.IsZero() {
			out = append(out, choice(c.ID, c.Name))
		}
	}
	return out
}

// readings completes every other word: gauges that were not named yet.
func (p *program) readings(_ *line.Command, args []string, begins string) ([]string, line.Directive) {
	b, ok := p.known()
	if !ok || len(args)%2 != 0 {
		return nil, line.NoFiles
	}
	var out []string
	for _, g := range b.Gauges() {
		if g.Retired.IsZero() && !slices.Contains(args, string(g.ID)) {
			out = append(out, choice(g.ID, g.Name))
		}
	}
	return beginning(out, begins), line.NoFiles
}

// beginning keeps the words that begin with what is typed already.
func beginning(words []string, begins string) []string {
	return slices.DeleteFunc(words, func(w string) bool { return !strings.HasPrefix(w, begins) })
}

// foundWords are the as-found words of the chore that is named, else of all work.
func (p *program) foundWords(_ *line.Command, args []string, _ string) ([]string, line.Directive) {
	works := []model.Work{model.WorkClean, model.WorkRenew, model.WorkTest}
	if b, ok := p.known(); ok && len(args) > 0 {
		if c, err := typed.Chore(b, args[0]); err == nil {
			works = []model.Work{c.Work}
		}
	}
	var out []string
	for _, w := range works {
		for _, word := range typed.Words(w) {
			if !slices.Contains(out, word.Text) {
				out = append(out, word.Text)
			}
		}
	}
	return out, line.NoFiles
}

func formatThenFile(_ *line.Command, args []string, _ string) ([]string, line.Directive) {
	if len(args) == 0 {
		return formats, line.NoFiles
	}
	return nil, line.Files
}
