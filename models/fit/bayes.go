package fit

import "math"

// logBayesFactor is what adding an explanation with variance v does to the log
// marginal likelihood, from A = x'Px and b = x'Py without it:
//
//	−½ ln(1 + vA) + ½ v b² / (1 + vA)
func logBayesFactor(a, b, v float64) float64 {
	d := 1 + v*a
	return -0.5*math.Log(d) + 0.5*v*b*b/d
}

// logBayesFactor2 is the same for two explanations at once, a12 between them:
//
//	−½ ln(det(M) v1 v2) + ½ b'M⁻¹b,  M = diag(1/v1, 1/v2) + [[a11, a12], [a12, a22]]
func logBayesFactor2(a11, a12, a22, b1, b2, v1, v2 float64) float64 {
	m11, m22 := a11+1/v1, a22+1/v2
	det := m11*m22 - a12*a12
	return -0.5*math.Log(det*v1*v2) + 0.5*(m22*b1*b1-2*a12*b1*b2+m11*b2*b2)/det
}

// without gives A and b as they would be if the explanation with variance v,
// which is listed, were not: A/(1 − vA), b/(1 − vA).
func without(a, b, v float64) (float64, float64) {
	d := remaining(a, v)
	return a / d, b / d
}

// remaining is 1 − vA, which is above 0 for a listed explanation; rounding must
// not make it less.
func remaining(a, v float64) float64 { return max(1-v*a, 1e-12) }

// logistic is 1 / (1 + e^−x), without overflow.
func logistic(x float64) float64 {
	if x < 0 {
		e := math.Exp(x)
		return e / (1 + e)
	}
	return 1 / (1 + math.Exp(-x))
}

// shares turns log weights into shares that add up to 1, in place.
func shares(logWeights []float64) {
	top := math.Inf(-1)
	for _, w := range logWeights {
		top = max(top, w)
	}
	sum := 0.0
	for i, w := range logWeights {
		logWeights[i] = math.Exp(w - top)
		sum += logWeights[i]
	}
	for i := range logWeights {
		logWeights[i] /= sum
	}
}
