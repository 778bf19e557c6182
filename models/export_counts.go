package models

import (
	"context"
	"fmt"
	"strings"

	"tenter/models/gauge"
	"tenter/models/table"
)

// countedExports are the tables that our own imports and paste fields read
// again: the counts, the applicants and the reports.
func countedExports() []export {
	return []export{
		{TableInfo: TableInfo{Name: "counts", Says: "The latest count sheet: one row a line, one column a size."}, make: (*Store).countsTable},
		{TableInfo: TableInfo{Name: "counts-all", Says: "Every version's counts, one row a line and size."}, query: `SELECT v.number AS "Version", c.position AS "Line", c.name AS "Name", c.unit AS "Unit", z.name AS "Size", x.value AS "Count", c.note AS "Note"
			FROM count_values x JOIN counts c ON c.id = x.count_id JOIN versions v ON v.id = c.version_id JOIN sizes z ON z.id = x.size_id WHERE v.design_id = ? ORDER BY v.number, c.position, z.position`},
		{TableInfo: TableInfo{Name: "applicants", Says: "Who offered to test which sizes; addresses for the designer only."}, make: (*Store).applicantsTable},
		{TableInfo: TableInfo{Name: "reports", Says: "The current reports, one row a tester, as a table of reports is imported."}, make: (*Store).reportsTable},
	}
}

func (s *Store) countsTable(ctx context.Context, _ Actor, design *Design) (table.Out, error) {
	versions, err := s.Versions(ctx, design.ID)
	if err != nil {
		return table.Out{}, err
	}
	if len(versions) == 0 {
		return rowsIn([]string{"Name"}, nil), nil
	}
	latest := versions[0]
	for _, v := range versions {
		if v.Number > latest.Number {
			latest = v
		}
	}
	sheet, err := s.Sheet(ctx, latest.ID)
	if err != nil {
		return table.Out{}, err
	}
	columns := []string{"Name"}
	for _, z := range sheet.Sizes {
		columns = append(columns, z.Name)
	}
	var rows [][]any
	for _, c := range sheet.Counts {
		row := make([]any, len(sheet.Sizes)+3)
		row[0], row[len(row)-2], row[len(row)-1] = c.Name, c.Unit, c.Note
		for i, z := range sheet.Sizes {
			for _, v := range c.Values {
				if v.SizeID == z.ID {
					row[i+1] = v.Value
				}
			}
		}
		rows = append(rows, row)
	}
	return rowsIn(append(columns, "Unit", "Note"), rows), nil
}

func (s *Store) applicantsTable(ctx context.Context, actor Actor, design *Design) (table.Out, error) {
	offers, err := s.offersOf(ctx, design.ID)
	if err != nil {
		return table.Out{}, err
	}
	columns := []string{"Call", "Handle", "Sizes", "Tests accepted so far", "Tests finished so far", "Units", "Terms", "Remarks", "Timestamp", "Yarn", "Declined"}
	if actor.Has(Designer) {
		columns = append(columns, "Name", "E-mail")
	}
	var rows [][]any
	for _, o := range offers {
		row := []any{o.Title, o.Handle, strings.Join(o.Sizes, " / "), o.Accepted, o.Finished, o.Unit, strings.ToUpper(o.Terms), o.Remarks, o.AppliedAt, o.Yarn, momentCell(o.DeclinedAt)}
		if actor.Has(Designer) {
			row = append(row, o.Name, textCell(o.Email))
		}
		rows = append(rows, row)
	}
	return rowsIn(columns, rows), nil
}

// offer is an application with what is told of it in a table.
type offer struct {
	Application
	Title, Handle, Name, Unit, Terms string
	Email                            *string
	Sizes                            []string `gorm:"-"`
}

func (s *Store) offersOf(ctx context.Context, designID string) ([]offer, error) {
	db := s.read(ctx)
	var offers []offer
	err := db.Table("applications").Select("applications.*, c.title, p.handle, p.name, p.unit, p.terms, p.email").Joins("JOIN test_calls c ON c.id = applications.test_call_id").
		Joins("JOIN people p ON p.id = applications.person_id").Where("c.design_id = ?", designID).Order("applications.test_call_id, applications.applied_at, applications.id").Scan(&offers).Error
	if err != nil {
		return nil, fmt.Errorf("applicants: %w", err)
	}
	var wishes []struct{ ApplicationID, Name string }
	err = db.Table("application_sizes x").Select("x.application_id, z.name").Joins("JOIN sizes z ON z.id = x.size_id").Where("z.design_id = ?", designID).Order("x.application_id, x.place").Scan(&wishes).Error
	if err != nil {
		return nil, fmt.Errorf("applicants' sizes: %w", err)
	}
	sizes := map[string][]string{}
	for _, w := range wishes {
		sizes[w.ApplicationID] = append(sizes[w.ApplicationID], w.Name)
	}
	for i := range offers {
		offers[i].Sizes = sizes[offers[i].ID]
	}
	return offers, nil
}

func (s *Store) reportsTable(ctx context.Context, _ Actor, design *Design) (table.Out, error) {
	compared, names, err := s.comparedBySize(ctx, design)
	if err != nil {
		return table.Out{}, err
	}
	columns := []string{"Handle", "Size", "Stitches", "Rows", "Over", "Unit"}
	for _, p := range compared.Points {
		columns = append(columns, p.Name)
	}
	var rows [][]any
	for _, r := range compared.Rows {
		rows = append(rows, reportCells(r, names[r.Assignment.SizeID]))
	}
	return rowsIn(append(columns, "Yarn used (m)", "Yarn used (yd)", "Yarn used (g)", "Hours", "Remarks", "Sent at", "Approved at"), rows), nil
}

// reportCells writes a report as a row that the import reads again. A point
// that was read more than once gives its first reading; one in another unit
// than the row's says so.
func reportCells(r ComparedReport, size string) []any {
	unit := ""
	for _, p := range r.Points {
		if len(p.Readings) > 0 && unit == "" {
			unit = p.Readings[0].Unit
		}
	}
	g := r.Report.Swatch
	row := []any{r.Handle, size, numberCell(g.Stitches), numberCell(g.Rows), "", unit}
	if g.Span != nil && g.Unit != nil {
		row[4] = fmt.Sprintf("%s %s", plainNumber(*g.Span), *g.Unit)
	}
	for _, p := range r.Points {
		switch {
		case len(p.Readings) == 0:
			row = append(row, nil)
		case p.Readings[0].Unit == unit:
			row = append(row, p.Readings[0].Value)
		default:
			row = append(row, plainNumber(p.Readings[0].Value)+" "+p.Readings[0].Unit)
		}
	}
	yarn := map[string]any{}
	if y := r.Report.Yarn; y.Value != nil && y.Unit != nil {
		yarn[*y.Unit] = *y.Value
		if *y.Unit == "oz" {
			yarn["g"] = *y.Value * gauge.GramsPerOunce
		}
	}
	return append(row, yarn["m"], yarn["yd"], yarn["g"], numberCell(r.Report.Hours), r.Report.Note, r.Report.SentAt, momentCell(r.Report.ApprovedAt))
}
