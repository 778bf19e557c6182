package models

import (
	"database/sql"
	"fmt"

	"gorm.io/gorm"
)

// sizeTesters is how one size's testers stand over all calls of its design.
type sizeTesters struct {
	designID, sizeID string
	called           bool // some call has places for it
	Testers
	late int  // overdue, in calls that run
	next Date // the first day on which a report is due, in calls that run; "" for none
}

// testersBySize counts, for the designs' sizes, who makes them and what came,
// in one statement. What was asked for is the most that any call asked for.
// Whoever has a size in a closed call and never reported is not counted: no
// report is to come from there.
func testersBySize(db *gorm.DB, designIDs []string, today Date) ([]sizeTesters, error) {
	var out []sizeTesters
	err := query(db, func(rows *sql.Rows) error {
		var z sizeTesters
		err := rows.Scan(&z.designID, &z.sizeID, &z.called, &z.Fewest, &z.Wanted, &z.Most, &z.Assigned, &z.Accepted, &z.Reported, &z.Approved, &z.late, &z.next)
		out = append(out, z)
		return err
	}, `SELECT z.design_id, z.id, max(CASE WHEN s.size_id IS NULL THEN 0 ELSE 1 END) = 1,
			coalesce(max(s.fewest), 0), coalesce(max(s.wanted), 0), coalesce(max(s.most), 0),
			count(a.id), count(a.accepted_at), count(a.report_id), count(a.approved_at),
			count(CASE WHEN a.report_id IS NULL AND a.due_on < @today THEN 1 END), coalesce(min(CASE WHEN a.report_id IS NULL THEN a.due_on END), '')
		FROM sizes z
		LEFT JOIN (SELECT l.size_id, max(l.fewest) AS fewest, max(l.wanted) AS wanted, max(l.most) AS most
			FROM slots l JOIN test_calls c ON c.id = l.test_call_id WHERE c.design_id IN @designs GROUP BY l.size_id) s ON s.size_id = z.id
		LEFT JOIN (SELECT m.id, m.size_id, m.accepted_at, m.due_on, p.id AS report_id, p.approved_at
			FROM assignments m JOIN test_calls c ON c.id = m.test_call_id
			LEFT JOIN reports p ON p.assignment_id = m.id AND p.superseded_at IS NULL
			WHERE m.design_id IN @designs AND m.withdrawn_at IS NULL AND (c.closed_at IS NULL OR p.id IS NOT NULL)) a ON a.size_id = z.id
		WHERE z.design_id IN @designs GROUP BY z.design_id, z.id ORDER BY z.design_id`, map[string]any{"designs": designIDs, "today": today})
	if err != nil {
		return nil, fmt.Errorf("testers of sizes: %w", err)
	}
	return out, nil
}
