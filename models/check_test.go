package models_test

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"gorm.io/gorm"

	"tenter/models"
	"tenter/models/modelstest"
)

// anInstallment gives the first design one.
const anInstallment = `INSERT INTO installments (id, design_id, position, title, covers, link, revision, created_at, updated_at)
	SELECT 'part', min(id), 1, 'Part', '', '', 1, min(created_at), min(created_at) FROM designs`

// TestCheckFindsWhatIsBroken writes past the Store what no change through it
// can bring about, and looks for the rule that is said to be broken.
func TestCheckFindsWhatIsBroken(t *testing.T) {
	rows := []struct {
		name, says string
		both       bool
		broken     []string
	}{
		{"two current reports", "exactly one current sending", true, []string{`DROP INDEX reports_current`,
			`INSERT INTO reports (id, assignment_id, number, sent_at, source, note, revision, created_at, updated_at) SELECT 'second', assignment_id, 2, sent_at, 'tester', '', 1, created_at, updated_at FROM reports WHERE id = (SELECT min(id) FROM reports)`}},
		{"no current report", "exactly one current sending", true, []string{`UPDATE reports SET superseded_at = sent_at WHERE id = (SELECT min(id) FROM reports)`}},
		{"a number that is missing", "none is missing", true, []string{`UPDATE reports SET number = 3 WHERE id = (SELECT min(id) FROM reports)`}},
		{"a count changed in a given version", "never changes", true, []string{`UPDATE count_values SET value = value + 1 WHERE count_id = (SELECT min(id) FROM counts)`}},
		{"a rule added to a given version", "never changes", true, []string{`INSERT INTO rules (id, version_id, position, name, kind, expr) SELECT 'rule', max(id), 1, 'new', 'holds', '1 == 1' FROM versions`}},
		{"a version that was never given out is made", "was given out", true, []string{`UPDATE versions SET given_out_at = NULL`}},
		{"a size of another design", "size is of the design", true, []string{`UPDATE assignments SET size_id = (SELECT max(id) FROM sizes WHERE design_id <> assignments.design_id) WHERE id = (SELECT min(id) FROM assignments)`}},
		{"a point of another design", "measures points of its design", true, []string{`UPDATE measurements SET point_id = (SELECT max(id) FROM points) WHERE report_id = (SELECT min(id) FROM reports) AND point_id = (SELECT min(id) FROM points)`}},
		{"a length that is not what was entered", "what was entered, in measurements", true, []string{`UPDATE measurements SET cm = cm * 2.54 WHERE report_id = (SELECT min(id) FROM reports)`}},
		{"a correction that is mended before it was wrong", "in a later version", true, []string{correctionOf(`design_id`, `id`)}},
		{"a correction of another design's version", "about versions of its design", true, []string{correctionOf(`(SELECT max(id) FROM designs)`, `NULL`)}},
		{"a correction for another design's size", "for sizes of its design", true, []string{correctionOf(`design_id`, `NULL`),
			`INSERT INTO correction_sizes (correction_id, size_id) SELECT c.id, (SELECT max(z.id) FROM sizes z WHERE z.design_id <> c.design_id) FROM corrections c`}},
		{"somebody without a role", "has a role", true, []string{`DELETE FROM person_roles WHERE person_id = (SELECT min(id) FROM people)`}},
		{"a forgotten person with an address", "no name, address or password left", true, []string{`UPDATE people SET forgotten_at = created_at, email = 'still@here.example' WHERE id = (SELECT min(id) FROM people)`}},
		{"a photo without its pictures", "a picture in each size", true, []string{`INSERT INTO photos (id, assignment_id, caption, sent_hash, width, height, revision, created_at, updated_at)
			SELECT 'photo', id, '', 'hash', 1, 1, 1, created_at, updated_at FROM assignments WHERE id = (SELECT min(id) FROM assignments)`}},
		{"a version to go out that there isn't", "goes out is one of the design's", true, []string{`UPDATE designs SET out_version = 99 WHERE id = (SELECT min(id) FROM designs)`}},
		{"a tick of another design", "a tick is of an installment of its design", true, []string{anInstallment,
			`INSERT INTO release_ticks (id, design_id, installment_id, item, ticked_at) SELECT 'tick', max(id), 'part', 'captions', max(created_at) FROM designs`}},
		{"a gate opened for another design", "a gate opened by hand is of an installment of its design", true, []string{anInstallment,
			`INSERT INTO gate_overrides (id, design_id, installment_id, gate, reason, why, facts, opened_at) SELECT 'hand', max(id), 'part', 'slips', 'x', 'x', '[]', max(created_at) FROM designs`}},
		{"an event of nobody", "an event's actor is there", true, []string{`UPDATE events SET actor_id = 'gone' WHERE id = (SELECT min(id) FROM events)`}},
		{"a row that points at nothing", "point at nothing in people", false, []string{`PRAGMA foreign_keys = OFF`, `INSERT INTO person_roles (person_id, role) VALUES ('nobody', 'maker')`}},
	}
	for _, row := range rows {
		t.Run(strings.ReplaceAll(row.name, " ", "-"), func(t *testing.T) {
			modelstest.Each(t, func(t *testing.T, store *models.Store, _ *modelstest.Clock) {
				if !row.both && store.Dialect() != "sqlite" {
					t.Skip("PostgreSQL holds this itself")
				}
				db := twoDesigns(t, store)
				faults, err := store.Check(context.Background())
				require.NoError(t, err)
				require.Empty(t, faults)
				for _, statement := range row.broken {
					require.NoError(t, db.Exec(statement).Error, statement)
				}
				faults, err = store.Check(context.Background())
				require.NoError(t, err)
				require.NotEmpty(t, faults)
				require.Contains(t, fmt.Sprint(faults), row.says)
			})
		})
	}
}

// correctionOf writes a correction of the first version, with what it belongs
// to and where it is mended.
func correctionOf(design, mended string) string {
	return `INSERT INTO corrections (id, design_id, number, place, was, is_now, why, count_name, since_version, mended_version, found_words, finding_key, in_text_at, withdrawn_why, revision, created_at, updated_at)
		SELECT 'correction', ` + design + `, 1, 'a', 'b', 'c', '', '', id, ` + mended + `, '', '', CASE WHEN ` + mended + ` IS NULL THEN NULL ELSE created_at END, '', 1, created_at, created_at
		FROM versions WHERE id = (SELECT min(id) FROM versions)`
}

// twoDesigns fills a store with two designs of which the first has a version
// that was given out by the Store itself.
func twoDesigns(t *testing.T, store *models.Store) *gorm.DB {
	t.Helper()
	modelstest.FillDesigns(t, store, 2, modelstest.Round{Sizes: 2, Points: 2, Reports: 2})
	db := modelstest.Rows(t, store)
	require.NoError(t, db.Exec(`UPDATE versions SET given_out_at = NULL, revision = 1`).Error)
	ctx, actor := context.Background(), models.System("test")
	p, err := store.AddPerson(ctx, actor, models.NewPerson{Handle: "fern", Roles: []models.Role{models.Tester}})
	require.NoError(t, err)
	var calls []models.TestCall
	require.NoError(t, db.Order("id").Find(&calls).Error)
	for _, call := range calls {
		var slot models.Slot
		require.NoError(t, db.Where("test_call_id = ?", call.ID).Take(&slot).Error)
		require.NoError(t, db.Exec(`UPDATE slots SET most = 9`).Error)
		_, err = store.Assign(ctx, actor, call.ID, models.NewAssignment{PersonID: p.ID, SizeID: slot.SizeID})
		require.NoError(t, err)
	}
	return db
}
