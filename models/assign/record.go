package assign

// Prior is the record that everybody is credited with before their own: the
// two parameters of a beta distribution of the completion probability.
type Prior struct {
	Finished float64 `json:"finished"`
	Dropped  float64 `json:"dropped"`
}

// Bounds on each part of a prior. Without some finished tests no number of
// newcomers would ever do.
const (
	MinPriorFinished = 0.01
	MaxPrior         = 1000.0
)

// DefaultPrior is Beta(4, 1.5), 73 % (chosen; a studio's own rate should
// replace it).
func DefaultPrior() Prior { return Prior{Finished: 4, Dropped: 1.5} }

// Completion gives the probability that someone with this record finishes in
// time, the mean of the beta distribution after it:
//
//	(finished + prior.Finished) / (accepted + prior.Finished + prior.Dropped)
//
// for 0 <= finished <= accepted and prior.Finished > 0.
func (p Prior) Completion(accepted, finished int) float64 {
	return (float64(finished) + p.Finished) / (float64(accepted) + (p.Finished + p.Dropped))
}

// Newcomer gives the completion probability of someone without a record.
func (p Prior) Newcomer() float64 { return p.Completion(0, 0) }

func checkPrior(in *Input) error {
	p := in.Prior
	if p == nil {
		return nil
	}
	if !(p.Finished >= MinPriorFinished && p.Finished <= MaxPrior) { // written so that NaN fails too
		return faulty("prior.finished", "%g; give a number from %g to %g", p.Finished, MinPriorFinished, MaxPrior)
	}
	if !(p.Dropped >= 0 && p.Dropped <= MaxPrior) {
		return faulty("prior.dropped", "%g; give a number from 0 to %g", p.Dropped, MaxPrior)
	}
	return nil
}
