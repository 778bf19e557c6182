package models

import (
	"context"
	"fmt"
	"time"

	"gorm.io/gorm"
)

// deliveryQueue holds a delivery for longer than all of one turn can last, each
// try being bounded.
func deliveryQueue() queue {
	return queue{table: "webhook_deliveries", due: "due_at", hold: 3 * time.Minute,
		waits: `(kind = '` + trialKind + `' OR webhook_id IN (SELECT id FROM webhooks WHERE disabled_at IS NULL AND ended_at IS NULL))`}
}

// Backing off: half a minute, doubled at each try, six hours at most; after
// twelve tries, some 14 hours after the first, it is given up (chosen).
const (
	firstBackoff   = 30 * time.Second
	longestBackoff = 6 * time.Hour
	mostTries      = 12
)

// Backoff is how long after its n-th try, which failed, something is due again.
func Backoff(tries int) time.Duration {
	wait := firstBackoff
	for range max(tries, 1) - 1 {
		if wait *= 2; wait >= longestBackoff {
			return longestBackoff
		}
	}
	return wait
}

// A webhook is stopped when so many tries in a row failed over so long a time
// (chosen): a program that is down for a night is told afterwards.
const (
	failuresToStop = 20
	failingToStop  = 24 * time.Hour
)

// TakeDeliveries takes up to n deliveries that are due.
func (s *Store) TakeDeliveries(ctx context.Context, n int) (rows []WebhookDelivery, err error) {
	lease := NewID()
	err = s.takeDue(ctx, System("webhooks"), deliveryQueue(), lease, n, func(t *tx) error {
		if err := t.Where("lease = ?", lease).Order("due_at, id").Find(&rows).Error; err != nil {
			return fmt.Errorf("deliveries: %w", err)
		}
		return nil
	})
	return rows, err
}

// Recipient returns the webhook that a delivery goes to, as it is at this
// moment, or nil when it is not to be sent any more: between the taking and the
// sending the webhook may have ended, and with it its secret, or been stopped.
func (s *Store) Recipient(ctx context.Context, d WebhookDelivery) (*Webhook, error) {
	w, err := first[Webhook](s.read(ctx), "webhook", "id = ? AND ended_at IS NULL AND secret <> ''", d.WebhookID)
	if KindOf(err) == NotFound || err == nil && w.DisabledAt != nil && d.Kind != trialKind {
		return nil, nil
	}
	return w, err
}

// GiveBackDeliveries lets go of what a server has taken and not tried.
func (s *Store) GiveBackDeliveries(ctx context.Context, taken []WebhookDelivery) error {
	if len(taken) == 0 {
		return nil
	}
	return s.giveBack(ctx, System("webhooks"), deliveryQueue(), taken[0].Lease)
}

// Outcome is what came of one try. Problem is "" when the other side has it.
type Outcome struct {
	Status  *int
	Problem string
}

// FinishDelivery writes down what came of a try. Another server may have taken
// the delivery meanwhile, after this one's time was over: then its word counts.
func (s *Store) FinishDelivery(ctx context.Context, d WebhookDelivery, came Outcome) error {
	return s.change(ctx, System("webhooks"), func(t *tx) error {
		w, err := first[Webhook](t.DB, "webhook", "id = ?", d.WebhookID)
		if err != nil {
			return err
		}
		values := map[string]any{"tried_at": t.now, "status": came.Status, "problem": clipped(came.Problem), "due_at": nil}
		switch {
		case came.Problem == "":
			values["delivered_at"] = t.now
		case d.Tries >= mostTries || d.Kind == trialKind || w.EndedAt != nil:
			values["given_up_at"] = t.now
		default:
			values["due_at"] = t.now.Add(Backoff(d.Tries))
		}
		res := t.Model(&WebhookDelivery{}).Where("id = ? AND lease = ?", d.ID, d.Lease).Updates(settled(values))
		if res.Error != nil {
			return fmt.Errorf("finish the delivery: %w", res.Error)
		}
		if res.RowsAffected == 0 || d.Kind == trialKind {
			return nil
		}
		return t.noteFailure(w, came.Problem)
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
func (t *tx) noteFailure(w *Webhook, problem string) error {
	hook := t.Model(&Webhook{}).Where("id = ?", w.ID).Session(&gorm.Session{})
	if problem == "" {
		return hook.Updates(map[string]any{"failures": 0, "failing_since": nil}).Error
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
	return t.record("", "webhook", w.ID, "stopped after failing", nil, nil)
}
