package models

import (
	"fmt"
	"strings"
)

// erasedText stands where a text may not be empty.
const erasedText = "(erased on request)"

// forgetting is what happens to a person's rows. ? is their id, and :now the
// moment. What has a revision is raised, so that nobody overwrites what they
// read before.
var forgetting = []string{
	`DELETE FROM refresh_tokens WHERE person_id = ?`,
	`DELETE FROM sign_ins WHERE person_id = ?`,
	`DELETE FROM half_sign_ins WHERE person_id = ?`,
	`DELETE FROM recovery_codes WHERE person_id = ?`,
	`DELETE FROM second_factors WHERE person_id = ?`,
	`DELETE FROM invitations WHERE person_id = ?`,
	`DELETE FROM calendar_links WHERE person_id = ?`,
	`DELETE FROM person_work WHERE person_id = ?`,
	`DELETE FROM person_away WHERE person_id = ?`,
	`DELETE FROM person_roles WHERE person_id = ?`,
	`DELETE FROM consents WHERE person_id = ?`,
	`DELETE FROM told WHERE person_id = ?`,
	`DELETE FROM letters WHERE person_id = ?`,
	`DELETE FROM letter_refusals WHERE person_id = ?`,
	`DELETE FROM idempotency_keys WHERE person_id = ?`,
	// Answers to others may name anybody. The keys stay, so that nothing
	// happens twice; a repeated request is told to look for itself.
	`UPDATE idempotency_keys SET status = 0, headers = '{}', body = '' WHERE status <> 0`,

	`DELETE FROM application_body WHERE application_id IN (SELECT id FROM applications WHERE person_id = ?)`,
	// An offer of which nothing came tells nothing but who made it.
	`DELETE FROM applications WHERE person_id = ? AND NOT EXISTS
		(SELECT 1 FROM assignments a WHERE a.test_call_id = applications.test_call_id AND a.person_id = applications.person_id)`,
	`UPDATE applications SET remarks = '', yarn = '', declined_why = '', revision = revision + 1, updated_at = :now WHERE person_id = ?`,

	`DELETE FROM extensions WHERE answered_at IS NULL AND assignment_id IN ` + ownAssignments,
	`UPDATE extensions SET why = '' WHERE assignment_id IN ` + ownAssignments,
	`UPDATE check_ins SET note = '' WHERE assignment_id IN ` + ownAssignments,
	`UPDATE measure_requests SET why = '', withdrawn_at = CASE WHEN answered_at IS NULL THEN coalesce(withdrawn_at, :now) ELSE withdrawn_at END,
		revision = revision + 1, updated_at = :now WHERE assignment_id IN ` + ownAssignments,
	`UPDATE reports SET note = '', revision = revision + 1, updated_at = :now WHERE assignment_id IN ` + ownAssignments,
	`UPDATE remarks SET place = '', body = '` + erasedText + `', answer = '', settled_at = coalesce(settled_at, :now), revision = revision + 1, updated_at = :now
		WHERE assignment_id IN ` + ownAssignments,
	// A face or a home may show in a picture, in a sample's too.
	`DELETE FROM photo_files WHERE photo_id IN ` + ownPhotos,
	`UPDATE photos SET caption = '', sent_hash = '', removed_at = coalesce(removed_at, :now), revision = revision + 1, updated_at = :now WHERE id IN ` + ownPhotos,
	// What was corrected stays, as the find of nobody.
	`UPDATE corrections SET found_by = NULL, revision = revision + 1, updated_at = :now WHERE found_by = ?`,
	// Whoever has not sent anything will not; their place is free again.
	`UPDATE assignments SET withdrawn_at = coalesce(withdrawn_at, :now) WHERE person_id = ? AND NOT EXISTS (SELECT 1 FROM reports r WHERE r.assignment_id = assignments.id)`,
	`UPDATE assignments SET withdrawn_why = '', yarn_sent_note = '', revision = revision + 1, updated_at = :now WHERE person_id = ?`,
}

// ownPhotos are the photos that somebody added.
const ownPhotos = `(SELECT p.id FROM photos p LEFT JOIN assignments a ON a.id = p.assignment_id WHERE coalesce(a.person_id, p.added_by) = ?)`

func (t *tx) forgetRows(personID string) error {
	for _, statement := range forgetting {
		var args []any
		for i := range statement {
			switch {
			case statement[i] == '?':
				args = append(args, personID)
			case strings.HasPrefix(statement[i:], ":now"):
				args = append(args, t.now)
			}
		}
		if err := t.Exec(strings.ReplaceAll(statement, ":now", "?"), args...).Error; err != nil {
			return fmt.Errorf("forget: %w", err)
		}
	}
	return nil
}
