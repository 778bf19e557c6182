package fit

import (
	"math"

	"tenter/models/gauge"
)

// Check returns a FieldError for the first setting that cannot be worked with.
func (s Settings) Check() error {
	for _, c := range s.ranges() {
		if !(c.value >= c.low && c.value <= c.high) { // written so that NaN fails too
			return gauge.Wrongf("settings."+c.name, "must lie between %v and %v", c.low, c.high)
		}
	}
	if s.Suspect > s.FaultSure {
		return gauge.Wrongf("settings.Suspect", "must not be above FaultSure, %v", s.FaultSure)
	}
	return nil
}

type settingRange struct {
	name             string
	value, low, high float64
}

// ranges bounds every setting: spreads may not vanish, chances and demands may
// not be certain, and nothing may leave the range in which the arithmetic was
// tried.
func (s Settings) ranges() []settingRange {
	const (
		leastSpread, mostSpread = 1e-4, 2.0
		leastChance, mostChance = 1e-6, 0.5
		leastSure, mostSure     = 0.1, 1 - 1e-6
		leastCM, mostCM         = 0.01, 100.0
	)
	r := s.Repeatability
	return []settingRange{
		{"TesterSpread", s.TesterSpread, leastSpread, mostSpread},
		{"TesterSpreadSD", s.TesterSpreadSD, leastSpread, mostSpread},
		{"MeasureScaleSD", s.MeasureScaleSD, leastSpread, mostSpread},
		{"PointOffset", s.PointOffset, leastSpread, mostSpread},
		{"CellOffset", s.CellOffset, leastSpread, mostSpread},
		{"FaultSize", s.FaultSize, leastSpread, mostSpread},
		{"OddSize", s.OddSize, leastSpread, mostSpread},
		{"GaugeSize", s.GaugeSize, leastSpread, mostSpread},
		{"PointSize", s.PointSize, leastSpread, mostSpread},
		{"GaugeUnknown", s.GaugeUnknown, leastSpread, mostSpread},
		{"FaultChance", s.FaultChance, leastChance, mostChance},
		{"OddChance", s.OddChance, leastChance, mostChance},
		{"GaugeChance", s.GaugeChance, leastChance, mostChance},
		{"PointChance", s.PointChance, leastChance, mostChance},
		{"UnclearChance", s.UnclearChance, leastChance, mostChance},
		{"FaultSure", s.FaultSure, leastSure, mostSure},
		{"Suspect", s.Suspect, leastSure, mostSure},
		{"OddSure", s.OddSure, leastSure, mostSure},
		{"GaugeSure", s.GaugeSure, leastSure, mostSure},
		{"PointSure", s.PointSure, leastSure, mostSure},
		{"OffSure", s.OffSure, leastSure, mostSure},
		{"OffBy", s.OffBy, leastSpread, 1},
		{"FabricLeast", s.FabricLeast, leastSpread, 1},
		{"FabricSteady", s.FabricSteady, leastSpread, 1},
		{"Tolerance", s.Tolerance, leastSpread, 1},
		{"EntryDoubt", s.EntryDoubt, leastSpread, 1},
		{"StepCM", s.StepCM, leastCM, mostCM},
		{"StepInch", s.StepInch, leastCM, mostCM},
		{"ToleranceReadings", s.ToleranceReadings, leastCM, mostCM},
		{"Repeatability.ShortCM", r.ShortCM, leastCM, mostCM},
		{"Repeatability.WidthCM", r.WidthCM, leastCM, mostCM},
		{"Repeatability.LengthCM", r.LengthCM, leastCM, mostCM},
		{"Repeatability.CircumferenceCM", r.CircumferenceCM, leastCM, mostCM},
		{"Repeatability.HemCM", r.HemCM, leastCM, mostCM},
		{"Swatch", s.Swatch.Count(), 1e-6, 10},
	}
}

// logOdds of a probability strictly between 0 and 1.
func logOdds(p float64) float64 { return math.Log(p / (1 - p)) }
