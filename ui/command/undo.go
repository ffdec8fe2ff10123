package command

import (
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"

	"github.com/adrg/xdg"
	"github.com/spf13/cobra"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/ui/request"
)

// remembered is an act that a command of this user wrote, a line of the file of them.
type remembered struct {
	Book    string    `json:"book"` // the whole path of its file
	Undo    bool      `json:"undo,omitempty"`
	With    model.Seq `json:"with,omitempty"` // the first entry of all that was written by the same command, where that is several acts
	Entries []string  `json:"entries"`        // as the book format writes them
}

// How many acts are kept, and of how many entries together: nobody takes back more than a day's
// work, and every command reads the file.
const (
	rememberedMost    = 50
	rememberedEntries = 4 * model.MaxActLen
)

// memoryPath is the file of what this user's commands wrote, in the folder for the state of
// programs.
func (p *program) memoryPath() string {
	state := p.Getenv("XDG_STATE_HOME")
	if !filepath.IsAbs(state) {
		state = xdg.StateHome
	}
	return filepath.Join(state, "wrasse", "written.jsonl")
}

// remember keeps an act for undo. What can't be kept is not said: it was written, and log and
// strike take it back.
func (p *program) remember(entries []*model.Entry, undo bool, with model.Seq) {
	book, err := filepath.Abs(p.path())
	if err != nil || len(entries) == 0 {
		return
	}
	now := remembered{Book: book, Undo: undo, With: with}
	for _, e := range entries {
		line, err := model.EncodeEntry(*e)
		if err != nil {
			return
		}
		now.Entries = append(now.Entries, string(line))
	}
	all := append(p.recall(), now)
	all = all[max(0, len(all)-rememberedMost):]
	for sum, i := 0, len(all)-1; i >= 0; i-- {
		if sum += len(all[i].Entries); sum > rememberedEntries {
			all = all[i+1:]
			break
		}
	}
	var text []byte
	for _, r := range all {
		line, err := json.Marshal(r)
		if err != nil {
			return
		}
		text = append(append(text, line...), '\n')
	}
	path := p.memoryPath()
	if os.MkdirAll(filepath.Dir(path), 0o700) != nil {
		return
	}
	if os.WriteFile(path+".new", text, 0o600) == nil {
		_ = os.Rename(path+".new", path) // the old one is as good
	}
}

// recall is what is remembered of all books, the oldest first. A line that can't be read is
// left out.
func (p *program) recall() []remembered {
	f, err := os.Open(p.memoryPath())
	if err != nil {
		return nil
	}
	defer f.Close()
	var out []remembered
	lines := bufio.NewScanner(f)
	lines.Buffer(nil, 64<<20)
	for lines.Scan() {
		var r remembered
		if json.Unmarshal(lines.Bytes(), &r) == nil {
			out = append(out, r)
		}
	}
	return out
}

// window is what commands of this user wrote into the book, as a window remembers it.
func (p *program) window() (*ledger.Window, error) {
	book, err := filepath.Abs(p.path())
	if err != nil {
		return nil, err
	}
	var w ledger.Window
	for _, r := range p.recall() {
		if r.Book != book {
			continue
		}
		var entries []model.Entry
		for _, line := range r.Entries {
			e, err := model.DecodeEntry([]byte(line))
			if err != nil {
				return nil, fmt.Errorf("%s can't be read: %w; move it away, and take entries back with: wrasse strike", p.memoryPath(), err)
			}
			entries = append(entries, e)
		}
		if r.Undo {
			w.Undid(entries)
		} else {
			w.Did(entries)
		}
	}
	return &w, nil
}

func (p *program) undoCommand() *cobra.Command {
	var dry bool
	cmd := &cobra.Command{
		Use:   "undo",
		Short: "Take back the last act that a command of yours wrote",
		Long: `Names the last act that a one-shot command of this user wrote into the book and that still
stands, and takes it back; it stays in the log, struck. Run again it takes back the one
before it. What the screens wrote is taken back there, anything else by its number with
strike. Of a table that was imported all is taken back.`,
		Example: "  wrasse undo --dry-run\n  wrasse undo",
		Args:    wordCount(0, 0, "no words, only flags"),
		RunE:    func(*cobra.Command, []string) error { return p.undo(dry) },
	}
	cmd.Flags().BoolVar(&dry, "dry-run", false, "only name it")
	return cmd
}

func (p *program) undo(dry bool) error {
	stamp, err := p.stamp("")
	if err != nil {
		return err
	}
	b, err := p.load()
	if err != nil {
		return err
	}
	w, err := p.window()
	if err != nil {
		return err
	}
	last, err := w.LastAct(b)
	switch {
	case errors.Is(err, ledger.ErrOthers):
		return errors.New("another file is in the place of the book, without what your last commands wrote; wrasse log shows what it holds, wrasse strike takes an entry back")
	case err != nil:
		return err
	case last == 0:
		return errors.New("no command of yours wrote anything into this book that still stands; wrasse log shows what was written, wrasse strike takes an entry back")
	}
	parts := p.together(last)
	var entries []*model.Entry
	standing := 0
	for _, act := range parts {
		of, err := b.Act(act)
		if err != nil {
			return err
		}
		of = slices.DeleteFunc(slices.Clone(of), func(e *model.Entry) bool { return b.Struck(e.Seq) })
		standing += min(1, len(of))
		entries = append(entries, of...)
	}
	if p.json && dry {
		return p.printAct(entries[0].Seq, entries)
	}
	if !p.json {
		var out page
		for i, e := range entries {
			if i == undoNamed && len(entries) > undoNamed+1 {
				out.line("and %d more", len(entries)-i)
				break
			}
			out.line("%d: %s %s", e.Seq, e.On, request.Say(b, e))
		}
		if err := out.print(p.Stdout); err != nil || dry {
			return err
		}
	}
	var struck []*model.Entry
	again := ""
	for range standing {
		next, seq, err := p.store().Write(request.Undo{Stamp: stamp, Window: w}.Entries)
		if err != nil {
			return err
		}
		of, err := next.Act(seq)
		if err != nil {
			return err
		}
		p.remember(of, true, 0)
		struck = append(struck, of...)
		again += fmt.Sprintf("%s wrasse strike %d%s", map[bool]string{true: ","}[again != ""], seq, map[bool]string{true: " --act"}[len(of) > 1])
	}
	return p.written(func() error {
		if p.json {
			return p.printAct(struck[0].Seq, struck)
		}
		var out page
		out.line("taken back; it stays in the log, struck. To have it again:%s", again)
		return out.print(p.Stdout)
	})
}

// undoNamed is how many entries of an act are named before it is taken back.
const undoNamed = 20

// together are the acts that one command wrote with an act, that one the last of them: those of a
// table that is more than one act holds.
func (p *program) together(last model.Seq) []model.Seq {
	book, err := filepath.Abs(p.path())
	if err != nil {
		return []model.Seq{last}
	}
	var all []model.Seq // of the same command, up to the last
	with := model.Seq(0)
	for _, r := range p.recall() {
		if r.Book != book || r.Undo || len(r.Entries) == 0 {
			continue
		}
		first, err := model.DecodeEntry([]byte(r.Entries[0]))
		if err != nil || first.Seq > last {
			continue
		}
		if r.With == 0 || r.With != with {
			all, with = nil, r.With
		}
		all = append(all, first.Seq)
	}
	return all
}
