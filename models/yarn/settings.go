package yarn

// Settings are the numbers that were chosen, not measured.
type Settings struct {
	Gamma            float64 // share of makers whose yarn should last, where the input states none
	MakerSpread      float64 // prior standard deviation of y between makers: 8 %
	MakerSpreadWorth float64 // how many reports that prior is worth
	OutlierMADs      float64 // from four testers: an outlier is so many scaled MADs off,
	OutlierLeast     float64 // and at least so far
	OutlierFew       float64 // under four testers: so far from their median
	SlopeT           float64 // |t| of the slope on ln N from which size matters
}

// DefaultSettings are the settings that the method was tried with, all chosen.
func DefaultSettings() Settings {
	return Settings{
		Gamma: 0.90, MakerSpread: 0.08, MakerSpreadWorth: 4,
		OutlierMADs: 3.5, OutlierLeast: 0.15, OutlierFew: 0.5, SlopeT: 2.5,
	}
}
