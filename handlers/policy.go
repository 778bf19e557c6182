package handlers

import (
	"slices"

	"tenter/models"
)

// rule says who may carry out an operation. The zero rule lets nobody in, so
// an operation without a row in the table is refused.
type rule struct {
	public bool          // no sign-in needed
	roles  []models.Role // any of these
	own    bool          // a tester only for what is theirs; the store answers "not found" otherwise
	bare   bool          // also without the second step that the studio wants
}

func (r rule) allows(a models.Actor) bool { return r.public || a.Has(r.roles...) }

var (
	anybody  = rule{public: true}
	signedIn = rule{roles: models.Roles()}
	settling = rule{roles: models.Roles(), bare: true} // one's own sign-in
	staff    = rule{roles: models.Staff()}
	designer = rule{roles: []models.Role{models.Designer}}

	techEditors = rule{roles: []models.Role{models.TechEditor}}
	editors     = rule{roles: []models.Role{models.Designer, models.TechEditor}}
	sampleHands = rule{roles: []models.Role{models.Designer, models.Maker, models.Filmer}}
	filmers     = rule{roles: []models.Role{models.Designer, models.Filmer}}

	staffOrOwn    = rule{roles: models.Roles(), own: true}
	designerOrOwn = rule{roles: []models.Role{models.Designer, models.Tester}, own: true}
	ownTester     = rule{roles: []models.Role{models.Tester}, own: true}
)

// policy is the one table of who may do what, by operation id. The role-matrix
// test walks every operation of the API description through it.
var policy = map[string]rule{
	// sign-in
	"sign-in":           anybody,
	"second-step":       anybody,
	"refresh-sign-in":   anybody,
	"sign-out":          settling,
	"look-invitation":   anybody,
	"accept-invitation": anybody,
	"get-me":            settling,
	"change-me":         signedIn,
	"change-password":   settling,

	"list-my-sign-ins":      settling,
	"end-my-sign-in":        settling,
	"end-my-other-ones":     settling,
	"get-second-step":       settling,
	"prepare-second-step":   settling,
	"confirm-second-step":   settling,
	"renew-recovery-codes":  signedIn,
	"remove-my-second-step": signedIn,
	"get-person-sign-in":    designer,
	"end-person-sign-ins":   designer,
	"remove-second-step":    designer,

	// studio and people
	"get-studio-settings":    anybody,
	"change-studio-settings": designer,
	"list-people":            staff,
	"add-person":             designer,
	"get-person":             staff,
	"change-person":          designer,
	"invite-person":          designer,

	// a person's data
	"get-my-data":       signedIn,
	"forget-me":         signedIn,
	"get-person-data":   designer,
	"forget-person":     designer,
	"list-idle-testers": designer,
	"get-privacy":       anybody,

	// designs and their counts
	"list-designs":    staff,
	"add-design":      designer,
	"get-design":      staff,
	"change-design":   designer,
	"put-sizes":       designer,
	"put-points":      designer,
	"list-history":    staff,
	"watch-design":    staff,
	"watch-studio":    staff,
	"get-sheet":       staff,
	"add-version":     designer,
	"change-version":  designer,
	"put-sheet":       designer,
	"read-count-line": staff,

	// versions: what changed, who made which, the tech editor's word
	"list-versions":     staff,
	"compare-versions":  staff,
	"propose-counts":    staff,
	"get-sign-off":      staff,
	"sign-off-version":  techEditors,
	"withdraw-sign-off": editors,

	// body tables of the studio's own
	"list-body-tables": staff,
	"add-body-table":   designer,
	"put-body-table":   designer,

	// what to watch for in a design
	"get-design-cautions": staff,
	"put-features":        designer,
	"acknowledge-caution": designer,
	"take-back-caution":   designer,

	// release
	"get-release":    staff,
	"open-gate":      designer,
	"take-back-gate": designer,
	"tick-release":   filmers, // that the text is out is the designer's to mark, with change-design

	// testing
	"list-calls":         staff,
	"add-call":           designer,
	"get-call":           staff,
	"change-call":        designer,
	"list-applications":  staff,
	"add-application":    designer,
	"change-application": designer,
	"preview-applicants": designer,
	"import-applicants":  designer,
	"list-assignments":   staff,
	"add-assignment":     designer,
	"plan-call":          staff,
	"take-plan":          designer,

	// a call from its public link to the thank-you
	"get-sign-up":           designer,
	"put-sign-up":           designer,
	"renew-sign-up":         designer,
	"look-sign-up":          anybody, // with the link's secret
	"apply-sign-up":         anybody,
	"advise-size":           anybody,
	"get-applicant-body":    designerOrOwn,
	"remove-applicant-body": designerOrOwn,
	"list-my-bodies":        signedIn,
	"check-in":              ownTester,
	"ask-for-time":          ownTester,
	"answer-time":           designer,
	"list-reminders":        designer,
	"mark-told":             designer,
	"get-call-summary":      staff,

	// letters by e-mail
	"get-post":             designer,
	"list-due-letters":     designer,
	"list-letters":         designer,
	"get-letter":           designer,
	"get-letter-html":      designer,
	"get-reminder-html":    designer,
	"get-reminder-text":    designer,
	"write-reminders":      designer,
	"write-invitation":     designer,
	"write-tester":         designer,
	"write-test-letter":    designer,
	"withdraw-letter":      designer,
	"try-letter-again":     designer,
	"get-my-letters":       signedIn,
	"choose-my-letters":    signedIn,
	"look-at-stop-letters": anybody, // with the link's secret
	"stop-letters":         anybody,

	"list-my-assignments": signedIn,
	"get-assignment":      staffOrOwn,
	"change-assignment":   designer,
	"invite-tester":       designer,
	"accept-assignment":   ownTester,
	"withdraw-assignment": designerOrOwn,

	// reports and remarks
	"send-report":             ownTester,
	"list-reports":            staffOrOwn,
	"check-entry":             staffOrOwn,
	"get-report":              staffOrOwn,
	"approve-report":          designer,
	"compare-design":          staff,
	"preview-reports":         designer,
	"import-reports":          designer,
	"list-remarks":            staff,
	"add-remark":              staff,
	"list-assignment-remarks": staffOrOwn,
	"add-assignment-remark":   ownTester,
	"answer-remark":           editors,

	// photos
	"list-report-photos": staffOrOwn,
	"add-report-photo":   ownTester,
	"list-sample-photos": staff,
	"add-sample-photo":   sampleHands,
	"get-photo":          staffOrOwn,
	"get-picture":        staffOrOwn,
	"caption-photo":      staffOrOwn, // the store keeps it to whoever added it and the designer
	"remove-photo":       staffOrOwn, // likewise
	"get-my-photos":      signedIn,
	"get-person-photos":  designer,

	// fit and yarn
	"get-fit":                  staff,
	"get-fit-numbers":          staff,
	"decide-finding":           designer,
	"ask-measure-again":        designer,
	"withdraw-measure-request": designer,
	"get-yarn":                 staff,
	"put-yarn":                 designer,

	// corrections
	"list-corrections":   staff,
	"get-correction":     staff,
	"get-changed-count":  staff,
	"add-correction":     editors,
	"put-correction":     editors,
	"move-correction":    designer,
	"read-corrections":   anybody, // of a released design, what was announced
	"follow-corrections": anybody,

	// the studio at a glance
	"get-board":  staff,
	"get-studio": staff,

	// samples
	"list-samples":            staff,
	"add-sample":              designer,
	"get-design-gauge":        staff,
	"get-sample":              staff,
	"change-sample":           sampleHands, // the store keeps what a sample is for to the designer
	"put-sample-measurements": sampleHands,
	"move-sample":             sampleHands,

	// filming
	"list-installments":  staff,
	"add-installment":    designer,
	"get-installment":    staff,
	"change-installment": filmers,
	"remove-installment": designer,
	"add-take":           filmers,
	"get-take":           staff,
	"change-take":        filmers,
	"add-slip":           filmers,
	"get-slip":           staff,
	"change-slip":        filmers,
	"get-states":         staff,
	"put-states":         filmers,
	"get-making":         staff,
	"look-ahead":         staff,
	"add-shot":           filmers,
	"get-shot":           staff,
	"change-shot":        filmers,
	"remove-shot":        filmers,
	"put-take-shots":     filmers,
	"plan-filming":       staff,
	"get-shoot-sheet":    staff,
	"get-chapters-vtt":   staff,
	"get-chapters-text":  staff,
	"get-cards":          staff,
	"get-edit-notes":     staff,

	// calendars and working days
	"get-schedule":       staff,
	"try-schedule":       staff,
	"put-estimates":      designer,
	"get-studio-week":    staff,
	"get-calendar-link":  signedIn,
	"make-calendar-link": signedIn,
	"end-calendar-link":  signedIn,
	"read-calendar":      anybody, // who has the secret address
	"get-work":           staff,
	"put-work":           staff, // the store keeps other people's to the designer

	// published tables and cautions
	"list-body-charts":      signedIn,
	"list-head-sizes":       signedIn,
	"list-fits":             signedIn,
	"list-garment-lengths":  signedIn,
	"list-body-dimensions":  signedIn,
	"list-size-codes":       signedIn,
	"list-garment-points":   signedIn,
	"list-tools":            signedIn,
	"list-yarn-classes":     signedIn,
	"hint-gauge":            signedIn,
	"list-terms":            signedIn,
	"rewrite-terms":         signedIn,
	"list-surveys":          signedIn,
	"cover-sizes":           staff,
	"select-cautions":       staff,
	"list-caution-features": staff,
	"list-safety-rules":     staff,

	// files out
	"get-studio-archive": designer,
	"list-tables":        staff,
	"get-design-table":   staff, // the store keeps some tables, and addresses in others, to the designer
	"get-studio-table":   staff,

	// other programs that are told of what happens
	"list-webhooks":           designer,
	"list-webhook-kinds":      designer,
	"add-webhook":             designer,
	"change-webhook":          designer,
	"renew-webhook-secret":    designer,
	"end-webhook":             designer,
	"try-webhook":             designer,
	"list-webhook-deliveries": designer,
	"deliver-again":           designer,

	// calculations
	"calculate": signedIn,
}

// roles returns the roles that an operation lets in, for the documentation.
func (r rule) names() []string {
	if r.public {
		return []string{"anybody"}
	}
	out := make([]string, 0, len(r.roles))
	for _, role := range r.roles {
		out = append(out, string(role))
	}
	slices.Sort(out)
	return out
}

// Allowed returns who may carry out an operation, and whether the table has a
// row for it.
func Allowed(operationID string) (func(models.Actor) bool, bool) {
	row, known := policy[operationID]
	return row.allows, known
}
