package fit

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

const (
	leastGauges = 3 // testers with a gauge, and
	leastPoints = 2 // points, without which the fabric cannot be told
)

// fabric judges φ by its 95 % interval φ ± t(0.975; T−1) sd, T the testers with
// a gauge.
func (r *result) fabric() Fabric {
	ax := r.ax
	out := Fabric{Axis: ax.axis, Verdict: CannotTell, Testers: ax.gauges()}
	if len(ax.obs) == 0 {
		out.Message = fabricNothing(ax.axis)
		return out
	}
	phi, variance := r.m.fabric()
	out.EstimatePct = shownPercent(phi)
	out.Omega, out.Kappa = r.m.omega, r.m.kappa
	if out.Testers < leastGauges || r.contradicted() {
		out.Message = fabricUnknown(out, r.contradicted())
		return out
	}
	half := studentT(0.975, float64(out.Testers-1)) * math.Sqrt(variance)
	out.LoPct, out.HiPct = shownPercent(phi-half), shownPercent(phi+half)
	if len(ax.spots) >= leastPoints {
		out.Verdict = fabricVerdict(r.s, phi, half)
	}
	out.Message = fabricSentence(out, len(ax.spots))
	return out
}

func fabricVerdict(s *Settings, phi, half float64) Verdict {
	switch {
	case phi-half > 0 && phi >= s.FabricLeast:
		return Grows
	case phi+half < 0 && phi <= -s.FabricLeast:
		return Shrinks
	case phi-half > -s.FabricSteady && phi+half < s.FabricSteady:
		return Steady
	}
	return CannotTell
}

// contradicted reports whether a point is listed that another could be instead:
// then the fabric is one thing by the one and another by the other.
func (r *result) contradicted() bool {
	for p, on := range r.m.on.point {
		if on && r.odds.point[p].this < r.s.PointSure {
			return true
		}
	}
	return false
}

// studentT is the p quantile of Student's t with nu degrees of freedom.
func studentT(p, nu float64) float64 {
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: nu}.Quantile(p)
}
