package yarn

import "tenter/models/gauge"

// Check returns a FieldError for the first setting that cannot be worked with.
func (s Settings) Check() error {
	for _, c := range []struct {
		name             string
		value, low, high float64
	}{
		{"Gamma", s.Gamma, 0.5, 0.999},
		{"MakerSpread", s.MakerSpread, 0.001, 1},
		{"MakerSpreadWorth", s.MakerSpreadWorth, 1, 100},
		{"OutlierMADs", s.OutlierMADs, 1, 100},
		{"OutlierLeast", s.OutlierLeast, 0.01, 2},
		{"OutlierFew", s.OutlierFew, 0.05, 5},
		{"SlopeT", s.SlopeT, 1, 100},
	} {
		if !(c.value >= c.low && c.value <= c.high) { // written so that NaN fails too
			return gauge.Wrongf("settings."+c.name, "must lie between %v and %v", c.low, c.high)
		}
	}
	return nil
}
