package compare

import (
	"fmt"
	"math"

	"tenter/models/gauge"
)

func (in StripInput) check() error {
	if in.Unit != "" && !in.Unit.Valid() {
		return gauge.Wrongf("unit", "is unknown; give cm or in")
	}
	if !(in.IntendedCM > 0 && in.IntendedCM <= gauge.MaxLengthCM) {
		return gauge.Wrongf("intended_cm", "must be more than 0 and at most %s", gauge.Decimal(gauge.MaxLengthCM, 0))
	}
	if err := checkTolerance("tolerance_cm", in.ToleranceCM); err != nil {
		return err
	}
	if !expectable(in.ExpectedDesignCM) {
		return gauge.Wrongf("expected_design_cm", "must be 0 (not known) or lie between %s and %s", gauge.Decimal(shortestCM, 1), gauge.Decimal(gauge.MaxLengthCM, 0))
	}
	if !(math.Abs(in.GrowthPercent) <= 50) {
		return gauge.Wrongf("growth_percent", "must lie between -50 and 50")
	}
	if len(in.Measured) > MaxMarks {
		return gauge.Wrongf("measured", "has %d entries; give at most %d", len(in.Measured), MaxMarks)
	}
	for i, m := range in.Measured {
		field := fmt.Sprintf("measured[%d]", i)
		if !(m.CM > 0 && m.CM <= gauge.MaxLengthCM) {
			return gauge.Wrongf(field+".cm", "must be more than 0 and at most %s", gauge.Decimal(gauge.MaxLengthCM, 0))
		}
		if !expectable(m.ExpectedOwnCM) {
			return gauge.Wrongf(field+".expected_own_cm", "must be 0 (not known) or lie between %s and %s", gauge.Decimal(shortestCM, 1), gauge.Decimal(gauge.MaxLengthCM, 0))
		}
	}
	return nil
}

func expectable(cm float64) bool {
	return cm == 0 || cm >= shortestCM && cm <= gauge.MaxLengthCM
}
