package models

import (
	"context"
	"fmt"
	"strings"
)

// CallSummary is what came of a call.
type CallSummary struct {
	Call           *TestCall
	Applied        int
	Asked          int // ever
	Accepted       int
	Withdrawn      int
	Reported       int
	InTime         int
	Approved       int
	MedianDaysLate *float64 // of those that were reported
	Short          []string // sizes with fewer reports than needed
	Sizes          []SizeSummary
}

// SizeSummary is what came of one size.
type SizeSummary struct {
	Name                                string
	Fewest, Asked, Withdrawn            int
	Reported, InTime, Approved, Awaited int
}

// CallSummary adds up a call, running or closed.
func (s *Store) CallSummary(ctx context.Context, callID string) (*CallSummary, error) {
	db := s.read(ctx)
	call, err := callIn(db, callID)
	if err != nil {
		return nil, err
	}
	lines, err := assignmentLines(db, s.Now(), db.Where("assignments.test_call_id = ?", callID))
	if err != nil {
		return nil, err
	}
	sizes, err := sizesIn(db, []string{call.DesignID})
	if err != nil {
		return nil, err
	}
	var applied int64
	if err := db.Model(&Application{}).Where("test_call_id = ?", callID).Count(&applied).Error; err != nil {
		return nil, fmt.Errorf("count applications: %w", err)
	}
	out := &CallSummary{Call: call, Applied: int(applied), Short: []string{}}
	at := map[string]*SizeSummary{}
	out.Sizes = make([]SizeSummary, len(call.Slots))
	for i, slot := range call.Slots {
		out.Sizes[i].Fewest = slot.Fewest
		at[slot.SizeID] = &out.Sizes[i]
		for _, z := range sizes {
			if z.ID == slot.SizeID {
				out.Sizes[i].Name = z.Name
			}
		}
	}
	out.add(lines, at)
	for _, z := range out.Sizes {
		if z.Reported < z.Fewest {
			out.Short = append(out.Short, z.Name)
		}
	}
	return out, nil
}

func (c *CallSummary) add(lines []AssignmentLine, at map[string]*SizeSummary) {
	var late []float64
	for _, l := range lines {
		z := at[l.SizeID]
		if z == nil { // the call no longer has places for it
			z = &SizeSummary{}
		}
		c.Asked++
		z.Asked++
		if l.AcceptedAt != nil || l.ReportID != nil {
			c.Accepted++
		}
		switch {
		case l.WithdrawnAt != nil:
			c.Withdrawn++
			z.Withdrawn++
			continue
		case l.ReportID == nil:
			z.Awaited++
			continue
		}
		c.Reported++
		z.Reported++
		if l.ApprovedAt != nil {
			c.Approved++
			z.Approved++
		}
		days, _ := l.DaysLate()
		late = append(late, float64(days))
		if days <= 0 {
			c.InTime++
			z.InTime++
		}
	}
	if len(late) > 0 {
		m := median(late)
		c.MedianDaysLate = &m
	}
}

// Sentence sums the call up.
func (c CallSummary) Sentence() string {
	parts := []string{fmt.Sprintf("%s applied, %d were asked, %d accepted, %d withdrew", many(c.Applied, "tester"), c.Asked, c.Accepted, c.Withdrawn),
		fmt.Sprintf("%s in, %d of them in time, %d approved", many(c.Reported, "report"), c.InTime, c.Approved)}
	if m := c.MedianDaysLate; m != nil {
		parts = append(parts, "usually "+daysLate(*m))
	}
	if len(c.Short) > 0 {
		parts = append(parts, "too few reports for size "+strings.Join(c.Short, ", "))
	} else {
		parts = append(parts, "every size has the reports it needs")
	}
	return strings.Join(parts, "; ") + "."
}
