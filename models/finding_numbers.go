package models

import "tenter/models/fit"

// fillNumbers finds what a finding rests on in the answer that it came from.
func (d *Diagnosis) fillNumbers(f *Finding) {
	f.Numbers.Verdict = f.Verdict
	switch f.Kind {
	case "cell":
		for _, c := range d.Numbers.Cells {
			if c.Size == f.Size && c.Point == f.Point {
				f.ofCell(c)
			}
		}
	case "point":
		for _, p := range d.Numbers.Points {
			if p.Point == f.Point {
				f.Numbers.EstimatePct, f.Numbers.P = &p.EstimatePct, &p.P
			}
		}
	case "grading":
		for _, g := range d.Numbers.Grading {
			if g.Point == f.Point {
				f.Numbers.Sizes = g.Sizes
			}
		}
	case "fabric":
		for _, b := range d.Fabric {
			if b.Axis == f.Axis {
				f.Numbers.EstimatePct, f.Numbers.LoPct, f.Numbers.HiPct, f.Numbers.Reports = b.EstimatePct, b.LoPct, b.HiPct, b.Testers
			}
		}
	case "tester":
		for _, t := range d.Numbers.Testers {
			if t.Tester == f.Who && t.Size == f.Size && t.Axis == f.Axis {
				f.ofTester(t)
			}
		}
	case "odd_value", "readings":
		for _, o := range d.Numbers.OddValues {
			if o.Tester == f.Who && o.Size == f.Size && o.Point == f.Point && o.Verdict == f.Verdict {
				f.Numbers.EstimatePct, f.Numbers.P, f.Numbers.Signature = o.DevPct, o.P, o.Signature
			}
		}
		for _, line := range d.Lines {
			if line.ReportID == f.ReportID && line.Point == f.Point {
				f.Numbers.MeasuredCM = &line.MeasuredCM
			}
		}
	}
}

func (f *Finding) ofCell(c fit.Cell) {
	n := &f.Numbers
	n.EstimatePct, n.LoPct, n.HiPct, n.P, n.Reports = c.EstimatePct, c.LoPct, c.HiPct, &c.PFault, c.Reports
	if c.Verdict == fit.CannotTell {
		n.P = nil // that nothing can be told is no degree of certainty
	}
	if c.AsCount != nil && f.Asks {
		offset := CountOffset(*c.AsCount)
		n.AsCount = &offset
	}
	if c.MoreReports != nil {
		more := int(*c.MoreReports)
		f.MoreReports = &more
	}
}

func (f *Finding) ofTester(t fit.TesterOnAxis) {
	n := &f.Numbers
	n.EstimatePct, n.LoPct, n.HiPct, n.P = t.EstimatePct, t.LoPct, t.HiPct, t.POff
	if t.Verdict == fit.GaugeWrong {
		n.P = t.PGauge
	}
}
