package handlers

import (
	"context"
	"net/http"
	"time"

	"tenter/models"
)

// SignOff is a tech editor's word on a version.
type SignOff struct {
	ID           string          `json:"id"`
	By           *AssignedPerson `json:"by" doc:"Null for somebody who was forgotten."`
	Name         string          `json:"name"`
	SignedAt     time.Time       `json:"signed_at"`
	Note         string          `json:"note"`
	Answers      []FailureAnswer `json:"answers" doc:"What failed then, and why it may stand."`
	WithdrawnAt  *time.Time      `json:"withdrawn_at"`
	WithdrawnWhy string          `json:"withdrawn_why"`
}

// Failure is something the check found wrong.
type Failure struct {
	Kind    string `json:"kind" doc:"As in the findings of a count sheet, or unchecked."`
	Name    string `json:"name" doc:"Of the rule or point."`
	Size    string `json:"size" doc:"Empty where it is about no one size."`
	Message string `json:"message"`
}

// FailureAnswer is a failure with the reason why it may stand.
type FailureAnswer struct {
	Failure
	Answer string `json:"answer"`
}

// SignOffs is how a version stands with the tech editor.
type SignOffs struct {
	Version  AssignedVersion `json:"version"`
	Revision int             `json:"revision"`
	Standing *SignOff        `json:"standing" doc:"Null when nobody has signed, or something changed since."`
	Earlier  []SignOff       `json:"earlier" doc:"Withdrawn ones, the latest first."`
	Failures []Failure       `json:"failures" doc:"Of the sheet as it is now: each needs an answer in writing before it can be signed off."`
	Ready    bool            `json:"ready" doc:"There are counts, and nothing needs an answer."`
}

func signOffView(s *models.SignOff) *SignOff {
	if s == nil {
		return nil
	}
	out := &SignOff{ID: s.ID, Name: s.Name, SignedAt: s.SignedAt, Note: s.Note, WithdrawnAt: s.WithdrawnAt, WithdrawnWhy: s.WithdrawnWhy,
		Answers: each(s.Answers, func(a models.FailureAnswer) FailureAnswer { return FailureAnswer{Failure(a.Failure), a.Answer} })}
	if s.SignedBy != nil {
		out.By = &AssignedPerson{*s.SignedBy, s.Handle}
	}
	return out
}

func signOffsView(s *models.SignOffs) *one[SignOffs] {
	return &one[SignOffs]{etag(s.Version.Revision), SignOffs{
		Version: AssignedVersion{s.Version.ID, s.Version.Number}, Revision: s.Version.Revision, Standing: signOffView(s.Standing),
		Earlier:  each(s.Earlier, func(e models.SignOff) SignOff { return *signOffView(&e) }),
		Failures: each(s.Failures, func(f models.Failure) Failure { return Failure(f) }),
		Ready:    s.Counts > 0 && len(s.Failures) == 0,
	}}
}

type signOffInput struct {
	VersionPath
	Precondition
	Body struct {
		Note    string     `json:"note,omitempty"`
		Answers []AnswerIn `json:"answers,omitempty" maxItems:"4000"`
	}
}

// AnswerIn is an answer to one failure, which kind, name and size pick out.
type AnswerIn struct {
	Kind   string `json:"kind"`
	Name   string `json:"name"`
	Size   string `json:"size,omitempty"`
	Answer string `json:"answer"`
}

type withdrawSignOffInput struct {
	VersionPath
	Body struct {
		Why string `json:"why"`
	}
}

func (a *api) signOffs() {
	add(a, operation("get-sign-off", http.MethodGet, "/versions/{version}/sign-off", "How a version stands with the tech editor", "Counts"), a.getSignOff)
	add(a, created(operation("sign-off-version", http.MethodPost, "/versions/{version}/sign-off", "Sign a version off", "Counts")), a.postSignOff)
	add(a, operation("withdraw-sign-off", http.MethodPost, "/versions/{version}/sign-off/withdraw", "Take a sign-off back", "Counts"), a.postWithdrawSignOff)
}

func (a *api) getSignOff(ctx context.Context, _ models.Actor, in *VersionPath) (*one[SignOffs], error) {
	s, err := a.Store.SignOffs(ctx, in.Version)
	if err != nil {
		return nil, err
	}
	return signOffsView(s), nil
}

func (a *api) postSignOff(ctx context.Context, actor models.Actor, in *signOffInput) (*made[SignOff], error) {
	revision, err := in.revision(a.versionRevision(ctx, in.Version))
	if err != nil {
		return nil, err
	}
	answers := each(in.Body.Answers, func(r AnswerIn) models.FailureAnswer {
		return models.FailureAnswer{Failure: models.Failure{Kind: r.Kind, Name: r.Name, Size: r.Size}, Answer: r.Answer}
	})
	s, err := a.Store.SignOffVersion(ctx, actor, in.Version, revision, in.Body.Note, answers)
	if err != nil {
		return nil, err
	}
	return &made[SignOff]{etag(s.Revision), Prefix + "/versions/" + in.Version + "/sign-off", *signOffView(s)}, nil
}

func (a *api) postWithdrawSignOff(ctx context.Context, actor models.Actor, in *withdrawSignOffInput) (*one[SignOffs], error) {
	if err := a.Store.WithdrawSignOff(ctx, actor, in.Version, in.Body.Why); err != nil {
		return nil, err
	}
	return a.getSignOff(ctx, actor, &in.VersionPath)
}
