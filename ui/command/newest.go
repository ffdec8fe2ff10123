package command

import (
	"cmp"
	"fmt"
	"math"
	"strconv"

	"github.com/go-json-experiment/json/jsontext"
	"github.com/spf13/cobra"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/ui/request"
)

type logOut struct {
	Book    string    `json:"book" says:"the name of the book"`
	Entries []lineOut `json:"entries" says:"the newest first"`
}

type lineOut struct {
	Seq     model.Seq      `json:"seq" says:"its number, which strike takes"`
	Act     model.Seq      `json:"act" says:"the number of the first entry that was written with it"`
	On      *model.Date    `json:"on" says:"the day it stands under"`
	Kind    model.Kind     `json:"kind" says:"as the book format has it"`
	By      *string        `json:"by" says:"who, where that was said"`
	Says    string         `json:"says" says:"the entry in words"`
	Struck  bool           `json:"struck" says:"it was taken back"`
	Amended bool           `json:"amended" says:"it reads otherwise than it was written"`
	Entry   jsontext.Value `json:"entry" says:"as it reads; a struck one as it was written"`
}

// newestShown is how many entries log shows when nobody says.
const newestShown = 20

func (p *program) logCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "log [N]",
		Short: "Print the newest entries with their numbers",
		Long: `Prints the newest N entries of the log, 20 unless N is given, in the order of time, the
newest first. The number before an entry is what strike takes; x stands before one that
is struck, ~ before one that was amended.`,
		Example: "  wrasse log 5\n  wrasse log --json",
		Args:    wordCount(0, 1, "at most a number"),
		RunE: func(_ *cobra.Command, args []string) error {
			n := newestShown
			if len(args) == 1 {
				if err := (whole{&n, 1, math.MaxInt32}).Set(args[0]); err != nil {
					return usageError{err}
				}
			}
			return p.log(n)
		},
	}
}

func (p *program) log(n int) error {
	b, err := p.load()
	if err != nil {
		return err
	}
	entries, err := b.Newest(model.Mark{On: math.MaxInt32, Seq: math.MaxInt64}, n)
	if err != nil {
		return err
	}
	data := logOut{Book: b.Def().Name}
	var out [][]string
	for _, r := range entries {
		reads := r.Reads
		if reads == nil {
			reads = r.Written
		}
		line := lineOut{Seq: r.Seq, Act: cmp.Or(r.Written.Act, r.Seq), On: orNull(r.On), Kind: reads.Kind, Says: request.Say(b, reads), Struck: r.Struck, Amended: r.Amended, By: orNull(reads.By)}
		if line.Entry, err = model.EncodeEntry(*reads); err != nil {
			return err
		}
		data.Entries = append(data.Entries, line)
		mark := ""
		switch {
		case r.Struck:
			mark = p.marked("x", "struck")
		case r.Amended:
			mark = p.marked("~", "amended")
		}
		out = append(out, []string{strconv.FormatUint(uint64(r.Seq), 10), mark, dash(r.On), line.Says, reads.By})
	}
	var text page
	text.table(out, 0).fits(3, 4)
	return p.print(&text, data)
}

// marked is a mark of a row, as a word where words are wanted.
func (p *program) marked(sign, word string) string {
	if p.config.Plain {
		return word
	}
	return sign
}

func (p *program) strikeCommand() *cobra.Command {
	var by string
	var together bool
	cmd := &cobra.Command{
		Use:   "strike SEQ",
		Short: "Take an entry back by its number, which log shows",
		Long: `Strikes the entry with a number; it stays in the log, struck. With --act all that was
written with it is struck too. Striking what struck an entry brings that back.`,
		Example: "  wrasse log 5\n  wrasse strike 3492",
		Args:    wordCount(1, 1, "the number of an entry"),
		RunE: func(_ *cobra.Command, args []string) error {
			n, err := strconv.ParseUint(args[0], 10, 63)
			if err != nil || n == 0 {
				return usagef("%q is no number of an entry; wrasse log shows them", args[0])
			}
			return p.strike(model.Seq(n), together, by)
		},
	}
	cmd.Flags().BoolVar(&together, "act", false, "strike all that was written with it")
	cmd.Flags().StringVar(&by, "by", "", "who says so")
	return cmd
}

func (p *program) strike(seq model.Seq, together bool, by string) error {
	return p.act(by, func(s request.Stamp, b *ledger.Book) (builder, error) {
		switch e, err := b.Written(seq); {
		case err != nil:
			return nil, err
		case e == nil:
			return nil, fmt.Errorf("the log has no entry %d; the last is %d, and wrasse log shows the newest", seq, b.Last())
		case together:
			return request.Strike{Stamp: s, Act: seq}.Entries, nil
		case b.Struck(seq):
			return nil, fmt.Errorf("entry %d is struck already; strike what struck it to bring it back", seq)
		}
		return request.StrikeOne{Stamp: s, Entry: seq}.Entries, nil
	})
}
