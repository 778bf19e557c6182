package models

import (
	"context"
	"fmt"
	"time"

	"gorm.io/gorm"
)

// Outgoing is a delivery that this server has taken, with where it goes.
type Outgoing struct {
	WebhookDelivery
	Webhook Webhook
}

const (
	// deliveryHold is for how long a server takes deliveries: longer than all
	// of one turn can last, each try being bounded.
	deliveryHold = 3 * time.Minute
	// A webhook is stopped when so many tries in a row failed over so long a
	// time (chosen): a program that is down for a night is told afterwards.
	failuresToStop = 20
	failingToStop  = 24 * time.Hour
)

// TakeDeliveries takes up to n deliveries that are due.
func (s *Store) TakeDeliveries(ctx context.Context, n int) ([]Outgoing, error) {
	lease, err := s.takeDue(ctx, "webhook_deliveries",
		`(kind = '`+trialKind+`' OR webhook_id IN (SELECT id FROM webhooks WHERE disabled_at IS NULL AND ended_at IS NULL))`, n, deliveryHold)
	if err != nil || lease == "" {
		return nil, err
	}
	var rows []WebhookDelivery
	if err := s.writer.WithContext(ctx).Where("lease = ?", lease).Order("due_at, id").Find(&rows).Error; err != nil {
		return nil, fmt.Errorf("deliveries: %w", err)
	}
	hooks := map[string]Webhook{}
	var all []Webhook
	if err := s.writer.WithContext(ctx).Find(&all).Error; err != nil {
		return nil, fmt.Errorf("webhooks: %w", err)
	}
	for _, w := range all {
		hooks[w.ID] = w
	}
	out := make([]Outgoing, len(rows))
	for i, row := range rows {
		out[i] = Outgoing{row, hooks[row.WebhookID]}
	}
	return out, nil
}

// Outcome is what came of one try. Problem is "" when the other side has it.
type Outcome struct {
	Status  *int
	Problem string
}

// FinishDelivery writes down what came of a try. Another server may have taken
// the delivery meanwhile, after this one's time was over: then its word counts.
func (s *Store) FinishDelivery(ctx context.Context, o Outgoing, came Outcome) error {
	return s.change(ctx, System("webhooks"), func(t *tx) error {
		tries := o.Tries + 1
		values := map[string]any{"tries": tries, "tried_at": t.now, "status": came.Status, "problem": clipped(came.Problem), "lease": "", "leased_until": nil, "due_at": nil}
		switch {
		case came.Problem == "":
			values["delivered_at"] = t.now
		case tries >= mostTries || o.Kind == trialKind:
			values["given_up_at"] = t.now
		default:
			values["due_at"] = t.now.Add(Backoff(tries))
		}
		res := t.Model(&WebhookDelivery{}).Where("id = ? AND lease = ?", o.ID, o.Lease).Updates(values)
		if res.Error != nil {
			return fmt.Errorf("finish the delivery: %w", res.Error)
		}
		if res.RowsAffected == 0 || o.Kind == trialKind {
			return nil
		}
		return t.noteFailure(o.WebhookID, came.Problem)
	})
}

const longestProblem = 300

func clipped(text string) string {
	if r := []rune(text); len(r) > longestProblem {
		return string(r[:longestProblem]) + "…"
	}
	return text
}

// noteFailure counts failures in a row and stops a webhook that has failed for
// too long. It is no change of the designer's, so the revision stays.
func (t *tx) noteFailure(id, problem string) error {
	hook := t.Model(&Webhook{}).Where("id = ?", id).Session(&gorm.Session{})
	if problem == "" {
		return hook.Updates(map[string]any{"failures": 0, "failing_since": nil}).Error
	}
	w, err := first[Webhook](t.DB, "webhook", "id = ?", id)
	if err != nil {
		return err
	}
	since := w.FailingSince
	if since == nil {
		since = &t.now
	}
	values := map[string]any{"failures": w.Failures + 1, "failing_since": since}
	stop := w.DisabledAt == nil && w.Failures+1 >= failuresToStop && t.now.Sub(*since) >= failingToStop
	if stop {
		values["disabled_at"] = t.now
		values["disabled_why"] = fmt.Sprintf("%d tries in a row failed, the last with: %s", w.Failures+1, clipped(problem))
	}
	if err := hook.Updates(values).Error; err != nil {
		return fmt.Errorf("count failures: %w", err)
	}
	if !stop {
		return nil
	}
	return t.record("", "webhook", id, "stopped after failing", nil, nil)
}
