package models

import (
	"database/sql"
	"fmt"
	"strings"

	"gorm.io/gorm"

	"tenter/models/fit"
)

// testRevision is the state of the test that the board was read from.
func (r *boardRows) testRevision() revisionKey {
	made := make([]madeBy, len(r.reports))
	for i, p := range r.reports {
		made[i] = madeBy{p.id, p.handle}
	}
	return testRevision(r.design, r.version, made, r.decisions)
}

func (r *boardRows) readDecisions(db *gorm.DB) (err error) {
	r.decisions, err = decisionsIn(db, r.design.ID)
	return err
}

func (r *boardRows) readStated(db *gorm.DB) error {
	r.stated = map[string]bool{}
	return query(db, func(rows *sql.Rows) error {
		var size string
		err := rows.Scan(&size)
		r.stated[size] = true
		return err
	}, `SELECT size_id FROM stated_yarns WHERE design_id = ?`, r.design.ID)
}

// diagnosed sets on a strip what the diagnosis says of it: the fabric's growth
// of the counted length, and a count at fault.
func (r *boardRows) diagnosed(strip *BoardStrip, at cell, point *Point) {
	if percent, told := r.said.growthPct(point.Axis); told {
		from := strip.ExpectedCM
		if from == nil {
			from = strip.IntendedCM
		}
		if from != nil {
			growth := (*from - point.Add.CM) * percent / 100
			strip.GrowthCM = &growth
		}
	}
	if f := r.said.cells[at]; f != nil {
		strip.Finding = f
		strip.Decided, _ = f.standing(r.decisions[f.Key])
	}
}

// named gives a mark the state that the diagnosis gives its number: it knows
// more than a look at this one measurement.
func (r *boardRows) named(m *BoardMark, point *Point) {
	f := r.said.odd[mark{m.ID, point.ID}]
	if f == nil {
		return
	}
	m.Sentence = f.Message
	switch f.Verdict {
	case fit.Slip:
		m.State = markSlip
	case fit.Odd:
		m.State = markOutside
	}
}

// middle is where a sound piece should lie: what is intended, or else expected,
// moved by the fabric's growth.
func (s BoardStrip) middle() *float64 {
	from := s.IntendedCM
	if from == nil {
		from = s.ExpectedCM
	}
	if from == nil || s.GrowthCM == nil {
		return from
	}
	moved := *from + *s.GrowthCM
	return &moved
}

// whyFindings names the most serious finding that nobody has decided on.
func (r *boardRows) whyFindings() string {
	var waiting []string
	for i := range r.said.Findings {
		f := &r.said.Findings[i]
		if decided, _ := f.standing(r.decisions[f.Key]); f.Asks && !decided {
			waiting = append(waiting, f.Message)
		}
	}
	switch {
	case len(r.reports) > 0 && r.said.Problem != "":
		return r.said.Problem
	case len(waiting) == 0:
		return ""
	}
	return firstAndMore(waiting, "finding")
}

// whyYarn names the sizes for which no amount is stated.
func (r *boardRows) whyYarn(b *Board) string {
	var open []string
	for _, z := range b.Sizes {
		if !r.stated[z.ID] {
			open = append(open, z.Name)
		}
	}
	switch {
	case len(open) == 0:
		return ""
	case len(open) == len(b.Sizes):
		return "No amount of yarn is stated yet."
	case len(open) == 1:
		return fmt.Sprintf("No amount of yarn is stated for size %s.", open[0])
	}
	return fmt.Sprintf("No amount of yarn is stated for sizes %s and %s.", strings.Join(open[:len(open)-1], ", "), open[len(open)-1])
}
