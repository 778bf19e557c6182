package models

import "time"

// InstallmentState is how far an installment is.
type InstallmentState string

// The states of an installment, in their order.
const (
	Unrecorded InstallmentState = "unrecorded"
	Recorded   InstallmentState = "recorded"
	Edited     InstallmentState = "edited"
	Captioned  InstallmentState = "captioned"
	Scheduled  InstallmentState = "scheduled"
	Aired      InstallmentState = "aired"
)

// InstallmentNow is an installment as it stands on a day. The marks in it are
// those that hold.
type InstallmentNow struct {
	Installment
	Takes     []Take // by number, with their slips
	State     InstallmentState
	RecordDue Date    // RecordBy, or the air date less the lead days; "" without either
	DaysLeft  *int    // to the air date; nil without one, or when it has aired
	Late      bool    // past the day for the recording, or past the air date
	OpenSlips int     // not mended, in the takes that will be used
	Sample    *Sample // with which it can be recorded as it is; nil once recorded
	Open      []Shot  // without an accepted take, in order; empty once recorded
	Needs     string  // what it needs next, and by when

	stuck bool // unrecorded, and no sample can show it as it is or worked on
}

// StandInstallments computes how a design's installments stand on a day: rows
// in, answer out, in order of position. An installment with shots is
// recorded when each of them has an accepted take, one without when it has an
// accepted take that counts. A take with an unmended slip whose remedy is
// to record again does not count although it was accepted: what was said wrong
// there can't be aired, so until the slip is mended (say by a new passage that
// is cut in) or another take is accepted, the installment is unrecorded.
func StandInstallments(today Date, leadDays int, installments []Installment, takes []Take, samples []Sample) []InstallmentNow {
	of := map[string][]Take{}
	for _, take := range takes {
		of[take.InstallmentID] = append(of[take.InstallmentID], take)
	}
	position := positions(installments)
	states := statesOf(installments)
	out := make([]InstallmentNow, len(installments))
	for i, in := range installments {
		now := InstallmentNow{Installment: in, Takes: of[in.ID]}
		recorded := in.recordedAt(now.Takes)
		held := stepsHolding(in, recorded)
		staleEdit := in.EditedAt != nil && held[stepEdited] == nil
		now.EditedAt, now.CaptionedAt, now.ScheduledAt, now.AiredAt = held[stepEdited], held[stepCaptioned], held[stepScheduled], held[stepAired]
		now.State = stateOf(recorded, held)
		now.OpenSlips = len(slipsToMend(now.Takes))
		now.setDays(today, leadDays)
		show := showing{}
		if now.State == Unrecorded {
			show = samplesFor(in.Position, samples, position)
			now.Open = in.unrecorded(now.Takes)
			if len(now.Open) > 0 {
				show = samplesAt(states, now.Open[0], samples)
			}
			now.Sample = show.ready
			now.stuck = show.ready == nil && show.behind == nil
		}
		if i > 0 && len(in.Shots) == 0 {
			show.before = installments[i-1].Title
		}
		now.Needs = needs(now, show, staleEdit, today)
		out[i] = now
	}
	return out
}

func stateOf(recorded *time.Time, held steps) InstallmentState {
	for i := stepCount - 1; i >= 0; i-- {
		if held[i] != nil {
			return [...]InstallmentState{Edited, Captioned, Scheduled, Aired}[i]
		}
	}
	if recorded != nil {
		return Recorded
	}
	return Unrecorded
}

// setDays fills what depends on the calendar.
func (n *InstallmentNow) setDays(today Date, leadDays int) {
	n.RecordDue = n.RecordBy
	if n.RecordDue == "" && n.AirOn != "" {
		n.RecordDue = n.AirOn.Add(-leadDays)
	}
	if n.State == Aired {
		return
	}
	if n.AirOn != "" {
		left := today.DaysUntil(n.AirOn)
		n.DaysLeft = &left
		n.Late = left < 0
	}
	if n.State == Unrecorded && n.RecordDue != "" && n.RecordDue < today {
		n.Late = true
	}
}

// installmentsOf are the rows of a run.
func installmentsOf(run []InstallmentNow) []Installment {
	rows := make([]Installment, len(run))
	for i, n := range run {
		rows[i] = n.Installment
	}
	return rows
}

// positions returns the place of each installment in the run.
func positions(installments []Installment) map[string]int {
	at := make(map[string]int, len(installments))
	for _, in := range installments {
		at[in.ID] = in.Position
	}
	return at
}

// workedTo is the position of the installment that a sample is worked through,
// 0 before the first.
func (s Sample) workedTo(position map[string]int) int {
	if s.WorkedThrough == nil {
		return 0
	}
	return position[*s.WorkedThrough]
}

// onCamera tells whether a sample is there to be filmed.
func (s Sample) onCamera() bool { return s.Purpose == "camera" && s.RetiredAt == nil }

// showing is which camera samples can still show an installment: ready is in
// exactly the state in which it begins, behind has to be worked on first, and
// passed can't, unless it is ripped back.
type showing struct {
	ready  *Sample
	behind *Sample
	passed *Sample // worked past it, the least far
	before string  // the title of the installment before, "" for the first
}

// samplesFor looks for the samples of an installment. An installment begins
// where the one before it ended, so a sample is ready when it is worked through
// exactly that one; one without a note of further work is preferred.
func samplesFor(position int, samples []Sample, at map[string]int) showing {
	var show showing
	for i := range samples {
		s := &samples[i]
		if !s.onCamera() {
			continue
		}
		switch worked := s.workedTo(at); {
		case worked == position-1 && s.StateID != nil: // within it: past its beginning
			if show.passed == nil || show.passed.workedTo(at) >= position {
				show.passed = s
			}
		case worked == position-1:
			if show.ready == nil || show.ready.WorkedNote != "" && s.WorkedNote == "" {
				show.ready = s
			}
		case worked < position-1:
			if show.behind == nil || worked > show.behind.workedTo(at) {
				show.behind = s
			}
		case show.passed == nil || worked < show.passed.workedTo(at):
			show.passed = s
		}
	}
	return show
}
