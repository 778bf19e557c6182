package models

import (
	"context"
	"fmt"
	"strings"
)

// HouseNeeds is what needs the designer and belongs to no design: programs that
// are told nothing any more, since they failed for too long, and letters that
// could not be sent. For others there is none. Two statements, however many
// there are.
// Where is the path of the screen.
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
	var failed int64
	// Letters whose words were erased can't be sent again.
	if err := s.read(ctx).Model(&Letter{}).Where("state = ? AND erased_at IS NULL", LetterFailed).Count(&failed).Error; err != nil {
		return nil, fmt.Errorf("letters that failed: %w", err)
	}
	var needs []Need
	if len(names) > 0 {
		needs = append(needs, Need{Where: "/settings#webhooks",
			Sentence: fmt.Sprintf("%s told nothing any more, having failed for too long: “%s”.", countedVerb(len(names), "webhook", "is", "are"), strings.Join(names, "”, “"))})
	}
	if failed > 0 {
		needs = append(needs, Need{Sentence: counted(int(failed), "letter") + " could not be sent.", Where: "/letters#failed"})
	}
	return needs, nil
}
