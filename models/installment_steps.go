package models

import "time"

// The steps after the recording, in the only order in which they can be done.
const (
	stepEdited = iota
	stepCaptioned
	stepScheduled
	stepAired
	stepCount
)

// stepNames are the words of the states and of the fields that mark them.
func stepNames() [stepCount]string { return [...]string{"edited", "captioned", "scheduled", "aired"} }

// steps are the moments at which an installment's steps were done, nil for not.
type steps [stepCount]*time.Time

func (in Installment) marked() steps {
	return steps{in.EditedAt, in.CaptionedAt, in.ScheduledAt, in.AiredAt}
}

// stepsHolding returns which marks still hold. A step is done upon the one
// before it, and the edit upon the takes that count: a mark older than what it
// stands on is about something that is no longer there (a take accepted after
// the edit, captions of an edit that was done again), and so is whatever comes
// after it. What has aired has aired: nothing takes its marks away but a hand.
//
// recorded is when the last take that counts was accepted; nil while none does.
func stepsHolding(in Installment, recorded *time.Time) steps {
	marks := in.marked()
	if marks[stepAired] != nil {
		return marks
	}
	before := recorded
	for i, mark := range marks {
		if mark == nil || before == nil || mark.Before(*before) {
			before, marks[i] = nil, nil
			continue
		}
		before = mark
	}
	return marks
}

// mark returns the steps after a wish; nil in the wish leaves a step as it is.
// A step can only be marked upon the one before it (a 422 that names the
// field), and one that later ones stand on is only taken away together with
// them, each asked for by name (a 409). Where gates let it through by hand, an
// installment can air without the steps before.
func (held steps) mark(wish [stepCount]*bool, recorded *time.Time, letThrough bool, now time.Time) (steps, error) {
	var p problems
	next := held.wished(wish, now)
	names := stepNames()
	for i, mark := range next {
		on := mark != nil
		if i == stepAired && letThrough {
			continue
		}
		done, what, wasDone := recorded != nil, "recorded", recorded != nil
		if i > 0 {
			done, what, wasDone = next[i-1] != nil, names[i-1], held[i-1] != nil
		}
		if !on || done {
			continue
		}
		if held[i] != nil && wasDone {
			return held, failf(Conflict, "“%s” can't be taken away while “%s” stands on it; take that away too, in the same change.", what, names[i])
		}
		if held[i] == nil {
			p.addf(names[i], "can't be marked before it is %s; %s", what, mendOf(what))
		}
	}
	return next, p.err()
}

// wished are the steps as they are asked for, in whatever order.
func (held steps) wished(wish [stepCount]*bool, now time.Time) steps {
	next := held
	for i := range next {
		on := held[i] != nil
		set(&on, wish[i])
		next[i] = stamp(on, held[i], now)
	}
	return next
}

// mendOf says how to get to a step.
func mendOf(what string) string {
	if what == "recorded" {
		return "accept a take first"
	}
	return "mark that first"
}
