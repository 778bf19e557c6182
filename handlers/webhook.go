package handlers

import (
	"context"
	"net/http"
	"time"

	"tenter/models"
)

// Webhook is another program that is told of what happens.
type Webhook struct {
	ID           string     `json:"id"`
	Name         string     `json:"name"`
	URL          string     `json:"url"`
	Kinds        []string   `json:"kinds" doc:"Of what it is told; the names are at /webhook-kinds."`
	Failures     int        `json:"failures" doc:"Tries in a row that failed."`
	FailingSince *time.Time `json:"failing_since"`
	DisabledAt   *time.Time `json:"disabled_at" doc:"null: it is told."`
	DisabledWhy  string     `json:"disabled_why,omitempty"`
	OldSecret    *time.Time `json:"old_secret_until" doc:"Until then the secret before signs as well."`
	Secret       string     `json:"secret,omitempty" doc:"Only in the answer to adding it or giving it another: the key of the signatures, as it stands here."`
	Revision     int        `json:"revision"`
}

func webhookView(w models.Webhook) Webhook {
	return Webhook{ID: w.ID, Name: w.Name, URL: w.URL, Kinds: w.Wanted(), Failures: w.Failures, FailingSince: w.FailingSince,
		DisabledAt: w.DisabledAt, DisabledWhy: w.DisabledWhy, OldSecret: w.WasUntil, Revision: w.Revision}
}

// WebhookKind is a kind of thing of whose changes a webhook can be told.
type WebhookKind struct {
	Name string `json:"name"`
	Says string `json:"says"`
}

// WebhookDelivery is one notice and what came of it.
type WebhookDelivery struct {
	ID          string     `json:"id"`
	Kind        string     `json:"kind"`
	Body        string     `json:"body" doc:"As it is sent, byte by byte."`
	At          time.Time  `json:"at"`
	Tries       int        `json:"tries"`
	TriedAt     *time.Time `json:"tried_at"`
	Status      *int       `json:"status" doc:"Of the last answer; null: there was none."`
	Problem     string     `json:"problem,omitempty" doc:"What went wrong at the last try."`
	DueAt       *time.Time `json:"due_at" doc:"When it is tried next; null: no more."`
	DeliveredAt *time.Time `json:"delivered_at"`
	GivenUpAt   *time.Time `json:"given_up_at"`
}

func deliveryView(d models.WebhookDelivery) WebhookDelivery {
	return WebhookDelivery{d.ID, d.Kind, d.Body, d.CreatedAt, d.Tries, d.TriedAt, d.Status, d.Problem, d.DueAt, d.DeliveredAt, d.GivenUpAt}
}

type WebhookPath struct {
	Webhook string `path:"webhook" maxLength:"36"`
}

type newWebhookInput struct {
	Body struct {
		Name  string   `json:"name"`
		URL   string   `json:"url" doc:"https://…; plain http only for programs on the server's own machine, where its settings allow it."`
		Kinds []string `json:"kinds" maxItems:"40"`
	}
}

type changeWebhookInput struct {
	WebhookPath
	Precondition
	Body struct {
		Name    *string   `json:"name,omitempty"`
		URL     *string   `json:"url,omitempty"`
		Kinds   *[]string `json:"kinds,omitempty" maxItems:"40"`
		Enabled *bool     `json:"enabled,omitempty" doc:"false stops it; true starts it again, with what is still to be told."`
	}
}

type sameWebhookInput struct {
	WebhookPath
	Precondition
}

type webhookDeliveriesInput struct {
	WebhookPath
	Paged
}

type deliveryInput struct {
	Delivery string `path:"delivery" maxLength:"36"`
}

// secretWebhook shows a secret once: nobody on the way may keep it.
type secretWebhook struct {
	ETag         string `header:"ETag"`
	CacheControl string `header:"Cache-Control"`
	Body         Webhook
}

func (a *api) webhooks() {
	add(a, operation("list-webhooks", http.MethodGet, "/webhooks", "Other programs that are told of what happens", "Webhooks"), a.getWebhooks)
	add(a, operation("list-webhook-kinds", http.MethodGet, "/webhook-kinds", "Of what they can be told", "Webhooks"), a.getWebhookKinds)
	add(a, created(operation("add-webhook", http.MethodPost, "/webhooks", "Add one; its secret is shown once", "Webhooks")), a.postWebhook)
	add(a, operation("change-webhook", http.MethodPatch, "/webhooks/{webhook}", "Change one, stop it or start it again", "Webhooks"), a.patchWebhook)
	add(a, operation("renew-webhook-secret", http.MethodPost, "/webhooks/{webhook}/secret", "Give one another secret, shown once; the one before signs as well for a day", "Webhooks"), a.postWebhookSecret)
	add(a, operation("end-webhook", http.MethodDelete, "/webhooks/{webhook}", "End one for good", "Webhooks"), a.deleteWebhook)
	add(a, created(operation("try-webhook", http.MethodPost, "/webhooks/{webhook}/trial", "Send one a trial", "Webhooks")), a.postWebhookTrial)
	add(a, operation("list-webhook-deliveries", http.MethodGet, "/webhooks/{webhook}/deliveries", "What one was told, the latest first", "Webhooks"), a.getWebhookDeliveries)
	add(a, operation("deliver-again", http.MethodPost, "/webhook-deliveries/{delivery}/again", "Try a delivery again now", "Webhooks"), a.postDeliverAgain)
}

func (a *api) getWebhooks(ctx context.Context, _ models.Actor, _ *struct{}) (*listOf[Webhook], error) {
	rows, err := a.Store.Webhooks(ctx)
	if err != nil {
		return nil, err
	}
	return list(rows, "", webhookView), nil
}

func (a *api) getWebhookKinds(context.Context, models.Actor, *struct{}) (*listOf[WebhookKind], error) {
	return list(models.NoticeKinds(), "", func(k models.NoticeKind) WebhookKind { return WebhookKind(k) }), nil
}

func (a *api) postWebhook(ctx context.Context, actor models.Actor, in *newWebhookInput) (*secretWebhook, error) {
	b := in.Body
	return withSecret(a.Store.AddWebhook(ctx, actor, models.WebhookChange{Name: &b.Name, URL: &b.URL, Kinds: &b.Kinds}, a.PlainAllowed))
}

func withSecret(w *models.Webhook, err error) (*secretWebhook, error) {
	if err != nil {
		return nil, err
	}
	view := webhookView(*w)
	view.Secret = w.Secret
	return &secretWebhook{etag(w.Revision), "no-store", view}, nil
}

func (a *api) webhookRevision(ctx context.Context, id string, p Precondition) (*int, error) {
	return p.revision(func() (int, error) {
		w, err := a.Store.Webhook(ctx, id)
		if err != nil {
			return 0, err
		}
		return w.Revision, nil
	})
}

func (a *api) patchWebhook(ctx context.Context, actor models.Actor, in *changeWebhookInput) (*one[Webhook], error) {
	revision, err := a.webhookRevision(ctx, in.Webhook, in.Precondition)
	if err != nil {
		return nil, err
	}
	b := in.Body
	w, err := a.Store.ChangeWebhook(ctx, actor, in.Webhook, revision, models.WebhookChange{Name: b.Name, URL: b.URL, Kinds: b.Kinds, Enabled: b.Enabled}, a.PlainAllowed)
	if err != nil {
		return nil, err
	}
	return &one[Webhook]{etag(w.Revision), webhookView(*w)}, nil
}

func (a *api) postWebhookSecret(ctx context.Context, actor models.Actor, in *sameWebhookInput) (*secretWebhook, error) {
	revision, err := a.webhookRevision(ctx, in.Webhook, in.Precondition)
	if err != nil {
		return nil, err
	}
	return withSecret(a.Store.RenewWebhookSecret(ctx, actor, in.Webhook, revision))
}

func (a *api) deleteWebhook(ctx context.Context, actor models.Actor, in *sameWebhookInput) (*struct{}, error) {
	revision, err := a.webhookRevision(ctx, in.Webhook, in.Precondition)
	if err != nil {
		return nil, err
	}
	return nil, a.Store.EndWebhook(ctx, actor, in.Webhook, revision)
}

func (a *api) postWebhookTrial(ctx context.Context, actor models.Actor, in *WebhookPath) (*plain[WebhookDelivery], error) {
	return delivery(a.Store.TryWebhook(ctx, actor, in.Webhook))
}

func (a *api) postDeliverAgain(ctx context.Context, actor models.Actor, in *deliveryInput) (*plain[WebhookDelivery], error) {
	return delivery(a.Store.DeliverAgain(ctx, actor, in.Delivery))
}

func delivery(d *models.WebhookDelivery, err error) (*plain[WebhookDelivery], error) {
	if err != nil {
		return nil, err
	}
	return &plain[WebhookDelivery]{deliveryView(*d)}, nil
}

func (a *api) getWebhookDeliveries(ctx context.Context, _ models.Actor, in *webhookDeliveriesInput) (*listOf[WebhookDelivery], error) {
	rows, next, err := a.Store.WebhookDeliveries(ctx, in.Webhook, in.page())
	if err != nil {
		return nil, err
	}
	return list(rows, next, deliveryView), nil
}
