package fit

import "tenter/models/gauge"

// Settings are the numbers that were chosen, not measured: how large and how
// frequent effects are taken to be before anything is seen, and how sure a
// verdict has to be. Spreads and offsets are on the log scale (0.01 is about
// 1 %), chances and probabilities between 0 and 1.
type Settings struct {
	TesterSpread      float64 // ω's prior median: makers' garments against their swatches
	TesterSpreadSD    float64 // of ln ω
	MeasureScaleSD    float64 // of ln κ, round 1
	PointOffset       float64 // ν: harmless offset of a point, such as a seam
	CellOffset        float64 // harmless offset of one size at one point
	FaultSize         float64 // how large count faults are, and how frequent
	FaultChance       float64
	OddSize           float64 // odd values
	OddChance         float64
	GaugeSize         float64 // misreported gauges
	GaugeChance       float64
	PointSize         float64 // points off at all sizes
	PointChance       float64
	GaugeUnknown      float64 // spread of makers' gauges where none is reported
	Swatch            gauge.Budget
	StepCM, StepInch  float64 // what a tape is read to, each in its own unit
	Repeatability     Repeatability
	FaultSure         float64 // p_fault from which a cell is called a fault
	Suspect           float64 // and from which it is called suspect
	OddSure           float64
	GaugeSure         float64
	PointSure         float64
	OffSure           float64 // P(|τ| > OffBy) from which a tester is called off
	OffBy             float64
	FabricLeast       float64 // the least fabric effect that is worth naming
	FabricSteady      float64 // the interval within which fabric is called steady
	Tolerance         float64 // a cell is clear when its offset is surely within this share
	ToleranceReadings float64 // or within so many u_p of its length, if that is more
	UnclearChance     float64 // prior chance that a step is unclear
	EntryDoubt        float64 // |ln(measured/expected)| from which an entry is queried
}

// Repeatability is the standard uncertainty in cm of one measured point,
// whoever measures, for points that state none.
type Repeatability struct {
	ShortCM, WidthCM, LengthCM, CircumferenceCM, HemCM float64
}

// DefaultSettings are the settings that the method was tried with, all chosen.
func DefaultSettings() Settings {
	return Settings{
		TesterSpread: 0.03, TesterSpreadSD: 0.5, MeasureScaleSD: 0.3,
		PointOffset: 0.01, CellOffset: 0.007,
		FaultSize: 0.08, FaultChance: 0.03,
		OddSize: 0.20, OddChance: 0.02,
		GaugeSize: 0.15, GaugeChance: 0.02,
		PointSize: 0.08, PointChance: 0.03,
		GaugeUnknown: gauge.SpreadOfMakers, Swatch: gauge.UsualBudget(),
		StepCM: 0.5, StepInch: 0.25,
		Repeatability: Repeatability{ShortCM: 0.5, WidthCM: 0.8, LengthCM: 1.0, CircumferenceCM: 1.2, HemCM: 1.4},
		FaultSure:     0.80, Suspect: 0.50, OddSure: 0.80, GaugeSure: 0.80, PointSure: 0.90,
		OffSure: 0.90, OffBy: 0.025,
		FabricLeast: 0.01, FabricSteady: 0.03,
		Tolerance: 0.05, ToleranceReadings: 2.5,
		UnclearChance: 0.10, EntryDoubt: 0.22,
	}
}
