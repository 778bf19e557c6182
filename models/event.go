package models

import (
	"context"
	"encoding/json"
	"fmt"
	"time"
)

// Event is one line of the append-only log: who changed what, when, and what
// it was before and is now. It is written in the transaction of the change.
type Event struct {
	ID        string `gorm:"primaryKey"`
	At        time.Time
	ActorID   *string // nil: the server itself, or a person who was forgotten
	RequestID string
	DesignID  *string
	Entity    string
	EntityID  string
	Action    string
	Before    *string // JSON; nil: there was nothing before
	After     *string // JSON; nil: nothing is left
}

// record writes an event and remembers the change for the live feed. before
// and after are the entity's rows, or nil.
func (t *tx) record(designID, entity, entityID, action string, before, after any) error {
	e := Event{ID: NewID(), At: t.now, RequestID: t.actor.RequestID, Entity: entity, EntityID: entityID, Action: action}
	if t.actor.PersonID != "" {
		e.ActorID = &t.actor.PersonID
	}
	if designID != "" {
		e.DesignID = &designID
	}
	var err error
	if e.Before, err = snapshot(before); err != nil {
		return err
	}
	if e.After, err = snapshot(after); err != nil {
		return err
	}
	if err := t.Create(&e).Error; err != nil {
		return fmt.Errorf("event %s %s: %w", entity, action, err)
	}
	t.changes = append(t.changes, Change{DesignID: designID, Entity: entity, EntityID: entityID, Action: action, At: t.now})
	if noticed(entity) {
		t.events = append(t.events, &e)
	}
	return nil
}

func snapshot(v any) (*string, error) {
	if v == nil {
		return nil, nil
	}
	b, err := json.Marshal(v)
	if err != nil {
		return nil, fmt.Errorf("event snapshot: %w", err)
	}
	s := string(b)
	return &s, nil
}

// EventLine is an event with its actor's handle, as people read it.
type EventLine struct {
	Event
	Handle string
}

// History returns a design's events, the newest first.
func (s *Store) History(ctx context.Context, designID string, page Page) ([]EventLine, string, error) {
	q := s.read(ctx).Table("events").
		Select("events.*, people.handle AS handle").
		Joins("LEFT JOIN people ON people.id = events.actor_id").
		Where("events.design_id = ?", designID)
	if page.After != "" {
		q = q.Where("events.id < ?", page.After)
	}
	var rows []EventLine
	if err := q.Order("events.id DESC").Limit(page.limit() + 1).Scan(&rows).Error; err != nil {
		return nil, "", fmt.Errorf("history: %w", err)
	}
	rows, next := cut(rows, page, func(e EventLine) string { return e.ID })
	return rows, next, nil
}
