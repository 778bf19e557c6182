package models

import (
	"fmt"
	"slices"
	"strings"
)

// awaited is the testers of a call whose reports are still to come.
type awaited struct {
	testers, late int
	next          Date // the first day on which one is due; "" for none
}

// and adds up the sizes of a call.
func (a awaited) and(b awaited) awaited {
	a.testers += b.testers
	a.late += b.late
	if a.next == "" || b.next != "" && b.next < a.next {
		a.next = b.next
	}
	return a
}

// sentence says who is awaited, of how many.
func (a awaited) sentence(assigned int) string {
	said := fmt.Sprintf("%d of %s still to report", a.testers, counted(assigned, "tester"))
	switch {
	case a.late == a.testers:
		return said + ", past the day agreed."
	case a.late > 0:
		return said + fmt.Sprintf(", %d of them past the day agreed.", a.late)
	}
	return said + "."
}

// line makes a design's line and what it needs from somebody.
func (r *studioRows) line(d *Design, today Date) (StudioLine, []Need, error) {
	p, run := r.progress[d.ID], r.runs[d.ID]
	p.installments = len(run)
	p.released = d.ReleasedOn != "" && d.ReleasedOn <= today
	line := StudioLine{Design: *d}
	var needs []Need
	for i := range run {
		in := &run[i]
		if in.State != Unrecorded {
			p.recorded++
		}
		if in.State == Aired {
			p.aired++
			continue
		}
		if line.NextAir == nil && in.AirOn != "" {
			line.NextAir = in
		}
		if due := in.nextDue(); due != "" && due <= today.Add(soonDays) && !in.onlyWaits(today) {
			needs = append(needs, Need{Design: d, Sentence: "“" + in.Title + "”: " + in.Needs, Where: "filming", DueOn: due})
		}
	}
	if a := r.awaited[d.ID]; a.testers > 0 && a.next <= today.Add(soonDays) && !p.released {
		needs = append(needs, Need{Design: d, Sentence: a.sentence(p.assigned), Where: "testing", DueOn: a.next})
	}
	line.Tracks = p.tracks()
	bearing, err := BearGauge(*d, r.samples[d.ID])
	line.Blocks = p.blocks(d, needs, bearing)
	return line, needs, err
}

// onlyWaits tells whether nothing is left to do until the installment's day.
func (n InstallmentNow) onlyWaits(today Date) bool {
	return n.State == Scheduled && n.OpenSlips == 0 && n.AirOn > today
}

// nextDue is the day by which the installment needs somebody next.
func (n InstallmentNow) nextDue() Date {
	if n.State == Unrecorded {
		return n.RecordDue
	}
	return n.AirOn
}

// blocks names the one thing that holds a design back most: what is due first,
// else the first of the four tracks that is not done.
func (p progress) blocks(d *Design, needs []Need, bearing GaugeBearing) *Need {
	if p.released {
		return nil
	}
	if len(needs) > 0 {
		first := slices.MinFunc(needs, func(a, b Need) int { return strings.Compare(string(a.DueOn), string(b.DueOn)) })
		return &first
	}
	switch {
	case p.samples == 0 || p.washed < p.samples:
		return &Need{Design: d, Sentence: p.sampling().Sentence + ".", Where: "samples"}
	case bearing.State == NotBorneOut:
		return &Need{Design: d, Sentence: bearing.Sentence, Where: "samples"}
	case !p.called || p.short > 0 || p.assigned == 0:
		return &Need{Design: d, Sentence: p.testing().Sentence + ".", Where: "testing"}
	case p.recorded < p.installments || p.installments == 0:
		return &Need{Design: d, Sentence: p.filming().Sentence + ".", Where: "filming"}
	}
	return nil
}
