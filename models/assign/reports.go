package assign

import "math"

// Distribution gives the probability of each number of reports, 0 to n, from
// n testers who finish independently, each with their own probability:
//
//	f = [1]; for each p: f[k] <- f[k] (1-p) + f[k-1] p
//
// (the Poisson-binomial distribution, by direct convolution). All terms are
// sums and products of numbers from 0 to 1, so nothing cancels.
func Distribution(probabilities []float64) []float64 {
	return reports(probabilities, len(probabilities))
}

// reports is Distribution with all numbers from `enough` upwards in one last
// term, so that its last term is P(at least enough). The result has enough+1
// terms.
func reports(probabilities []float64, enough int) []float64 {
	f := make([]float64, enough+1)
	f[0] = 1
	for _, p := range probabilities {
		oneMore(f, p)
	}
	return f
}

// oneMore turns the terms of reports into those with one more tester.
func oneMore(f []float64, p float64) {
	enough := len(f) - 1
	if enough == 0 {
		return // the one term holds everything
	}
	f[enough] += f[enough-1] * p
	for k := enough - 1; k > 0; k-- {
		f[k] = f[k]*(1-p) + f[k-1]*p
	}
	f[0] *= 1 - p
}

// AtLeast gives the probability that at least `enough` testers finish; 1 when
// enough is 0 or less.
func AtLeast(probabilities []float64, enough int) float64 {
	if enough <= 0 {
		return 1
	}
	if enough > len(probabilities) {
		return 0
	}
	return min(1, reports(probabilities, enough)[enough])
}

// dependence is taken off every tester's probability to show what a shared
// misfortune would do (chosen).
const dependence = 0.1

// lowered takes `dependence` off each probability, down to 0 at the least.
// Who has finished already, with probability 1, stays.
func lowered(probabilities []float64) []float64 {
	out := make([]float64, len(probabilities))
	for i, p := range probabilities {
		out[i] = p
		if p < 1 {
			out[i] = max(0, p-dependence)
		}
	}
	return out
}

// slack keeps a probability that equals the asked one, but for rounding, from
// asking for one more tester.
const slack = 1e-12

// reaches tells whether a probability is as high as asked.
func reaches(probability, asked float64) bool { return probability >= asked-slack }

// Recruits gives the fewest newcomers, each finishing with probability
// `newcomer`, that lift the probability of at least `enough` reports to
// `asked`, for 0 < newcomer <= 1 and 0 < asked < 1:
//
//	P(k) = 1 - sum over j < enough of f[j] P(B <= enough-1-j), B ~ Bin(k, newcomer)
//
// which rises with k, so that doubling and halving finds it.
func Recruits(probabilities []float64, enough int, newcomer, asked float64) int {
	if reaches(AtLeast(probabilities, enough), asked) {
		return 0
	}
	f := reports(probabilities, enough)
	enoughWith := func(k int) bool {
		tail := fewAtMost(k, enough, newcomer)
		missing := 0.0
		for j := range enough {
			missing += f[j] * tail[enough-1-j]
		}
		return reaches(1-missing, asked)
	}
	low, high := 0, 1 // too few, to be tried
	for !enoughWith(high) && high < math.MaxInt/2 {
		low, high = high, 2*high
	}
	for high-low > 1 {
		if middle := low + (high-low)/2; enoughWith(middle) {
			high = middle
		} else {
			low = middle
		}
	}
	return high
}

// fewAtMost gives P(B <= j) for j < terms, B ~ Bin(k, p), 0 < p <= 1, from
// P(B = j+1) = P(B = j) (k-j)/(j+1) p/(1-p), kept as logarithms because
// P(B = 0) may be too small for a float64.
func fewAtMost(k, terms int, p float64) []float64 {
	cumulative := make([]float64, terms)
	if p >= 1 { // all k finish
		for j := k; j < terms; j++ {
			cumulative[j] = 1
		}
		return cumulative
	}
	sum := 0.0
	logTerm, logOdds := float64(k)*math.Log1p(-p), math.Log(p)-math.Log1p(-p)
	for j := range cumulative {
		if j <= k {
			sum += math.Exp(logTerm)
			logTerm += math.Log(float64(k-j)/float64(j+1)) + logOdds
		}
		cumulative[j] = min(1, sum)
	}
	return cumulative
}
