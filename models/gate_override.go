package models

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"time"

	"gorm.io/gorm"
)

// GateOverride is a gate that the designer opened by hand, with the reason. It
// holds only for what the gate was shut for at that moment: when there is
// something else, or more of it, the gate shuts again and has to be opened anew
// (see Gate.settle). It is taken back, never changed and never deleted.
type GateOverride struct {
	ID            string `gorm:"primaryKey"`
	DesignID      string
	InstallmentID *string // nil: a gate of the design
	Gate          GateKey
	Reason        string
	Why           string  // what the gate said
	Facts         string  // GateFacts as JSON
	OpenedBy      *string // nil: somebody who was forgotten
	OpenedAt      time.Time
	TakenBackBy   *string
	TakenBackAt   *time.Time

	Handle          string `gorm:"->;-:migration"` // of OpenedBy
	TakenBackHandle string `gorm:"->;-:migration"`
}

func (o GateOverride) at() gateAt {
	at := gateAt{key: o.Gate}
	set(&at.installment, o.InstallmentID)
	return at
}

// Name is what the pages call its gate.
func (o GateOverride) Name() string { return o.Gate.name() }

// facts reads back what the gate was opened for.
func (o GateOverride) facts() []GateFact {
	var facts []GateFact
	if json.Unmarshal([]byte(o.Facts), &facts) != nil {
		return nil // written by us; what can't be read covers nothing
	}
	return facts
}

// NewOverride is a gate to be opened by hand. Seen is the mark of what the
// designer saw it shut for (Gate.Seen).
type NewOverride struct {
	Gate          GateKey
	InstallmentID string // "" for a gate of the design
	Reason        string
	Seen          string
}

func (n NewOverride) validate() error {
	var p problems
	p.text("gate", string(n.Gate), true, shortText)
	p.text("reason", n.Reason, true, longText)
	return p.err()
}

// OpenGate opens a gate by hand. It is refused when the gate is open already,
// or shut for something else by now than the designer saw.
func (s *Store) OpenGate(ctx context.Context, actor Actor, idOrSlug string, in NewOverride) (*GateOverride, error) {
	if err := in.validate(); err != nil {
		return nil, err
	}
	var out GateOverride
	err := s.change(ctx, actor, func(t *tx) error {
		design, err := designIn(t.DB, idOrSlug)
		if err != nil {
			return err
		}
		rows, err := s.gateRowsIn(ctx, t.DB, design)
		if err != nil {
			return err
		}
		g, err := rows.gates().toOpen(in)
		if err != nil {
			return err
		}
		facts, err := json.Marshal(g.facts)
		if err != nil {
			return fmt.Errorf("facts of gate: %w", err)
		}
		out = GateOverride{ID: NewID(), DesignID: design.ID, Gate: in.Gate, Reason: in.Reason, Why: g.Why, Facts: string(facts), OpenedAt: t.now}
		if in.InstallmentID != "" {
			out.InstallmentID = &in.InstallmentID
		}
		out.OpenedBy = t.person()
		if g.Opened != nil && g.Opened.at() == out.at() { // for something else
			if err := t.takeBackOverride(g.Opened); err != nil {
				return err
			}
		}
		err = t.Omit("Handle", "TakenBackHandle").Create(&out).Error
		if errors.Is(err, gorm.ErrDuplicatedKey) {
			return failf(Conflict, "Somebody has opened “%s” by hand in this very moment.", g.Name)
		}
		if err != nil {
			return fmt.Errorf("open gate: %w", err)
		}
		return t.record(design.ID, "gate override", out.ID, "opened", nil, out)
	})
	if err != nil {
		return nil, err
	}
	return s.GateOverride(ctx, out.ID)
}

// toOpen returns the gate to be opened by hand, if it can be.
func (g ReleaseGates) toOpen(in NewOverride) (*Gate, error) {
	found := g.find(in.InstallmentID, in.Gate)
	switch {
	case found == nil && in.InstallmentID != "" && g.Installments[in.InstallmentID] == nil:
		return nil, &Error{Kind: Invalid, Message: "No gate was opened.", Fields: []FieldProblem{{"installment_id", "is not an installment of this design; choose one of its installments"}}}
	case found == nil:
		return nil, &Error{Kind: Invalid, Message: "No gate was opened.", Fields: []FieldProblem{{"gate", "is not a gate of this; choose one from the release page"}}}
	case found.Why == "":
		return nil, failf(Conflict, "“%s” is open by itself; there is nothing to open by hand.", found.Name)
	case !found.Shut:
		return nil, failf(Conflict, "“%s” is opened by hand already.", found.Name)
	case in.Seen != found.Seen():
		return nil, failf(Stale, "“%s” is shut for something else by now than you saw: %s Read it again and decide then.", found.Name, found.Why)
	}
	return found, nil
}

// TakeBackOverride shuts a gate again that was opened by hand. What has gone out
// meanwhile stays out.
func (s *Store) TakeBackOverride(ctx context.Context, actor Actor, id string) (*GateOverride, error) {
	err := s.change(ctx, actor, func(t *tx) error {
		o, err := first[GateOverride](t.Select(overrideColumns), "gate that was opened by hand", "id = ?", id)
		if err != nil {
			return err
		}
		if o.TakenBackAt != nil {
			return failf(Conflict, "This was taken back already.")
		}
		return t.takeBackOverride(o)
	})
	if err != nil {
		return nil, err
	}
	return s.GateOverride(ctx, id)
}

func (t *tx) takeBackOverride(before *GateOverride) error {
	after := *before
	after.TakenBackAt, after.TakenBackBy = &t.now, t.person()
	res := t.Model(&GateOverride{}).Where("id = ? AND taken_back_at IS NULL", before.ID).
		Updates(map[string]any{"taken_back_at": t.now, "taken_back_by": after.TakenBackBy})
	if res.Error != nil {
		return fmt.Errorf("take back override: %w", res.Error)
	}
	if res.RowsAffected == 0 {
		return failf(Conflict, "This was taken back already.")
	}
	return t.record(before.DesignID, "gate override", before.ID, "taken back", before, after)
}

// person is who makes the change, nil for the server itself.
func (t *tx) person() *string {
	if t.actor.PersonID == "" {
		return nil
	}
	id := t.actor.PersonID
	return &id
}

const overrideColumns = "id, design_id, installment_id, gate, reason, why, facts, opened_by, opened_at, taken_back_by, taken_back_at"

// GateOverride returns an override by id.
func (s *Store) GateOverride(ctx context.Context, id string) (*GateOverride, error) {
	rows, err := overridesWhere(s.read(ctx), "gate_overrides.id = ?", id)
	if err != nil {
		return nil, err
	}
	if len(rows) == 0 {
		return nil, notFound("gate that was opened by hand")
	}
	return &rows[0], nil
}

// overridesWhere reads overrides with the handles, the latest first.
func overridesWhere(db *gorm.DB, where string, arg any) ([]GateOverride, error) {
	var rows []GateOverride
	err := db.Table("gate_overrides").Select("gate_overrides.*, coalesce(p.handle, '') AS handle, coalesce(b.handle, '') AS taken_back_handle").
		Joins("LEFT JOIN people p ON p.id = gate_overrides.opened_by").Joins("LEFT JOIN people b ON b.id = gate_overrides.taken_back_by").
		Where(where, arg).Order("gate_overrides.id DESC").Find(&rows).Error
	if err != nil {
		return nil, fmt.Errorf("gates opened by hand: %w", err)
	}
	return rows, nil
}
