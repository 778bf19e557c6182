package fit

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/models/gauge"
)

// The BCG vaccine trials: Colditz et al., JAMA 271 (1994) 698-702, log risk
// ratios y and variances v of 13 trials, as in the R package metadat (dat.bcg).
func bcgTrials() (y, v []float64) {
	return []float64{
			-0.889311333920205, -1.58538865720143, -1.34807314829969, -1.44155119002131, -0.217547322211296,
			-0.786115585818864, -1.62089822359839, 0.0119523335238405, -0.469417648738149, -1.37134480347278,
			-0.339358828338391, 0.445913400571379, -0.0173139482168798,
		}, []float64{
			0.325584765003961, 0.194581121398144, 0.415367965367965, 0.0200100319022476, 0.0512101721696309,
			0.00690561845590876, 0.223017247572315, 0.00396157929781773, 0.0564342104632490, 0.0730247936130289,
			0.0124122139715597, 0.532505845200153, 0.0714046596839863,
		}
}

const bcgPointOffset = 1e-3

// bcgModel takes each trial for a tester with one measurement of one point; the
// point's harmless offset, the same for all, adds to the variance of their mean
// and nothing else.
func bcgModel(t *testing.T) *model {
	t.Helper()
	y, v := bcgTrials()
	ax := &axisRound{axis: gauge.Row, spots: []spot{{}}, cells: []cell{{}}}
	for i := range y {
		ax.obs = append(ax.obs, observation{maker: i, y: y[i], s2: v[i]})
		ax.makers = append(ax.makers, maker{tester: i, from: i, to: i + 1})
		ax.spots[0].obs, ax.cells[0].obs = append(ax.spots[0].obs, i), append(ax.cells[0].obs, i)
		ax.logS2 += math.Log(v[i])
	}
	s := DefaultSettings()
	s.PointOffset = bcgPointOffset
	m := newModel(ax, &s)
	m.kappa = 1
	return m
}

// The random-effects estimates at their own between-trial variance. Published to
// four decimals: estimate −0.7141, interval −1.0644 to −0.3638 (DerSimonian and
// Laird), −0.7145, se 0.1798 (REML; metafor's documentation, from memory). All
// digits: R metafor 3.8-1.
func TestFabricIsTheRandomEffectsMeanOfTheBCGTrials(t *testing.T) {
	for _, row := range []struct {
		estimator          string
		tau2, estimate, se float64
	}{
		{"DerSimonian and Laird", 0.308760262862376, -0.714117222073227, 0.178742089535403},
		{"REML", 0.313243258136481, -0.714532342158139, 0.179781516105206},
		{"maximum likelihood", 0.280028137268644, -0.711199135474181, 0.171896808776890},
		{"common effect", 0, -0.430285163654091, 0.0404987517108638},
	} {
		t.Run(row.estimator, func(t *testing.T) {
			m := bcgModel(t)
			m.omega = math.Sqrt(row.tau2)
			m.solve(everySize)
			phi, variance := m.fabric()
			require.InDelta(t, row.estimate, phi, 1e-9)
			require.InDelta(t, row.se, math.Sqrt(variance-bcgPointOffset*bcgPointOffset), 1e-9)
		})
	}
}

// The restricted likelihood has its top where metafor's REML has it.
func TestLikelihoodIsHighestAtTheREMLEstimate(t *testing.T) {
	const tau2 = 0.313243258136481
	at := func(tau2 float64) float64 {
		m := bcgModel(t)
		m.omega = math.Sqrt(tau2)
		m.likelihood()
		return m.logLik
	}
	require.Greater(t, at(tau2), at(tau2*0.99))
	require.Greater(t, at(tau2), at(tau2*1.01))
	slope := (at(tau2+1e-4) - at(tau2-1e-4)) / 2e-4
	require.InDelta(t, 0, slope, 1e-4)
}

// JCGM 100:2008, Table G.2: t for a level of confidence of 95 %, two decimals.
func TestStudentTAgreesWithJCGM100TableG2(t *testing.T) {
	for nu, want := range map[float64]float64{
		1: 12.71, 2: 4.30, 3: 3.18, 4: 2.78, 5: 2.57, 6: 2.45, 7: 2.36, 8: 2.31, 9: 2.26, 10: 2.23,
		20: 2.09, 50: 2.01, 100: 1.984,
	} {
		decimals := 0.005
		if nu == 100 {
			decimals = 0.0005
		}
		require.InDelta(t, want, studentT(0.975, nu), decimals, "%v degrees of freedom", nu)
	}
	require.InDelta(t, 3.18244630528371, studentT(0.975, 3), 1e-9, "R 4.2.2, qt(0.975, 3)")
	require.InDelta(t, 2.57058183563631, studentT(0.975, 5), 1e-9, "R 4.2.2, qt(0.975, 5)")
}

// JCGM 100:2008, F.2.2.1: a reading to the nearest step d has the standard
// uncertainty 0.29 d; and 5.1.6: relative uncertainties of a quotient add in
// quadrature.
func TestReportUncertaintyFollowsJCGM100(t *testing.T) {
	s := DefaultSettings()
	require.InDelta(t, 0.29*s.StepCM, math.Sqrt(s.rounding(gauge.Centimetre)), 0.005*s.StepCM)
	require.InDelta(t, 0.29*0.635, math.Sqrt(s.rounding(gauge.Inch)), 0.005*0.635)

	in := plainRound()
	out, err := Calculate(in)
	require.NoError(t, err)
	line := out.Reports[0]
	ug := math.Sqrt(0.5*0.5/12+0.2*0.2) / in.Testers[0].Swatch.Stitch.Count
	um := math.Hypot(*in.Points[0].UCM, 0.5/math.Sqrt(12)) / line.ExpectedOwnCM
	require.InDelta(t, 100*math.Hypot(ug, um), line.ResidualUPct, 0.001)
}

// The best linear unbiased predictions of the trials' own effects, φ + τ, at
// REML's between-trial variance: R metafor 3.8-1, blup().
func TestTesterOffsetsAreTheBestLinearPredictionsOfTheBCGTrials(t *testing.T) {
	m := bcgModel(t)
	m.omega = math.Sqrt(0.313243258136481)
	m.solve(everySize)
	phi, _ := m.fabric()
	for trial, want := range []float64{
		-0.800233561970350, -1.25170598030225, -0.986903093357502, -1.39789769649515, -0.287379806476374,
		-0.784571533645954, -1.24396346517330,
	} {
		tau, _ := m.testerOffset(trial)
		require.InDelta(t, want, phi+tau, 1e-9, "trial %d", trial+1)
	}
}
