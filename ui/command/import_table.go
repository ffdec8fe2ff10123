package command

import (
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"github.com/go-json-experiment/json/jsontext"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/ui/columns"
	"brine/wrasse/ui/phrase"
	"brine/wrasse/ui/request"
)

// tableImport is the flags of an import of a table.
type tableImport struct {
	csv, dry       bool
	order, decimal string
	by             string
}

// wants tells whether a file is to be read as a table.
func (t tableImport) wants(file string) bool {
	switch strings.ToLower(filepath.Ext(file)) {
	case ".csv", ".tsv", ".tab":
		return true
	case ".jsonl":
		return false
	}
	return t != (tableImport{})
}

// importTable adds what a table holds to the book, or says what that would be.
func (p *program) importTable(file string, from io.Reader, t tableImport) error {
	if !slices.Contains(append([]columns.Order{columns.None}, columns.Orders...), columns.Order(t.order)) {
		return usagef("--order %q is not known; give ymd, dmy or mdy", t.order)
	}
	if !slices.Contains(append([]columns.Decimal{columns.Either}, columns.Decimals...), columns.Decimal(t.decimal)) {
		return usagef("--decimal %q is not known; give comma or point", t.decimal)
	}
	b, err := p.load()
	if err != nil {
		return err
	}
	rows, between, err := p.ReadTable(from)
	if err != nil {
		return fmt.Errorf("importing %s: %w", file, err)
	}
	plan, err := columns.Read(b, rows, columns.Asked{
		Today: p.today(), Order: columns.Order(t.order), Usual: columns.Order(p.config.ImportDates), Future: p.future,
		Decimal: columns.Decimal(t.decimal), Between: between,
	})
	if err != nil {
		return p.wrongLines(file, t, err)
	}
	if t.by != "" {
		plan = plan.By(t.by)
	}
	acts, err := plan.Acts(b)
	if err != nil {
		return fmt.Errorf("importing %s: %w; nothing was written", file, err)
	}
	if t.dry {
		return p.printPlan(b, plan, acts)
	}
	if err := p.sure(summed(b, plan, acts).Odd...); err != nil {
		return fmt.Errorf("importing %s: %w; nothing was written, and --dry-run lists it", file, err)
	}
	var all []model.Seq
	for i, a := range acts {
		seq := model.Seq(0)
		if b, seq, err = p.store().Write(a.Build); err != nil {
			return fmt.Errorf("importing %s: %w; %d of %d parts are written, and importing again adds the rest", file, err, i, len(acts))
		}
		all = append(all, seq)
	}
	return p.written(func() error {
		if err := p.added(b, plan, acts); err != nil {
			return err
		}
		return p.rememberParts(b, all)
	})
}

// wrongLines says what is wrong with a table: the first line that is, or in a dry run
// every one.
func (p *program) wrongLines(file string, t tableImport, err error) error {
	all := []error{err}
	if joined, ok := err.(interface{ Unwrap() []error }); ok {
		all = joined.Unwrap()
	}
	if t.dry && !p.json && len(all) > 1 {
		var out page
		for _, e := range all {
			out.line("%v", e)
		}
		if err := out.print(p.Stdout); err != nil {
			return err
		}
		return fmt.Errorf("importing %s: %d lines are wrong; correct them, nothing would be written", file, len(all))
	}
	more := ""
	if n := len(all) - 1; n > 0 {
		more = fmt.Sprintf("; and %d more, which --dry-run lists", n)
	}
	return fmt.Errorf("importing %s: %w%s; nothing was written", file, all[0], more)
}

// planned is a dry run, or an import that was done, as JSON.
type planned struct {
	Book    string           `json:"book" says:"the name of the book"`
	Added   int              `json:"added" says:"entries, or what would be with --dry-run"`
	Acts    int              `json:"acts" says:"acts they make"`
	Known   int              `json:"known" says:"values the book has already"`
	Odd     []string         `json:"odd" says:"what is far from usual"`
	Entries []jsontext.Value `json:"entries" says:"with --dry-run: as the book format writes them"`
}

func summed(b *ledger.Book, plan columns.Plan, acts []columns.Act) planned {
	out := planned{Book: b.Def().Name, Acts: len(acts), Known: plan.Known, Odd: []string{}}
	for _, a := range acts {
		out.Added += len(a.Entries)
		out.Odd = append(out.Odd, a.Odd...)
	}
	return out
}

// printPlan says what would be added.
func (p *program) printPlan(b *ledger.Book, plan columns.Plan, acts []columns.Act) error {
	sum := summed(b, plan, acts)
	var out page
	var rows [][]string
	for _, a := range acts {
		for i := range a.Entries {
			e := &a.Entries[i]
			rows = append(rows, []string{e.On.String(), request.Say(b, e)})
			data, err := model.EncodeEntry(*e)
			if err != nil {
				return err
			}
			sum.Entries = append(sum.Entries, data)
		}
	}
	out.line("%s: %s would be added", sum.Book, phrase.Count(sum.Added, "entry"))
	out.table(rows)
	out.leftOut(plan)
	for _, o := range sum.Odd {
		out.line("odd: %s", o)
	}
	return p.print(&out, sum)
}

// rememberParts keeps the acts of a table for undo, or says how they are taken back where they
// are too many to be kept.
func (p *program) rememberParts(b *ledger.Book, acts []model.Seq) error {
	var parts [][]*model.Entry
	sum, by := 0, ""
	for _, seq := range acts {
		entries, err := b.Act(seq)
		if err != nil {
			return err
		}
		parts = append(parts, entries)
		sum += len(entries)
		by += fmt.Sprintf(" %d", seq)
	}
	if sum > rememberedEntries {
		p.remark("note: more than undo keeps; wrasse strike SEQ --act takes back a part of it, with SEQ each of%s", by)
		return nil
	}
	for _, entries := range parts {
		p.remember(entries, false, acts[0])
	}
	return nil
}

// leftOut says which lines of a table are not for the log, or in it already.
func (p *page) leftOut(plan columns.Plan) {
	if plan.Known > 0 {
		p.line("left out: %s in the book already", phrase.Count(plan.Known, "value"))
	}
	if len(plan.Others) > 0 {
		p.line("left out: lines of %s; only ticks, readings and usage come in", strings.Join(plan.Others, ", "))
	}
}

// added says what was added.
func (p *program) added(b *ledger.Book, plan columns.Plan, acts []columns.Act) error {
	sum := summed(b, plan, acts)
	var out page
	out.line("%s: %s added", sum.Book, phrase.Count(sum.Added, "entry"))
	out.leftOut(plan)
	return p.print(&out, sum)
}
