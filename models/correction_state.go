package models

import (
	"context"
	"slices"

	"tenter/models/counts"
)

// CorrectionState is how far a correction is. It follows from what happened.
type CorrectionState string

// The states of a correction, in the order in which they follow.
const (
	CorrectionDraft     CorrectionState = "draft"
	CorrectionInText    CorrectionState = "in_text" // of the version that it names
	CorrectionAnnounced CorrectionState = "announced"
	CorrectionWithdrawn CorrectionState = "withdrawn"
)

// State tells how far the correction is.
func (c Correction) State() CorrectionState {
	switch {
	case c.WithdrawnAt != nil:
		return CorrectionWithdrawn
	case c.AnnouncedAt != nil:
		return CorrectionAnnounced
	case c.InTextAt != nil:
		return CorrectionInText
	}
	return CorrectionDraft
}

// correctionMoves are the transitions: from a state to those that may follow.
var correctionMoves = map[CorrectionState][]CorrectionState{
	CorrectionDraft:     {CorrectionInText, CorrectionWithdrawn},
	CorrectionInText:    {CorrectionAnnounced, CorrectionDraft, CorrectionWithdrawn},
	CorrectionAnnounced: {CorrectionWithdrawn},
	CorrectionWithdrawn: {},
}

// Next are the states that a correction can move to.
func (c Correction) Next() []CorrectionState { return slices.Clone(correctionMoves[c.State()]) }

// CorrectionMove is a wish to move a correction on.
type CorrectionMove struct {
	To        CorrectionState
	VersionID string // for in_text: the version in which the text is mended; "" is the latest
	Why       string // for withdrawn
}

// MoveCorrection moves a correction on: a draft into the text of a later
// version, from there to its announcement, or back; withdrawn from anywhere.
func (s *Store) MoveCorrection(ctx context.Context, actor Actor, id string, revision *int, move CorrectionMove) (*Correction, error) {
	var p problems
	p.oneOf("state", string(move.To), string(CorrectionDraft), string(CorrectionInText), string(CorrectionAnnounced), string(CorrectionWithdrawn))
	p.text("why", move.Why, move.To == CorrectionWithdrawn, longText)
	if move.To != CorrectionInText && move.VersionID != "" {
		p.addf("version_id", "is for moving into the text; leave it out")
	}
	if move.To != CorrectionWithdrawn && move.Why != "" {
		p.addf("why", "is for withdrawing; leave it out")
	}
	if err := p.err(); err != nil {
		return nil, err
	}
	action := map[CorrectionState]string{CorrectionDraft: "taken back to draft", CorrectionInText: "put into the text", CorrectionAnnounced: "announced", CorrectionWithdrawn: "withdrawn"}
	return s.changeCorrection(ctx, actor, id, revision, action[move.To], func(t *tx, design *Design, c *Correction) error {
		if !slices.Contains(correctionMoves[c.State()], move.To) {
			return &Error{Kind: Conflict, Message: "The correction stays as it is.", Fields: []FieldProblem{{"state", c.cannotMove(move.To)}}}
		}
		return t.moveCorrection(design, c, move)
	})
}

func (t *tx) moveCorrection(design *Design, c *Correction, move CorrectionMove) error {
	switch move.To {
	case CorrectionInText:
		v, err := versionOf(t.DB, design.ID, move.VersionID, "version_id")
		if err != nil {
			return err
		}
		c.InTextAt = &t.now
		return t.mend(design, c, v.ID)
	case CorrectionAnnounced:
		c.AnnouncedAt = &t.now
	case CorrectionWithdrawn:
		c.WithdrawnAt, c.WithdrawnWhy = &t.now, move.Why
	default:
		if err := t.stillOurs(*c); err != nil {
			return err
		}
		c.InTextAt, c.MendedVersion, c.MendedNumber = nil, nil, nil
	}
	return nil
}

// cannotMove says why a state doesn't follow, and what can be done.
func (c Correction) cannotMove(to CorrectionState) string {
	switch {
	case c.WithdrawnAt != nil:
		return "can't follow: the correction was withdrawn; write a new one"
	case c.AnnouncedAt != nil:
		return "can't follow: the correction was announced, and what people have read stays; withdraw it and write another"
	case to == c.State() && c.InTextAt == nil:
		return "is what the correction is already: a draft; say in_text, with the version in which the text is mended"
	case to == c.State():
		return "is what the correction is already; take it back to draft first to name another version"
	}
	return "can't follow on a draft; first say in_text, with the version in which the text is mended"
}

// mend says that a version's text has the correction, if it can: the version is
// later than the first one at fault, it is told what the text says now, and a
// count that is named is another there in every size that the correction names.
func (t *tx) mend(design *Design, c *Correction, versionID string) error {
	v, err := first[Version](t.DB, "version", "id = ?", versionID)
	if err != nil {
		return err
	}
	if v.Number <= c.SinceNumber {
		return fieldError("version_id", "is version %d, and the text is wrong since version %d; name a later one, or add the next version on the Counts page", v.Number, c.SinceNumber)
	}
	if c.CountName != "" {
		if err := t.countIsMended(design, c, v); err != nil {
			return err
		}
	}
	if c.IsNow == "" {
		return fieldError("is_now", "is empty; write what the text says now")
	}
	c.MendedVersion, c.MendedNumber = &v.ID, &v.Number
	return nil
}

// countIsMended refuses a version whose count sheet says the same as the first
// faulty one, and fills in what it says where that is left open.
func (t *tx) countIsMended(design *Design, c *Correction, mended *Version) error {
	since, err := first[Version](t.DB, "version", "id = ?", c.SinceVersion)
	if err != nil {
		return err
	}
	was, err := sheetIn(t.DB, *since)
	if err != nil {
		return err
	}
	now, err := sheetIn(t.DB, *mended)
	if err != nil {
		return err
	}
	before, after := was.lineOf(c.CountName), now.lineOf(c.CountName)
	changed := 0
	for i, z := range now.Sizes {
		same := sameCount(valueAt(before, i), valueAt(after, i))
		if same && slices.Contains(c.SizeIDs, z.ID) {
			return fieldError("version_id", "is version %d, where %s of size %s is %s as before; mend the count sheet, or take the size out of the correction",
				mended.Number, c.CountName, z.Name, counts.Print([]*float64{valueAt(after, i)}, counts.Layout{}))
		}
		if !same {
			changed++
		}
	}
	if changed == 0 {
		return fieldError("version_id", "is version %d, where %s is the same in every size; mend the count sheet first, or name no count", mended.Number, c.CountName)
	}
	if after != nil {
		c.IsNow = orElse(c.IsNow, printedFor(design, after))
	}
	return nil
}

// stillOurs refuses to change what others were told already.
func (t *tx) stillOurs(c Correction) error {
	switch c.State() {
	case CorrectionWithdrawn:
		return failf(Conflict, "This correction was withdrawn; write a new one.")
	case CorrectionAnnounced:
		return failf(Conflict, "This correction was announced, and what people have read stays. Withdraw it and write another.")
	case CorrectionDraft:
		return nil
	}
	told, err := correctionsTold(t.DB, c.DesignID)
	if err != nil {
		return err
	}
	if n := told.of(c.Number); n > 0 {
		return failf(Conflict, "%s told of this correction, and what people have read stays. Withdraw it and write another.", counted(n, "tester")+" "+wasWere(n))
	}
	return nil
}

func wasWere(n int) string {
	if n == 1 {
		return "was"
	}
	return "were"
}
