package models

import (
	"fmt"
	"slices"
	"strings"
	"time"
)

// ReleaseDay is an announced day with what goes out on it.
type ReleaseDay struct {
	On       Date // "": no day is announced
	Standing DayStanding
	Parts    []ReleasePart
}

// DayStanding is how a day lies to today.
type DayStanding string

// The standings of a day.
const (
	DayOverdue  DayStanding = "overdue" // past, and something is not done
	DayToday    DayStanding = "today"
	DayThisWeek DayStanding = "this_week" // within seven days
	DayLater    DayStanding = "later"
	DayUndated  DayStanding = "undated"
	DayDone     DayStanding = "done"
)

// ReleasePart is what goes out together: an installment, or the text as a whole.
type ReleasePart struct {
	Installment *InstallmentNow // nil: the design itself
	Version     int             // of the text that goes out, or went out, with it
	Shut        []Gate          // that hold it back
	Items       []ReleaseItem   // in the order in which they are done
}

// ReleaseItem is one thing to do, with who did it and when.
type ReleaseItem struct {
	Key     ReleaseItemKey
	Says    string
	Done    bool
	At      *time.Time
	By      string // handle; "" where nobody is known
	Link    string // where it is out
	Where   string // screen on which it is done, "" for here
	Version *int   // of the text that it is about
	Again   string // why it is to be done again
}

// releaseList makes the list of days.
type releaseList struct {
	*gateRows
	gates   ReleaseGates
	ticks   map[tickAt]*ReleaseTick
	handles map[string]string
}

// days lists what is still to do by day, then what has no day, then what is
// done, the latest first.
func (l releaseList) days() []ReleaseDay {
	byDay := map[Date][]ReleasePart{}
	if l.design.ReleasedOn != "" || l.design.IsOut() || len(l.run) > 0 {
		byDay[l.design.ReleasedOn] = append(byDay[l.design.ReleasedOn], l.text())
	}
	for i := range l.run {
		on := l.run[i].AirOn
		byDay[on] = append(byDay[on], l.installment(&l.run[i]))
	}
	out := make([]ReleaseDay, 0, len(byDay))
	for on, parts := range byDay {
		out = append(out, ReleaseDay{On: on, Standing: standingOf(on, l.today, parts), Parts: parts})
	}
	slices.SortFunc(out, func(a, b ReleaseDay) int {
		if x := rank(a) - rank(b); x != 0 {
			return x
		}
		if a.Standing == DayDone {
			return strings.Compare(string(b.On), string(a.On))
		}
		return strings.Compare(string(a.On), string(b.On))
	})
	return out
}

func rank(d ReleaseDay) int {
	switch d.Standing {
	case DayUndated:
		return 1
	case DayDone:
		return 2
	}
	return 0
}

// standingOf tells how a day lies to today.
func standingOf(on, today Date, parts []ReleasePart) DayStanding {
	done := !slices.ContainsFunc(parts, func(p ReleasePart) bool {
		return slices.ContainsFunc(p.Items, func(i ReleaseItem) bool { return !i.Done })
	})
	switch {
	case done:
		return DayDone
	case on == "":
		return DayUndated
	case on < today:
		return DayOverdue
	case on == today:
		return DayToday
	case on <= today.Add(soonDays):
		return DayThisWeek
	}
	return DayLater
}

// installment lists what goes out with an installment.
func (l releaseList) installment(n *InstallmentNow) ReleasePart {
	part := ReleasePart{Installment: n, Version: l.versionWith(n.ID)}
	if n.State != Aired {
		part.Shut = shutOnes(l.gates.Installments[n.ID])
	}
	says := fmt.Sprintf("Put up the text, version %d", part.Version)
	if n.Covers != "" {
		says += ": " + n.Covers
	}
	text := l.ticked(n.ID, ItemText, says)
	text.Version = &part.Version
	if tick := l.ticks[tickAt{n.ID, ItemText}]; tick != nil && tick.Version != nil && *tick.Version != part.Version {
		text.Done, text.Again = false, fmt.Sprintf("Version %d was put up; version %d goes out now.", *tick.Version, part.Version)
	}
	video := ReleaseItem{Key: ItemVideo, Says: "The video is out", Done: n.AiredAt != nil, At: n.AiredAt, Link: n.Link}
	if n.AiredBy != nil {
		video.By = l.handles[*n.AiredBy]
	}
	part.Items = []ReleaseItem{text, l.ticked(n.ID, ItemCaptions, "Captions are with the video"), video}
	if n.ID == l.nextOut() {
		part.Items = append(part.Items, l.announcements()...)
	}
	part.Items = append(part.Items, l.ticked(n.ID, ItemTesters, "Tell the testers that it is out"))
	return part
}

// nextOut is the next installment to go out, "" when all are out: what is still
// to be announced goes with it.
func (l releaseList) nextOut() string {
	for _, n := range l.run {
		if n.State != Aired {
			return n.ID
		}
	}
	return ""
}

// announcements are the corrections that are in the text and not announced. They
// are announced where they stand; here it is only shown.
func (l releaseList) announcements() []ReleaseItem {
	n := 0
	for _, c := range l.corrections.Corrections {
		if c.State() == CorrectionInText {
			n++
		}
	}
	if n == 0 {
		return nil
	}
	return []ReleaseItem{{Key: ItemCorrections, Says: fmt.Sprintf("Announce %s of the text", counted(n, "correction")), Where: "corrections"}}
}

// text lists what goes out when the whole text does.
func (l releaseList) text() ReleasePart {
	part := ReleasePart{Version: l.out.Number}
	if !l.design.IsOut() {
		part.Shut = shutOnes(l.gates.Design)
	}
	released := ReleaseItem{Key: ItemReleased, Says: fmt.Sprintf("Publish the whole text, version %d", l.out.Number), Done: l.design.IsOut(), At: l.design.ReleasedAt, Version: &part.Version}
	if l.design.IsOut() {
		released.Says = "The whole text is out"
	}
	if l.design.ReleasedBy != nil {
		released.By = l.handles[*l.design.ReleasedBy]
	}
	part.Items = []ReleaseItem{released}
	if l.nextOut() == "" {
		part.Items = append(part.Items, l.announcements()...)
	}
	part.Items = append(part.Items, l.ticked("", ItemCorrections, "Put the page of corrections where readers find it"),
		l.ticked("", ItemThanks, "Send the testers the text as it is published, with thanks"))
	return part
}

func (l releaseList) ticked(installmentID string, key ReleaseItemKey, says string) ReleaseItem {
	item := ReleaseItem{Key: key, Says: says}
	if tick := l.ticks[tickAt{installmentID, key}]; tick != nil {
		item.Done, item.At, item.By = true, &tick.TickedAt, tick.Handle
	}
	return item
}
