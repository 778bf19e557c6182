package handlers

import (
	"context"
	"net/http"

	"tenter/models"
)

// Settings are the studio's own.
type Settings struct {
	Name     string      `json:"name"`
	Zone     string      `json:"zone" doc:"IANA time zone in which dates are read."`
	LeadDays int         `json:"lead_days" doc:"Days between recording and air date."`
	Demo     bool        `json:"demo" doc:"Everything here is invented."`
	Today    models.Date `json:"today"`
	// ForgetAfterMonths is public as well: whoever signs up may know it.
	ForgetAfterMonths *int                `json:"forget_after_months,omitempty" doc:"Testers who have not taken part for so many months are forgotten; absent: nobody is, unasked."`
	LettersByItself   []models.LetterKind `json:"letters_by_itself" doc:"Kinds of letters that go out unasked once they are due."`
	LettersKeepDays   int                 `json:"letters_keep_days" doc:"For how long the words of a letter are kept once it has gone."`
	Revision          int                 `json:"revision"`
	// Whether there is one is nobody else's business.
	StaffSecondStep *bool `json:"staff_second_step,omitempty" doc:"For the designer: whether the studio's own people need a second step to sign in."`
}

type changeSettingsInput struct {
	Precondition
	Body struct {
		Name     *string `json:"name,omitempty"`
		Zone     *string `json:"zone,omitempty"`
		LeadDays *int    `json:"lead_days,omitempty"`

		ForgetAfterMonths Optional[int]        `json:"forget_after_months,omitempty" doc:"null: forget nobody unasked."`
		LettersByItself   *[]models.LetterKind `json:"letters_by_itself,omitempty" maxItems:"40"`
		LettersKeepDays   *int                 `json:"letters_keep_days,omitempty"`
		StaffSecondStep   *bool                `json:"staff_second_step,omitempty"`
	}
}

func (a *api) settings() {
	add(a, operation("get-studio-settings", http.MethodGet, "/studio/settings", "The studio's settings", "Studio"), a.getSettings)
	add(a, operation("change-studio-settings", http.MethodPatch, "/studio/settings", "Change the studio's settings", "Studio"), a.patchSettings)
}

func (a *api) settingsView(actor models.Actor, s *models.Studio) *one[Settings] {
	out := &one[Settings]{etag(s.Revision), Settings{Name: s.Name, Zone: s.Zone, LeadDays: s.LeadDays, Demo: s.Demo, ForgetAfterMonths: s.ForgetAfterMonths,
		LettersByItself: s.LetterKindsByItself(), LettersKeepDays: s.LettersKeepDays,
		Today: models.DateOf(a.Store.Now(), s.Location()), Revision: s.Revision}}
	if actor.Has(models.Designer) {
		out.Body.StaffSecondStep = &s.StaffSecondStep
	}
	return out
}

func (a *api) getSettings(ctx context.Context, actor models.Actor, _ *struct{}) (*one[Settings], error) {
	s, err := a.Store.Studio(ctx)
	if err != nil {
		return nil, err
	}
	return a.settingsView(actor, s), nil
}

func (a *api) patchSettings(ctx context.Context, actor models.Actor, in *changeSettingsInput) (*one[Settings], error) {
	revision, err := in.revision(func() (int, error) {
		s, err := a.Store.Studio(ctx)
		if err != nil {
			return 0, err
		}
		return s.Revision, nil
	})
	if err != nil {
		return nil, err
	}
	s, err := a.Store.ChangeStudio(ctx, actor, revision, models.StudioChange{Name: in.Body.Name, Zone: in.Body.Zone, LeadDays: in.Body.LeadDays,
		ForgetAfterMonths: in.Body.ForgetAfterMonths.change(), LettersByItself: in.Body.LettersByItself, LettersKeepDays: in.Body.LettersKeepDays,
		StaffSecondStep: in.Body.StaffSecondStep})
	if err != nil {
		return nil, err
	}
	return a.settingsView(actor, s), nil
}
