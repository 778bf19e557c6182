package models

import (
	"fmt"
	"slices"
	"strings"

	"tenter/models/fit"
	"tenter/models/gauge"
	"tenter/models/yarn"
)

func joinNames(names []string) string { return strings.Join(names, " ") }

// yarnPiece is one piece whose yarn was told: a tester's or a sample.
type yarnPiece struct {
	who, id, kind string // handle or label; of the report or sample; MarkOfReport or MarkOfSample
	size          *Size
	versionID     string
	swatch        *fit.Swatch
	entered       Amount
	metres        float64 // 0: can't be told
	why           string  // then: why not
	sizeName      string  // in the input
}

// yarnRound is a design's yarn as the calculation takes it.
type yarnRound struct {
	rows   *fitRows
	plan   *YarnPlan
	from   string // what a size's stitches are taken from, in words
	spread [2]*Point
	input  yarn.Input
	pieces []*yarnPiece
}

func newYarnRound(rows *fitRows, plan *YarnPlan, samples []Sample) *yarnRound {
	r := &yarnRound{rows: rows, plan: plan}
	g := rows.design.Gauge
	share := plan.Share
	r.input = yarn.Input{Gamma: &share, Input: fit.Input{Round: rows.design.Slug, Craft: rows.design.Craft, TotalStitches: map[string]float64{},
		DesignGauge: fit.DesignGauge{Stitch: g.Stitches, Row: g.Rows, OverCM: NewLength(g.Span, g.Unit).CM}}}
	if m, ok := plan.BallLength.metres(); ok {
		r.input.Ball = &yarn.Ball{Metres: m}
		r.input.Ball.Grams, _ = plan.BallWeight.grams()
	}
	r.chooseStitches()
	for _, z := range rows.sizes {
		r.input.Sizes = append(r.input.Sizes, z.Name)
		if n := r.stitches(rows.latest.ID, z.ID); n > 0 {
			r.input.TotalStitches[z.Name] = n
		}
	}
	for _, p := range rows.reports {
		r.addPiece(&yarnPiece{who: p.Handle, id: p.ReportID, kind: MarkOfReport, size: rows.size(p.SizeID), versionID: p.VersionID, swatch: p.Swatch.counted(), entered: p.Yarn})
	}
	for _, s := range samples {
		version, washed := rows.latest.ID, s.After
		set(&version, s.VersionID)
		if washed.IsEmpty() {
			washed = s.Before
		}
		r.addPiece(&yarnPiece{who: "sample " + s.Label, id: s.ID, kind: MarkOfSample, size: rows.size(s.SizeID), versionID: version, swatch: washed.counted(), entered: s.Yarn})
	}
	return r
}

// chooseStitches decides what a size's number of stitches is taken from. Only
// how sizes compare matters, since what one stitch takes is learned from the
// pieces; so the largest count across times the largest along will do until
// somebody states the whole.
func (r *yarnRound) chooseStitches() {
	if r.plan.Stitches != "" {
		r.from = r.plan.Stitches
		return
	}
	var sums [2]float64
	for i := range r.rows.points {
		point, at := &r.rows.points[i], 0
		if point.Axis == string(gauge.Row) {
			at = 1
		}
		sum := 0.0
		for _, z := range r.rows.sizes {
			if n, ok, err := r.rows.yardstick.count(r.rows.latest.ID, z.ID, point); err == nil && ok {
				sum += n
			}
		}
		if sum > sums[at] {
			sums[at], r.spread[at] = sum, point
		}
	}
	if r.spread[0] != nil && r.spread[1] != nil {
		r.from = fmt.Sprintf("stitches of %s × rows of %s", r.spread[0].Name, r.spread[1].Name)
	}
}

// stitches of a size in a version, 0 where that can't be told.
func (r *yarnRound) stitches(versionID, sizeID string) float64 {
	v := r.rows.yardstick.versions[versionID]
	if v == nil || r.from == "" {
		return 0
	}
	var n float64
	if r.plan.Stitches == "" {
		across, okA, errA := r.rows.yardstick.count(versionID, sizeID, r.spread[0])
		along, okB, errB := r.rows.yardstick.count(versionID, sizeID, r.spread[1])
		if !okA || !okB || errA != nil || errB != nil {
			return 0
		}
		n = across * along
	} else {
		whole := Point{Expr: r.plan.Stitches}
		value, ok, err := r.rows.yardstick.count(versionID, sizeID, &whole)
		if !ok || err != nil {
			return 0
		}
		n = value
	}
	if !(n >= 1 && n <= fit.MaxStitches) {
		return 0
	}
	return n
}

// addPiece adds a piece whose yarn was told. Grams become metres by the ball. A
// piece made from other counts is a size of its own to the calculation.
func (r *yarnRound) addPiece(p *yarnPiece) {
	if p.entered.Value == nil || p.size == nil {
		return
	}
	r.pieces = append(r.pieces, p)
	if p.metres, p.why = r.metres(p.entered); p.why != "" {
		return
	}
	n := r.stitches(p.versionID, p.size.ID)
	if n == 0 {
		p.metres, p.why = 0, "The number of stitches of its size is not known."
		return
	}
	p.sizeName = p.size.Name
	if n != r.input.TotalStitches[p.size.Name] {
		p.sizeName = fmt.Sprintf("%s as in version %d", p.size.Name, r.rows.numbers[p.versionID])
		if !slices.Contains(r.input.Sizes, p.sizeName) {
			r.input.Sizes = append(r.input.Sizes, p.sizeName)
			r.input.TotalStitches[p.sizeName] = n
		}
	}
	name := p.who
	for k := 2; slices.ContainsFunc(r.input.Testers, func(t fit.Tester) bool { return t.ID == p.who && t.Size == p.sizeName }); k++ {
		p.who = fmt.Sprintf("%s, piece %d", name, k)
	}
	r.input.Testers = append(r.input.Testers, fit.Tester{ID: p.who, Size: p.sizeName, Swatch: p.swatch, MetresUsed: &p.metres})
}

func (r *yarnRound) metres(a Amount) (metres float64, why string) {
	m, ok := a.metres()
	if !ok {
		g, weighed := a.grams()
		if !weighed || r.input.Ball == nil || r.input.Ball.Grams == 0 {
			return 0, "It was told by weight, and the length and weight of a ball are not set."
		}
		m = g / r.input.Ball.Grams * r.input.Ball.Metres
	}
	if !(m >= fit.MinMetres && m <= fit.MaxMetres) {
		return 0, "It comes to an amount that no garment takes."
	}
	return m, ""
}
