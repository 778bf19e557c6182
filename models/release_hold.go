package models

import (
	"context"
	"fmt"
	"strings"
)

// heldBack is the refusal to let something out while gates are shut. It names
// each of them.
func heldBack(field, what string, shut []Gate) error {
	names := make([]string, len(shut))
	out := &Error{Kind: Conflict}
	for i, g := range shut {
		names[i] = g.Name
		out.Fields = append(out.Fields, FieldProblem{field, fmt.Sprintf("waits for “%s”: %s", g.Name, orElse(g.Again, g.Why))})
	}
	out.Message = fmt.Sprintf("%s: %s shut: %s. Open what is shut, or let the designer open it by hand with a reason, on the release page.",
		what, countedVerb(len(shut), "gate", "is", "are"), strings.Join(names, ", "))
	return out
}

// airing computes, within the change, whether an installment may be marked as
// aired: gates are what holds it, out the version that goes out with it. What
// the same change marks of its captions counts.
func (t *tx) airing(ctx context.Context, in *Installment, wish steps) (gates []Gate, out Version, err error) {
	design, err := designIn(t.DB, in.DesignID)
	if err != nil {
		return nil, Version{}, err
	}
	rows, err := t.store.gateRowsIn(ctx, t.DB, design)
	if err != nil {
		return nil, Version{}, err
	}
	for i := range rows.run {
		if rows.run[i].ID == in.ID {
			rows.run[i].CaptionedAt = wish[stepCaptioned]
		}
	}
	return rows.gates().Installments[in.ID], rows.out, nil
}

// markReleased marks a design's text as out, or takes that back. Without an
// announced day, or before it, today becomes the day.
func (t *tx) markReleased(ctx context.Context, before, after *Design, c DesignChange) error {
	switch {
	case !*c.Released:
		after.ReleasedAt, after.ReleasedBy = nil, nil
		return nil
	case before.IsOut():
		return nil
	case before.reads() != after.reads():
		return &Error{Kind: Invalid, Message: "Nothing was changed.", Fields: []FieldProblem{{"released", "can't be marked in the same change as what the text rests on; change that first"}}}
	}
	if err := t.releasing(ctx, after); err != nil {
		return err
	}
	today, err := t.today()
	if err != nil {
		return err
	}
	if err := early("The text of “"+after.Name+"”", after.ReleasedOn, today, c.BeforeItsDay, "released_on"); err != nil {
		return err
	}
	if after.ReleasedOn == "" || after.ReleasedOn > today {
		after.ReleasedOn = today
	}
	after.ReleasedAt, after.ReleasedBy = &t.now, t.person()
	return nil
}

// releaseAction names what was done to a design, for the history.
func releaseAction(before, after *Design) string {
	switch {
	case after.IsOut() && !before.IsOut():
		return "released"
	case before.IsOut() && !after.IsOut():
		return "release taken back"
	}
	return "changed"
}

// namesAVersion refuses a version to go out that the design does not have.
func (t *tx) namesAVersion(d Design) error {
	if d.OutVersion == nil {
		return nil
	}
	_, err := first[Version](t.DB, "version", "design_id = ? AND number = ?", d.ID, *d.OutVersion)
	if KindOf(err) == NotFound {
		return &Error{Kind: Invalid, Message: "Nothing was changed.", Fields: []FieldProblem{{"out_version", "is not the number of a version of this design; choose one of its versions"}}}
	}
	return err
}

// releasing refuses to mark a design as released while a gate of it is shut.
func (t *tx) releasing(ctx context.Context, design *Design) error {
	rows, err := t.store.gateRowsIn(ctx, t.DB, design)
	if err != nil {
		return err
	}
	if shut := shutOnes(rows.gates().Design); len(shut) > 0 {
		return heldBack("released", fmt.Sprintf("“%s” can't be marked as released", design.Name), shut)
	}
	return nil
}
