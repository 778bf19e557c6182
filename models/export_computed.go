package models

import (
	"context"
	"strconv"
	"time"

	"tenter/models/table"
)

// computedExports are the tables that the product works out.
func computedExports() []export {
	return []export{
		{TableInfo: TableInfo{Name: "comparison", Says: "Each measured point against what the counts promise, at the design's gauge and at the tester's."}, make: (*Store).comparisonTable},
		{TableInfo: TableInfo{Name: "findings", Says: "The findings about the fit, and what was decided."}, make: (*Store).findingsTable},
		{TableInfo: TableInfo{Name: "yarn", Says: "How much yarn each size takes, and what the text states."}, make: (*Store).yarnTable},
		{TableInfo: TableInfo{Name: "schedule", Says: "What is still to be done, by whom and when."}, make: (*Store).scheduleTable},
	}
}

// comparedBySize returns what was reported beside what was expected, and the
// names of the sizes by their ids.
func (s *Store) comparedBySize(ctx context.Context, design *Design) (*DesignComparison, map[string]string, error) {
	compared, err := s.CompareDesign(ctx, design.ID)
	if err != nil {
		return nil, nil, err
	}
	sizes, err := s.Sizes(ctx, design.ID)
	if err != nil {
		return nil, nil, err
	}
	names := make(map[string]string, len(sizes))
	for _, z := range sizes {
		names[z.ID] = z.Name
	}
	return compared, names, nil
}

func (s *Store) comparisonTable(ctx context.Context, _ Actor, design *Design) (table.Out, error) {
	compared, names, err := s.comparedBySize(ctx, design)
	if err != nil {
		return table.Out{}, err
	}
	var rows [][]any
	for _, r := range compared.Rows {
		for _, p := range r.Points {
			row := []any{r.Handle, names[r.Assignment.SizeID], p.Point.Name, nil, nil, nil, nil, nil, p.Why}
			if o := p.Result; o != nil {
				row = []any{r.Handle, row[1], p.Point.Name, o.MeasuredCM, o.ExpectedDesignCM, numberCell(o.ExpectedOwnCM), o.DifferenceCM, o.ResidualCM, o.Message}
			}
			rows = append(rows, row)
		}
	}
	return rowsIn([]string{"Handle", "Size", "Point", "Measured (cm)", "Expected (cm)", "Expected at the tester's gauge (cm)", "Off by (cm)", "Not told by the gauge (cm)", "Says"}, rows), nil
}

func (s *Store) findingsTable(ctx context.Context, _ Actor, design *Design) (table.Out, error) {
	fit, err := s.Fit(ctx, design.ID)
	if err != nil {
		return table.Out{}, err
	}
	var rows [][]any
	for _, f := range fit.Findings {
		n := f.Numbers
		row := []any{f.Kind, string(f.Verdict), string(f.Axis), f.Size, f.Point, f.Who, numberCell(n.EstimatePct), numberCell(n.LoPct), numberCell(n.HiPct), f.Message, nil, nil, nil}
		if d := f.Decision; d != nil {
			row[10], row[11], row[12] = d.Choice, d.Reason, d.DecidedAt
		}
		rows = append(rows, row)
	}
	return rowsIn([]string{"Kind", "Verdict", "Axis", "Size", "Point", "Who", "Estimate (%)", "From (%)", "To (%)", "Says", "Decided", "Why", "Decided at"}, rows), nil
}

func (s *Store) yarnTable(ctx context.Context, _ Actor, design *Design) (table.Out, error) {
	y, err := s.Yarn(ctx, design.ID)
	if err != nil {
		return table.Out{}, err
	}
	var rows [][]any
	for _, z := range y.Sizes {
		row := []any{z.Size.Name, z.Amount.Reports, numberCell(z.Amount.TypicalMetres), numberCell(z.Amount.UpperMetres), nil, nil, nil, z.Short, z.Amount.Message}
		if z.Amount.Balls != nil {
			row[4] = *z.Amount.Balls
		}
		if z.Stated != nil {
			row[5], row[6] = z.Stated.Value, z.Stated.Unit
		}
		rows = append(rows, row)
	}
	return rowsIn([]string{"Size", "Pieces", "Typical (m)", "Enough (m)", "Balls", "Stated", "Stated unit", "Less than enough", "Says"}, rows), nil
}

func (s *Store) scheduleTable(ctx context.Context, _ Actor, design *Design) (table.Out, error) {
	plan, err := s.Schedule(ctx, design.ID)
	if err != nil {
		return table.Out{}, err
	}
	var rows [][]any
	for _, t := range plan.Tasks {
		rows = append(rows, []any{t.Name, t.Kind, t.Who, t.Expected, t.Unit, t.Plan.PlannedStart, t.Plan.PlannedFinish, t.Plan.LatestFinish, string(t.Due), t.Plan.SlackDays, t.Plan.Critical, t.Plan.LateByDays, numberCell(t.Plan.Probability), t.LaterDays, t.Waits})
	}
	return rowsIn([]string{"Task", "Kind", "Who", "Expected", "Unit", "Starts", "Ends", "Latest end", "Due", "Slack (days)", "Presses", "Late by (days)", "Chance", "Later for other designs (days)", "Waits"}, rows), nil
}

// numberCell is a cell for a number that may be missing.
func numberCell(v *float64) any {
	if v == nil {
		return nil
	}
	return *v
}

func plainNumber(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

func momentCell(at *time.Time) any {
	if at == nil {
		return nil
	}
	return *at
}

func textCell(text *string) any {
	if text == nil {
		return nil
	}
	return *text
}
