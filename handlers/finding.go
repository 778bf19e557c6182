package handlers

import (
	"context"
	"time"

	"tenter/models"
)

// Decision is what was made of a finding.
type Decision struct {
	ID        string    `json:"id"`
	Key       string    `json:"key"`
	Kind      string    `json:"kind"`
	Choice    string    `json:"choice" enum:"accepted,rejected,left"`
	Reason    string    `json:"reason"`
	Message   string    `json:"message" doc:"The finding as it was read."`
	Who       string    `json:"who"`
	DecidedAt time.Time `json:"decided_at"`
	Revision  int       `json:"revision"`
}

func decisionView(d *models.Decision) Decision {
	return Decision{d.ID, d.Key, d.Kind, d.Choice, d.Reason, d.Message, d.Handle, d.DecidedAt, d.Revision}
}

type decideInput struct {
	DesignPath
	Body struct {
		Key    string         `json:"key" maxLength:"80"`
		Choice string         `json:"choice" enum:"accepted,rejected,left"`
		Reason string         `json:"reason,omitempty" doc:"Needed to reject."`
		Seen   FindingNumbers `json:"seen" doc:"The finding's numbers as they were read: when they have changed materially since, nothing is decided."`
	}
}

func (a *api) postDecision(ctx context.Context, actor models.Actor, in *decideInput) (*made[Decision], error) {
	d, err := a.Store.DecideFinding(ctx, actor, in.Design, models.NewDecision{Key: in.Body.Key, Choice: in.Body.Choice, Reason: in.Body.Reason, Seen: in.Body.Seen.seen()})
	if err != nil {
		return nil, err
	}
	return &made[Decision]{etag(d.Revision), Prefix + "/designs/" + d.DesignID + "/fit", decisionView(d)}, nil
}
