package models

import (
	"context"
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

// studioLine makes a design's line and what it needs from somebody.
func (s *Store) studioLine(ctx context.Context, r *gateRows) (StudioLine, []Need, error) {
	p, d, today := r.progress(), r.design, r.today
	line := StudioLine{Design: *d, Tracks: p.tracks()}
	var needs []Need
	for i := range r.run {
		in := &r.run[i]
		if in.State == Aired {
			continue
		}
		if line.NextAir == nil && in.AirOn != "" {
			line.NextAir = in
		}
		if due := in.nextDue(); due != "" && due <= today.Add(soonDays) && !in.onlyWaits(today) {
			needs = append(needs, Need{Design: d, Sentence: "“" + in.Title + "”: " + in.NeedsAlone(today), Where: "filming", DueOn: due})
		}
	}
	if a := r.awaited; a.testers > 0 && a.next <= today.Add(soonDays) && !p.released {
		needs = append(needs, Need{Design: d, Sentence: a.sentence(p.assigned), Where: "testing", DueOn: a.next})
	}
	var err error
	line.Blocks, err = s.blocks(ctx, r, line.NextAir, needs)
	return line, needs, err
}

// onlyWaits tells whether filming has nothing left to do until the installment's day.
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
// else the first shut gate in the order of the work. The gates of the
// counts, the fit and the corrections take more: they are computed when every
// other one is open,
// which few designs of a studio are at a time, so that one look at the studio
// takes the same statements however many designs there are. Once the text is
// out, only what holds the next announced installment back is left to say.
func (s *Store) blocks(ctx context.Context, r *gateRows, next *InstallmentNow, needs []Need) (*Need, error) {
	released := r.progress().released
	if released && next == nil {
		return nil, nil
	}
	if len(needs) > 0 {
		first := slices.MinFunc(needs, func(a, b Need) int { return strings.Compare(string(a.DueOn), string(b.DueOn)) })
		return &first, nil
	}
	holding := func() []Gate {
		if released {
			return shutOnes(r.gates().Installments[next.ID])
		}
		return shutOnes(r.gates().Design)
	}
	shut := holding()
	if len(shut) == 0 {
		if err := s.judgeGates(ctx, s.read(ctx), r); err != nil {
			return nil, err
		}
		shut = holding()
	}
	if len(shut) == 0 {
		return nil, nil
	}
	order := workOrder()
	first := slices.MinFunc(shut, func(a, b Gate) int { return slices.Index(order, a.Key) - slices.Index(order, b.Key) })
	why := first.Why
	if released {
		why = fmt.Sprintf("“%s” is held back. %s", next.Title, why)
	}
	return &Need{Design: r.design, Sentence: why, Where: first.Where}, nil
}

// workOrder is the order in which a design's gates are usually opened.
func workOrder() []GateKey {
	return []GateKey{GateGauge, GateCounts, GateTesters, GateFit, GateRemarks, GateCorrections, GateTakes, GateSlips, GateCaptions, GateSignOff, GateYarn, GateCautions}
}
