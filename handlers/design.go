package handlers

import (
	"context"
	"net/http"
	"time"

	"tenter/models"
)

// DesignLine is a design in a list.
type DesignLine struct {
	ID         string      `json:"id"`
	Slug       string      `json:"slug"`
	Name       string      `json:"name"`
	Craft      string      `json:"craft" enum:"crochet,knit"`
	Audience   string      `json:"audience"`
	Terms      string      `json:"terms" enum:"us,uk"`
	Unit       string      `json:"unit" enum:"cm,in"`
	Gauge      Gauge       `json:"gauge"`
	Yarn       string      `json:"yarn"`
	Tool       string      `json:"tool" doc:"Hook or needle."`
	ToolMM     *float64    `json:"tool_mm"`
	Grouping   string      `json:"grouping" doc:"Sizes in each bracket of a printed line, like 1,3,3,2."`
	Note       string      `json:"note"`
	ReleasedOn models.Date `json:"released_on,omitempty" doc:"The day announced for the text."`
	ReleasedAt *time.Time  `json:"released_at" doc:"When it was marked as out; null while it is not."`
	OutVersion *int        `json:"out_version" doc:"Number of the version that goes out; null: the latest."`
	Archived   bool        `json:"archived"`
	Revision   int         `json:"revision" doc:"Of the design, its sizes and its points together."`
}

// Design is a design with its sizes, points and versions.
type Design struct {
	DesignLine
	Sizes    []Size    `json:"sizes"`
	Points   []Point   `json:"points"`
	Versions []Version `json:"versions"`
}

// Version is one state of the text and its count sheet.
type Version struct {
	ID         string     `json:"id"`
	Number     int        `json:"number"`
	Note       string     `json:"note"`
	GivenOutAt *time.Time `json:"given_out_at" doc:"When a tester first got it; it never changes after that."`
	Revision   int        `json:"revision"`
}

func versionView(v models.Version) Version {
	return Version{v.ID, v.Number, v.Note, v.GivenOutAt, v.Revision}
}

func designLine(d models.Design) DesignLine {
	return DesignLine{ID: d.ID, Slug: d.Slug, Name: d.Name, Craft: d.Craft, Audience: d.Audience, Terms: d.Terms, Unit: d.Unit,
		Gauge: gaugeView(d.Gauge), Yarn: d.Yarn, Tool: d.Tool, ToolMM: d.ToolMM, Grouping: d.Grouping, Note: d.Note,
		ReleasedOn: d.ReleasedOn, ReleasedAt: d.ReleasedAt, OutVersion: d.OutVersion, Archived: d.ArchivedAt != nil, Revision: d.Revision}
}

type newDesignInput struct {
	Body struct {
		Name     string   `json:"name"`
		Slug     string   `json:"slug,omitempty" doc:"Its address; made from the name when absent."`
		Craft    string   `json:"craft" enum:"crochet,knit"`
		Audience string   `json:"audience" enum:"baby,child,youth,woman,man,unisex"`
		Terms    string   `json:"terms" enum:"us,uk"`
		Unit     string   `json:"unit" enum:"cm,in"`
		Gauge    Gauge    `json:"gauge"`
		Yarn     string   `json:"yarn,omitempty"`
		Tool     string   `json:"tool,omitempty"`
		ToolMM   *float64 `json:"tool_mm,omitempty"`
		Grouping string   `json:"grouping,omitempty"`
		Note     string   `json:"note,omitempty"`
	}
}

type changeDesignInput struct {
	DesignPath
	Precondition
	Body struct {
		Name         *string               `json:"name,omitempty"`
		Slug         *string               `json:"slug,omitempty"`
		Craft        *string               `json:"craft,omitempty" enum:"crochet,knit"`
		Audience     *string               `json:"audience,omitempty" enum:"baby,child,youth,woman,man,unisex"`
		Terms        *string               `json:"terms,omitempty" enum:"us,uk"`
		Unit         *string               `json:"unit,omitempty" enum:"cm,in"`
		Gauge        *Gauge                `json:"gauge,omitempty"`
		Yarn         *string               `json:"yarn,omitempty"`
		Tool         *string               `json:"tool,omitempty"`
		ToolMM       Optional[float64]     `json:"tool_mm,omitempty"`
		Grouping     *string               `json:"grouping,omitempty"`
		Note         *string               `json:"note,omitempty"`
		ReleasedOn   Optional[models.Date] `json:"released_on,omitempty"`
		Released     *bool                 `json:"released,omitempty" doc:"The text is out; refused while a gate of the design is shut."`
		BeforeItsDay bool                  `json:"before_its_day,omitempty" doc:"The text is meant to be out before its announced day; needed then."`
		OutVersion   Optional[int]         `json:"out_version,omitempty" doc:"Number of the version that goes out; null goes back to the latest."`
		Archived     *bool                 `json:"archived,omitempty"`
	}
}

type designsQuery struct {
	Paged
	Archived bool `query:"archived" doc:"Also the ones put away."`
}

func (a *api) designs() {
	add(a, operation("list-designs", http.MethodGet, "/designs", "Designs", "Designs"), a.getDesigns)
	add(a, created(operation("add-design", http.MethodPost, "/designs", "Add a design", "Designs")), a.postDesign)
	add(a, operation("get-design", http.MethodGet, "/designs/{design}", "A design with sizes, points and versions", "Designs"), a.getDesign)
	add(a, operation("change-design", http.MethodPatch, "/designs/{design}", "Change a design", "Designs"), a.patchDesign)
	add(a, operation("put-sizes", http.MethodPut, "/designs/{design}/sizes", "Replace the sizes, the smallest first", "Designs"), a.putSizes)
	add(a, operation("put-points", http.MethodPut, "/designs/{design}/points", "Replace the points of measure", "Designs"), a.putPoints)
}

func (a *api) getDesigns(ctx context.Context, _ models.Actor, in *designsQuery) (*listOf[DesignLine], error) {
	rows, next, err := a.Store.Designs(ctx, in.Archived, in.page())
	if err != nil {
		return nil, err
	}
	return list(rows, next, designLine), nil
}

func (a *api) postDesign(ctx context.Context, actor models.Actor, in *newDesignInput) (*made[Design], error) {
	b := in.Body
	d, err := a.Store.AddDesign(ctx, actor, models.Design{Name: b.Name, Slug: b.Slug, Craft: b.Craft, Audience: b.Audience, Terms: b.Terms,
		Unit: b.Unit, Gauge: b.Gauge.gauge(), Yarn: b.Yarn, Tool: b.Tool, ToolMM: b.ToolMM, Grouping: b.Grouping, Note: b.Note})
	if err != nil {
		return nil, err
	}
	view, err := a.designView(ctx, d)
	if err != nil {
		return nil, err
	}
	return &made[Design]{view.ETag, Prefix + "/designs/" + d.ID, view.Body}, nil
}

func (a *api) getDesign(ctx context.Context, _ models.Actor, in *DesignPath) (*one[Design], error) {
	d, err := a.Store.Design(ctx, in.Design)
	if err != nil {
		return nil, err
	}
	return a.designView(ctx, d)
}

// designView adds what hangs on a design.
func (a *api) designView(ctx context.Context, d *models.Design) (*one[Design], error) {
	out := &one[Design]{ETag: etag(d.Revision), Body: Design{DesignLine: designLine(*d)}}
	sizes, err := a.Store.Sizes(ctx, d.ID)
	if err != nil {
		return nil, err
	}
	points, err := a.Store.Points(ctx, d.ID)
	if err != nil {
		return nil, err
	}
	versions, err := a.Store.Versions(ctx, d.ID)
	if err != nil {
		return nil, err
	}
	out.Body.Sizes = each(sizes, sizeView)
	out.Body.Points = each(points, pointView)
	out.Body.Versions = each(versions, versionView)
	return out, nil
}

// each shapes a list; an empty one stays a list, not null.
func each[R, T any](rows []R, view func(R) T) []T {
	out := make([]T, len(rows))
	for i, r := range rows {
		out[i] = view(r)
	}
	return out
}

func (a *api) designRevision(ctx context.Context, idOrSlug string) func() (int, error) {
	return func() (int, error) {
		d, err := a.Store.Design(ctx, idOrSlug)
		if err != nil {
			return 0, err
		}
		return d.Revision, nil
	}
}

func (a *api) patchDesign(ctx context.Context, actor models.Actor, in *changeDesignInput) (*one[Design], error) {
	revision, err := in.revision(a.designRevision(ctx, in.Design))
	if err != nil {
		return nil, err
	}
	b := in.Body
	change := models.DesignChange{Name: b.Name, Slug: b.Slug, Craft: b.Craft, Audience: b.Audience, Terms: b.Terms, Unit: b.Unit,
		Gauge: (*models.Gauge)(b.Gauge), Yarn: b.Yarn, Tool: b.Tool, ToolMM: b.ToolMM.change(), Grouping: b.Grouping, Note: b.Note, Released: b.Released, BeforeItsDay: b.BeforeItsDay, OutVersion: b.OutVersion.change(), Archived: b.Archived}
	if b.ReleasedOn.Sent {
		change.ReleasedOn = &b.ReleasedOn.Value // null clears it: the empty date
	}
	d, err := a.Store.ChangeDesign(ctx, actor, in.Design, revision, change)
	if err != nil {
		return nil, err
	}
	return a.designView(ctx, d)
}
