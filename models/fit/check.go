package fit

import (
	"fmt"
	"maps"
	"math"
	"slices"

	"tenter/models/gauge"
)

// Check returns a FieldError for the first thing in the input that cannot be
// worked with. Calculate calls it, and so may others that take the same
// document: a round without points passes, though there is nothing to fit.
func (in *Input) Check() error {
	if err := checkNames("sizes", in.Sizes, MaxSizes); err != nil {
		return err
	}
	if err := in.checkPoints(); err != nil {
		return err
	}
	if err := in.checkDesignGauge(); err != nil {
		return err
	}
	if err := in.checkSheet(); err != nil {
		return err
	}
	return in.checkTesters()
}

func checkNames(field string, names []string, most int) error {
	if len(names) == 0 {
		return gauge.Wrongf(field, "is empty; name at least one")
	}
	if len(names) > most {
		return gauge.Wrongf(field, "has %d entries; at most %d can be worked with", len(names), most)
	}
	seen := make(map[string]bool, len(names))
	for i, n := range names {
		path := fmt.Sprintf("%s[%d]", field, i)
		if err := checkName(path, n); err != nil {
			return err
		}
		if seen[n] {
			return gauge.Wrongf(path, "%q is there twice; names must differ", n)
		}
		seen[n] = true
	}
	return nil
}

func checkName(path, name string) error {
	if name == "" {
		return gauge.Wrongf(path, "is empty; give a name")
	}
	if len(name) > MaxNameLength {
		return gauge.Wrongf(path, "is longer than %d bytes; shorten it", MaxNameLength)
	}
	return nil
}

func (in *Input) checkPoints() error {
	if len(in.Points) == 0 {
		return nil
	}
	ids := make([]string, len(in.Points))
	for i, p := range in.Points {
		ids[i] = p.ID
	}
	if err := checkNames("points", ids, MaxPoints); err != nil {
		return err
	}
	for i, p := range in.Points {
		path := fmt.Sprintf("points[%d]", i)
		if err := p.Axis.Check(path + ".axis"); err != nil {
			return err
		}
		if p.UCM != nil && !(*p.UCM >= 0.01 && *p.UCM <= 100) {
			return gauge.Wrongf(path+".u_cm", "must lie between 0.01 and 100 cm; leave it out for the usual value")
		}
		if !(math.Abs(p.AddCM) <= MaxAddCM) {
			return gauge.Wrongf(path+".add_cm", "must lie between -%v and %v cm; leave it out for none", MaxAddCM, MaxAddCM)
		}
		if p.Repeat != nil && !(*p.Repeat > 0 && *p.Repeat <= MaxRepeat) {
			return gauge.Wrongf(path+".repeat", "must be above 0 and at most %v; leave it out for 1", MaxRepeat)
		}
	}
	return nil
}

func (in *Input) checkDesignGauge() error {
	g := in.DesignGauge
	if !(g.OverCM > 0) {
		return gauge.Wrongf("design_gauge.over_cm", "must be above 0; give the span of the gauge in cm, such as 10")
	}
	for _, axis := range []gauge.Axis{gauge.Stitch, gauge.Row} {
		count := g.Stitch
		if axis == gauge.Row {
			count = g.Row
		}
		used := slices.ContainsFunc(in.Points, func(p Point) bool { return p.Axis == axis })
		if count == 0 && !used {
			continue
		}
		s := gauge.Swatch{Count: count, Over: g.OverCM, Unit: gauge.Centimetre}
		if err := s.Check("design_gauge"); err != nil {
			return renamed(err, map[string]string{
				"design_gauge.count": "design_gauge." + string(axis),
				"design_gauge.over":  "design_gauge.over_cm",
			})
		}
	}
	return nil
}

// renamed gives an error of a swatch the path that the field has here.
func renamed(err error, paths map[string]string) error {
	if fe, ok := err.(*FieldError); ok {
		if path, ok := paths[fe.Field]; ok {
			return &FieldError{Field: path, Problem: fe.Problem}
		}
	}
	return err
}

// checkSheet walks the tables in the order of their keys, so that the same
// input always gives the same error.
func (in *Input) checkSheet() error {
	axis := make(map[string]gauge.Axis, len(in.Points))
	for _, p := range in.Points {
		axis[p.ID] = p.Axis
	}
	if err := in.checkTable("intended_cm", in.IntendedCM, axis, func(string, float64) error { return nil }); err != nil {
		return err
	}
	err := in.checkTable("counts", in.Counts, axis, func(point string, count float64) error {
		cm := 10 * count / in.DesignGauge.per10(axis[point])
		if count > 0 && !(cm >= MinExpectedCM && cm <= MaxExpectedCM) {
			return fmt.Errorf("comes to %s cm at the design gauge; check the count and the gauge", gauge.Decimal(math.Min(cm, 1e9), 3))
		}
		return nil
	})
	if err != nil {
		return err
	}
	for _, size := range slices.Sorted(maps.Keys(in.TotalStitches)) {
		path := "total_stitches." + size
		if !slices.Contains(in.Sizes, size) {
			return gauge.Wrongf(path, "is not one of the sizes")
		}
		if n := in.TotalStitches[size]; !(n == 0 || n >= 1 && n <= MaxStitches) {
			return gauge.Wrongf(path, "must lie between 1 and %v; leave it out if not known", MaxStitches)
		}
	}
	return nil
}

func (in *Input) checkTable(field string, table map[string]map[string]float64, axis map[string]gauge.Axis, each func(point string, value float64) error) error {
	for _, size := range slices.Sorted(maps.Keys(table)) {
		if !slices.Contains(in.Sizes, size) {
			return gauge.Wrongf(field+"."+size, "is not one of the sizes")
		}
		for _, point := range slices.Sorted(maps.Keys(table[size])) {
			path := field + "." + size + "." + point
			if _, ok := axis[point]; !ok {
				return gauge.Wrongf(path, "is not one of the points")
			}
			v := table[size][point]
			if !(v >= 0 && v <= 1e6) {
				return gauge.Wrongf(path, "must lie between 0 and 1000000; leave it out if the size skips the point")
			}
			if err := each(point, v); err != nil {
				return gauge.Wrongf(path, "%s", err.Error())
			}
		}
	}
	return nil
}
