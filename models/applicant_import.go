package models

import (
	"context"
	"fmt"
)

// PreviewApplicants tells what an import would do, and writes nothing.
func (s *Store) PreviewApplicants(ctx context.Context, callID string, in Sheetful) (*ApplicantTable, error) {
	rows, columns, err := in.read(applicantFields())
	if err != nil {
		return nil, err
	}
	db := s.read(ctx)
	call, err := callIn(db, callID)
	if err != nil {
		return nil, err
	}
	return planApplicants(db, call, rows, columns)
}

// Import tells what an import of rows has done.
type Import struct {
	Created, Changed, Same int
	Skipped                []SkippedRow
}

// SkippedRow is a row that was left out, and why.
type SkippedRow struct {
	Line    int
	Problem string
}

// ImportApplicants enters the offers of a table, all of them or none; with
// skipBad, all that can be read. Importing the same table again changes
// nothing.
func (s *Store) ImportApplicants(ctx context.Context, actor Actor, callID string, in Sheetful, skipBad bool) (*Import, error) {
	// Reading comes before the one writer is taken.
	rows, columns, err := in.read(applicantFields())
	if err != nil {
		return nil, err
	}
	out := &Import{}
	err = s.change(ctx, actor, func(t *tx) error {
		call, err := t.openCall(callID)
		if err != nil {
			return err
		}
		plan, err := planApplicants(t.DB, call, rows, columns)
		if err != nil {
			return err
		}
		if !skipBad {
			if err := plan.refuse(); err != nil {
				return err
			}
		}
		return t.carryOutApplications(call, plan.count(out))
	})
	return out, err
}

// mostTold bounds how many bad rows one refusal names.
const mostTold = 100

// refuse names the rows that stand in the way of an import.
func (t ApplicantTable) refuse() error {
	var bad []SkippedRow
	for _, r := range t.Rows {
		if len(r.Problems) > 0 {
			bad = append(bad, SkippedRow{r.Line, t.Problem(r)})
		}
	}
	return refuseRows(bad, len(t.Rows))
}

// refuseRows refuses an import of so many rows for the bad ones among them.
func refuseRows(bad []SkippedRow, of int) error {
	if len(bad) == 0 {
		return nil
	}
	e := &Error{Kind: Invalid, Message: fmt.Sprintf("%d of %d rows can't be taken as they are, so nothing was imported. Mend them, or import the others only.", len(bad), of)}
	for _, r := range bad[:min(len(bad), mostTold)] {
		e.Fields = append(e.Fields, FieldProblem{fmt.Sprintf("line[%d]", r.Line), r.Problem})
	}
	return e
}

// count fills in what an import does and returns the offers to be carried out.
func (t ApplicantTable) count(out *Import) []plannedApplication {
	var plans []plannedApplication
	for _, r := range t.Rows {
		switch r.State {
		case "new":
			out.Created++
		case "changed":
			out.Changed++
		case "same":
			out.Same++
			continue
		default:
			out.Skipped = append(out.Skipped, SkippedRow{r.Line, t.Problem(r)})
			continue
		}
		plans = append(plans, r.plan)
	}
	return plans
}
