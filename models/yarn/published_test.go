package yarn

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// NIST Statistical Reference Datasets, linear regression, Norris (lower level of
// difficulty): certified slope, intercept, standard deviations and residual
// standard deviation (the last from memory, confirmed with R 4.2.2).
func TestLineAgreesWithNISTNorris(t *testing.T) {
	x := []float64{
		0.2, 337.4, 118.2, 884.6, 10.1, 226.5, 666.3, 996.3, 448.6, 777.0, 558.2, 0.4,
		0.6, 775.5, 666.9, 338.0, 447.5, 11.6, 556.0, 228.1, 995.8, 887.6, 120.2, 0.3,
		0.3, 556.8, 339.1, 887.2, 999.0, 779.0, 11.1, 118.3, 229.2, 669.1, 448.9, 0.5,
	}
	y := []float64{
		0.1, 338.8, 118.1, 888.0, 9.2, 228.1, 668.5, 998.5, 449.1, 778.9, 559.2, 0.3,
		0.1, 778.1, 668.8, 339.3, 448.9, 10.8, 557.7, 228.3, 998.0, 888.8, 119.6, 0.3,
		0.6, 557.6, 339.3, 888.0, 998.5, 778.9, 10.2, 117.6, 228.9, 668.4, 449.2, 0.2,
	}
	l, ok := fitLine(x, y)
	require.True(t, ok)
	require.InEpsilon(t, 1.00211681802045, l.slope, 1e-12)
	require.InEpsilon(t, -0.262323073774029, l.intercept, 1e-10)
	require.InEpsilon(t, 0.000429796848199937, l.slopeSD(), 1e-11)
	require.InEpsilon(t, 0.884796396144373, l.sd, 1e-11)
	// At x = 0 one more y varies by the line's own error there and the residual's.
	_, sd := l.predict(0)
	require.InEpsilon(t, math.Hypot(0.232818234301152, 0.884796396144373), sd, 1e-11)
}

// NIST Statistical Reference Datasets, univariate: certified means and standard
// deviations.
func TestMomentsAgreeWithNISTUnivariate(t *testing.T) {
	for _, row := range []struct {
		name     string
		y        []float64
		mean, sd float64
	}{
		{"NumAcc1", []float64{10000001, 10000003, 10000002}, 10000002, 1},
		{"NumAcc2", pairs(1.2, 1.1, 1.3, 500), 1.2, 0.1},
		{"NumAcc3", pairs(1000000.2, 1000000.1, 1000000.3, 500), 1000000.2, 0.1},
		{"Mavro", []float64{
			2.00180, 2.00170, 2.00180, 2.00190, 2.00180, 2.00170, 2.00150, 2.00140, 2.00150, 2.00150,
			2.00170, 2.00180, 2.00180, 2.00190, 2.00190, 2.00210, 2.00200, 2.00160, 2.00140, 2.00130,
			2.00130, 2.00150, 2.00150, 2.00160, 2.00150, 2.00140, 2.00130, 2.00140, 2.00150, 2.00140,
			2.00150, 2.00160, 2.00150, 2.00160, 2.00190, 2.00200, 2.00200, 2.00210, 2.00220, 2.00230,
			2.00240, 2.00250, 2.00270, 2.00260, 2.00260, 2.00260, 2.00270, 2.00260, 2.00250, 2.00240,
		}, 2.001856, 0.000429123454003053},
	} {
		mean, squares := moments(row.y)
		require.InEpsilon(t, row.mean, mean, 1e-14, row.name)
		require.InEpsilon(t, row.sd, math.Sqrt(squares/float64(len(row.y)-1)), 1e-8, row.name)
	}
}

// pairs is first, and then n times a and b.
func pairs(first, a, b float64, n int) []float64 {
	out := []float64{first}
	for range n {
		out = append(out, a, b)
	}
	return out
}

// JCGM 100:2008, Table G.2, 90 %: t(0.95; ν), two decimals.
func TestStudentTAgreesWithJCGM100TableG2(t *testing.T) {
	for nu, want := range map[float64]float64{1: 6.31, 2: 2.92, 3: 2.35, 4: 2.13, 5: 2.02, 7: 1.89, 10: 1.81, 20: 1.72} {
		require.InDelta(t, want, studentT(0.95, nu), 0.005, "%v degrees of freedom", nu)
	}
	require.InDelta(t, 1.89457860509001, studentT(0.95, 7), 1e-9, "R 4.2.2, qt(0.95, 7)")
}

func TestLineNeedsTwoDifferentSizes(t *testing.T) {
	_, ok := fitLine([]float64{2, 2, 2}, []float64{1, 2, 3})
	require.False(t, ok)
}

func TestLineThroughAllPointsHasABoundedT(t *testing.T) {
	l, ok := fitLine([]float64{1, 2, 3}, []float64{2, 4, 6})
	require.True(t, ok)
	require.False(t, math.IsInf(l.slopeT(), 0))
	require.Greater(t, l.slopeT(), 2.5)
}
