package models

import (
	"fmt"
	"strings"
	"time"
)

// needs says what an installment needs next and by when, in one or two
// sentences for a person. staleEdit tells that there is an edit, but of takes
// that were changed since.
func needs(n InstallmentNow, show showing, staleEdit bool, today Date) string {
	switch n.State {
	case Unrecorded:
		return needsRecording(n, show, today)
	case Recorded:
		if staleEdit {
			return "A take was accepted after the edit: edit it again" + andMend(n.OpenSlips) + beforeAir(n, today)
		}
		return "Edit it" + andMend(n.OpenSlips) + beforeAir(n, today)
	case Edited:
		return "Caption it" + andMend(n.OpenSlips) + beforeAir(n, today)
	case Captioned:
		if n.AirOn == "" {
			return "Announce a day and schedule it" + andMend(n.OpenSlips) + "."
		}
		return "Schedule it" + andMend(n.OpenSlips) + beforeAir(n, today)
	case Scheduled:
		return needsAiring(n, today)
	}
	if n.OpenSlips > 0 {
		return fmt.Sprintf("It has aired with %s that %s not mended; say so where people watch it.", counted(n.OpenSlips, "slip"), isAre(n.OpenSlips))
	}
	return "It has aired; its filming is done."
}

func needsRecording(n InstallmentNow, show showing, today Date) string {
	if len(n.Shots) > 0 {
		return needsShots(n, show, today)
	}
	if take, slip := againSlip(n.Takes); take != nil {
		return fmt.Sprintf("Take %d has to be recorded again: a slip at %s can't be mended in the edit. %s", take.Number, slip.AtMS, recordWith(n, show, today))
	}
	if take := undecided(n.Takes); take != nil {
		return fmt.Sprintf("Decide on take %d: accept it or set it aside. The recording %s.", take.Number, recordingIsDue(n, today))
	}
	return recordWith(n, show, today)
}

// recordWith names the sample to record with, or what has to happen to one.
func recordWith(n InstallmentNow, show showing, today Date) string {
	due := recordingIsDue(n, today)
	switch {
	case show.ready != nil:
		return fmt.Sprintf("Record it with “%s”%s; that %s.", show.ready.Label, whereIs(*show.ready), due)
	case show.behind != nil:
		return fmt.Sprintf("Work “%s”%s through “%s”, then record it; that %s.", show.behind.Label, aside(*show.behind), show.before, due)
	case show.passed != nil:
		return fmt.Sprintf("“%s”%s is worked past it, and no other camera sample can show it: %s, then record it; that %s.", show.passed.Label, aside(*show.passed), ripBack(show.before), due)
	case show.before == "":
		return fmt.Sprintf("No camera sample can show it from the beginning: start one, then record it; that %s.", due)
	}
	return fmt.Sprintf("No camera sample can still show it: make one, worked through “%s”, then record it; that %s.", show.before, due)
}

func whereIs(s Sample) string {
	switch {
	case s.Holder != "":
		return ", which " + s.Holder + " has"
	case s.HeldNote != "":
		return " (" + s.HeldNote + ")"
	}
	return ""
}

// aside is whereIs in the middle of a sentence.
func aside(s Sample) string {
	where := whereIs(s)
	if strings.HasPrefix(where, ",") {
		where += ","
	}
	return where
}

// ripBack says what to do about a sample that is worked too far.
func ripBack(before string) string {
	if before == "" {
		return "rip it back to the beginning or start another"
	}
	return fmt.Sprintf("rip it back to the end of “%s” or make another", before)
}

// recordingIsDue completes "that …".
func recordingIsDue(n InstallmentNow, today Date) string {
	switch due := n.RecordDue; {
	case due == "":
		return "has no day yet"
	case due == today:
		return "is due today"
	case due < today:
		return fmt.Sprintf("was due %s, %s ago", due.words(today), counted(due.DaysUntil(today), "day"))
	default:
		return "is due by " + due.words(today)
	}
}

// beforeAir completes a sentence with the air date.
func beforeAir(n InstallmentNow, today Date) string {
	switch air := n.AirOn; {
	case air == "":
		return "; no day is announced yet."
	case air == today:
		return ": it airs today."
	case air < today:
		return fmt.Sprintf(": it was to air on %s, %s ago.", air.words(today), counted(air.DaysUntil(today), "day"))
	default:
		return " before it airs on " + air.words(today) + "."
	}
}

func needsAiring(n InstallmentNow, today Date) string {
	slips := ""
	if n.OpenSlips > 0 {
		slips = " Mend " + counted(n.OpenSlips, "slip") + " first."
	}
	switch air := n.AirOn; {
	case air == "":
		return "It is scheduled, but no day is announced here: give its air date." + slips
	case air == today:
		return "It goes out today; mark it as aired when it has." + slips
	case air < today:
		return fmt.Sprintf("Its day, %s, is past: mark it as aired, or move the day.", air.words(today)) + slips
	case slips != "":
		return fmt.Sprintf("It goes out on %s.", air.words(today)) + slips
	default:
		return fmt.Sprintf("Its filming is done; it is scheduled for %s.", air.words(today))
	}
}

func andMend(slips int) string {
	if slips == 0 {
		return ""
	}
	return " and mend " + counted(slips, "slip")
}

// words writes a date for a sentence, with its year where it isn't today's.
func (d Date) words(today Date) string {
	t := d.time()
	text := fmt.Sprintf("%d %s", t.Day(), time.Month(t.Month()))
	if strings.HasPrefix(string(today), t.Format("2006-")) {
		return text
	}
	return fmt.Sprintf("%s %d", text, t.Year())
}

func counted(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

func isAre(n int) string {
	if n == 1 {
		return "is"
	}
	return "are"
}
