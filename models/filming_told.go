package models

import "fmt"

// tellRun makes the run say of each unrecorded installment what the plan says
// of its first shot. Looked at alone, a shot may be within reach of several
// samples; only the plan knows which of them is used, and that now and then a
// sample that has to be made for an earlier shot serves a later one as well, so
// that fewer are in use. What has no day is not planned, and keeps its words.
func (p *FilmingPlan) tellRun(run []InstallmentNow) {
	for i := range run {
		n := &run[i]
		x := p.first(*n)
		if x == nil {
			continue
		}
		show := p.showing(*x)
		n.Sample = nil
		if show.ready != nil && show.ready.ID == x.SampleID {
			n.Sample = show.ready
		}
		n.Needs = needsPlanned(*n, *x, show, p.piece(x.SampleID), p.Today)
	}
}

// first is the plan of an installment's first unrecorded shot, nil for none.
func (p *FilmingPlan) first(n InstallmentNow) *PlannedShot {
	if n.State != Unrecorded || len(n.Shots) > 0 && len(n.Open) == 0 {
		return nil
	}
	for i := range p.Shots {
		x := &p.Shots[i]
		if x.Installment == n.ID && (len(n.Shots) == 0 || x.Shot.ID == n.Open[0].ID) {
			return x
		}
	}
	return nil
}

// piece is the sample with an id, nil for none of the plan's.
func (p *FilmingPlan) piece(id string) *Sample {
	for i := range p.Samples {
		if p.Samples[i].ID == id {
			return &p.Samples[i]
		}
	}
	return nil
}

// showing looks for the plan's samples that could show a shot as they are. Of
// several in its state, the one that the plan uses comes first.
func (p *FilmingPlan) showing(x PlannedShot) showing {
	show := samplesAt(p.States, x.Shot, p.Samples)
	if z := p.piece(x.SampleID); z != nil && p.States.of(*z) == x.From {
		show.ready = z
	}
	return show
}

// spare names the samples that stand where planned shots need one although the
// plan uses another for them.
func (p *FilmingPlan) spare() {
	for i := range p.Shots {
		x := &p.Shots[i]
		if show := p.showing(*x); show.ready != nil && show.ready.ID != x.SampleID && (x.New || x.SampleID != "") {
			x.Spare = show.ready.Label
		}
	}
}

// needsPlanned is what an unrecorded installment needs, by the plan of its first
// shot. z is the sample that shows it, nil for a new one or none.
func needsPlanned(n InstallmentNow, x PlannedShot, show showing, z *Sample, today Date) string {
	what, waits := recordWhat(n, today)
	if waits != "" {
		return waits
	}
	due := recordingIsDue(n, today)
	at := show.before
	spare := ""
	if x.Spare != "" {
		spare = fmt.Sprintf(" “%s” is there already and can show it too.", x.Spare)
	}
	switch {
	case show.ready == nil && show.behind == nil:
		return n.Needs // a sample that is past it, or none at all
	case x.Message != "" && show.ready != nil:
		return fmt.Sprintf("%s: “%s”%s is there, but the plan needs it for other shots, and nothing else can be there on the day; that %s.", what, show.ready.Label, aside(*show.ready), due)
	case x.Message != "":
		return fmt.Sprintf("%s: nothing can be at %s on the day as things stand, “%s”%s is nearest; work it there or move the day. The recording %s.", what, at, show.behind.Label, aside(*show.behind), due)
	case x.New && x.WorkHours == 0 && x.From > 0:
		return fmt.Sprintf("%s with the new sample (“%s”) that the shots before it need, once it is at %s; that %s.%s", what, x.Sample, at, due, spare)
	case x.New:
		return fmt.Sprintf("%s with a new sample (“%s”), which has to be made to %s; that %s.%s", what, x.Sample, at, due, spare)
	case show.ready != nil && show.ready.ID == x.SampleID:
		return fmt.Sprintf("%s with “%s”%s; that %s.", what, z.Label, whereIs(*z), due)
	case x.WorkHours > 0:
		return fmt.Sprintf("%s: work “%s”%s to %s for it; that %s.%s", what, z.Label, aside(*z), at, due, spare)
	}
	return fmt.Sprintf("%s with “%s”%s once it is at %s; that %s.%s", what, z.Label, aside(*z), at, due, spare)
}

// recordWhat begins the sentence of what is to be recorded. waits is a sentence
// of its own where a take has to be decided on before.
func recordWhat(n InstallmentNow, today Date) (what, waits string) {
	if len(n.Shots) == 0 {
		if take, slip := againSlip(n.Takes); take != nil {
			return fmt.Sprintf("Take %d has to be recorded again: a slip at %s can't be mended in the edit. Record it", take.Number, slip.AtMS), ""
		}
		if take := undecided(n.Takes); take != nil {
			return "", fmt.Sprintf("Decide on take %d: accept it or set it aside. The recording %s.", take.Number, recordingIsDue(n, today))
		}
		return "Record it", ""
	}
	what = "Record " + counted(len(n.Shots), "shot")
	if done := len(n.Shots) - len(n.Open); done > 0 {
		what = fmt.Sprintf("%d of %s %s recorded; record the rest", done, counted(len(n.Shots), "shot"), isAre(done))
	}
	first := n.Open[0]
	if take := waitsFor(first.ID, n.Takes); take != nil {
		return "", fmt.Sprintf("Decide on “%s” in take %d: accept it or set it aside. The recording %s.", first.Title, take.Number, recordingIsDue(n, today))
	}
	return fmt.Sprintf("%s, first “%s”", what, first.Title), ""
}

// NeedsAlone says what an installment needs where no plan was made: for an
// unrecorded one that samples can still show, what and by when, and with which
// sample is left to the filming page.
func (n InstallmentNow) NeedsAlone(today Date) string {
	if n.State != Unrecorded || n.stuck {
		return n.Needs
	}
	what, waits := recordWhat(n, today)
	if waits != "" {
		return waits
	}
	return fmt.Sprintf("%s; that %s.", what, recordingIsDue(n, today))
}
