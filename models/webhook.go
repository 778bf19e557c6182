package models

import (
	"context"
	"crypto/rand"
	"encoding/base64"
	"fmt"
	"net/url"
	"slices"
	"strings"
	"time"
)

// Webhook is another program of the studio's that is told of what happens, at
// an address, signed with a secret that both know.
type Webhook struct {
	ID           string `gorm:"primaryKey"`
	Name         string
	URL          string
	Secret       string `json:"-"`
	WasSecret    string `json:"-"`
	WasUntil     *time.Time
	Kinds        string     // one a line; see NoticeKinds
	Failures     int        // in a row
	FailingSince *time.Time // nil: the last one went through
	DisabledAt   *time.Time
	DisabledWhy  string
	EndedAt      *time.Time
	Revision     int
	CreatedAt    time.Time
	UpdatedAt    time.Time
}

const (
	longestAddress = 1000
	mostWebhooks   = 20
	secretBytes    = 32 // as long as the output of HMAC-SHA256, RFC 2104 section 3
	secretStart    = "tenter-"
	// wasSecretLife is how long the secret before the last signs as well, so
	// that the other program can be changed in peace (chosen).
	wasSecretLife = 24 * time.Hour
)

// WebhookChange says what to change; nil leaves a field as it is.
type WebhookChange struct {
	Name    *string
	URL     *string
	Kinds   *[]string
	Enabled *bool
}

// PlainAddress tells whether http without TLS may go to a host, which the
// server's settings say.
type PlainAddress func(host string) bool

func (w Webhook) validate(plain PlainAddress) error {
	var p problems
	p.text("name", w.Name, true, shortText)
	checkWebhookURL(&p, w.URL, plain)
	wanted := w.Wanted()
	if len(wanted) == 0 {
		p.addf("kinds", "is empty; choose of what to tell it")
	}
	for i, k := range wanted {
		p.oneOf(fmt.Sprintf("kinds[%d]", i), k, noticeNames()...)
	}
	return p.err()
}

func checkWebhookURL(p *problems, address string, plain PlainAddress) {
	p.text("url", address, true, longestAddress)
	u, err := url.Parse(address)
	switch {
	case err != nil || u.Host == "" || u.Hostname() == "" || u.Opaque != "":
		p.addf("url", "is no web address; write it like https://programs.example/tenter")
	case u.User != nil:
		p.addf("url", "carries a name or password; leave it out, the signature tells who sends")
	case u.Fragment != "":
		p.addf("url", "has a part after #, which is never sent; leave it out")
	case u.Scheme == "http" && plain(u.Hostname()), u.Scheme == "https":
	default:
		p.addf("url", "has to begin with https://; plain http is only for programs on this machine, where the server's settings allow it")
	}
}

func newWebhookSecret() string {
	raw := make([]byte, secretBytes)
	rand.Read(raw) //nolint:errcheck // never fails, by its documentation since Go 1.24
	return secretStart + base64.RawURLEncoding.EncodeToString(raw)
}

// joinKinds keeps each kind once, in the order of NoticeKinds; what is unknown
// stays, to be complained of.
func joinKinds(kinds []string) string {
	names := noticeNames()
	rank := func(k string) int {
		if i := slices.Index(names, k); i >= 0 {
			return i
		}
		return len(names)
	}
	sorted := slices.Clone(kinds)
	slices.SortStableFunc(sorted, func(a, b string) int { return rank(a) - rank(b) })
	return strings.Join(slices.Compact(sorted), "\n")
}

// Webhooks lists those that have not ended, the oldest first.
func (s *Store) Webhooks(ctx context.Context) ([]Webhook, error) {
	var rows []Webhook
	if err := s.read(ctx).Where("ended_at IS NULL").Order("id").Find(&rows).Error; err != nil {
		return nil, fmt.Errorf("webhooks: %w", err)
	}
	return rows, nil
}

// Webhook returns one that has not ended.
func (s *Store) Webhook(ctx context.Context, id string) (*Webhook, error) {
	return first[Webhook](s.read(ctx), "webhook", "id = ? AND ended_at IS NULL", id)
}

// AddWebhook adds one. Its secret is in the answer and is not shown again.
func (s *Store) AddWebhook(ctx context.Context, actor Actor, in WebhookChange, plain PlainAddress) (*Webhook, error) {
	w := Webhook{ID: NewID(), Secret: newWebhookSecret(), Revision: 1}
	w.apply(in)
	err := s.change(ctx, actor, func(t *tx) error {
		w.CreatedAt, w.UpdatedAt = t.now, t.now
		if err := w.validate(plain); err != nil {
			return err
		}
		var have int64
		if err := t.Model(&Webhook{}).Where("ended_at IS NULL").Count(&have).Error; err != nil {
			return fmt.Errorf("webhooks: %w", err)
		}
		if have >= mostWebhooks {
			return failf(Conflict, "There are %d webhooks already, which is as many as a studio can have; end one first.", mostWebhooks)
		}
		if err := t.Create(&w).Error; err != nil {
			return fmt.Errorf("webhook: %w", err)
		}
		return t.record("", "webhook", w.ID, "added", nil, w)
	})
	return &w, err
}

func (w *Webhook) apply(c WebhookChange) {
	set(&w.Name, c.Name)
	set(&w.URL, c.URL)
	if c.Kinds != nil {
		w.Kinds = joinKinds(*c.Kinds)
	}
}

// ChangeWebhook changes one, stops it, or starts it again after it was stopped.
func (s *Store) ChangeWebhook(ctx context.Context, actor Actor, id string, revision *int, c WebhookChange, plain PlainAddress) (*Webhook, error) {
	var after Webhook
	err := s.change(ctx, actor, func(t *tx) error {
		before, err := t.webhook(id, revision)
		if err != nil {
			return err
		}
		after = *before
		after.apply(c)
		if err := after.validate(plain); err != nil {
			return err
		}
		if c.Enabled != nil && *c.Enabled != (before.DisabledAt == nil) {
			after.enable(*c.Enabled, t.now)
		}
		if unchanged(before, &after) {
			return nil
		}
		after.Revision, after.UpdatedAt = before.Revision+1, t.now
		err = t.bump("webhook", &Webhook{}, id, before.Revision, map[string]any{"name": after.Name, "url": after.URL, "kinds": after.Kinds,
			"failures": after.Failures, "failing_since": after.FailingSince, "disabled_at": after.DisabledAt, "disabled_why": after.DisabledWhy})
		if err != nil {
			return err
		}
		return t.record("", "webhook", id, "changed", before, after)
	})
	return &after, err
}

// stoppedByHand is why a webhook is stopped that did not fail.
const stoppedByHand = "stopped by hand"

func (w *Webhook) enable(on bool, now time.Time) {
	if !on {
		w.DisabledAt, w.DisabledWhy = &now, stoppedByHand
		return
	}
	w.DisabledAt, w.DisabledWhy, w.Failures, w.FailingSince = nil, "", 0, nil
}

func (t *tx) webhook(id string, revision *int) (*Webhook, error) {
	w, err := first[Webhook](t.DB, "webhook", "id = ? AND ended_at IS NULL", id)
	if err != nil {
		return nil, err
	}
	return w, checkRevision("webhook", w.Revision, revision)
}

// RenewWebhookSecret gives a webhook another secret, which is in the answer and
// is not shown again. The one before signs as well for a day.
func (s *Store) RenewWebhookSecret(ctx context.Context, actor Actor, id string, revision *int) (*Webhook, error) {
	var after Webhook
	err := s.change(ctx, actor, func(t *tx) error {
		before, err := t.webhook(id, revision)
		if err != nil {
			return err
		}
		until := t.now.Add(wasSecretLife)
		after = *before
		after.Secret, after.WasSecret, after.WasUntil = newWebhookSecret(), before.Secret, &until
		after.Revision, after.UpdatedAt = before.Revision+1, t.now
		err = t.bump("webhook", &Webhook{}, id, before.Revision, map[string]any{"secret": after.Secret, "was_secret": after.WasSecret, "was_until": after.WasUntil})
		if err != nil {
			return err
		}
		return t.record("", "webhook", id, "given another secret", nil, nil)
	})
	return &after, err
}

// EndWebhook ends one for good: its secret is gone, what it was told stays.
func (s *Store) EndWebhook(ctx context.Context, actor Actor, id string, revision *int) error {
	return s.change(ctx, actor, func(t *tx) error {
		before, err := t.webhook(id, revision)
		if err != nil {
			return err
		}
		err = t.bump("webhook", &Webhook{}, id, before.Revision, map[string]any{"secret": "", "was_secret": "", "was_until": nil, "ended_at": t.now})
		if err != nil {
			return err
		}
		if err := t.Model(&WebhookDelivery{}).Where("webhook_id = ?", id).Update("due_at", nil).Error; err != nil {
			return fmt.Errorf("end what was still to be told: %w", err)
		}
		return t.record("", "webhook", id, "ended", nil, nil)
	})
}
