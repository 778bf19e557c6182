package handlers

import (
	"context"
	"net/http"
	"time"

	"tenter/models"
)

// Remark is a note on a place in the text.
type Remark struct {
	ID           string     `json:"id"`
	Version      int        `json:"version"`
	AssignmentID *string    `json:"assignment_id"`
	Handle       string     `json:"handle,omitempty"`
	Place        string     `json:"place"`
	Body         string     `json:"body"`
	Answer       string     `json:"answer"`
	SettledAt    *time.Time `json:"settled_at"`
	WrittenAt    time.Time  `json:"written_at"`
	Revision     int        `json:"revision"`
}

func remarkView(m models.Remark) Remark {
	return Remark{ID: m.ID, Version: m.VersionNumber, AssignmentID: m.AssignmentID, Handle: m.Handle, Place: m.Place, Body: m.Body,
		Answer: m.Answer, SettledAt: m.SettledAt, WrittenAt: m.CreatedAt, Revision: m.Revision}
}

// RemarkIn is a remark as it is written.
type RemarkIn struct {
	Place string `json:"place,omitempty" doc:"Where in the text."`
	Body  string `json:"body"`
}

func (in RemarkIn) remark() models.NewRemark { return models.NewRemark{Place: in.Place, Body: in.Body} }

type remarksQuery struct {
	DesignPath
	Paged
}

type assignmentRemarksQuery struct {
	AssignmentPath
	Paged
}

type newRemarkInput struct {
	DesignPath
	Body struct {
		VersionID string `json:"version_id,omitempty" maxLength:"36" doc:"The latest when absent."`
		RemarkIn
	}
}

type testerRemarkInput struct {
	AssignmentPath
	Body RemarkIn
}

type answerInput struct {
	Remark string `path:"remark" maxLength:"36"`
	Precondition
	Body struct {
		Answer  *string `json:"answer,omitempty"`
		Settled *bool   `json:"settled,omitempty"`
	}
}

func (a *api) remarks() {
	add(a, operation("list-remarks", http.MethodGet, "/designs/{design}/remarks", "Remarks on the text, the newest first", "Remarks"), a.getRemarks)
	add(a, created(operation("add-remark", http.MethodPost, "/designs/{design}/remarks", "Add a remark on the text", "Remarks")), a.postRemark)
	add(a, operation("list-assignment-remarks", http.MethodGet, "/assignments/{assignment}/remarks", "A tester's remarks", "Remarks"), a.getAssignmentRemarks)
	add(a, created(operation("add-assignment-remark", http.MethodPost, "/assignments/{assignment}/remarks", "Add a remark while making the size", "Remarks")), a.postAssignmentRemark)
	add(a, operation("answer-remark", http.MethodPatch, "/remarks/{remark}", "Answer or settle a remark", "Remarks"), a.patchRemark)
}

func (a *api) getRemarks(ctx context.Context, _ models.Actor, in *remarksQuery) (*listOf[Remark], error) {
	d, err := a.Store.Design(ctx, in.Design)
	if err != nil {
		return nil, err
	}
	rows, next, err := a.Store.Remarks(ctx, d.ID, in.page())
	if err != nil {
		return nil, err
	}
	return list(rows, next, remarkView), nil
}

func (a *api) postRemark(ctx context.Context, actor models.Actor, in *newRemarkInput) (*made[Remark], error) {
	m, err := a.Store.AddRemark(ctx, actor, in.Design, in.Body.VersionID, in.Body.remark())
	if err != nil {
		return nil, err
	}
	return &made[Remark]{etag(m.Revision), Prefix + "/remarks/" + m.ID, remarkView(*m)}, nil
}

func (a *api) getAssignmentRemarks(ctx context.Context, actor models.Actor, in *assignmentRemarksQuery) (*listOf[Remark], error) {
	rows, next, err := a.Store.RemarksOf(ctx, actor, in.Assignment, in.page())
	if err != nil {
		return nil, err
	}
	return list(rows, next, remarkView), nil
}

func (a *api) postAssignmentRemark(ctx context.Context, actor models.Actor, in *testerRemarkInput) (*made[Remark], error) {
	m, err := a.Store.RemarkOnAssignment(ctx, actor, in.Assignment, in.Body.remark())
	if err != nil {
		return nil, err
	}
	return &made[Remark]{etag(m.Revision), Prefix + "/remarks/" + m.ID, remarkView(*m)}, nil
}

func (a *api) patchRemark(ctx context.Context, actor models.Actor, in *answerInput) (*one[Remark], error) {
	revision, err := in.revision(func() (int, error) { return a.Store.RemarkRevision(ctx, in.Remark) })
	if err != nil {
		return nil, err
	}
	m, err := a.Store.AnswerRemark(ctx, actor, in.Remark, revision, in.Body.Answer, in.Body.Settled)
	if err != nil {
		return nil, err
	}
	return &one[Remark]{etag(m.Revision), remarkView(*m)}, nil
}
