package models

import (
	"context"
	"fmt"
	"strings"
)

// HouseNeeds is what needs the designer and belongs to no design: programs that
// are told nothing any more, since they failed for too long, letters that could
// not be sent, and letters that the mail server refuses for a reason that is not
// their readers'. For others there is none. Two statements, however many there
// are. Where is the path of the screen.
func (s *Store) HouseNeeds(ctx context.Context, actor Actor) ([]Need, error) {
	if !actor.Has(Designer) {
		return nil, nil
	}
	var names []string
	// Of one that was stopped by hand somebody knows already.
	err := s.read(ctx).Model(&Webhook{}).Where("disabled_at IS NOT NULL AND ended_at IS NULL AND disabled_why <> ?", stoppedByHand).Order("disabled_at, id").Pluck("name", &names).Error
	if err != nil {
		return nil, fmt.Errorf("stopped webhooks: %w", err)
	}
	var letters struct{ Failed, Refused int }
	// Letters whose words were erased can't be sent again. A reply that begins
	// with 5 is lasting (RFC 5321, section 4.2.1): a letter that waits after one
	// was refused for its sender or the way it came.
	err = s.read(ctx).Model(&Letter{}).Where("state = ? AND erased_at IS NULL OR state = ? AND said LIKE '5__ %'", LetterFailed, LetterWaiting).
		Select("coalesce(sum(CASE WHEN state = ? THEN 1 ELSE 0 END), 0) AS failed, coalesce(sum(CASE WHEN state = ? THEN 1 ELSE 0 END), 0) AS refused", LetterFailed, LetterWaiting).
		Scan(&letters).Error
	if err != nil {
		return nil, fmt.Errorf("letters that failed: %w", err)
	}
	var needs []Need
	if len(names) > 0 {
		needs = append(needs, Need{Where: "/settings#webhooks",
			Sentence: fmt.Sprintf("%s told nothing any more, having failed for too long: “%s”.", countedVerb(len(names), "webhook", "is", "are"), strings.Join(names, "”, “"))})
	}
	if letters.Failed > 0 {
		needs = append(needs, Need{Sentence: counted(letters.Failed, "letter") + " could not be sent.", Where: "/letters#failed"})
	}
	if letters.Refused > 0 {
		needs = append(needs, Need{Where: "/letters",
			Sentence: fmt.Sprintf("The mail server refuses what the studio sends: %s. See what it says and mend the settings; it is tried again.", countedVerb(letters.Refused, "letter", "waits", "wait"))})
	}
	return needs, nil
}
