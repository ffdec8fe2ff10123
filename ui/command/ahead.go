package command

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/schedule"
	"brine/wrasse/ui/parse"
	"brine/wrasse/ui/phrase"
	"brine/wrasse/ui/request"
)

// asks makes a command that prints something of a book and its round of a date.
func (p *program) asks(use, short string, show func(*ledger.Book, *schedule.Round) (*page, any)) *cobra.Command {
	return &cobra.Command{
		Use:     use,
		Short:   short,
		Example: "  wrasse " + use + "\n  wrasse " + use + " --json",
		Args:    wordCount(0, 0, "no words, only flags"),
		RunE: func(*cobra.Command, []string) error {
			b, r, err := p.ahead()
			if err != nil {
				return err
			}
			return p.print(show(b, r))
		},
	}
}

// ahead is the book and its round of the date that the command is about.
func (p *program) ahead() (*ledger.Book, *schedule.Round, error) {
	when, err := p.date()
	if err != nil {
		return nil, nil, err
	}
	b, err := p.load()
	if err != nil {
		return nil, nil, err
	}
	return b, schedule.Make(b, when.On), nil
}

type shelfOut struct {
	On     model.Date      `json:"on" says:"the day it is of"`
	Spares []shelfSpareOut `json:"spares" says:"the first to order first"`
}

type shelfSpareOut struct {
	ID       model.ID    `json:"id" says:"the spare"`
	Name     string      `json:"name" says:"its name"`
	Unit     string      `json:"unit" says:"of on_hand"`
	OnHand   *float64    `json:"on_hand" says:"how much is on the shelf, in unit; null until it is counted"`
	NextUse  *model.Date `json:"next_use" says:"the day"`
	OutOn    *model.Date `json:"out_on" says:"the day it runs out"`
	OrderBy  *model.Date `json:"order_by" says:"the day"`
	LeadDays int         `json:"lead_days" says:"from ordering to having it"`
	Used     float64     `json:"used" says:"in a year, in unit"`
	YearCost *float64    `json:"year_cost" says:"at its price; null without one"`
	Counted  bool        `json:"counted" says:"somebody said how much there is"`
	Part     *string     `json:"part" says:"its number at the maker or dealer"`
	Source   *string     `json:"source" says:"where it is bought"`
	Expires  *model.Date `json:"expires" says:"the last day that what is on the shelf may be used"`
	Expired  bool        `json:"expired" says:"that day is past, and some is there"`
}

func (p *program) shelfCommand() *cobra.Command {
	return p.asks("shelf", "Print the spares: on hand, when they run out, when to order", shelf)
}

func shelf(b *ledger.Book, r *schedule.Round) (*page, any) {
	text, data := new(page), shelfOut{On: r.On}
	text.line("%s, %s: spares, the first to order first", r.Book, phrase.Today(r.On))
	rows := [][]string{{"", "on hand", "next use", "out on", "order by", "a year", "", ""}}
	u := b.Def().Units
	for _, f := range r.Shelf() {
		line := shelfSpareOut{ID: f.Spare.ID, Name: f.Spare.Name, Unit: f.Spare.Unit,
			NextUse: orNull(f.NextUse), OutOn: orNull(f.OutOn), OrderBy: orNull(f.OrderBy), LeadDays: f.Spare.LeadDays, Used: f.Used,
			Counted: f.Counted, Part: orNull(f.Spare.Part), Source: orNull(f.Spare.Source), Expires: orNull(f.Spare.Expires), Expired: f.Expired}
		cost := "-"
		if f.Spare.Price != nil {
			line.YearCost = &f.YearCost
			cost = fmt.Sprintf("%.2f", f.YearCost)
		}
		hand, out, order := parse.Quantity(f.OnHand, f.Spare.Unit, u), dash(f.OutOn), orderBy(r.On, f.OrderBy)
		if f.Expired {
			order = "past its date"
		}
		if f.Counted {
			line.OnHand = &f.OnHand
		} else {
			hand, order = "?", "count it"
		}
		data.Spares = append(data.Spares, line)
		rows = append(rows, []string{string(f.Spare.ID), hand, dash(f.NextUse), out, order, cost, f.Spare.Name, label(f, r.On)})
	}
	text.table(rows, 1, 5).says(6, true).fits(6, 5, 7)
	return text, data
}

// label is what a label says: how to order it, and until when it is good.
func label(f schedule.SpareForecast, on model.Date) string {
	parts := []string{phrase.GoodUntil(f.Spare, on), phrase.Bought(f.Spare)}
	return strings.Join(slices.DeleteFunc(parts, func(s string) bool { return s == "" }), ", ")
}

func dash(d model.Date) string {
	if d.IsZero() {
		return "-"
	}
	return d.String()
}

func orderBy(on, d model.Date) string {
	if !d.IsZero() && d <= on {
		return d.String() + " now"
	}
	return dash(d)
}

type rethinkOut struct {
	On         model.Date   `json:"on" says:"the day it is of"`
	Components []awkwardOut `json:"components" says:"the one that costs most first"`
}

type awkwardOut struct {
	Now       placingOut       `json:",embed"`
	ID        model.ID         `json:"id" says:"the component"`
	Name      string           `json:"name" says:"its name"`
	Place     model.ID         `json:"place" says:"where it is"`
	PlaceName string           `json:"place_name" says:"its name"`
	Score     float64          `json:"score" says:"minutes a year that easy reach could save, late ones weighed more: the order"`
	State     *model.FlagState `json:"state" says:"flagged, planned, rebuilt or dropped"`
	Cause     *model.Cause     `json:"cause" says:"of the flag"`
	Rebuilt   *model.Date      `json:"rebuilt" says:"the day"`
	Before    *placingOut      `json:"before" says:"as it was placed before that"`
	After     *placingOut      `json:"after" says:"as it is placed since"`
}

type placingOut struct {
	Reach         int     `json:"reach" says:"grade, 1 to 5"`
	AccessMinutes int     `json:"access_minutes" says:"to get at it once"`
	Visits        float64 `json:"visits" says:"a year"`
	MinutesAYear  float64 `json:"minutes_a_year" says:"of getting there"`
	Slip          float64 `json:"slip" says:"lateness as a share of the interval"`
	Spent         float64 `json:"spent" says:"share found heavy or failed, 0 to 1"`
}

func jsonPlacing(p *schedule.Placing) *placingOut {
	if p == nil {
		return nil
	}
	return &placingOut{p.Component.Reach, p.AccessMinutes, p.Visits, p.MinutesAYear, p.Slip, p.Spent}
}

func (p *program) rethinkCommand() *cobra.Command {
	return p.asks("rethink", "Print the components by the minutes a year that moving them could save, late ones weighed more", rethink)
}

func rethink(b *ledger.Book, r *schedule.Round) (*page, any) {
	text, data := new(page), rethinkOut{On: r.On}
	text.line("%s, %s: components by the minutes a year that moving them could save, late ones weighed more", r.Book, phrase.Today(r.On))
	rows := [][]string{{"", "reach", "saves a year", "takes a year", "late", "heavy or failed", "", "", ""}}
	var rebuilt page
	for _, a := range r.Rethink() {
		out := awkwardOut{Now: *jsonPlacing(&a.Placing), ID: a.Component.ID, Name: a.Component.Name, Place: a.Place.ID, PlaceName: a.Place.Name,
			Score: a.Score, Before: jsonPlacing(a.Before), After: jsonPlacing(a.After)}
		flag := ""
		if a.Flag != nil {
			out.State = &a.Flag.What.State
			flag = string(a.Flag.What.State)
			if out.Cause = orNull(a.Flag.What.Cause); out.Cause != nil {
				flag += ", " + request.CauseText(*out.Cause)
			}
		}
		if a.Rebuilt != nil {
			out.Rebuilt = &a.Rebuilt.On
		}
		data.Components = append(data.Components, out)
		save, costs := wholeMinutes(a.Score)+" min", wholeMinutes(a.MinutesAYear)+" min"
		if a.Score < 0.5 {
			save = "-"
		}
		if with := a.Component.OpensWith; with != "" { // an opening counts once
			save, costs = "-", "with "+string(with)
		}
		rows = append(rows, []string{string(a.Component.ID), phrase.ReachCell(phrase.Grade(a.Component), phrase.Flagged(b, a.Component.ID) != nil),
			save, costs, percent(a.Slip), percent(a.Spent), a.Component.Name, a.Place.Name, flag})
		if a.Before != nil && a.After != nil {
			rebuilt.line("%s: before reach %d, %s min a year; after reach %d, %s min a year", a.Component.ID,
				a.Before.Component.Reach, wholeMinutes(a.Before.MinutesAYear), a.After.Component.Reach, wholeMinutes(a.After.MinutesAYear))
		}
	}
	text.table(rows, 1, 2, 3, 4, 5).says(6, true).fits(6, 7, 8)
	if len(rebuilt.lines) > 0 {
		text.head("rebuilt")
		text.lines = append(text.lines, rebuilt.lines...)
	}
	return text, data
}

func wholeMinutes(m float64) string { return fmt.Sprintf("%.0f", m) }

func percent(share float64) string { return fmt.Sprintf("%.0f %%", 100*share) }

type yearOut struct {
	On    model.Date `json:"on" says:"the day it is of"`
	Weeks []weekOut  `json:"weeks" says:"the present one first"`
}

type weekOut struct {
	Start   model.Date `json:"start" says:"its first day"`
	Chores  int        `json:"chores" says:"how many are due"`
	Minutes int        `json:"minutes" says:"hands-on"`
	Access  int        `json:"access_minutes" says:"to get at it"`
	Waiting int        `json:"waiting_minutes" says:"besides"`
	Cost    float64    `json:"cost" says:"of the spares"`
}

func (p *program) yearCommand() *cobra.Command {
	return p.asks("year", "Print the year ahead by weeks: hours and cost", p.year)
}

func (p *program) year(_ *ledger.Book, r *schedule.Round) (*page, any) {
	text, data := new(page), yearOut{On: r.On}
	text.line("%s, %s: the year ahead by weeks, were everything done when it is due", r.Book, phrase.Today(r.On))
	rows := [][]string{{"week of", "chores", "work", "getting at it", "waiting", "cost"}}
	var sum weekOut
	for _, w := range r.Year(p.config.WeekStart) {
		out := weekOut{w.Start, len(w.Visits), w.Hands, w.Access, w.Waiting, w.Spares}
		data.Weeks = append(data.Weeks, out)
		rows = append(rows, weekRow(w.Start.String(), out))
		sum.Chores += out.Chores
		sum.Minutes += out.Minutes
		sum.Access += out.Access
		sum.Waiting += out.Waiting
		sum.Cost += out.Cost
	}
	text.table(append(rows, weekRow("all", sum)), 1, 2, 3, 4, 5).says(0, true)
	return text, data
}

func weekRow(name string, w weekOut) []string {
	return []string{name, fmt.Sprint(w.Chores), parse.Labour(w.Minutes), parse.Labour(w.Access),
		parse.Labour(w.Waiting), fmt.Sprintf("%.2f", w.Cost)}
}
