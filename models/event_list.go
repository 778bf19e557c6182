package models

import "fmt"

// recorded is one of many changes of the same kind of entity.
type recorded struct {
	entityID      string
	action        string
	before, after any
}

// recordAll writes the events of many changes at once. The live feed hears of
// the last one only, which says "read again" as well as all of them would.
func (t *tx) recordAll(designID, entity string, rows []recorded) error {
	if len(rows) == 0 {
		return nil
	}
	events := make([]Event, len(rows))
	for i, r := range rows {
		e := Event{ID: NewID(), At: t.now, RequestID: t.actor.RequestID, Entity: entity, EntityID: r.entityID, Action: r.action}
		if t.actor.PersonID != "" {
			e.ActorID = &t.actor.PersonID
		}
		if designID != "" {
			e.DesignID = &designID
		}
		var err error
		if e.Before, err = snapshot(r.before); err != nil {
			return err
		}
		if e.After, err = snapshot(r.after); err != nil {
			return err
		}
		events[i] = e
	}
	if err := createAll(t.DB, events); err != nil {
		return fmt.Errorf("events %s: %w", entity, err)
	}
	if noticed(entity) {
		for i := range events {
			t.events = append(t.events, &events[i])
		}
	}
	last := rows[len(rows)-1]
	t.changes = append(t.changes, Change{DesignID: designID, Entity: entity, EntityID: last.entityID, Action: last.action, At: t.now})
	return nil
}
