package models

import (
	"database/sql"
	"fmt"
)

// What the gates need of each design, a statement or few for all of them.

func (r gateReading) versions() error {
	var rows []Version
	if err := r.db.Where("design_id IN ?", r.ids).Order("number").Find(&rows).Error; err != nil {
		return fmt.Errorf("versions: %w", err)
	}
	for _, v := range rows {
		g := r.of[v.DesignID]
		g.versions = append(g.versions, v)
		g.latest = v
		if n := g.design.OutVersion; n == nil || *n == v.Number {
			g.out = v
		}
	}
	return nil
}

// calls reads the newest call of each design.
func (r gateReading) calls() error {
	return query(r.db, func(rows *sql.Rows) error {
		var (
			design string
			call   BoardCall
		)
		if err := rows.Scan(&design, &call.ID, &call.Title, &call.DueOn, &call.Closed, &call.VersionNumber); err != nil {
			return err
		}
		r.of[design].call = &call
		return nil
	}, `SELECT c.design_id, c.id, c.title, c.due_on, c.closed_at IS NOT NULL, v.number FROM test_calls c JOIN versions v ON v.id = c.version_id
		WHERE c.design_id IN ? AND c.id = (SELECT max(n.id) FROM test_calls n WHERE n.design_id = c.design_id)`, r.ids)
}

// sizes reads the sizes and, for each, how its testers stand over all calls.
func (r gateReading) sizes() error {
	var rows []Size
	if err := r.db.Where("design_id IN ?", r.ids).Order("position").Find(&rows).Error; err != nil {
		return fmt.Errorf("sizes: %w", err)
	}
	for _, z := range rows {
		g := r.of[z.DesignID]
		g.sizes = append(g.sizes, z)
	}
	testers, err := testersBySize(r.db, r.ids, r.today)
	for _, z := range testers {
		g := r.of[z.designID]
		if g.call == nil {
			continue
		}
		g.testers[z.sizeID] = z.Testers
		if z.called {
			g.awaited = g.awaited.and(awaited{testers: z.Assigned - z.Reported, late: z.late, next: z.next})
		}
	}
	return err
}

func (r gateReading) samples() error {
	return query(r.db, func(rows *sql.Rows) error {
		var s Sample
		err := rows.Scan(&s.ID, &s.DesignID, &s.SizeID, &s.Label, &s.Purpose, &s.WorkedThrough, &s.StateID, &s.WorkedNote, &s.HeldBy, &s.Holder, &s.HeldNote,
			&s.Before.Stitches, &s.Before.Rows, &s.Before.Span, &s.Before.Unit, &s.After.Stitches, &s.After.Rows, &s.After.Span, &s.After.Unit)
		if err == nil {
			g := r.of[s.DesignID]
			g.samples = append(g.samples, s)
		}
		return err
	}, `SELECT s.id, s.design_id, s.size_id, s.label, s.purpose, s.worked_through, s.state_id, s.worked_note, s.held_by, coalesce(p.handle, ''), s.held_note,
			s.before_stitches, s.before_rows, s.before_span, s.before_unit, s.after_stitches, s.after_rows, s.after_span, s.after_unit
		FROM samples s LEFT JOIN people p ON p.id = s.held_by WHERE s.design_id IN ? AND s.retired_at IS NULL ORDER BY s.id`, r.ids)
}

// runs reads the installments with takes and slips, as they stand.
func (r gateReading) runs() error {
	samples := make(map[string][]Sample, len(r.of))
	for id, g := range r.of {
		samples[id] = g.samples
	}
	runs, err := runsOf(r.db, r.today, r.leads, r.ids, samples)
	for id, run := range runs {
		r.of[id].run = run
	}
	return err
}

func (r gateReading) remarks() error {
	return query(r.db, func(rows *sql.Rows) error {
		var design, id string
		if err := rows.Scan(&design, &id); err != nil {
			return err
		}
		g := r.of[design]
		g.remarks = append(g.remarks, id)
		return nil
	}, `SELECT design_id, id FROM remarks WHERE design_id IN ? AND settled_at IS NULL ORDER BY id`, r.ids)
}

// signOffs reads the latest word on the version that goes out.
func (r gateReading) signOffs() error {
	return query(r.db, func(rows *sql.Rows) error {
		var (
			design, version string
			signed          versionSigned
		)
		if err := rows.Scan(&design, &version, &signed.id, &signed.standing, &signed.why); err != nil {
			return err
		}
		if g := r.of[design]; g.out.ID == version {
			g.signed = &signed
		}
		return nil
	}, `SELECT design_id, version_id, id, withdrawn_at IS NULL, withdrawn_why FROM sign_offs WHERE design_id IN ? ORDER BY id`, r.ids)
}

func (r gateReading) stated() error {
	return query(r.db, func(rows *sql.Rows) error {
		var design, size string
		if err := rows.Scan(&design, &size); err != nil {
			return err
		}
		r.of[design].stated[size] = true
		return nil
	}, `SELECT design_id, size_id FROM stated_yarns WHERE design_id IN ?`, r.ids)
}

func (r gateReading) cautions() error {
	designs := make([]*Design, 0, len(r.of))
	for _, g := range r.of {
		designs = append(designs, g.design)
	}
	all, err := cautionsOf(r.db, designs)
	for id, g := range r.of {
		g.cautions = all[id]
	}
	return err
}

func (r gateReading) overrides() error {
	rows, err := overridesWhere(r.db, "gate_overrides.design_id IN ? AND gate_overrides.taken_back_at IS NULL", r.ids)
	if err != nil {
		return err
	}
	for i := range rows {
		o := &rows[i]
		r.of[o.DesignID].overrides[o.at()] = o
	}
	return nil
}
