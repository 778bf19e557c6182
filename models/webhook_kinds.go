package models

import (
	"slices"
	"strings"
)

// NoticeKind is a kind of thing of whose changes another program can be told.
type NoticeKind struct {
	Name string // the entity of the event
	Says string
}

// trialKind is of what the designer sends to see whether it arrives.
const trialKind = "trial"

// NoticeKinds lists them. People, sign-ins and links are not among them: what
// goes out names nobody.
func NoticeKinds() []NoticeKind {
	return []NoticeKind{
		{"design", "A design was added or changed."},
		{"version", "A version of the counts was added, changed or given out."},
		{"count sheet", "The counts of a version were changed."},
		{"test call", "A test call was added, changed or closed."},
		{"application", "Somebody offered to test, or changed their offer."},
		{"assignment", "A tester was given a size, accepted or withdrew."},
		{"report", "A report was sent or approved."},
		{"remark", "A remark on the text was made or answered."},
		{"finding", "A finding about the fit was decided."},
		{"correction", "A correction was written, taken into the text or announced."},
		{"yarn", "The amounts of yarn were changed."},
		{"sample", "A sample was added, worked on, measured or handed on."},
		{"installment", "An installment was added, changed or went a step further."},
		{"take", "A take was added or changed."},
		{"slip", "A slip in a take was noted or mended."},
	}
}

func noticed(entity string) bool {
	return slices.ContainsFunc(NoticeKinds(), func(k NoticeKind) bool { return k.Name == entity })
}

func noticeNames() []string {
	kinds := NoticeKinds()
	names := make([]string, len(kinds))
	for i, k := range kinds {
		names[i] = k.Name
	}
	return names
}

// Wanted is of what a webhook is told.
func (w Webhook) Wanted() []string {
	if w.Kinds == "" {
		return []string{}
	}
	return strings.Split(w.Kinds, "\n")
}
