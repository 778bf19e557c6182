package assign

// StillAtWork gives the completion probability of somebody who has told that
// a share of the work, 0 to 1, is done. Those who drop out are taken to do so
// anywhere in the work alike (chosen), so that only 1-done of them would have
// come this far, and by Bayes' rule
//
//	p / (p + (1-p) (1-done))
//
// so 0.73 becomes 0.84 when half is done. A share outside 0 to 1 counts as the
// nearer end.
func StillAtWork(probability, done float64) float64 {
	left := 1 - max(0, min(1, done))
	if dropped := (1 - probability) * left; dropped > 0 {
		return probability / (probability + dropped)
	}
	return 1 // nobody drops out after the end of the work
}
