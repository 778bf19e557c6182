package handlers

import (
	"context"
	"net/http"
	"slices"

	"tenter/models"
)

// self stands for the tester whom something is about.
const self models.Role = "self"

// fact is something that is known of a tester, and who sees it. Another tester
// sees nothing, and neither does anybody who is not signed in.
type fact struct {
	name, what string
	seenBy     []models.Role
	why        string
}

func everybodyHere(of ...models.Role) []models.Role { return append(of, models.Staff()...) }

// facts are what each role can see of a tester. The test of this table walks
// every answer of every role and looks for each of them.
var facts = []fact{
	{"handle", "Handle", everybodyHere(self), "So that the studio can talk about a report without a name."},
	{"name", "Name", []models.Role{self, models.Designer}, "The designer writes to testers and thanks them."},
	{"email", "E-mail address", []models.Role{self, models.Designer}, "The designer writes to testers."},
	{"unit_terms", "The unit you measure in and the stitch names you read", everybodyHere(self), "To read your report as you meant it."},
	{"application", "What you offered: sizes, tests done before, yarn, remarks", everybodyHere(self), "To find testers for every size."},
	{"body", "Your own body measurements", []models.Role{self, models.Designer}, "Only to find a size for you, and only if you give them."},
	{"assignment", "Your size and your days, and why you withdrew", everybodyHere(self), "To know who makes what until when."},
	{"report", "What you measured, your gauge, yarn, hours and notes", everybodyHere(self), "This is what the test is for."},
	{"photo", "Your photos of the piece, and what you wrote under them, from your first report on", everybodyHere(self), "So that the studio sees what the numbers mean."},
	{"remark", "Your remarks on the text", everybodyHere(self), "So that the text gets better."},
	{"correction", "That a correction of the text is of what you found", everybodyHere(self), "So that the studio knows whom to ask, and can thank you."},
	{"letter", "E-mail that the studio wrote to you, and whether it arrived", []models.Role{self, models.Designer}, "So that you are told what you need, and not twice."},
	{"consent", "Which text of confidentiality you agreed to, and when", everybodyHere(self), "So that everybody knows who may be told what."},
	{"sign_ins", "Where and when you signed in", []models.Role{self, models.Designer}, "So that you can see whether somebody else did."},
}

// Privacy is who sees what of a tester, and for how long it is kept.
type Privacy struct {
	Facts             []PrivacyFact `json:"facts"`
	ForgetAfterMonths *int          `json:"forget_after_months,omitempty" doc:"Testers who have not taken part for so long are forgotten; absent: only when they ask."`
}

// PrivacyFact is something that is known of a tester.
type PrivacyFact struct {
	Name   string        `json:"name"`
	What   string        `json:"what"`
	SeenBy []models.Role `json:"seen_by" doc:"Roles; self is the tester whom it is about."`
	Why    string        `json:"why"`
}

func (a *api) privacy() {
	add(a, operation("get-privacy", http.MethodGet, "/privacy", "Who sees what of a tester", "Studio"), a.getPrivacy)
}

func (a *api) getPrivacy(ctx context.Context, _ models.Actor, _ *struct{}) (*plain[Privacy], error) {
	studio, err := a.Store.Studio(ctx)
	if err != nil {
		return nil, err
	}
	out := &plain[Privacy]{Privacy{ForgetAfterMonths: studio.ForgetAfterMonths}}
	for _, f := range facts {
		out.Body.Facts = append(out.Body.Facts, PrivacyFact{f.name, f.what, slices.Clone(f.seenBy), f.why})
	}
	return out, nil
}
