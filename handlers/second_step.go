package handlers

import (
	"context"
	"net/http"
	"time"

	"tenter/models"
)

// MySecondStep is how my second step stands.
type MySecondStep struct {
	Since        *time.Time `json:"since" doc:"null: it is not set up."`
	RecoveryLeft int        `json:"recovery_left" doc:"Recovery codes that were not used yet."`
	Wanted       bool       `json:"wanted" doc:"The studio wants it of me."`
}

// NewSecret is a secret for a device that makes codes. It is shown once.
type NewSecret struct {
	Secret string `json:"secret" doc:"In base32, to be typed."`
	Link   string `json:"link"`
	QRSVG  string `json:"qr_svg" doc:"The link as a QR code, an SVG document."`
}

// RecoveryCodes are shown once.
type RecoveryCodes struct {
	Codes []string `json:"codes" doc:"Each stands in for a code once."`
}

// secretAnswer is kept by nobody on the way.
type secretAnswer[T any] struct {
	CacheControl string `header:"Cache-Control"`
	Body         T
}

type passwordInput struct {
	Body struct {
		Password string `json:"password" maxLength:"200" doc:"Your own once more: an open screen is not enough for this."`
	}
}

type removeSecondStepInput struct {
	PersonPath
	Body struct {
		Password string `json:"password" maxLength:"200" doc:"Your own once more, not theirs."`
	}
}

type confirmInput struct {
	Body struct {
		Code string `json:"code" maxLength:"60" doc:"Six digits from the device."`
	}
}

func (a *api) secondStep() {
	add(a, operation("get-second-step", http.MethodGet, "/me/second-step", "How my second step stands", "Sign-in"), a.getSecondStep)
	add(a, operation("prepare-second-step", http.MethodPost, "/me/second-step", "Make a secret for my device", "Sign-in"), a.postPrepare)
	add(a, operation("confirm-second-step", http.MethodPost, "/me/second-step/confirm", "Set up my second step with a first code", "Sign-in"), a.postConfirm)
	add(a, operation("renew-recovery-codes", http.MethodPost, "/me/second-step/recovery-codes", "Make new recovery codes", "Sign-in"), a.postRecoveryCodes)
	add(a, operation("remove-my-second-step", http.MethodPost, "/me/second-step/remove", "Take my second step away", "Sign-in"), a.postRemoveMine)
	add(a, operation("remove-second-step", http.MethodPost, "/people/{person}/second-step/remove", "Take the second step away from somebody who lost their device", "People"), a.postRemove)
}

func (a *api) getSecondStep(ctx context.Context, actor models.Actor, _ *struct{}) (*plain[MySecondStep], error) {
	s, err := a.Store.SecondFactor(ctx, actor.PersonID, actor.Roles)
	if err != nil {
		return nil, err
	}
	return &plain[MySecondStep]{MySecondStep(*s)}, nil
}

func (a *api) postPrepare(ctx context.Context, actor models.Actor, in *passwordInput) (*secretAnswer[NewSecret], error) {
	if err := a.ownPassword(actor); err != nil {
		return nil, err
	}
	secret, err := a.Store.PrepareSecondFactor(ctx, actor, in.Body.Password)
	if err != nil {
		return nil, err
	}
	svg, err := qrSVG(secret.Link)
	if err != nil {
		return nil, err
	}
	return &secretAnswer[NewSecret]{"no-store", NewSecret{Secret: secret.Text, Link: secret.Link, QRSVG: svg}}, nil
}

func (a *api) postConfirm(ctx context.Context, actor models.Actor, in *confirmInput) (*secretAnswer[RecoveryCodes], error) {
	if err := a.within("code:" + actor.PersonID); err != nil {
		return nil, err
	}
	return codesAnswer(a.Store.ConfirmSecondFactor(ctx, actor, in.Body.Code))
}

func (a *api) postRecoveryCodes(ctx context.Context, actor models.Actor, in *passwordInput) (*secretAnswer[RecoveryCodes], error) {
	if err := a.ownPassword(actor); err != nil {
		return nil, err
	}
	return codesAnswer(a.Store.RenewRecoveryCodes(ctx, actor, in.Body.Password))
}

func codesAnswer(codes []string, err error) (*secretAnswer[RecoveryCodes], error) {
	if err != nil {
		return nil, err
	}
	return &secretAnswer[RecoveryCodes]{"no-store", RecoveryCodes{codes}}, nil
}

func (a *api) postRemoveMine(ctx context.Context, actor models.Actor, in *passwordInput) (*struct{}, error) {
	if err := a.ownPassword(actor); err != nil {
		return nil, err
	}
	return nil, a.Store.RemoveMySecondFactor(ctx, actor, in.Body.Password)
}

func (a *api) postRemove(ctx context.Context, actor models.Actor, in *removeSecondStepInput) (*struct{}, error) {
	if err := a.ownPassword(actor); err != nil {
		return nil, err
	}
	return nil, a.Store.RemoveSecondFactor(ctx, actor, in.Person, in.Body.Password)
}
