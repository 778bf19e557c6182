package models

import (
	"context"
	"encoding/json"
	"fmt"
	"time"

	"gorm.io/gorm"
)

// WebhookDelivery is one notice to one webhook, from the change that it tells
// of until the other side has it or it is given up.
type WebhookDelivery struct {
	ID          string `gorm:"primaryKey"`
	WebhookID   string
	EventID     *string // nil: a trial
	Kind        string
	Body        string
	Tries       int        // counted when one begins
	DueAt       *time.Time // nil: nothing more to do
	LeasedUntil *time.Time
	Lease       string
	TriedAt     *time.Time
	Status      *int // of the last answer; nil: there was none
	Problem     string
	DeliveredAt *time.Time
	GivenUpAt   *time.Time
	CreatedAt   time.Time
}

// Notice is the body of a delivery: what and where, never its content and
// nobody's name. Whoever wants more reads it from the API.
type Notice struct {
	ID     string        `json:"id"` // of the event; the same at every try and to every webhook
	At     time.Time     `json:"at"`
	Kind   string        `json:"kind"`
	Action string        `json:"action"`
	About  string        `json:"about"` // id of what changed
	Design *NoticeDesign `json:"design,omitempty"`
}

// NoticeDesign is the design that a notice is about.
type NoticeDesign struct {
	ID   string `json:"id"`
	Slug string `json:"slug"`
}

// tellWebhooks writes a delivery for each webhook that wants to hear of each
// event of a change, in its transaction.
func (t *tx) tellWebhooks() error {
	if len(t.events) == 0 {
		return nil
	}
	var hooks []Webhook
	if err := t.Where("ended_at IS NULL AND disabled_at IS NULL").Order("id").Find(&hooks).Error; err != nil {
		return fmt.Errorf("webhooks: %w", err)
	}
	slugs := map[string]string{}
	var rows []WebhookDelivery
	for _, w := range hooks {
		for _, e := range t.events {
			if !w.wants(e.Entity) {
				continue
			}
			body, err := t.notice(e, slugs)
			if err != nil {
				return err
			}
			rows = append(rows, WebhookDelivery{ID: NewID(), WebhookID: w.ID, EventID: &e.ID, Kind: e.Entity, Body: body, DueAt: &t.now, CreatedAt: t.now})
		}
	}
	if err := createAll(t.DB, rows); err != nil {
		return fmt.Errorf("deliveries: %w", err)
	}
	return nil
}

func (w Webhook) wants(entity string) bool {
	for _, k := range w.Wanted() {
		if k == entity {
			return true
		}
	}
	return false
}

func (t *tx) notice(e *Event, slugs map[string]string) (string, error) {
	n := Notice{ID: e.ID, At: e.At, Kind: e.Entity, Action: e.Action, About: e.EntityID}
	if e.DesignID != nil {
		id := *e.DesignID
		if _, known := slugs[id]; !known {
			var slug string
			if err := t.Model(&Design{}).Select("slug").Where("id = ?", id).Scan(&slug).Error; err != nil {
				return "", fmt.Errorf("slug of the design: %w", err)
			}
			slugs[id] = slug
		}
		n.Design = &NoticeDesign{id, slugs[id]}
	}
	raw, err := json.Marshal(n)
	if err != nil {
		return "", fmt.Errorf("notice: %w", err)
	}
	return string(raw), nil
}

// TryWebhook sends a trial, also to one that was stopped.
func (s *Store) TryWebhook(ctx context.Context, actor Actor, id string) (*WebhookDelivery, error) {
	var row WebhookDelivery
	err := s.change(ctx, actor, func(t *tx) error {
		if _, err := first[Webhook](t.DB, "webhook", "id = ? AND ended_at IS NULL", id); err != nil {
			return err
		}
		row = WebhookDelivery{ID: NewID(), WebhookID: id, Kind: trialKind, DueAt: &t.now, CreatedAt: t.now}
		raw, err := json.Marshal(Notice{ID: row.ID, At: t.now, Kind: trialKind, Action: "tried", About: id})
		if err != nil {
			return fmt.Errorf("trial: %w", err)
		}
		row.Body = string(raw)
		if err := t.Create(&row).Error; err != nil {
			return fmt.Errorf("trial: %w", err)
		}
		return t.record("", "webhook", id, "tried", nil, nil)
	})
	return &row, err
}

// DeliverAgain makes a delivery due now, whatever came of it before.
func (s *Store) DeliverAgain(ctx context.Context, actor Actor, id string) (*WebhookDelivery, error) {
	var row *WebhookDelivery
	err := s.change(ctx, actor, func(t *tx) (err error) {
		if row, err = first[WebhookDelivery](t.DB, "delivery", "id = ? AND webhook_id IN (SELECT id FROM webhooks WHERE ended_at IS NULL)", id); err != nil {
			return err
		}
		w, err := first[Webhook](t.DB, "webhook", "id = ?", row.WebhookID)
		if err != nil {
			return err
		}
		if w.DisabledAt != nil && row.Kind != trialKind {
			return failf(Conflict, "This webhook was stopped; start it again first.")
		}
		row.DueAt, row.Tries, row.DeliveredAt, row.GivenUpAt = &t.now, 0, nil, nil
		err = t.Model(&WebhookDelivery{}).Where("id = ?", id).
			Updates(map[string]any{"due_at": t.now, "tries": 0, "delivered_at": nil, "given_up_at": nil}).Error
		if err != nil {
			return fmt.Errorf("deliver again: %w", err)
		}
		return t.record("", "webhook", row.WebhookID, "told again", nil, nil)
	})
	return row, err
}

// WebhookDeliveries lists what a webhook was told, the latest first.
func (s *Store) WebhookDeliveries(ctx context.Context, webhookID string, page Page) ([]WebhookDelivery, string, error) {
	if _, err := s.Webhook(ctx, webhookID); err != nil {
		return nil, "", err
	}
	q := s.read(ctx).Where("webhook_id = ?", webhookID)
	if page.After != "" {
		q = q.Where("id < ?", page.After)
	}
	var rows []WebhookDelivery
	if err := q.Order("id DESC").Limit(page.limit() + 1).Find(&rows).Error; err != nil {
		return nil, "", fmt.Errorf("deliveries: %w", err)
	}
	rows, next := cut(rows, page, func(d WebhookDelivery) string { return d.ID })
	return rows, next, nil
}

// deliveryLife is how long the log of deliveries is kept (chosen).
const deliveryLife = 30 * 24 * time.Hour

// DropOldDeliveries forgets what is older than that: what came to an end, and
// what waits for a webhook that was stopped or ended before it could be told.
func (s *Store) DropOldDeliveries(ctx context.Context) error {
	return s.writer.WithContext(ctx).Transaction(func(db *gorm.DB) error {
		stopped := db.Model(&Webhook{}).Select("id").Where("disabled_at IS NOT NULL OR ended_at IS NOT NULL")
		return db.Where("created_at < ?", s.Now().Add(-deliveryLife)).Where("due_at IS NULL OR webhook_id IN (?)", stopped).Delete(&WebhookDelivery{}).Error
	})
}
