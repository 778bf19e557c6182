package handlers

import (
	"context"
	"fmt"
	"net/http"

	"tenter/models"
	"tenter/models/counts"
)

// Sheet is a version's count sheet.
type Sheet struct {
	Version
	DesignID string      `json:"design_id"`
	Sizes    []SheetSize `json:"sizes"`
	Counts   []Count     `json:"counts"`
	Rules    []Rule      `json:"rules"`

	Findings  []counts.Finding  `json:"findings" doc:"What is wrong, or looks wrong, with the counts."`
	Finished  []counts.Finished `json:"finished" doc:"What the counts promise, in cm."`
	Sections  []counts.Section  `json:"sections" doc:"Rows between running row numbers."`
	Unchecked []Unchecked       `json:"unchecked" doc:"What could not be computed, and why."`
}

// Unchecked is a rule or point that could not be computed.
type Unchecked struct {
	What    string `json:"what"`
	Problem string `json:"problem"`
}

// SheetSize names one column.
type SheetSize struct {
	ID   string `json:"id"`
	Name string `json:"name"`
}

// Count is one line of a count sheet.
type Count struct {
	ID     string     `json:"id"`
	Name   string     `json:"name"`
	Unit   string     `json:"unit" enum:"stitch,row,repeat,row_number"`
	Note   string     `json:"note"`
	Values []*float64 `json:"values" doc:"In the order of the sizes; null where the size skips the line."`
	Text   string     `json:"text" doc:"The line in the trade's notation."`
}

// Rule must hold for every size.
type Rule struct {
	ID   string `json:"id"`
	Name string `json:"name"`
	Kind string `json:"kind" enum:"holds,multiple"`
	Expr string `json:"expr"`
	Of   *int   `json:"of"`
	Plus *int   `json:"plus"`
}

func (in RuleIn) rule() models.Rule {
	return models.Rule{Name: in.Name, Kind: in.Kind, Expr: in.Expr, MultipleOf: in.Of, Plus: in.Plus}
}

func sheetView(s *models.Sheet, check *models.SheetCheck) *one[Sheet] {
	out := Sheet{Version: versionView(s.Version), DesignID: s.Version.DesignID,
		Sizes: each(s.Sizes, func(z models.Size) SheetSize { return SheetSize{z.ID, z.Name} }),
		Rules: each(s.Rules, func(r models.Rule) Rule { return *ruleView(&r) })}
	column := map[string]int{}
	for i, z := range s.Sizes {
		column[z.ID] = i
	}
	out.Findings, out.Finished, out.Sections = check.Findings, check.Finished, check.Sections
	out.Unchecked = each(check.Unchecked, func(u models.FieldProblem) Unchecked { return Unchecked{u.Field, u.Problem} })
	lines := map[string]string{}
	for _, l := range check.Lines {
		lines[l.Name] = l.Text
	}
	out.Counts = each(s.Counts, func(c models.Count) Count {
		values := make([]*float64, len(s.Sizes))
		for _, v := range c.Values {
			values[column[v.SizeID]] = &v.Value
		}
		return Count{c.ID, c.Name, c.Unit, c.Note, values, lines[c.Name]}
	})
	return &one[Sheet]{etag(s.Version.Revision), out}
}

type VersionPath struct {
	Version string `path:"version" maxLength:"36"`
}

type newVersionInput struct {
	DesignPath
	Body struct {
		Note string `json:"note,omitempty"`
	}
}

type changeVersionInput struct {
	VersionPath
	Precondition
	Body struct {
		Note *string `json:"note,omitempty"`
	}
}

type putSheetInput struct {
	VersionPath
	Precondition
	Body struct {
		Counts []CountIn `json:"counts" maxItems:"400"`
		Rules  []RuleIn  `json:"rules" maxItems:"200"`
	}
}

// CountIn is a line as it is set: values in the order of the sizes, or a text
// in the trade's notation.
type CountIn struct {
	Name   string     `json:"name"`
	Unit   string     `json:"unit" enum:"stitch,row,repeat,row_number"`
	Note   string     `json:"note,omitempty"`
	Values []*float64 `json:"values,omitempty" maxItems:"40"`
	Text   string     `json:"text,omitempty" maxLength:"4000"`
}

// RuleIn is a rule as it is set.
type RuleIn struct {
	Name string `json:"name"`
	Kind string `json:"kind" enum:"holds,multiple"`
	Expr string `json:"expr"`
	Of   *int   `json:"of,omitempty"`
	Plus *int   `json:"plus,omitempty"`
}

func (a *api) sheets() {
	add(a, created(operation("add-version", http.MethodPost, "/designs/{design}/versions", "Add a version, a copy of the latest", "Counts")), a.postVersion)
	add(a, operation("get-sheet", http.MethodGet, "/versions/{version}", "A version's count sheet", "Counts"), a.getSheet)
	add(a, operation("change-version", http.MethodPatch, "/versions/{version}", "Change a version's note", "Counts"), a.patchVersion)
	add(a, operation("put-sheet", http.MethodPut, "/versions/{version}/sheet", "Replace a version's counts and rules", "Counts"), a.putSheet)
	add(a, operation("read-count-line", http.MethodPost, "/counts/read", "Read pattern lines in the trade's notation", "Counts"), a.readCounts)
}

func (a *api) postVersion(ctx context.Context, actor models.Actor, in *newVersionInput) (*made[Sheet], error) {
	v, err := a.Store.AddVersion(ctx, actor, in.Design, in.Body.Note)
	if err != nil {
		return nil, err
	}
	view, err := a.sheet(ctx, v.ID)
	if err != nil {
		return nil, err
	}
	return &made[Sheet]{view.ETag, Prefix + "/versions/" + v.ID, view.Body}, nil
}

func (a *api) getSheet(ctx context.Context, _ models.Actor, in *VersionPath) (*one[Sheet], error) {
	return a.sheet(ctx, in.Version)
}

func (a *api) sheet(ctx context.Context, versionID string) (*one[Sheet], error) {
	s, err := a.Store.Sheet(ctx, versionID)
	if err != nil {
		return nil, err
	}
	return a.viewSheet(ctx, s)
}

func (a *api) viewSheet(ctx context.Context, s *models.Sheet) (*one[Sheet], error) {
	check, err := a.Store.CheckSheet(ctx, s)
	if err != nil {
		return nil, err
	}
	return sheetView(s, check), nil
}

func (a *api) versionRevision(ctx context.Context, id string) func() (int, error) {
	return func() (int, error) {
		s, err := a.Store.Sheet(ctx, id)
		if err != nil {
			return 0, err
		}
		return s.Version.Revision, nil
	}
}

func (a *api) patchVersion(ctx context.Context, actor models.Actor, in *changeVersionInput) (*one[Sheet], error) {
	revision, err := in.revision(a.versionRevision(ctx, in.Version))
	if err != nil {
		return nil, err
	}
	v, err := a.Store.NoteVersion(ctx, actor, in.Version, revision, in.Body.Note)
	if err != nil {
		return nil, err
	}
	return a.sheet(ctx, v.ID)
}

func (a *api) putSheet(ctx context.Context, actor models.Actor, in *putSheetInput) (*one[Sheet], error) {
	revision, err := in.revision(a.versionRevision(ctx, in.Version))
	if err != nil {
		return nil, err
	}
	current, err := a.Store.Sheet(ctx, in.Version)
	if err != nil {
		return nil, err
	}
	lines, err := countsFrom(in.Body.Counts, current.Sizes)
	if err != nil {
		return nil, err
	}
	s, err := a.Store.PutSheet(ctx, actor, in.Version, revision, lines, each(in.Body.Rules, RuleIn.rule))
	if err != nil {
		return nil, err
	}
	return a.viewSheet(ctx, s)
}

// countsFrom reads each line's values for the sizes, from the list or the text.
func countsFrom(in []CountIn, sizes []models.Size) ([]models.Count, error) {
	names := each(sizes, func(z models.Size) string { return z.Name })
	bad := &models.Error{Kind: models.Invalid, Message: "The count sheet was not changed."}
	fault := func(i int, field, format string, args ...any) {
		bad.Fields = append(bad.Fields, models.FieldProblem{Field: fmt.Sprintf("counts[%d].%s", i, field), Problem: fmt.Sprintf(format, args...)})
	}
	out := make([]models.Count, len(in))
	for i, c := range in {
		out[i] = models.Count{Name: c.Name, Unit: c.Unit, Note: c.Note}
		values := c.Values
		if c.Text != "" {
			read, err := counts.ReadFor(c.Text, names)
			if err != nil {
				fault(i, "text", "%s", err.Error())
				continue
			}
			values = read.Values
		}
		if len(values) != len(sizes) {
			fault(i, "values", "has %d values for %d sizes; give one for each size, null where it skips the line", len(values), len(sizes))
			continue
		}
		for j, v := range values {
			if v != nil {
				out[i].Values = append(out[i].Values, models.CountValue{SizeID: sizes[j].ID, Value: *v})
			}
		}
	}
	if len(bad.Fields) > 0 {
		return nil, bad
	}
	return out, nil
}
