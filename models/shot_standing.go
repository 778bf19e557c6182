package models

import "fmt"

// samplesAt looks for the samples that can show a shot: one that stands in
// exactly its state, or one that can still be worked to it.
func samplesAt(states States, shot Shot, samples []Sample) showing {
	from, _ := states.Rank(shot.FromState)
	show := showing{before: states.Name(from)}
	for i := range samples {
		s := &samples[i]
		if !s.onCamera() {
			continue
		}
		switch at := states.of(*s); {
		case at == from:
			if show.ready == nil || show.ready.WorkedNote != "" && s.WorkedNote == "" {
				show.ready = s
			}
		case at < from:
			if show.behind == nil || at > states.of(*show.behind) {
				show.behind = s
			}
		case show.passed == nil || at < states.of(*show.passed):
			show.passed = s
		}
	}
	return show
}

// needsShots says what an installment needs of which not every shot has an
// accepted take, as far as its first one tells by itself.
func needsShots(n InstallmentNow, show showing, today Date) string {
	what, waits := recordWhat(n, today)
	if waits != "" {
		return waits
	}
	due := recordingIsDue(n, today)
	begins := show.before == (States{}).Name(0)
	first := n.Open[0]
	switch {
	case show.ready != nil:
		return fmt.Sprintf("%s with “%s”%s; that %s.", what, show.ready.Label, whereIs(*show.ready), due)
	case show.behind != nil:
		return fmt.Sprintf("%s: work “%s”%s to %s for it; that %s.", what, show.behind.Label, aside(*show.behind), show.before, due)
	case show.passed != nil:
		back := "rip it back to " + show.before + " or make another"
		if begins {
			back = "rip it back to the beginning or start another"
		}
		return fmt.Sprintf("“%s”%s is worked past what “%s” shows, and no other camera sample can show it: %s, then record it; that %s.", show.passed.Label, aside(*show.passed), first.Title, back, due)
	case begins:
		return fmt.Sprintf("%s, which no camera sample can show from the beginning: start one; that %s.", what, due)
	}
	return fmt.Sprintf("%s, which no camera sample can still show: make one to %s; that %s.", what, show.before, due)
}

// waitsFor returns the latest take that holds the shot and is not decided on.
func waitsFor(shotID string, takes []Take) *Take {
	for i := len(takes) - 1; i >= 0; i-- {
		k := &takes[i]
		if k.SetAsideAt != nil || k.AcceptedAt != nil {
			continue
		}
		for _, s := range k.Shots {
			if s.ShotID == shotID && s.AcceptedAt == nil && !k.shotAgain(shotID) {
				return k
			}
		}
	}
	return nil
}

// passedShots returns a sentence for each unrecorded shot of an installment
// that a sample goes past and that no other camera sample can still show. is
// is "is now" or "would be".
func passedShots(is string, before, after Sample, in Installment, takes []Take, others []Sample, states States) []string {
	var out []string
	for _, shot := range in.unrecorded(takes) {
		from, known := states.Rank(shot.FromState)
		if !known || from < states.of(before) || from >= states.of(after) {
			continue
		}
		if show := samplesAt(states, shot, others); show.ready != nil || show.behind != nil {
			continue
		}
		out = append(out, fmt.Sprintf("“%s” %s worked past %s, which “%s” in “%s” still has to show, and no other camera sample can: rip it back or make another one before the recording.",
			after.Label, is, states.Name(from), shot.Title, in.Title))
	}
	return out
}

// Hold is a sample that must stay where a shot needs it.
type Hold struct {
	SampleID string
	Label    string
	Holder   string
	StateID  *string // not to be worked past
	State    string  // in words
	Shots    []string
	Until    Date // by which the shots are to be recorded; "" for no day
	AtIt     bool // it is there already: any further work is too much
	Sentence string
}

// HoldsOf returns, for each camera sample in use, the next state that it must
// not be worked past before the unrecorded shots there are taken, when no other
// camera sample can still show them. Installments without shots are left to
// their own sentences.
func HoldsOf(run []InstallmentNow, samples []Sample) []Hold {
	rows := make([]Installment, len(run))
	for i := range run {
		rows[i] = run[i].Installment
	}
	states := statesOf(rows)
	var holds []Hold
	for i := range samples {
		if samples[i].onCamera() {
			if h := holdOf(i, run, samples, states); h != nil {
				holds = append(holds, *h)
			}
		}
	}
	return holds
}

func holdOf(at int, run []InstallmentNow, samples []Sample, states States) *Hold {
	s := samples[at]
	others := append(append([]Sample(nil), samples[:at]...), samples[at+1:]...)
	here, best := states.of(s), -1
	var h Hold
	for _, n := range run {
		if n.AiredAt != nil {
			continue
		}
		for _, shot := range n.Open {
			from, known := states.Rank(shot.FromState)
			if !known || from < here || from == len(states) || best >= 0 && from > best {
				continue
			}
			if show := samplesAt(states, shot, others); show.ready != nil || show.behind != nil {
				continue
			}
			if from != best {
				h = Hold{SampleID: s.ID, Label: s.Label, Holder: s.Holder, StateID: states.at(from), State: states.Name(from), AtIt: from == here}
				best = from
			}
			h.Shots = append(h.Shots, shot.Title)
			if due := n.shootDue(); due != "" && due > h.Until {
				h.Until = due
			}
		}
	}
	if best < 0 {
		return nil
	}
	h.Sentence = h.words()
	return &h
}

// shootDue is the day on which an installment is to be recorded, as planned or
// at the latest; "" without either.
func (n InstallmentNow) shootDue() Date {
	return Date(orElse(string(n.ShootOn), string(n.RecordDue)))
}

func (h Hold) words() string {
	shots := "“" + h.Shots[0] + "”"
	if more := len(h.Shots) - 1; more > 0 {
		shots += " and " + counted(more, "more shot")
	}
	where := "past " + h.State
	if h.AtIt {
		where = "any further than it is, " + h.State + ","
	}
	return fmt.Sprintf("Do not work “%s”%s %s before %s %s recorded: no other camera sample can show it.", h.Label, aside(Sample{Holder: h.Holder}), where, shots, isAre(len(h.Shots)))
}
