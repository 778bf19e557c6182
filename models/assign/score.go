package assign

import (
	"math/big"
	"math/bits"
	"strconv"
)

// scoreBits bounds the sum of all scores, so that sums and differences of two
// such sums stay within an int64.
const scoreBits = 61

// scale turns completion probabilities into whole numbers, so that sums of
// them compare exactly: 1/3 + 2/3 must tie with 1/2 + 1/2.
//
// A prior is read as the decimal fraction that it is written as, so every
// probability is a fraction, and score = probability * unit for a common
// denominator `unit`. Records of many different lengths may have none that
// fits; then unit is the largest power of two that does, and scores are
// rounded to it: for 10,000 applicants a step is below 2 * 10^-14, and the
// chosen total is within 2 * 10^-10 of the best.
type scale struct {
	unit  *big.Int
	exact bool
	prior [2]*big.Rat // finished, finished + dropped
	known map[[2]int]int64
}

// newScale finds the unit for the records of some applicants.
func newScale(prior Prior, applicants []Applicant) *scale {
	finished, dropped := decimal(prior.Finished), decimal(prior.Dropped)
	s := &scale{
		unit:  big.NewInt(1),
		exact: true,
		prior: [2]*big.Rat{finished, new(big.Rat).Add(finished, dropped)},
		known: map[[2]int]int64{},
	}
	room := scoreBits - bits.Len(uint(len(applicants)))
	seen := map[[2]int]bool{}
	for _, a := range applicants {
		record := [2]int{a.Accepted, a.Finished}
		if seen[record] {
			continue
		}
		seen[record] = true
		denominator := s.fraction(record).Denom()
		common := new(big.Int).GCD(nil, nil, s.unit, denominator)
		s.unit.Mul(s.unit, new(big.Int).Quo(denominator, common))
		if s.unit.BitLen() > room {
			s.unit.Lsh(big.NewInt(1), uint(room-1))
			s.exact = false
			break
		}
	}
	return s
}

// score gives an applicant's completion probability in units of the scale.
func (s *scale) score(accepted, finished int) int64 {
	record := [2]int{accepted, finished}
	if score, ok := s.known[record]; ok {
		return score
	}
	p := s.fraction(record)
	twice := new(big.Int).Lsh(p.Num(), 1)
	twice.Mul(twice, s.unit).Quo(twice, p.Denom()) // 2 p unit, cut
	score := (twice.Int64() + 1) / 2               // rounded; exact scores are even before
	s.known[record] = score
	return score
}

// probability turns a sum of scores back into a sum of probabilities.
func (s *scale) probability(score int64) float64 {
	sum, _ := new(big.Rat).SetFrac(big.NewInt(score), s.unit).Float64()
	return sum
}

func (s *scale) fraction(record [2]int) *big.Rat {
	top := new(big.Rat).Add(new(big.Rat).SetInt64(int64(record[1])), s.prior[0])
	bottom := new(big.Rat).Add(new(big.Rat).SetInt64(int64(record[0])), s.prior[1])
	return top.Quo(top, bottom)
}

// decimal reads a finite number as the shortest decimal fraction that means it.
func decimal(x float64) *big.Rat {
	r, ok := new(big.Rat).SetString(strconv.FormatFloat(x, 'g', -1, 64))
	if !ok {
		return new(big.Rat)
	}
	return r
}
