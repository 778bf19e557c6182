package demo

import (
	"context"
	"math"

	"tenter/models"
)

// garment is a design as its designer has it on paper, and the ids that it got
// when it was written.
type garment struct {
	design models.Design
	sizes  []string // names, the smallest first
	filmed int      // place of the size that is filmed
	body   []dimension
	lines  []line
	rules  []models.Rule
	spots  []spot

	id        string
	sizeIDs   []string
	pointIDs  map[string]string // by name
	versionID string            // of the latest version
}

// dimension is a measurement of the body, for each size.
type dimension struct {
	name string
	cm   []float64
}

// line is one line of the count sheet, with a value for each size.
type line struct {
	name, unit, note string
	values           []float64
}

// spot is a point of measure. Its expression is one count, which is all that
// the invented designs need.
type spot struct {
	name, axis, count string
	addCM             float64
	toleranceCM       float64
	repeatabilityCM   float64
	repeat            int
	girth             bool
	how               string
	bodyDimension     string
	easeLow, easeHigh float64
}

// layOut writes the design with its sizes and points, without counts yet.
func (g *garment) layOut(ctx context.Context, store *models.Store, as models.Actor) error {
	d, err := store.AddDesign(ctx, as, g.design)
	if err != nil {
		return err
	}
	g.id = d.ID
	sizes := g.newSizes()
	if d, err = store.PutSizes(ctx, as, g.id, &d.Revision, sizes); err != nil {
		return err
	}
	for _, z := range sizes {
		g.sizeIDs = append(g.sizeIDs, z.ID)
	}
	points := g.newPoints()
	if _, err = store.PutPoints(ctx, as, g.id, &d.Revision, points); err != nil {
		return err
	}
	g.pointIDs = map[string]string{}
	for _, p := range points {
		g.pointIDs[p.Name] = p.ID
	}
	return nil
}

// setUp writes the design with its first count sheet.
func (g *garment) setUp(ctx context.Context, store *models.Store, as models.Actor) error {
	if err := g.layOut(ctx, store, as); err != nil {
		return err
	}
	return g.putSheet(ctx, store, as)
}

// putSheet writes the counts as they stand in g.lines into the latest version.
func (g *garment) putSheet(ctx context.Context, store *models.Store, as models.Actor) error {
	versions, err := store.Versions(ctx, g.id)
	if err != nil {
		return err
	}
	latest := versions[len(versions)-1]
	g.versionID = latest.ID
	_, err = store.PutSheet(ctx, as, latest.ID, &latest.Revision, g.newCounts(), g.rules)
	return err
}

// signOff gives the tech editor's word on the latest version.
func (g *garment) signOff(store *models.Store, note string) deed {
	return func(ctx context.Context, as models.Actor) error {
		v, err := store.Sheet(ctx, g.versionID)
		if err != nil {
			return err
		}
		_, err = store.SignOffVersion(ctx, as, g.versionID, &v.Version.Revision, note, nil)
		return err
	}
}

func (g *garment) newSizes() []models.Size {
	sizes := make([]models.Size, len(g.sizes))
	for i, name := range g.sizes {
		sizes[i] = models.Size{Name: name, Filmed: i == g.filmed}
		for _, b := range g.body {
			sizes[i].Body = append(sizes[i].Body, models.BodyMeasurement{Dimension: b.name, Length: models.NewLength(b.cm[i], "cm")})
		}
	}
	return sizes
}

func (g *garment) newPoints() []models.Point {
	points := make([]models.Point, len(g.spots))
	for i, s := range g.spots {
		p := models.Point{Name: s.name, Axis: s.axis, Expr: s.count, Add: models.NewLength(s.addCM, "cm"), Tolerance: models.NewLength(s.toleranceCM, "cm"),
			RepeatabilityCM: &g.spots[i].repeatabilityCM, Repeat: s.repeat, Girth: s.girth, HowToMeasure: s.how}
		if s.bodyDimension != "" {
			p.BodyDimension, p.EaseLowCM, p.EaseHighCM = &g.spots[i].bodyDimension, &g.spots[i].easeLow, &g.spots[i].easeHigh
		}
		for k, id := range g.sizeIDs {
			// What is intended is what the counts give, to half a centimetre.
			cm := math.Round(2*g.expectedCM(s, k)) / 2
			p.Intended = append(p.Intended, models.IntendedMeasurement{SizeID: id, Length: models.NewLength(cm, "cm")})
		}
		points[i] = p
	}
	return points
}

func (g *garment) newCounts() []models.Count {
	counts := make([]models.Count, len(g.lines))
	for i, l := range g.lines {
		counts[i] = models.Count{Name: l.name, Unit: l.unit, Note: l.note}
		for k, v := range l.values {
			counts[i].Values = append(counts[i].Values, models.CountValue{SizeID: g.sizeIDs[k], Value: v})
		}
	}
	return counts
}

// count returns a count of a size by its name.
func (g *garment) count(name string, size int) float64 {
	for _, l := range g.lines {
		if l.name == name {
			return l.values[size]
		}
	}
	panic("demo: no count " + name)
}

// set corrects one count.
func (g *garment) set(name string, size int, value float64) {
	for _, l := range g.lines {
		if l.name == name {
			l.values[size] = value
			return
		}
	}
	panic("demo: no count " + name)
}

// perCM is the design's own gauge on an axis.
func (g *garment) perCM(axis string) float64 {
	if axis == "row" {
		return g.design.Gauge.Rows / g.design.Gauge.Span
	}
	return g.design.Gauge.Stitches / g.design.Gauge.Span
}

// expectedCM is what a point measures at the design's gauge.
func (g *garment) expectedCM(s spot, size int) float64 {
	return g.count(s.count, size)/g.perCM(s.axis) + s.addCM
}

func multiple(name, expr string, of, plus int) models.Rule {
	return models.Rule{Name: name, Kind: "multiple", Expr: expr, MultipleOf: &of, Plus: &plus}
}

func holds(name, expr string) models.Rule { return models.Rule{Name: name, Kind: "holds", Expr: expr} }
