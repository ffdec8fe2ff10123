package command

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/model/station"
	"brine/wrasse/model/water"
	"brine/wrasse/schedule"
	"brine/wrasse/ui/parse"
	"brine/wrasse/ui/phrase"
)

type waterOut struct {
	On                   model.Date     `json:"on" says:"the day it is of"`
	Book                 string         `json:"book" says:"the name of the book"`
	Rejection            *float64       `json:"rejection" says:"share of the dissolved salts that the membrane holds back, 0 to 1"`
	RejectionAt          *string        `json:"rejection_at" says:"raw, or the temperature that a warm one is brought to"`
	SaltPassage          *float64       `json:"salt_passage" says:"share that passes, 0 to 1"`
	RejectionReason      *string        `json:"rejection_reason" says:"why there is no rejection"`
	NormalisedFlow       *float64       `json:"normalised_flow" says:"product flow as a share of that of the first weeks, temperature and pressure taken out"`
	NormalisedFlowReason *string        `json:"normalised_flow_reason" says:"why there is none"`
	WasteRatio           *float64       `json:"waste_ratio" says:"litres of waste for one of product"`
	Stages               []stageOut     `json:"stages" says:"in the order the water flows"`
	Causes               []causeOut     `json:"causes" says:"the likeliest first"`
	CannotTell           []string       `json:"cannot_tell" says:"open questions"`
	Figures              []string       `json:"figures" says:"reckoned besides"`
	Drifts               []string       `json:"drifts" says:"values that left the range of their first readings"`
	Cautions             []string       `json:"cautions" says:"of the water itself"`
	Values               []valueOut     `json:"values" says:"the latest of each gauge"`
	FirstWeeks           *[2]model.Date `json:"first_weeks" says:"first and last day of what readings are held against"`
	Vessels              []vesselOut    `json:"on_hand" says:"the water in each that is in use"`
}

type stageOut struct {
	Component model.ID      `json:"component" says:"the component"`
	Name      string        `json:"name" says:"its name"`
	Stage     model.Stage   `json:"stage" says:"sediment, carbon, membrane or resin"`
	Verdict   water.Verdict `json:"verdict" says:"sound, watch, act, read again or can't tell"`
	Because   string        `json:"because" says:"the reading it rests on"`
}

type causeOut struct {
	Pattern string `json:"pattern" says:"D1 to D45, of the table of causes"`
	Cause   string `json:"cause" says:"what it is"`
	Sure    string `json:"sure" says:"likely, possible or hint"`
	Because string `json:"because" says:"the readings it rests on"`
	Next    string `json:"next" says:"what to do"`
}

type valueOut struct {
	Gauge   model.ID    `json:"gauge" says:"the gauge"`
	Name    string      `json:"name" says:"its name"`
	Unit    string      `json:"unit" says:"of value"`
	Value   *float64    `json:"value" says:"null: never read"`
	Taken   *model.Date `json:"taken" says:"the day"`
	AgeDays *int        `json:"age_days" says:"days since"`
	Counts  bool        `json:"counts" says:"false when it was taken too soon after the start"`
	Off     *string     `json:"off" says:"of the instrument it was read with, where its check failed and it was not mended; the value stands as it was read"`
}

func (p *program) waterCommand() *cobra.Command {
	return &cobra.Command{
		Use:     "water",
		Short:   "Print the water station's latest values, stage verdicts and what they say",
		Example: "  wrasse water\n  wrasse water --json --on 2026-11-25",
		Args:    wordCount(0, 0, "no words, only flags"),
		RunE: func(*cobra.Command, []string) error {
			b, r, err := p.ahead()
			if err != nil {
				return err
			}
			series := b.Series(r.On)
			s := station.From(series)
			if s.Refused != nil {
				return fmt.Errorf("the readings can't be judged: %w; amend the one that is wrong", s.Refused)
			}
			drifts := phrase.StationDrift(series, r)
			return p.print(waterText(b, r, s, drifts), waterJSON(b, r, s, drifts))
		},
	}
}

func waterJSON(b *ledger.Book, r *schedule.Round, s *station.Station, drifts []string) waterOut {
	out := waterOut{On: s.On, Book: b.Def().Name, Stages: []stageOut{}, Causes: []causeOut{}, Vessels: vesselsJSON(r),
		CannotTell: append([]string{}, s.Diagnosis.CannotTell...), Figures: append([]string{}, phrase.Figures(b, s)...), Drifts: append([]string{}, drifts...), Cautions: append([]string{}, s.Cautions...)}
	out.Rejection, out.RejectionReason = derivedJSON(s.Rejection, percents)
	if passage, ok := s.SaltPassage(); ok {
		out.SaltPassage, out.RejectionAt = &passage, &s.RejectionAt
	}
	out.NormalisedFlow, out.NormalisedFlowReason = derivedJSON(s.NormalFlow, percents)
	out.WasteRatio, _ = derivedJSON(s.WasteRatio, 1)
	for _, c := range stageParts(b, s.On) {
		v := s.Verdict(c.Stage)
		out.Stages = append(out.Stages, stageOut{c.ID, c.Name, c.Stage, v.Verdict, v.Because})
	}
	for _, c := range s.Diagnosis.Causes {
		out.Causes = append(out.Causes, causeOut{c.ID, c.Cause, c.Sure.String(), c.Because, c.Next})
	}
	for _, v := range s.Values {
		o := valueOut{Gauge: v.Gauge.ID, Name: v.Gauge.Name, Unit: v.Gauge.Unit, Counts: v.Counts}
		if v.Read() {
			o.Value, o.Taken, o.AgeDays = &v.Value, &v.Taken, &v.Age
			o.Off = orNull(phrase.OffSince(b, v.Gauge, v.Mark(), s.On))
		}
		out.Values = append(out.Values, o)
	}
	if w := s.FirstWeeks; w.From != 0 {
		out.FirstWeeks = &[2]model.Date{w.From, w.Through}
	}
	return out
}

// percents are a part of 1, which is how JSON has all shares.
const percents = 100

func derivedJSON(d station.Derived, per float64) (value *float64, why *string) {
	if d.Known() {
		return new(d.Value / per), nil
	}
	return nil, &d.Why
}

// stageParts are the components in use that are stages, in the order the water flows.
func stageParts(b *ledger.Book, on model.Date) []model.Component {
	var out []model.Component
	for _, stage := range phrase.Stages() {
		for _, c := range b.Components() {
			if c.Stage == stage && (c.Retired.IsZero() || c.Retired > on) {
				out = append(out, c)
			}
		}
	}
	return out
}

func waterText(b *ledger.Book, r *schedule.Round, s *station.Station, drifts []string) *page {
	out := new(page)
	out.line("%s, %s: the water station", b.Def().Name, phrase.Today(s.On))
	u := b.Def().Units
	var rows [][]string
	for _, v := range s.Values {
		if !v.Read() {
			rows = append(rows, []string{v.Gauge.Name, "not read", "", ""})
			continue
		}
		counts := phrase.OffSince(b, v.Gauge, v.Mark(), s.On)
		if !v.Counts {
			counts = "too soon after the start: counts nowhere"
		}
		rows = append(rows, []string{v.Gauge.Name, parse.Quantity(v.Value, v.Gauge.Unit, u), age(v.Age), counts})
	}
	rows = append(rows,
		rejectionRow(s),
		derivedRow("Normalised flow", "%.0f %% of the first weeks", s.NormalFlow),
		derivedRow("Waste ratio", "%.1f to 1", s.WasteRatio))
	out.table(rows, 1)
	out.head("stages")
	rows = nil
	for _, c := range stageParts(b, s.On) {
		v := s.Verdict(c.Stage)
		rows = append(rows, []string{c.Name, string(v.Verdict), v.Because})
	}
	out.table(rows)
	out.head("what the readings say")
	for i, c := range s.Diagnosis.Causes {
		out.line("  %d %s", i+1, c.Said())
		out.line("    %s", c.Because)
		out.line("    next: %s", c.Next)
	}
	for _, d := range drifts {
		out.line("  ~ %s", d)
	}
	for _, off := range phrase.OffNow(b, s.On) {
		out.line("  ! %s", off)
	}
	for _, q := range s.Diagnosis.CannotTell {
		out.line("  ? %s", q)
	}
	for _, c := range s.Cautions {
		out.line("  ! %s", c)
	}
	if len(s.Diagnosis.Causes)+len(s.Diagnosis.CannotTell) == 0 {
		out.line("  nothing to say yet: wrasse read tap 248 membrane 6 product 0")
	}
	if figures := phrase.Figures(b, s); len(figures) > 0 {
		out.head("reckoned beside it")
		out.sentences(figures)
	}
	if f := s.FirstWeeks; f.UnknownAge && f.From != 0 {
		out.line("")
		out.line("first weeks %s to %s, of a membrane whose renewal is not in the log", phrase.Day(f.From, s.On), phrase.Day(f.Through, s.On))
	}
	onHandText(out, b, r)
	out.head("easily got wrong")
	out.sentences(phrase.Facts(b, s))
	return out
}

func age(days int) string {
	if days == 0 {
		return "today"
	}
	return fmt.Sprintf("%d d ago", days)
}

// rejectionRow is the rejection with how it is meant, and the span that a coarse meter leaves where the threshold is near.
func rejectionRow(s *station.Station) []string {
	row := derivedRow("Rejection", "%.1f %% "+strings.ReplaceAll(s.RejectionAt, "%", "%%"), s.Rejection)
	if s.Rejection.Known() {
		row[3] = phrase.RejectionSpan(s)
	}
	return row
}

func derivedRow(name, form string, d station.Derived) []string {
	if !d.Known() {
		return []string{name, "no value", "", strings.TrimSpace(d.Why)}
	}
	return []string{name, fmt.Sprintf(form, d.Value), age(d.Age), ""}
}
