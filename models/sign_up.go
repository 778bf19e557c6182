package models

import (
	"context"
	"fmt"
	"time"

	"gorm.io/gorm"
)

// SignUp is the public way into a call: whoever has the link may apply while
// it stands. The designer opens, closes and replaces it. The link's secret is
// kept readable, so that it can be copied again; it opens nothing but the form.
type SignUp struct {
	TestCallID   string `gorm:"primaryKey"`
	Token        string `json:"-"`
	ClosesOn     Date   // the last day; "": as long as the call is open
	Introduction string
	RevokedAt    *time.Time
	Revision     int
	CreatedAt    time.Time
	UpdatedAt    time.Time
}

// NewSignUp is what the designer says about the form.
type NewSignUp struct {
	ClosesOn     Date
	Introduction string
	Open         bool
}

// SignUp returns a call's public form.
func (s *Store) SignUp(ctx context.Context, callID string) (*SignUp, error) {
	return first[SignUp](s.read(ctx), "sign-up page", "test_call_id = ?", callID)
}

// PutSignUp opens a call's public form or changes it. revision is nil for the
// first time.
func (s *Store) PutSignUp(ctx context.Context, actor Actor, callID string, revision *int, in NewSignUp) (*SignUp, error) {
	var after SignUp
	err := s.change(ctx, actor, func(t *tx) error {
		call, err := t.openCall(callID)
		if err != nil {
			return err
		}
		var p problems
		p.date("closes_on", in.ClosesOn, false)
		p.text("introduction", in.Introduction, false, longText)
		if err := p.err(); err != nil {
			return err
		}
		before, err := first[SignUp](t.DB, "sign-up page", "test_call_id = ?", callID)
		if KindOf(err) == NotFound {
			secret, _ := newToken()
			after = SignUp{TestCallID: callID, Token: secret, ClosesOn: in.ClosesOn, Introduction: in.Introduction,
				RevokedAt: stamp(!in.Open, nil, t.now), Revision: 1, CreatedAt: t.now, UpdatedAt: t.now}
			if err := t.Create(&after).Error; err != nil {
				return raced(fmt.Errorf("open sign-up: %w", err))
			}
			return t.record(call.DesignID, "sign-up page", callID, "opened", nil, after)
		}
		if err != nil {
			return err
		}
		if err := checkRevision("sign-up page", before.Revision, revision); err != nil {
			return err
		}
		after = *before
		after.ClosesOn, after.Introduction, after.RevokedAt = in.ClosesOn, in.Introduction, stamp(!in.Open, before.RevokedAt, t.now)
		return t.saveSignUp(call, before, &after, "changed")
	})
	return &after, err
}

// RenewSignUp replaces the link: the one before stops working at once.
func (s *Store) RenewSignUp(ctx context.Context, actor Actor, callID string, revision *int) (*SignUp, error) {
	var after SignUp
	err := s.change(ctx, actor, func(t *tx) error {
		call, err := t.openCall(callID)
		if err != nil {
			return err
		}
		before, err := first[SignUp](t.DB, "sign-up page", "test_call_id = ?", callID)
		if err != nil {
			return err
		}
		if err := checkRevision("sign-up page", before.Revision, revision); err != nil {
			return err
		}
		after = *before
		after.Token, _ = newToken()
		return t.saveSignUp(call, before, &after, "link replaced")
	})
	return &after, err
}

func (t *tx) saveSignUp(call *TestCall, before, after *SignUp, action string) error {
	res := t.Model(&SignUp{}).Where("test_call_id = ? AND revision = ?", before.TestCallID, before.Revision).Updates(map[string]any{
		"token": after.Token, "closes_on": after.ClosesOn, "introduction": after.Introduction, "revoked_at": after.RevokedAt,
		"revision": before.Revision + 1, "updated_at": t.now})
	if res.Error != nil {
		return fmt.Errorf("change sign-up: %w", res.Error)
	}
	if res.RowsAffected == 0 {
		return staleError("sign-up page", before.Revision+1)
	}
	after.Revision, after.UpdatedAt = before.Revision+1, t.now
	return t.record(call.DesignID, "sign-up page", before.TestCallID, action, before, after)
}

var errSignUpOver = failf(NotFound, "This sign-up page is closed, or its link was replaced. Ask the studio whether they still look for testers.")

// openSignUp returns the form that a link opens, with its call, while it
// stands.
func openSignUp(db *gorm.DB, token string, now time.Time) (*SignUp, *TestCall, error) {
	form, err := first[SignUp](db, "sign-up page", "token = ? AND revoked_at IS NULL", token)
	if KindOf(err) == NotFound {
		return nil, nil, errSignUpOver
	}
	if err != nil {
		return nil, nil, err
	}
	studio, err := studioIn(db)
	if err != nil {
		return nil, nil, err
	}
	call, err := callIn(db, form.TestCallID)
	if err != nil {
		return nil, nil, err
	}
	if call.ClosedAt != nil || (form.ClosesOn != "" && form.ClosesOn < DateOf(now, studio.Location())) {
		return nil, nil, errSignUpOver
	}
	return form, call, nil
}

// SignUpLook is what somebody with the link sees. It tells nothing of the
// counts, nor of who else has applied.
type SignUpLook struct {
	Studio     string
	Form       SignUp
	Call       TestCall
	Design     Design
	Sizes      []Size   // with places in the call
	Dimensions []string // of the body, from which a size can be advised
}

// LookAtSignUp shows the form behind a link.
func (s *Store) LookAtSignUp(ctx context.Context, token string) (*SignUpLook, error) {
	db := s.read(ctx)
	form, call, err := openSignUp(db, token, s.Now())
	if err != nil {
		return nil, err
	}
	studio, err := studioIn(db)
	if err != nil {
		return nil, err
	}
	design, err := designIn(db, call.DesignID)
	if err != nil {
		return nil, err
	}
	look := &SignUpLook{Studio: studio.Name, Form: *form, Call: *call, Design: *design}
	sizes, err := sizesIn(db, []string{call.DesignID})
	if err != nil {
		return nil, err
	}
	for _, z := range sizes {
		for _, slot := range call.Slots {
			if slot.SizeID == z.ID && slot.Most > 0 {
				look.Sizes = append(look.Sizes, z)
			}
		}
	}
	fitting, err := fittingIn(db, call)
	if err != nil {
		return nil, err
	}
	look.Dimensions = fitting.dimensions()
	return look, nil
}
