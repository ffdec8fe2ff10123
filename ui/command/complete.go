package command

import (
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/ui/parse"
	"brine/wrasse/ui/text"
)

// shells are the shells that completion is written for.
var shells = []string{"bash", "zsh", "fish", "powershell"}

func (p *program) completionCommand() *cobra.Command {
	return &cobra.Command{
		Use:     "completion SHELL",
		Short:   "Write a script that completes commands and ids: source <(wrasse completion bash)",
		Example: "  wrasse completion zsh > _wrasse",
		Long: `Writes the script that lets a shell complete commands, flags, and the ids of the
book. SHELL is bash, zsh, fish or powershell.

  bash        source <(wrasse completion bash), with bash-completion
  zsh         wrasse completion zsh > DIR/_wrasse with DIR in $fpath
  fish        wrasse completion fish > ~/.config/fish/completions/wrasse.fish
  powershell  wrasse completion powershell | Out-String | Invoke-Expression`,
		Args: wordCount(1, 1, "a shell: bash, zsh, fish or powershell"),
		// A script is the same whatever the configuration holds.
		PersistentPreRunE: func(*cobra.Command, []string) error { return nil },
		RunE: func(cmd *cobra.Command, args []string) error {
			root := cmd.Root()
			switch args[0] {
			case "bash":
				return root.GenBashCompletionV2(p.Stdout, true)
			case "zsh":
				return root.GenZshCompletion(p.Stdout)
			case "fish":
				return root.GenFishCompletion(p.Stdout, true)
			case "powershell":
				return root.GenPowerShellCompletionWithDesc(p.Stdout)
			}
			return usagef("shell %q is not known; give bash, zsh, fish or powershell", args[0])
		},
	}
}

// completes tells the commands what their words may be. What is not named here has no
// words; that of files is left to the shell.
func (p *program) completes(root *cobra.Command) {
	words := map[string]cobra.CompletionFunc{
		"tick":       p.first("chores"),
		"put-off":    p.first("chores"),
		"use":        p.first("counters"),
		"count":      p.first("spares"),
		"read":       p.readings,
		"level":      p.first("vessels"),
		"draw":       p.first("vessels"),
		"flag":       p.first("components"),
		"fault":      p.first("components"),
		"repair":     p.first("components"),
		"list":       cobra.FixedCompletions(listed, cobra.ShellCompDirectiveNoFileComp),
		"export":     formatThenFile,
		"completion": cobra.FixedCompletions(shells, cobra.ShellCompDirectiveNoFileComp),
	}
	files := []string{"import", "backup", "restore", "sheet"}
	for _, cmd := range root.Commands() {
		switch f, known := words[cmd.Name()]; {
		case known:
			cmd.ValidArgsFunction = f
		case !slices.Contains(files, cmd.Name()):
			cmd.ValidArgsFunction = cobra.NoFileCompletions
		}
		for name, values := range map[string]cobra.CompletionFunc{
			"found":   p.foundWords,
			"cause":   cobra.FixedCompletions(strings.Split(causes(), ", "), cobra.ShellCompDirectiveNoFileComp),
			"order":   cobra.FixedCompletions([]string{"ymd", "dmy", "mdy"}, cobra.ShellCompDirectiveNoFileComp),
			"decimal": cobra.FixedCompletions([]string{"comma", "point"}, cobra.ShellCompDirectiveNoFileComp),
		} {
			if cmd.Flags().Lookup(name) != nil {
				// It fails only for flags that are not there, and for a second function.
				_ = cmd.RegisterFlagCompletionFunc(name, values)
			}
		}
		cmd.LocalNonPersistentFlags().VisitAll(func(f *pflag.Flag) {
			if value, _ := pflag.UnquoteUsage(f); value != "FILE" {
				_ = cmd.RegisterFlagCompletionFunc(f.Name, cobra.NoFileCompletions) // of those above it fails
			}
		})
	}
	_ = root.RegisterFlagCompletionFunc("on", cobra.NoFileCompletions)
}

// known is the book for completion, where nothing may be said and nothing can fail.
func (p *program) known() (*ledger.Book, bool) {
	_ = p.configure()
	b, err := p.store().Load()
	return b, err == nil && !b.Empty()
}

// first completes the first word of a command by the ids in use of a kind, which is named by its plural.
func (p *program) first(plural string) cobra.CompletionFunc {
	return func(_ *cobra.Command, args []string, begins string) ([]string, cobra.ShellCompDirective) {
		b, ok := p.known()
		if !ok || len(args) > 0 {
			return nil, cobra.ShellCompDirectiveNoFileComp
		}
		return choices(b, plural, begins, nil), cobra.ShellCompDirectiveNoFileComp
	}
}

// choices are the ids in use of a kind that begin with what is typed already and are not named before, each with what it
// stands for.
func choices(b *ledger.Book, plural, begins string, before []string) []string {
	var out []string
	for _, t := range inUse(b, plural) {
		if id := string(t.ID); strings.HasPrefix(id, begins) && !slices.Contains(before, id) {
			out = append(out, cobra.CompletionWithDesc(id, text.Clean(t.label(b))))
		}
	}
	return out
}

// readings completes every other word: gauges that were not named yet.
func (p *program) readings(_ *cobra.Command, args []string, begins string) ([]string, cobra.ShellCompDirective) {
	b, ok := p.known()
	if !ok || len(args)%2 != 0 {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	return choices(b, "gauges", begins, args), cobra.ShellCompDirectiveNoFileComp
}

// foundWords are the as-found words of the chore that is named, else of all work.
func (p *program) foundWords(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
	works := []model.Work{model.WorkClean, model.WorkRenew, model.WorkTest}
	if b, ok := p.known(); ok && len(args) > 0 {
		if c, err := parse.Chore(b, args[0]); err == nil {
			works = []model.Work{c.Work}
		}
	}
	var out []string
	for _, w := range works {
		for _, word := range parse.Words(w) {
			if !slices.Contains(out, word.Text) {
				out = append(out, word.Text)
			}
		}
	}
	return out, cobra.ShellCompDirectiveNoFileComp
}

func formatThenFile(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
	if len(args) == 0 {
		return formats, cobra.ShellCompDirectiveNoFileComp
	}
	return nil, cobra.ShellCompDirectiveDefault
}
