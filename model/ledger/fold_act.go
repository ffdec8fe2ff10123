package ledger

import "brine/wrasse/model"

// endAct checks what only has to hold once an act is whole.
func (f *folder) endAct() error {
	if f.openings != 0 {
		if err := f.book.checkOpenings(); err != nil {
			return &EntryError{f.openings, err}
		}
	}
	if f.roles != 0 {
		if err := f.book.checkRoles(); err != nil {
			return &EntryError{f.roles, err}
		}
	}
	for _, e := range f.calling {
		if err := f.book.checkCalls(e.Body.(model.Chore)); err != nil {
			return &EntryError{e.Seq, err}
		}
	}
	f.openings, f.roles, f.calling = 0, 0, nil
	return nil
}

// checkCalls holds what a chore calls for to chores of the book.
func (b *Book) checkCalls(c model.Chore) error {
	for _, call := range c.Then {
		if _, ok := b.chores.get(call.Chore); !ok {
			return model.Wrong("then.chore", call.Chore, "the id of a chore that the same act or an earlier entry defines")
		}
	}
	return nil
}

// checkOpenings holds openings one deep and in one place.
func (b *Book) checkOpenings() error {
	for _, id := range b.components.order {
		c := b.components.byID[id]
		if c.OpensWith == "" {
			continue
		}
		with, ok := b.components.get(c.OpensWith)
		switch {
		case !ok || c.OpensWith == c.ID:
			return model.Wrong("opens_with", c.OpensWith, "the id of another component of the book")
		case with.OpensWith != "":
			return model.Wrong("opens_with", c.OpensWith, "a component that opens by itself; %s opens with %s", with.ID, with.OpensWith)
		case with.Place != c.Place:
			return model.Wrong("opens_with", c.OpensWith, "a component at the same place; %s stands at %s, %s at %s", c.ID, c.Place, with.ID, with.Place)
		}
	}
	return nil
}

// checkRoles holds each role to one counter, gauge or spare in use.
func (b *Book) checkRoles() error {
	holders := map[string]model.ID{}
	claim := func(kind model.Kind, role string, id model.ID, retired model.Date) error {
		if role == "" || !retired.IsZero() {
			return nil
		}
		key := string(kind) + " " + role
		if other, taken := holders[key]; taken {
			return model.Wrong("role", role, "a role that %s does not have already", other)
		}
		holders[key] = id
		return nil
	}
	for _, c := range b.counters.all() {
		if err := claim(model.KindCounter, c.Role, c.ID, c.Retired); err != nil {
			return err
		}
	}
	for _, g := range b.gauges.all() {
		if err := claim(model.KindGauge, g.Role, g.ID, g.Retired); err != nil {
			return err
		}
	}
	for _, s := range b.spares.all() {
		if err := claim(model.KindSpare, s.Role, s.ID, s.Retired); err != nil {
			return err
		}
	}
	return nil
}
