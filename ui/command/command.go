// Package command is the one-shot commands: each does one thing, prints plain text
// or JSON, and exits. They do what the screens do, through the same acts (ui/request)
// and the same reading of what is typed (ui/parse), and they are what scripts,
// cron jobs and screen readers use.
//
// Start at Run. It takes everything it touches in an Env, so that tests call the
// real thing and main decides what a book, a terminal and the time are.
//
// Promises. Standard output carries data only, and never a byte that a terminal
// would act on, whatever a book holds. A request that could not be done is one line
// on standard error that says what to do, and exit code 1; a wrong command line is
// the same with 2. What was written ends with 0, whether or not that can be printed.
// Nothing asks back: what is far from usual could not be done until --yes says that it is
// meant, and nothing that can't be is ever written. A command writes nothing or one whole
// act; a table too large for one is written as several, and reading it again adds what is
// missing.
package command

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/ui/columns"
	"brine/wrasse/ui/config"
	"brine/wrasse/ui/parse"
	"brine/wrasse/ui/text"
)

// Store is the book's file, as far as a command needs it.
type Store interface {
	// Load is the book as it is now; an empty one when there is no file yet.
	Load() (*ledger.Book, error)
	// Write writes what build makes of the present book as one act, and returns the
	// new book and the act's first seq, which is 0 when build made nothing.
	Write(build func(*ledger.Book) ([]model.Entry, error)) (*ledger.Book, model.Seq, error)
}

// Env is what the commands touch.
type Env struct {
	Stdin          io.Reader
	Stdout, Stderr io.Writer
	Getenv         func(string) string
	Now            func() time.Time
	Version        func() string
	Revised        func() string // the day of that version, as a date in words

	// Open is the store at a path. It opens nothing before the first use.
	Open func(path string) Store
	// Export writes a book in the book format, Import makes a new book of one.
	Export func(io.Writer, *ledger.Book) error
	Import func(path string, from io.Reader) (*ledger.Book, error)
	// OpenFile opens a file to read it, and refuses what is none. NewFile makes a file that
	// must not be there yet, ReplaceFile one that may be, and MakeFolder a folder; they are on
	// the disk when it returns.
	OpenFile    func(path string) (io.ReadCloser, error)
	NewFile     func(path string, write func(io.Writer) error) error
	ReplaceFile func(path string, write func(io.Writer) error) error
	MakeFolder  func(path string) error
	// Columns is how wide the terminal is that is printed on, 0 where there is none; nil says the same.
	Columns func() int
	// WriteTable and ReadTable are CSV, WriteCalendar is iCalendar.
	WriteTable    func(io.Writer, [][]string) error
	ReadTable     func(io.Reader) (rows []columns.Row, between rune, err error)
	WriteCalendar func(io.Writer, Calendar) error
	// Keep looks after the file at a path.
	Keep func(path string) Keeper
	// Screens runs the full-screen program on the book at a path, Demo on a
	// throw-away one. Both are called only where Terminal says that it can be drawn.
	Screens  func(path string, c config.Config) error
	Demo     func(c config.Config) error
	Terminal func() bool
	// Attached tells whether standard input and output are a terminal at all.
	Attached func() bool
}

// Exit codes beside 0.
const (
	exitFailed = 1  // the request could not be done
	exitUsage  = 2  // the command line was wrong
	exitLate   = 10 // round: something is late
	exitHarm   = 11 // round: something of consequence 2 or 3 is past its limit, a fault is open, or a value is outside its safe range
)

// Run runs the command that args name and returns its exit code.
func Run(env Env, args []string) int {
	terminal := 0
	if env.Columns != nil {
		terminal = env.Columns()
	}
	env.Stdout = inColumns(env.Stdout, env.Getenv("COLUMNS"), terminal)
	p := &program{Env: env}
	root := p.root()
	root.SetArgs(args)
	root.SetIn(env.Stdin)
	root.SetOut(env.Stdout)
	root.SetErr(env.Stderr)
	return p.exit(root.Execute())
}

// program is one run: the environment and the flags all commands have.
type program struct {
	Env
	book   string
	on     string
	json   bool
	future bool
	yes    bool

	noConfig bool
	plain    bool
	mouse    bool
	version  bool
	config   config.Config
	unknown  []config.Unknown // of the configuration

	opened Store // nil before it is asked for
}

// exitCode ends a command that has said all it had to say.
type exitCode int

func (c exitCode) Error() string { return fmt.Sprintf("exit code %d", int(c)) }

// or is how a command ends that has said all it had to say: with an error, if there was one, else with its code.
func (c exitCode) or(err error) error {
	if err == nil && c != 0 {
		return c
	}
	return err
}

// usageError is a wrong command line.
type usageError struct{ error }

func (e usageError) Unwrap() error { return e.error }

func usagef(format string, args ...any) error { return usageError{fmt.Errorf(format, args...)} }

func (p *program) exit(err error) int {
	var code exitCode
	switch {
	case err == nil:
		return 0
	case errors.As(err, &code):
		return int(code)
	}
	p.remark("%v", err)
	if errors.As(err, new(usageError)) {
		return exitUsage
	}
	return exitFailed
}

// remark is one line on standard error.
func (p *program) remark(format string, args ...any) {
	fmt.Fprintln(p.Stderr, "wrasse: "+text.Clean(fmt.Sprintf(format, args...)))
}

func (p *program) root() *cobra.Command {
	root := &cobra.Command{
		Use:   "wrasse",
		Short: "Logbook for the upkeep of a reef aquarium's water station and tank",
		Long: `wrasse keeps the upkeep of a reef aquarium's water station and tank: what is due,
why, what it risks, and what fits into the minutes at hand.

Without a command it shows the screens. Every command below does one thing and
exits; CHORE, COMPONENT, COUNTER and GAUGE are ids or any part of a name that fits
only one, as a whole word where it has under four letters.

Exit codes: 0 done; 1 could not be done; 2 wrong command line. wrasse round: 10
something is late; 11 something of consequence 2 or 3 is past its limit, a fault
is open, or a value is outside its safe range.`,
		Args:          noCommand,
		SilenceErrors: true,
		SilenceUsage:  true,
		RunE: func(cmd *cobra.Command, _ []string) error {
			if p.version {
				_, err := fmt.Fprintln(p.Stdout, cmd.Name(), p.Version())
				return err
			}
			return p.screens()
		},
		// Read for commands only: help and version ask nothing of the machine.
		PersistentPreRunE: func(cmd *cobra.Command, _ []string) error {
			if p.version || strings.HasPrefix(cmd.Name(), cobra.ShellCompRequestCmd) {
				return nil // if a shell asks, nobody would see an answer in words
			}
			if err := p.configure(); err != nil {
				return p.advised(err)
			}
			p.noteUnknown()
			return p.placed(cmd.Name())
		},
	}
	root.CompletionOptions.DisableDefaultCmd = true
	root.SetHelpFunc(p.help)
	// Cobra's own flag would have the version ready at every start, and link what runs
	// templates, for which the linker keeps every method there is.
	root.Flags().BoolVarP(&p.version, "version", "v", false, "version for wrasse")
	root.SetFlagErrorFunc(flagError)
	f := root.PersistentFlags()
	f.StringVar(&p.book, "book", "", "the book's `FILE` (else $WRASSE_BOOK, else the configuration's, else "+p.defaultBook()+")")
	f.StringVar(&p.on, "on", "", "the `DATE` it is or was: YYYY-MM-DD, yesterday, 3d")
	f.BoolVar(&p.json, "json", false, "print JSON")
	f.BoolVar(&p.noConfig, "no-config", false, "read no configuration")
	f.BoolVar(&p.future, "future", false, "let an entry be dated after today")
	f.BoolVar(&p.yes, "yes", false, "log what is far from usual all the same")
	for _, g := range p.groups() {
		root.AddGroup(&cobra.Group{ID: g.id, Title: g.title + ":"})
		for _, cmd := range g.commands {
			cmd.GroupID = g.id
			root.AddCommand(cmd)
		}
	}
	p.screenFlags(root)
	p.completes(root)
	return root
}

// group is commands that are for the same.
type group struct {
	id, title string
	commands  []*cobra.Command
}

// jsonless are the commands that print no facts.
var jsonless = []string{"completion", "demo", "export", "man", "sheet"}

// groups are all commands, as the help has them.
func (p *program) groups() []group {
	all := []group{
		{"day", "Each day", []*cobra.Command{
			p.roundCommand(), p.tickCommand(), p.useCommand(), p.readCommand(), p.mixCommand(), p.countCommand(),
			p.levelCommand(), p.drawCommand(), p.needCommand(),
			p.flagCommand(), p.faultCommand(), p.repairCommand(), p.putOffCommand(), p.awayCommand(), p.undoCommand(), p.strikeCommand(),
		}},
		{"look", "Look", []*cobra.Command{
			p.waterCommand(), p.shelfCommand(), p.rethinkCommand(), p.yearCommand(), p.logCommand(), p.listCommand(),
			p.salinityCommand(), p.demoCommand(),
		}},
		{"inout", "In and out", []*cobra.Command{p.beginCommand(), p.exportCommand(), p.importCommand(), p.sheetCommand()}},
		{"safe", "Keep safe, set up", []*cobra.Command{
			p.vesselCommand(), p.backupCommand(), p.restoreCommand(), p.verifyCommand(), p.configCommand(), p.completionCommand(), p.manualCommand(),
		}},
	}
	for _, g := range all {
		for _, cmd := range g.commands {
			if slices.Contains(jsonless, cmd.Name()) {
				p.withoutJSON(cmd)
			} else {
				p.plainFlag(cmd)
			}
		}
	}
	return all
}

// withoutJSON makes a command refuse --json, which it would otherwise take and ignore.
func (p *program) withoutJSON(cmd *cobra.Command) {
	run := cmd.RunE
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		if p.json {
			return usagef("--json does not go with %s, which prints no facts; see wrasse round --json", cmd.CommandPath())
		}
		return run(cmd, args)
	}
}

// maxLettersOff is how far a word may be from a command to be taken for it.
const maxLettersOff = 2

// nearest is the command of root that a word may have been meant for, "" without one.
func nearest(root *cobra.Command, word string) string {
	for off := 1; off <= maxLettersOff; off++ {
		root.SuggestionsMinimumDistance = off
		if near := root.SuggestionsFor(word); len(near) > 0 {
			return near[0]
		}
	}
	return ""
}

// near is the word of a list that another may have been meant for, found as commands are.
func near(word string, words []string) string {
	var list cobra.Command
	for _, w := range words {
		list.AddCommand(&cobra.Command{Use: w, Run: func(*cobra.Command, []string) {}})
	}
	return nearest(&list, word)
}

// meant asks whether a word was meant, "" for none.
func meant(word string) string {
	if word == "" {
		return ""
	}
	return "; did you mean " + word + "?"
}

// noCommand refuses words that are no command.
func noCommand(cmd *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	return usagef("no command %q%s; see wrasse --help", args[0], meant(nearest(cmd, args[0])))
}

// wordCount checks the number of words after a command.
func wordCount(low, high int, want string) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		if len(args) < low || high >= 0 && len(args) > high {
			return usagef("%s takes %s; see %s --help", cmd.CommandPath(), want, cmd.CommandPath())
		}
		if slices.Contains(args, "") { // as of a variable of a script that is not set
			return usagef("%s takes %s, and one word is empty; see %s --help", cmd.CommandPath(), want, cmd.CommandPath())
		}
		return nil
	}
}

func (p *program) today() model.Date { return model.DateOf(p.Now()) }

// clock is the error of a clock by which no day can be told.
func (p *program) clock() error { return model.CheckToday(p.today()) }

// date is the date a command is about: --on, else today.
func (p *program) date() (parse.When, error) {
	if p.on == "" {
		err := p.clock()
		if err != nil {
			err = fmt.Errorf("%w, or give the day with --on", err)
		}
		return parse.When{On: p.today()}, err
	}
	when, err := parse.Date(p.on, p.today())
	if err != nil {
		return when, usagef("--on: %w", err)
	}
	return when, nil
}

// store is the book's file, one for the whole command.
func (p *program) store() Store {
	if p.opened == nil {
		p.opened = p.Open(p.path())
	}
	return p.opened
}

// load is the book, which must have been begun.
func (p *program) load() (*ledger.Book, error) {
	b, err := p.store().Load()
	if err == nil && b.Empty() {
		err = p.noBook()
	}
	if err != nil {
		return nil, err
	}
	return b, nil
}

func (p *program) noBook() error {
	return fmt.Errorf("no book at %s yet; begin one with: wrasse --book %s, or look at the demo with: wrasse demo", p.path(), p.path())
}

// advised is an error of the configuration with the way around it.
func (p *program) advised(err error) error {
	if err == nil {
		return nil
	}
	return fmt.Errorf("%w; correct it, or start with --no-config", err)
}

func (p *program) screens() error {
	if err := p.drawable("the screens need"); err != nil {
		return err
	}
	if err := p.clock(); err != nil {
		return err
	}
	return p.Screens(p.path(), p.config)
}

// screenFlags are the flags of commands that show the screens.
func (p *program) screenFlags(cmd *cobra.Command) {
	p.plainFlag(cmd)
	cmd.Flags().BoolVar(&p.mouse, "mouse", false, "take clicks and the wheel; text can then not be selected as usual")
}

// plainFlag is the flag of commands that can do without columns and bars.
func (p *program) plainFlag(cmd *cobra.Command) {
	cmd.Flags().BoolVar(&p.plain, "plain", false, "words only, a fact a line, as for a screen reader")
}
