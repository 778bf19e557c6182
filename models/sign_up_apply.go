package models

import (
	"context"
	"fmt"
	"strings"
)

// SignUpAnswers is what somebody fills in on the public page.
type SignUpAnswers struct {
	Handle, Name, Email string
	Unit, Terms         string
	Sizes               []string
	Accepted, Finished  int // tests elsewhere
	Yarn, Remarks       string
	Agreed              string // hash of the wording that they agreed to
	Body                []BodyMeasurement
}

// mostApplicants bounds what a public page can fill a call with (chosen).
const mostApplicants = 2000

// Apply enters what somebody filled in on the public page. Somebody on file is
// found by e-mail address, and their first answers in this call are replaced;
// nothing else of what is on file changes, and the answer is the same for
// everybody, so that the page doesn't tell who is known.
func (s *Store) Apply(ctx context.Context, actor Actor, token string, in SignUpAnswers) (*TestCall, error) {
	var out *TestCall
	err := s.change(ctx, actor, func(t *tx) error {
		form, _, err := openSignUp(t.DB, token, t.now)
		if err != nil {
			return err
		}
		call, err := t.openCall(form.TestCallID)
		if err != nil {
			return err
		}
		out = call
		if err := t.roomForApplicant(call); err != nil {
			return err
		}
		book, err := applicantBookIn(t.DB, call)
		if err != nil {
			return err
		}
		var p problems
		plan := in.plan(&p, book)
		in.check(&p, call)
		if err := p.err(); err != nil {
			return err
		}
		if err := t.carryOutApplications(call, []plannedApplication{plan}); err != nil {
			return err
		}
		if err := t.agree(call, plan.person.ID); err != nil {
			return err
		}
		return t.replaceOwnBody(plan.after.ID, in.Body)
	})
	return out, err
}

func (t *tx) roomForApplicant(call *TestCall) error {
	var n int64
	if err := t.Model(&Application{}).Where("test_call_id = ?", call.ID).Count(&n).Error; err != nil {
		return fmt.Errorf("count applications: %w", err)
	}
	if n >= mostApplicants {
		return failf(Conflict, "So many have applied that the studio takes no more for now. Thank you for offering.")
	}
	return nil
}

// plan finds the person and works out the application.
func (in SignUpAnswers) plan(p *problems, book *applicantBook) plannedApplication {
	email := strings.TrimSpace(in.Email)
	handle := strings.TrimSpace(in.Handle)
	if known := book.byEmail[strings.ToLower(email)]; known != nil && email != "" {
		handle = known.Handle
	} else if other := book.byHandle[strings.ToLower(strings.TrimPrefix(handle, "@"))]; other != nil {
		p.addf("handle", "is taken by somebody else here; choose another, or give the e-mail address under which the studio knows you")
		return plannedApplication{person: other}
	}
	plan := book.plan(p, Applicant{Handle: handle, Name: in.Name, Email: &email, Unit: in.Unit, Terms: in.Terms, Sizes: in.Sizes,
		Accepted: &in.Accepted, Finished: &in.Finished, Remarks: &in.Remarks})
	plan.after.Yarn, plan.after.Elsewhere = in.Yarn, true
	p.text("yarn", in.Yarn, false, shortText)
	if !plan.newPerson { // what is wrong about somebody on file is not for a stranger's eyes
		for i, f := range p.fields {
			if f.Field == "handle" || f.Field == "email" {
				p.fields[i] = FieldProblem{"email", "can't be used here; write to the studio"}
			}
		}
	}
	return plan
}

func (in SignUpAnswers) check(p *problems, call *TestCall) {
	if strings.TrimSpace(in.Email) == "" {
		p.addf("email", "is empty; the studio needs it to answer")
	}
	for i, id := range in.Sizes {
		if !hasPlaces(call, id) {
			p.addf(fmt.Sprintf("sizes[%d]", i), "is not wanted in this call; choose one of those on the page")
		}
	}
	if in.Agreed != call.ConfidentialityHash() {
		if in.Agreed == "" {
			p.addf("agreed", "is missing; read what testers agree to, and agree to it")
		} else {
			p.addf("agreed", "is to an earlier wording; read it again")
		}
	}
	checkBody(p, "body", in.Body)
}

func hasPlaces(call *TestCall, sizeID string) bool {
	for _, s := range call.Slots {
		if s.SizeID == sizeID && s.Most > 0 {
			return true
		}
	}
	return false
}

// checkBody checks somebody's own measurements.
func checkBody(p *problems, at string, body []BodyMeasurement) {
	if len(body) > mostDimensions {
		p.addf(at, "has more than %d measurements", mostDimensions)
		return
	}
	seen := map[string]bool{}
	for i, b := range body {
		field := fmt.Sprintf("%s[%d]", at, i)
		p.text(field+".dimension", b.Dimension, true, shortText)
		if seen[b.Dimension] {
			p.addf(field+".dimension", "is given twice")
		}
		seen[b.Dimension] = true
		if b.Length.CM <= 0 || b.Length.CM > largestBodyCM {
			p.addf(field, "has to lie above 0 and up to %g cm", largestBodyCM)
		}
		p.length(field, b.Length)
	}
}

// largestBodyCM is above any measurement of a body (chosen).
const largestBodyCM = 300.0
