package models

import (
	"context"
	"fmt"
)

// AssignmentWork is what a tester works from: their size's counts in the
// text's order, how to measure, and until when. It holds nothing of what the
// piece is expected to measure: a tester measures blind.
type AssignmentWork struct {
	Line   AssignmentLine
	Design Design
	Call   TestCall
	Counts []SizeCount
	Points []Point

	CheckIns []CheckIn // how far they told they are, the newest first

	ReadsIn   string        // the tester's terms, in which notes and instructions are given
	AsWritten bool          // something could not be put into them and stands as written
	Changed   *ChangedSince // nil: the latest version has the same counts for this size

	Corrections []PieceCorrection // of the version that they make, for this size

	Asked   []MeasureRequest // to measure again, and not answered yet
	Reports []*Report        // every sending, the first one first
	Remarks []Remark         // of this tester, the newest first
}

// SizeCount is one line of a count sheet for one size.
type SizeCount struct {
	Name  string
	Unit  string
	Note  string
	Value float64
}

// mayRead tells whether the tester gets the pattern's numbers: not before they
// have agreed to what the call says of confidentiality, and no longer when they
// have withdrawn. Who has sent a report has the text already.
func (l AssignmentLine) mayRead() bool {
	return l.WithdrawnAt == nil && (l.AcceptedAt != nil || l.ReportID != nil)
}

// AssignmentWork returns what a tester works from, to them and to the studio's
// own people; to who may not read it, only whose size it is and what it takes.
func (s *Store) AssignmentWork(ctx context.Context, actor Actor, id string) (*AssignmentWork, error) {
	line, err := s.Assignment(ctx, actor, id)
	if err != nil {
		return nil, err
	}
	db := s.read(ctx)
	design, err := designIn(db, line.DesignID)
	if err != nil {
		return nil, err
	}
	call, err := first[TestCall](db, "test call", "id = ?", line.TestCallID)
	if err != nil {
		return nil, err
	}
	work := &AssignmentWork{Line: *line, Design: *design, Call: *call}
	if !actor.IsStaff() && !line.mayRead() {
		return work, work.readFor(db)
	}
	err = db.Table("counts").Select("counts.name, counts.unit, counts.note, v.value").
		Joins("JOIN count_values v ON v.count_id = counts.id").
		Where("counts.version_id = ? AND v.size_id = ?", line.VersionID, line.SizeID).Order("counts.position").Find(&work.Counts).Error
	if err != nil {
		return nil, fmt.Errorf("counts of size: %w", err)
	}
	if err := db.Where("design_id = ?", line.DesignID).Order("position").Find(&work.Points).Error; err != nil {
		return nil, fmt.Errorf("points: %w", err)
	}
	if err := work.readFor(db); err != nil {
		return nil, err
	}
	if err := work.changedSince(db); err != nil {
		return nil, err
	}
	book, err := correctionBookIn(db, design)
	if err != nil {
		return nil, err
	}
	work.Corrections = book.shownTo(work.Line, work.ReadsIn)
	if work.Asked, err = openRequestsIn(db, id); err != nil {
		return nil, err
	}
	if err := db.Where("assignment_id = ?", id).Order("id DESC").Limit(mostCheckIns).Find(&work.CheckIns).Error; err != nil {
		return nil, fmt.Errorf("check-ins: %w", err)
	}
	if work.Reports, err = s.Reports(ctx, actor, id); err != nil {
		return nil, err
	}
	work.Remarks, _, err = s.RemarksOf(ctx, actor, id, Page{Limit: largestPage})
	return work, err
}
