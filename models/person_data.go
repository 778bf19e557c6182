package models

import (
	"context"
	"fmt"
	"time"

	"gorm.io/gorm"
)

// PersonData is everything that is kept about one person, for that person.
type PersonData struct {
	At       time.Time
	Handle   string
	Sections []DataSection
}

// DataSection is what is kept of one kind, row by row and column by column as
// it stands in the database.
type DataSection struct {
	Name string
	Says string // what it is and what it is kept for
	Rows []map[string]any
}

// dataSource is where a section comes from; its query takes the person's id
// once for each mark.
type dataSource struct{ name, says, query string }

const ownAssignments = `(SELECT id FROM assignments WHERE person_id = ?)`

// dataSources are all places in which something about a person is kept. The
// password is only told of: its hash would help nobody but a thief. Nothing
// here tells who else had to do with it.
var dataSources = []dataSource{
	{"person", "Who you are here.", `SELECT id, handle, name, email, email_doubtful_at, unit, terms, password_hash IS NOT NULL AS has_password,
		disabled_at, forgotten_at, revision, created_at, updated_at FROM people WHERE id = ?`},
	{"roles", "What you do here.", `SELECT role FROM person_roles WHERE person_id = ? ORDER BY role`},
	{"sign_ins", "When and with what you signed in. No address is kept; what is over goes after 90 days.", `SELECT agent, second_step, begun_at, used_at, ended_at FROM sign_ins WHERE person_id = ? ORDER BY begun_at, id`},
	{"sign_in_tokens", "What goes on with a sign-in without asking for the password again; only a fingerprint of each is kept.",
		`SELECT created_at, expires_at, used_at, revoked_at FROM refresh_tokens WHERE person_id = ? ORDER BY created_at, id`},
	{"half_sign_ins", "Sign-ins that wait for your code.", `SELECT expires_at FROM half_sign_ins WHERE person_id = ? ORDER BY expires_at`},
	{"second_step", "That you give a code when you sign in, and how often one was wrong. The secret itself is kept encrypted.",
		`SELECT confirmed_at, wrong_tries, wrong_at, created_at FROM second_factors WHERE person_id = ?`},
	{"recovery_codes", "Codes for when your device is lost; only a fingerprint of each is kept.", `SELECT used_at FROM recovery_codes WHERE person_id = ? ORDER BY code_hash`},
	{"invitations", "Links that you were given.", `SELECT assignment_id, created_at, expires_at, used_at, revoked_at FROM invitations WHERE person_id = ? ORDER BY created_at, id`},
	{"repeated_requests", "Answers to what your browser sent, kept for a week so that nothing happens twice.",
		`SELECT key, status, created_at FROM idempotency_keys WHERE person_id = ? ORDER BY created_at, key`},
	{"work", "When you work for the studio, as you or the designer said.", `SELECT days, hours_per_day, stitches_per_hour FROM person_work WHERE person_id = ?`},
	{"away", "When you are away.", `SELECT from_on, until_on FROM person_away WHERE person_id = ? ORDER BY from_on`},
	{"calendar_links", "Your calendar's secret addresses.", `SELECT created_at, revoked_at FROM calendar_links WHERE person_id = ? ORDER BY created_at, id`},

	{"applications", "What you offered to test.", `SELECT a.id, d.name AS design, c.title AS call, a.applied_at, a.accepted, a.finished, a.elsewhere, a.remarks, a.yarn, a.declined_at, a.declined_why
		FROM applications a JOIN test_calls c ON c.id = a.test_call_id JOIN designs d ON d.id = c.design_id WHERE a.person_id = ? ORDER BY a.applied_at, a.id`},
	{"application_sizes", "The sizes that you would make, the one you would like best first.", `SELECT x.application_id, x.place, z.name AS size FROM application_sizes x
		JOIN applications a ON a.id = x.application_id JOIN sizes z ON z.id = x.size_id WHERE a.person_id = ? ORDER BY x.application_id, x.place`},
	{"body", "Your own body measurements, for you and the designer only.", `SELECT b.application_id, b.dimension, b.value, b.unit, b.cm FROM application_body b
		JOIN applications a ON a.id = b.application_id WHERE a.person_id = ? ORDER BY b.application_id, b.dimension`},
	{"consents", "What you agreed to keep confidential: the text, its number and when.", `SELECT c.title AS call, t.number AS version, t.body AS text, k.agreed_at FROM consents k
		JOIN confidentiality_texts t ON t.id = k.text_id JOIN test_calls c ON c.id = t.test_call_id WHERE k.person_id = ? ORDER BY k.agreed_at, t.id`},
	{"assignments", "What you were asked to make.", `SELECT a.id, d.name AS design, c.title AS call, z.name AS size, v.number AS version, a.due_on, a.answer_by, a.assigned_at, a.accepted_at,
		a.withdrawn_at, a.withdrawn_why, a.yarn_sent_on, a.yarn_sent_note FROM assignments a JOIN designs d ON d.id = a.design_id JOIN test_calls c ON c.id = a.test_call_id
		JOIN sizes z ON z.id = a.size_id JOIN versions v ON v.id = a.version_id WHERE a.person_id = ? ORDER BY a.id`},
	{"check_ins", "How far you said you were.", `SELECT assignment_id, at, done, "of", section, note FROM check_ins WHERE assignment_id IN ` + ownAssignments + ` ORDER BY id`},
	{"extensions", "More time that you asked for.", `SELECT assignment_id, asked_at, wanted_on, why, answered_at, granted FROM extensions WHERE assignment_id IN ` + ownAssignments + ` ORDER BY id`},
	{"told", "What you were told and when.", `SELECT c.title AS call, t.kind, t.about, t.told_at FROM told t JOIN test_calls c ON c.id = t.test_call_id WHERE t.person_id = ? ORDER BY t.told_at, t.id`},
	{"letters", "E-mail that was written to you.", `SELECT l.kind, c.title AS call, l.subject, l.body, l.state, l.said, l.created_at, l.ended_at, l.erased_at
		FROM letters l LEFT JOIN test_calls c ON c.id = l.test_call_id WHERE l.person_id = ? ORDER BY l.id`},
	{"letter_refusals", "E-mail that you do not want.", `SELECT letter_group, refused_at FROM letter_refusals WHERE person_id = ? ORDER BY letter_group`},
	{"reports", "What you sent.", `SELECT id, assignment_id, number, sent_at, source, swatch_stitches, swatch_rows, swatch_span, swatch_unit, yarn_value, yarn_unit, hours, note, superseded_at, approved_at
		FROM reports WHERE assignment_id IN ` + ownAssignments + ` OR sent_by = ? ORDER BY assignment_id, number`},
	{"measurements", "What you measured.", `SELECT m.report_id, p.name AS point, m.reading, m.value, m.unit, m.cm FROM measurements m JOIN points p ON p.id = m.point_id JOIN reports r ON r.id = m.report_id
		WHERE r.assignment_id IN ` + ownAssignments + ` ORDER BY m.report_id, p.position, m.reading`},
	{"measure_requests", "What you were asked to measure again.", `SELECT q.assignment_id, p.name AS point, q.why, q.asked_at, q.was_value, q.was_unit, q.answered_at, q.now_value, q.now_unit, q.withdrawn_at
		FROM measure_requests q LEFT JOIN points p ON p.id = q.point_id WHERE q.assignment_id IN ` + ownAssignments + ` ORDER BY q.id`},
	{"remarks", "What you remarked on the text.", `SELECT m.id, d.name AS design, m.place, m.body, m.answer, m.settled_at, m.created_at FROM remarks m JOIN designs d ON d.id = m.design_id WHERE m.person_id = ? ORDER BY m.id`},
	{"photos", "Photos that you added; the pictures themselves come as a file of their own.", `SELECT id, assignment_id, sample_id, caption, width, height, created_at, removed_at
		FROM photos WHERE id IN ` + ownPhotos + ` ORDER BY id`},
	{"corrections", "Corrections of what you found.", `SELECT c.id, d.name AS design, c.number, c.place, c.was, c.is_now, c.created_at, c.in_text_at, c.announced_at, c.withdrawn_at
		FROM corrections c JOIN designs d ON d.id = c.design_id WHERE c.found_by = ? ORDER BY c.id`},
	{"samples", "Pieces that you hold.", `SELECT s.id, d.name AS design, s.label FROM samples s JOIN designs d ON d.id = s.design_id WHERE s.held_by = ? ORDER BY s.id`},
	{"sample_moves", "Pieces that went through your hands.", `SELECT sample_id, at, worked_note, held_note, note FROM sample_moves WHERE by_person = ? OR held_by = ? ORDER BY id`},
	{"gates_opened", "Gates to a release that you opened by hand or shut again.", `SELECT d.name AS design, o.gate, o.reason, o.opened_at, o.taken_back_at FROM gate_overrides o
		JOIN designs d ON d.id = o.design_id WHERE o.opened_by = ? OR o.taken_back_by = ? ORDER BY o.id`},
	{"release_ticks", "What you ticked off when something went out.", `SELECT d.name AS design, i.title AS installment, k.item, k.version, k.ticked_at, k.taken_back_at FROM release_ticks k
		JOIN designs d ON d.id = k.design_id LEFT JOIN installments i ON i.id = k.installment_id WHERE k.ticked_by = ? OR k.taken_back_by = ? ORDER BY k.id`},
	{"released", "Designs that you marked as released, and installments that you marked as aired.", `SELECT d.name AS design, '' AS installment, d.released_at AS at FROM designs d WHERE d.released_by = ?
		UNION ALL SELECT d.name, i.title, i.aired_at FROM installments i JOIN designs d ON d.id = i.design_id WHERE i.aired_by = ? ORDER BY 1, 2`},
	{"changes", "What you changed in the studio, and what was changed about you.", `SELECT at, entity, entity_id, action FROM events WHERE actor_id = ? OR entity = 'person' AND entity_id = ? ORDER BY id`},
}

// PersonData gathers what is kept about a person, from one state of the
// database.
func (s *Store) PersonData(ctx context.Context, personID string) (*PersonData, error) {
	out := &PersonData{At: s.Now()}
	err := s.snapshot(ctx, func(db *gorm.DB) error {
		person, err := personIn(db, personID)
		if err != nil {
			return err
		}
		out.Handle = person.Handle
		for _, source := range dataSources {
			section := DataSection{Name: source.name, Says: source.says, Rows: []map[string]any{}}
			if err := db.Raw(source.query, marks(source.query, personID)...).Scan(&section.Rows).Error; err != nil {
				return fmt.Errorf("what is kept, %s: %w", source.name, err)
			}
			for _, row := range section.Rows { // SQLite has no truth of its own
				if n, ok := row["has_password"].(int64); ok {
					row["has_password"] = n != 0
				}
			}
			out.Sections = append(out.Sections, section)
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	return out, nil
}

// marks repeats a value for each mark of a statement.
func marks(statement string, value any) []any {
	var out []any
	for _, r := range statement {
		if r == '?' {
			out = append(out, value)
		}
	}
	return out
}
