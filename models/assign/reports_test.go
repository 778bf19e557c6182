package assign

import (
	"math"
	"math/bits"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat/distuv"
)

// Poisson-binomial probabilities computed with R 4.2.2 (stats), to the digits
// that R printed.
func TestDistributionAgreesWithR(t *testing.T) {
	for _, row := range []struct {
		probabilities, want []float64
	}{
		{[]float64{0.5, 0.5, 0.5}, []float64{0.125, 0.375, 0.375, 0.125}},
		{[]float64{0.1, 0.2, 0.3, 0.4}, []float64{0.3024, 0.4404, 0.2144, 0.0404, 0.0024}},
		{[]float64{0.9, 0.8, 0.75, 0.6, 0.95, 0.5},
			[]float64{5e-05, 0.001875, 0.0234, 0.12665, 0.32265, 0.371475, 0.1539}},
		{[]float64{0.02, 0.05, 0.5, 0.5, 0.98},
			[]float64{0.004655, 0.237745, 0.47819, 0.26201, 0.017155, 0.000245}},
		{[]float64{0.05, 0.15, 0.25, 0.35, 0.45, 0.55, 0.65, 0.75, 0.85, 0.95},
			[]float64{6.39383862304687e-05, 0.00208855445800781, 0.0210629395678711, 0.0960168541210937}},
	} {
		got := Distribution(row.probabilities)
		require.Len(t, got, len(row.probabilities)+1)
		above := 1.0
		for k, want := range row.want {
			require.InDelta(t, want, got[k], 1e-14, "P(%d), %v", k, row.probabilities)
			require.InDelta(t, above, AtLeast(row.probabilities, k), 1e-14, "P(>= %d), %v", k, row.probabilities)
			above -= want
		}
	}
}

// Binomial distribution functions computed with R 4.2.2 (stats).
func TestEqualTestersAgreeWithR(t *testing.T) {
	for _, row := range []struct {
		n, x   int
		p, cdf float64
	}{
		{10, 2, 0.3, 0.3827827864},
		{10, 5, 0.3, 0.9526510126},
		{12, 3, 0.5, 0.072998046875},
		{12, 8, 0.5, 0.927001953125},
		{20, 1, 0.05, 0.73583952494385},
	} {
		p := make([]float64, row.n)
		for i := range p {
			p[i] = row.p
		}
		require.InDelta(t, 1-row.cdf, AtLeast(p, row.x+1), 1e-12)
		require.InDelta(t, row.cdf, fewAtMost(row.n, row.x+1, row.p)[row.x], 1e-12)
	}
}

func TestDistributionIsTheSumOverAllOutcomes(t *testing.T) {
	rng := rand.New(rand.NewPCG(15, 16))
	for range 200 {
		p := make([]float64, rng.IntN(11))
		for i := range p {
			p[i] = rng.Float64()
		}
		want := make([]float64, len(p)+1)
		for outcome := range uint(1) << len(p) {
			chance := 1.0
			for i, one := range p {
				if outcome>>i&1 == 1 {
					chance *= one
				} else {
					chance *= 1 - one
				}
			}
			want[bits.OnesCount(outcome)] += chance
		}
		require.InDeltaSlice(t, want, Distribution(p), 1e-14)
	}
}

// Three testers with records 5 of 5, 2 of 3 and none, worked by hand over the
// 8 outcomes.
func TestWorkedExample(t *testing.T) {
	prior := DefaultPrior()
	p := []float64{prior.Completion(5, 5), prior.Completion(3, 2), prior.Newcomer()}
	require.InDeltaSlice(t, []float64{0.857143, 0.705882, 0.727273}, p, 5e-7)
	require.InDeltaSlice(t, []float64{0.011459, 0.126814, 0.421696, 0.440031}, Distribution(p), 5e-7)
	require.InDelta(t, 0.861727, AtLeast(p, 2), 5e-7)
	require.Equal(t, 3, Recruits(p, 3, prior.Newcomer(), 0.9))

	for k, want := range map[int]float64{2: 0.5289, 3: 0.8174, 4: 0.9355} { // binomial tables
		fresh := make([]float64, k)
		for i := range fresh {
			fresh[i] = prior.Newcomer()
		}
		require.InDelta(t, want, AtLeast(fresh, 2), 5e-5)
	}
	require.Equal(t, 4, Recruits(nil, 2, prior.Newcomer(), 0.9))
}

func TestRecruitsIsTheFirstThatReaches(t *testing.T) {
	rng := rand.New(rand.NewPCG(17, 18))
	for range 500 {
		p := make([]float64, rng.IntN(6))
		for i := range p {
			p[i] = rng.Float64()
		}
		enough, newcomer, asked := rng.IntN(8), 0.05+0.95*rng.Float64(), 0.999*rng.Float64()+0.0005
		want := 0
		for grown := p; AtLeast(grown, enough) < asked; want++ {
			grown = append(grown, newcomer)
		}
		require.Equal(t, want, Recruits(p, enough, newcomer, asked))
	}
}

func TestRecruitsAtTheEdges(t *testing.T) {
	for _, row := range []struct {
		name            string
		enough          int
		newcomer, asked float64
		want            int
	}{
		{"nothing is needed", 0, 0.5, 0.9, 0},
		{"exactly as asked is enough", 1, 0.5, 0.75, 2},
		{"a little more than that is not", 1, 0.5, 0.7501, 3},
		{"newcomers who never fail", 3, 1, 0.999, 3},
		{"hardly anyone finishes: ln(0.1)/ln(1 - 1e-5), rounded up", 1, 1e-5, 0.9, 230258},
	} {
		t.Run(row.name, func(t *testing.T) {
			require.Equal(t, row.want, Recruits(nil, row.enough, row.newcomer, row.asked))
		})
	}
	// 1 - 0.3^2 = 0.91 comes out a little below in floating point.
	require.Less(t, AtLeast([]float64{0.7, 0.7}, 1), 0.91)
	require.Zero(t, Recruits([]float64{0.7, 0.7}, 1, 0.7, 0.91))
	// Far beyond any call the count is still right, by gonum's own binomial.
	k := Recruits(nil, 2000, 0.01, 0.9)
	require.GreaterOrEqual(t, distuv.Binomial{N: float64(k), P: 0.01}.Survival(1999), 0.9)
	require.Less(t, distuv.Binomial{N: float64(k - 1), P: 0.01}.Survival(1999), 0.9)
}

func TestLoweredKeepsWhoHasFinished(t *testing.T) {
	require.InDeltaSlice(t, []float64{1, 0.63, 0, 0}, lowered([]float64{1, 0.73, 0.05, 0}), 1e-15)
}

// The mean and the variance of the sum are the sums of p and p(1-p).
func TestMomentsOfTheDistribution(t *testing.T) {
	rng := rand.New(rand.NewPCG(19, 20))
	p := make([]float64, 200)
	mean, variance := 0.0, 0.0
	for i := range p {
		p[i] = rng.Float64()
		mean += p[i]
		variance += p[i] * (1 - p[i])
	}
	var total, first, second float64
	for k, f := range Distribution(p) {
		total += f
		first += float64(k) * f
		second += math.Pow(float64(k)-mean, 2) * f
	}
	require.InDelta(t, 1, total, 1e-12)
	require.InDelta(t, mean, first, 1e-9)
	require.InDelta(t, variance, second, 1e-9)
}
