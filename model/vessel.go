package model

import (
	"cmp"
	"fmt"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"
)

// Vessel is what holds water, fresh or salt: a reservoir, a mixing vat, a top-up can.
type Vessel struct {
	ID          ID       `json:"id"`
	Name        string   `json:"name"`
	Place       ID       `json:"place"`
	Holds       Holds    `json:"holds"`
	Capacity    float64  `json:"capacity"`              // L
	Keep        float64  `json:"keep,omitzero"`         // L that must stay in it, or a pump runs dry
	FedBy       ID       `json:"fed_by,omitzero"`       // fresh: the counter of what runs in
	Auto        bool     `json:"auto,omitzero"`         // fresh: a float valve keeps it full
	DeclaredUse *float64 `json:"declared_use,omitzero"` // fresh: what nobody logs, L a day; nil when not said
	Guess       []string `json:"guess,omitzero"`
	Retired     Date     `json:"retired,omitzero"`
}

// Holds is the water that a vessel holds.
type Holds string

// The two waters.
const (
	HoldsFresh Holds = "fresh"
	HoldsSalt  Holds = "salt"
)

// Take is what a tick of a chore draws from a vessel.
type Take struct {
	Vessel ID      `json:"vessel"`
	Litres float64 `json:"litres"`
}

// Took is what a tick drew by one of its chore's takes. The litres that the tick carries stand for the first of them.
func (t *Tick) Took(i int, of Take) float64 {
	if i == 0 && t.Litres != nil {
		return *t.Litres
	}
	return of.Litres
}

// Level is the litres in a vessel, as counted.
type Level struct {
	Vessel ID      `json:"vessel"`
	Litres float64 `json:"litres"`
	About  bool    `json:"about,omitzero"` // it was a guess, and teaches nothing
}

// Draw is litres taken out of a vessel.
type Draw struct {
	Vessel ID      `json:"vessel"`
	Litres float64 `json:"litres"`
	For    Purpose `json:"for"`
	Into   ID      `json:"into,omitzero"` // the vessel they were carried to
}

// Purpose is what water is drawn for.
type Purpose string

// The purposes of a draw.
const (
	ForTopUp  Purpose = "top-up"
	ForChange Purpose = "change"
	ForMix    Purpose = "mix"
	ForHouse  Purpose = "house"
	ForWaste  Purpose = "waste"
)

// Purposes are the purposes a draw may have, in the order they are offered.
var Purposes = []Purpose{ForTopUp, ForChange, ForMix, ForHouse, ForWaste}

// Need is litres wanted from a vessel by a date.
type Need struct {
	Vessel ID      `json:"vessel"`
	Litres float64 `json:"litres"`
	By     Date    `json:"by"`
	Chore  ID      `json:"chore,omitzero"` // the need stands for what this chore would take up to By
	Note   string  `json:"note,omitzero"`
}

// Kind implements Body.
func (Vessel) Kind() Kind { return KindVessel }

// Kind implements Body.
func (Level) Kind() Kind { return KindLevel }

// Kind implements Body.
func (Draw) Kind() Kind { return KindDraw }

// Kind implements Body.
func (Need) Kind() Kind { return KindNeed }

func (v Vessel) check() error {
	err := cmp.Or(
		checkID("id", v.ID),
		checkName("name", v.Name),
		checkID("place", v.Place),
		checkWord("holds", v.Holds, HoldsFresh, HoldsSalt),
		checkPositive("capacity", v.Capacity),
		checkNumber("keep", v.Keep, 0, v.Capacity),
		checkOptionalID("fed_by", v.FedBy),
		checkOptional("declared_use", v.DeclaredUse, 0, MaxAmount),
		checkGuess(v.Guess, "capacity", "keep", "declared_use"),
	)
	switch {
	case err != nil || v.Holds == HoldsFresh:
		return err
	case v.FedBy != "":
		return Wrong("fed_by", v.FedBy, "a counter only for a vessel of fresh water")
	case v.Auto:
		return Wrong("auto", v.Auto, "a float valve only for a vessel of fresh water")
	}
	return nil
}

func (t Take) check() error {
	return cmp.Or(checkID("takes.vessel", t.Vessel), checkPositive("takes.litres", t.Litres))
}

func (l Level) check() error {
	return cmp.Or(checkID("vessel", l.Vessel), checkNumber("litres", l.Litres, 0, MaxAmount))
}

func (d Draw) check() error {
	if d.Into != "" && d.Into == d.Vessel {
		return Wrong("into", d.Into, "another vessel than the one the water comes from")
	}
	return cmp.Or(
		checkID("vessel", d.Vessel),
		checkPositive("litres", d.Litres),
		checkWord("for", d.For, Purposes...),
		checkOptionalID("into", d.Into),
	)
}

func (n Need) check() error {
	if n.By.IsZero() {
		return Missing("by", "the date by which the water is wanted")
	}
	return cmp.Or(
		checkID("vessel", n.Vessel),
		checkPositive("litres", n.Litres),
		checkOptionalID("chore", n.Chore),
		checkText("note", n.Note, MaxNoteLen),
	)
}

// needLine is a need as one JSON object. Its `by` is the date by which water is wanted, so that it can't say who wrote it.
type needLine struct {
	Seq  Seq    `json:"seq,omitzero"`
	At   string `json:"at,omitzero"`
	On   Date   `json:"on,omitzero"`
	Kind Kind   `json:"kind"`
	Act  Seq    `json:"act,omitzero"`
	Need Need   `json:",embed"`
}

func (l *needLine) entry() Entry {
	return Entry{Header{Seq: l.Seq, At: l.At, On: l.On, Kind: KindNeed, Act: l.Act}, l.Need}
}

func needCodec() codec {
	c := codecOf[Need]()
	read := func(options ...json.Options) func([]byte) (Entry, error) {
		return func(data []byte) (Entry, error) {
			var l needLine
			err := json.Unmarshal(data, &l, options...)
			return l.entry(), err
		}
	}
	c.decode, c.trusted = read(json.RejectUnknownMembers(true)), read(jsontext.AllowDuplicateNames(true))
	c.encode = func(e Entry) ([]byte, error) {
		need, ok := e.Body.(Need)
		if !ok || e.By != "" {
			return nil, fmt.Errorf("a need can't say who wrote it; entry %d names %q", e.Seq, e.By)
		}
		return json.Marshal(needLine{e.Seq, e.At, e.On, e.Kind, e.Act, need}, json.Deterministic(true))
	}
	return c
}
