package handlers

import (
	"context"
	"net/http"
	"time"

	"tenter/models"
	"tenter/models/cautions"
)

// DesignCautions is what to watch for in a design. It never says that the
// design complies with anything.
type DesignCautions struct {
	DesignID string                  `json:"design_id"`
	Revision int                     `json:"revision" doc:"Of the design."`
	Audience string                  `json:"audience"`
	Features []cautions.Feature      `json:"features" doc:"What the garment has."`
	ToldAt   *time.Time              `json:"told_at" doc:"When that was said; null: nobody has yet."`
	Offered  []cautions.FeatureLabel `json:"offered" doc:"Every feature that a caution may be about."`
	Cautions []DesignCaution         `json:"cautions" doc:"The strongest first."`
	Deferral string                  `json:"deferral"`
}

// DesignCaution is a caution with who has read it.
type DesignCaution struct {
	cautions.Caution
	HoldsRelease bool             `json:"holds_release" doc:"Until it is acknowledged."`
	Acknowledged *Acknowledgement `json:"acknowledged" doc:"Null while nobody has, or while its words have changed since."`
}

// Acknowledgement says who has read a caution, and when.
type Acknowledgement struct {
	By   *AssignedPerson `json:"by" doc:"Null for somebody who was forgotten."`
	Name string          `json:"name"`
	At   time.Time       `json:"at"`
	Note string          `json:"note" doc:"What was decided about it."`
}

func designCautionsView(d *models.DesignCautions) *one[DesignCautions] {
	out := DesignCautions{DesignID: d.Design.ID, Revision: d.Design.Revision, Audience: d.Design.Audience, Features: d.Features,
		Offered: cautions.Features(), Deferral: d.Deferral}
	if d.Told != nil {
		out.ToldAt = &d.Told.ToldAt
	}
	out.Cautions = each(d.Cautions, func(c models.ReadCaution) DesignCaution {
		view := DesignCaution{Caution: c.Caution, HoldsRelease: c.Holds}
		if r := c.Read; r != nil {
			view.Acknowledged = &Acknowledgement{Name: r.Name, At: r.AcknowledgedAt, Note: r.Note}
			if r.AcknowledgedBy != nil {
				view.Acknowledged.By = &AssignedPerson{*r.AcknowledgedBy, r.Handle}
			}
		}
		return view
	})
	return &one[DesignCautions]{etag(d.Design.Revision), out}
}

type putFeaturesInput struct {
	DesignPath
	Precondition
	Body struct {
		Features []cautions.Feature `json:"features" maxItems:"40" doc:"Ids of what the garment has; empty says that it has none of them."`
	}
}

// DesignCautionPath names a caution of a design.
type DesignCautionPath struct {
	DesignPath
	Caution string `path:"caution" maxLength:"60"`
}

type acknowledgeInput struct {
	DesignCautionPath
	Body struct {
		Note string `json:"note,omitempty" doc:"What was decided about it."`
	}
}

type takeBackInput struct {
	DesignCautionPath
	Body struct{}
}

func (a *api) designCautions() {
	add(a, operation("get-design-cautions", http.MethodGet, "/designs/{design}/cautions", "What to watch for in a design, and who has read it", "Cautions"), a.getDesignCautions)
	add(a, operation("put-features", http.MethodPut, "/designs/{design}/features", "Say what a design has that cautions are about", "Cautions"), a.putFeatures)
	add(a, operation("acknowledge-caution", http.MethodPost, "/designs/{design}/cautions/{caution}/acknowledge", "Say that you have read a caution", "Cautions"), a.postAcknowledge)
	add(a, operation("take-back-caution", http.MethodPost, "/designs/{design}/cautions/{caution}/take-back", "Take an acknowledgement back", "Cautions"), a.postTakeBack)
}

func (a *api) cautionsOf(ctx context.Context, idOrSlug string) (*one[DesignCautions], error) {
	d, err := a.Store.DesignCautions(ctx, idOrSlug)
	if err != nil {
		return nil, err
	}
	return designCautionsView(d), nil
}

func (a *api) getDesignCautions(ctx context.Context, _ models.Actor, in *DesignPath) (*one[DesignCautions], error) {
	return a.cautionsOf(ctx, in.Design)
}

func (a *api) putFeatures(ctx context.Context, actor models.Actor, in *putFeaturesInput) (*one[DesignCautions], error) {
	revision, err := in.revision(a.designRevision(ctx, in.Design))
	if err != nil {
		return nil, err
	}
	if _, err := a.Store.PutFeatures(ctx, actor, in.Design, revision, in.Body.Features); err != nil {
		return nil, err
	}
	return a.cautionsOf(ctx, in.Design)
}

func (a *api) postAcknowledge(ctx context.Context, actor models.Actor, in *acknowledgeInput) (*one[DesignCautions], error) {
	if err := a.Store.AcknowledgeCaution(ctx, actor, in.Design, in.Caution, in.Body.Note); err != nil {
		return nil, err
	}
	return a.cautionsOf(ctx, in.Design)
}

func (a *api) postTakeBack(ctx context.Context, actor models.Actor, in *takeBackInput) (*one[DesignCautions], error) {
	if err := a.Store.TakeBackCaution(ctx, actor, in.Design, in.Caution); err != nil {
		return nil, err
	}
	return a.cautionsOf(ctx, in.Design)
}
