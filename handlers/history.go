package handlers

import (
	"context"
	"encoding/json"
	"net/http"
	"time"

	"tenter/models"
)

// Event is one line of a design's history.
type Event struct {
	ID       string          `json:"id"`
	At       time.Time       `json:"at"`
	Actor    string          `json:"actor,omitempty" doc:"Handle; absent when the server did it or the person was forgotten."`
	Entity   string          `json:"entity"`
	EntityID string          `json:"entity_id"`
	Action   string          `json:"action"`
	Before   json.RawMessage `json:"before,omitempty"`
	After    json.RawMessage `json:"after,omitempty"`
}

func eventView(e models.EventLine) Event {
	raw := func(s *string) json.RawMessage {
		if s == nil {
			return nil
		}
		return json.RawMessage(*s)
	}
	return Event{ID: e.ID, At: e.At, Actor: e.Handle, Entity: e.Entity, EntityID: e.EntityID, Action: e.Action, Before: raw(e.Before), After: raw(e.After)}
}

type historyQuery struct {
	DesignPath
	Paged
}

func (a *api) history() {
	add(a, operation("list-history", http.MethodGet, "/designs/{design}/history", "What was changed, when and by whom, the newest first", "Designs"), a.getHistory)
}

func (a *api) getHistory(ctx context.Context, _ models.Actor, in *historyQuery) (*listOf[Event], error) {
	design, err := a.Store.Design(ctx, in.Design)
	if err != nil {
		return nil, err
	}
	rows, next, err := a.Store.History(ctx, design.ID, in.page())
	if err != nil {
		return nil, err
	}
	return list(rows, next, eventView), nil
}
