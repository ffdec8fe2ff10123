package water

import (
	"fmt"
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/ui/chart"
	"brine/wrasse/ui/phrase"
	"brine/wrasse/ui/text"
)

// inWords is the whole view in plain words, a fact a line.
func (s *Screen) inWords(w int) []string {
	th := s.session.Root.Theme()
	var out []string
	head := func(title string) { out = append(out, th.Title.Render(text.Fit(title, w))) }
	say := func(sentence string) { out = append(out, text.Para(w, "", "", nil, text.Spoken(sentence))...) }
	head("what the readings say")
	out = append(out, s.diagnosis(w, 0)...)
	head("stages")
	out = append(out, s.stages(w)...)
	head("latest readings")
	for _, r := range s.table() {
		say(r.sentence(s.is.On))
	}
	head("over " + spans[s.span].inFull)
	for _, c := range s.charts {
		for _, sentence := range said(c) {
			say(sentence)
		}
	}
	return out
}

// stagesInWords is a sentence for each stage.
func (s *Screen) stagesInWords(w int) []string {
	var out []string
	for _, v := range s.inUse() {
		say := v.name + ": " + string(v.Verdict)
		if v.chore != nil {
			say += ", " + phrase.WhenSaid(v.chore, s.is.On)
		}
		if v.Because != "" {
			say += ": " + v.Because
		}
		out = append(out, text.Para(w, "", "", nil, text.Spoken(say))...)
	}
	return out
}

// sentence is a value with its name and age.
func (r shown) sentence(on model.Date) string {
	if r.days == notRead {
		return r.inFull + ": " + r.value
	}
	return r.inFull + ": " + r.value + ", " + phrase.InDays(on.AddDays(-r.days), on)
}

// saidLast is how many of the latest values of a chart are named.
const saidLast = 5

// said is a chart in words: for each of its lines the latest values, which way they go,
// and between what they lie; then the renewals that are marked in it.
func said(c chart.Chart) []string {
	var out []string
	for _, series := range c.Series {
		values := within(c, series.Points)
		if len(values) == 0 {
			continue
		}
		latest := values[max(len(values)-saidLast, 0):]
		var figures []string
		for _, v := range latest {
			figures = append(figures, c.Number(v))
		}
		lo, hi := values[0], values[0]
		for _, v := range values {
			lo, hi = min(lo, v), max(hi, v)
		}
		name := c.Title
		if series.Label != "" {
			name += ", " + series.Label
		}
		s := fmt.Sprintf("%s: %s in %s, %s", name, strings.Join(figures, " "), phrase.Count(len(latest), "value"), course(latest))
		if len(values) > len(latest) {
			s += fmt.Sprintf("; of %d between %s and %s", len(values), c.Number(lo), c.Number(hi))
		}
		out = append(out, s)
	}
	if len(out) == 0 {
		return []string{c.Title + ": " + c.Empty}
	}
	for _, l := range c.Limits {
		out = append(out, c.Title+": "+l.Name)
	}
	return append(out, renewals(c)...)
}

// renewals is when each thing marked in a chart was renewed.
func renewals(c chart.Chart) []string {
	var names []string
	dates := map[string][]string{}
	for _, m := range c.Marks {
		if dates[m.Name] == nil {
			names = append(names, m.Name)
		}
		dates[m.Name] = append(dates[m.Name], phrase.Day(model.Date(m.X), model.Date(c.To)))
	}
	for i, name := range names {
		names[i] = name + " renewed " + strings.Join(dates[name], ", ")
	}
	return names
}

// within is the values of points that count and lie in the span.
func within(c chart.Chart, points []chart.Point) []float64 {
	var out []float64
	for _, p := range points {
		if p.X >= c.From && p.X <= c.To && !p.Ring {
			out = append(out, p.Y)
		}
	}
	return out
}

// course says which way values go, as far as that can be seen without arithmetic.
func course(values []float64) string {
	rises, falls := false, false
	for i := 1; i < len(values); i++ {
		rises = rises || values[i] > values[i-1]
		falls = falls || values[i] < values[i-1]
	}
	switch {
	case len(values) == 1:
		return "the only one"
	case rises && falls:
		return "up and down"
	case rises:
		return "rising"
	case falls:
		return "falling"
	}
	return "steady"
}
