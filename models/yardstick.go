package models

import (
	"fmt"
	"strings"

	"gorm.io/gorm"

	"tenter/models/gauge"
)

// yardstick holds what the counts of a design's versions come to at each point
// of each size, so that pieces can be held against it.
type yardstick struct {
	design   *Design
	points   []Point
	versions map[string]*versionCounts
	compiled *expressionCache
	promised map[promise]promised // what count has answered already
}

// promise is one point of one size in one version.
type promise struct{ version, size, point string }

type promised struct {
	value float64
	ok    bool
	err   error
}

// versionCounts are one version's counts by size and name.
type versionCounts struct {
	names  []string
	joined string // the names, for the expression cache
	bySize map[string]map[string]float64
}

// yardstickIn loads the counts of the versions that wanted picks: an SQL
// condition on versions.id.
func (s *Store) yardstickIn(db *gorm.DB, design *Design, points []Point, wanted string, args ...any) (*yardstick, error) {
	y := &yardstick{design: design, points: points, versions: map[string]*versionCounts{}, compiled: s.expressions, promised: map[promise]promised{}}
	rows, err := db.Raw(`SELECT c.version_id, c.name, v.size_id, v.value FROM counts c
		LEFT JOIN count_values v ON v.count_id = c.id WHERE c.version_id IN (`+wanted+`) ORDER BY c.version_id, c.position`, args...).Rows()
	if err != nil {
		return nil, fmt.Errorf("counts: %w", err)
	}
	defer rows.Close()
	for rows.Next() {
		var (
			version, name string
			size          *string
			value         *float64
		)
		if err := rows.Scan(&version, &name, &size, &value); err != nil {
			return nil, fmt.Errorf("counts: %w", err)
		}
		y.add(version, name, size, value)
	}
	if err := rows.Err(); err != nil {
		return nil, fmt.Errorf("counts: %w", err)
	}
	for _, v := range y.versions {
		v.joined = strings.Join(v.names, " ")
	}
	return y, nil
}

func (y *yardstick) add(version, name string, size *string, value *float64) {
	v := y.versions[version]
	if v == nil {
		v = &versionCounts{bySize: map[string]map[string]float64{}}
		y.versions[version] = v
	}
	if n := len(v.names); n == 0 || v.names[n-1] != name {
		v.names = append(v.names, name) // rows come in the text's order
	}
	if size == nil || value == nil {
		return // a line that every size skips
	}
	if v.bySize[*size] == nil {
		v.bySize[*size] = map[string]float64{}
	}
	v.bySize[*size][name] = *value
}

// count returns what a point's expression comes to; ok is false where the size
// skips one of its counts. An expression that this version cannot answer is an
// error.
func (y *yardstick) count(versionID, sizeID string, point *Point) (value float64, ok bool, err error) {
	key := promise{versionID, sizeID, point.ID}
	kept, known := y.promised[key]
	if !known {
		kept.value, kept.ok, kept.err = y.evaluate(versionID, sizeID, point)
		y.promised[key] = kept
	}
	return kept.value, kept.ok, kept.err
}

func (y *yardstick) evaluate(versionID, sizeID string, point *Point) (value float64, ok bool, err error) {
	v := y.versions[versionID]
	if v == nil {
		return 0, false, nil // no counts yet
	}
	expr, err := y.compiled.compile(point.Expr, v.joined)
	if err != nil {
		return 0, false, err
	}
	values := v.bySize[sizeID]
	for _, name := range expr.Names() {
		if _, there := values[name]; !there {
			return 0, false, nil
		}
	}
	value, err = expr.Eval(values)
	return value, err == nil, err
}

// expectedCM returns what a count gives at a gauge: count / per cm + added.
// ok is false where the gauge lacks the point's axis.
func expectedCM(g gauge.Gauge, point *Point, count float64) (cm float64, ok bool) {
	swatch, counted := g.On(gauge.Axis(point.Axis))
	if !counted {
		return 0, false
	}
	cm, err := swatch.ExpectedCM(count, point.Add.CM)
	return cm, err == nil
}

// gauge returns the design's gauge for calculation.
func (g Gauge) gauge() gauge.Gauge {
	return gauge.Over(g.Stitches, g.Rows, g.Span, gauge.LengthUnit(g.Unit))
}

// gauge returns a measured gauge for calculation; what is missing counts as
// not counted.
func (g SwatchGauge) gauge() gauge.Gauge {
	if g.Span == nil || g.Unit == nil {
		return gauge.Gauge{}
	}
	var stitches, rows float64
	set(&stitches, g.Stitches)
	set(&rows, g.Rows)
	return gauge.Over(stitches, rows, *g.Span, gauge.LengthUnit(*g.Unit))
}

func (l Length) entered() gauge.Length {
	return gauge.Length{Value: l.Value, Unit: gauge.LengthUnit(l.Unit)}
}
