package models

import (
	"fmt"
	"strings"

	"tenter/models/counts"
	"tenter/models/vtt"
)

// EditNote is one line for whoever edits: what to use, cut, show or get again.
type EditNote struct {
	Take  int // number
	At    *TimeCode
	Until *TimeCode
	Kind  string // "use", "cut", "on_screen_note", "record_again" or "number_changed"
	Shot  string // title; "" when it belongs to none
	Words string
	Done  bool
	Waits string // on what it hangs still: that its take, or its shot there, is accepted; "" for nothing
}

// SheetChapter is where a shot begins in the finished video.
type SheetChapter struct {
	ShotID   string
	Title    string
	At       TimeCode
	Reckoned bool // from the lengths of the takes; false: as typed
}

// note fills what the editor has to do, shot by shot in the order of the
// video, then what belongs to no shot.
func (s *ShootSheet) note() {
	noted := map[string]bool{}
	for _, shot := range s.Shots {
		r := shot.Recorded
		if r == nil {
			s.Notes = append(s.Notes, EditNote{Kind: "record_again", Shot: shot.Title, Words: fmt.Sprintf("“%s” has no accepted take yet.", shot.Title)})
			continue
		}
		s.Notes = append(s.Notes, EditNote{Take: r.Number, At: r.At, Until: r.Until, Kind: "use", Shot: shot.Title, Words: "use for “" + shot.Title + "”" + span(r)})
		for _, k := range s.Installment.Takes {
			if k.Number != r.Number {
				continue
			}
			from, until, stamped := k.within(shot.ID)
			for _, slip := range k.Slips {
				if noted[slip.ID] || stamped && (slip.AtMS < from || slip.AtMS >= until) {
					continue
				}
				noted[slip.ID] = true
				s.Notes = append(s.Notes, slipNote(k, slip, shot.Title))
			}
		}
		for _, f := range r.Flags {
			s.Notes = append(s.Notes, EditNote{Take: r.Number, At: r.At, Kind: "number_changed", Shot: shot.Title,
				Words: f + "; show the new number or record it again"})
		}
		for _, f := range r.Cards {
			s.Notes = append(s.Notes, EditNote{Take: r.Number, At: r.At, Kind: "number_changed", Shot: shot.Title, Words: f})
		}
	}
	for _, k := range s.Installment.Takes {
		if k.SetAsideAt != nil {
			continue
		}
		for _, slip := range k.Slips {
			if !noted[slip.ID] {
				n := slipNote(k, slip, s.shotAt(k, slip.AtMS))
				n.Waits = k.waits(slip.AtMS)
				s.Notes = append(s.Notes, n)
			}
		}
	}
}

// shotAt is the title of the shot that a take shows at a place, "" for none that
// was stamped.
func (s *ShootSheet) shotAt(k Take, at TimeCode) string {
	for _, shot := range s.Shots {
		if from, until, stamped := k.within(shot.ID); stamped && at >= from && at < until {
			return shot.Title
		}
	}
	return ""
}

// waits tells on what a slip at a place of the take hangs still. It is shown as
// soon as it is noted: whoever looks through the take has to know of it.
func (k Take) waits(at TimeCode) string {
	if k.AcceptedAt == nil && !k.holdsAccepted() {
		return "its take is not accepted yet"
	}
	for _, in := range k.Shots {
		if from, until, stamped := k.within(in.ShotID); in.AcceptedAt == nil && stamped && at >= from && at < until {
			return "its shot is not accepted in this take"
		}
	}
	return ""
}

func span(r *ShotTake) string {
	switch {
	case r.At == nil:
		return ""
	case r.Until == nil:
		return fmt.Sprintf(" from %s", *r.At)
	}
	return fmt.Sprintf(" from %s to %s", *r.At, *r.Until)
}

func slipNote(k Take, slip Slip, shot string) EditNote {
	at := slip.AtMS
	n := EditNote{Take: k.Number, At: &at, Kind: string(slip.Remedy), Shot: shot, Done: slip.MendedAt != nil}
	switch slip.Remedy {
	case Cut:
		n.Words = "cut: " + slip.Wrong
	case OnScreenNote:
		n.Words = "show a note: " + orElse(slip.ShouldBe, "mend “"+slip.Wrong+"”")
		if slip.ShouldBe != "" {
			n.Words += " (said or shown: " + slip.Wrong + ")"
		}
	default:
		n.Words = "to be recorded again: " + slip.Wrong
		if slip.ShouldBe != "" {
			n.Words += ", should be " + slip.ShouldBe
		}
	}
	return n
}

// chapter reckons where each shot begins in the finished video: one after the
// other, each as long as in its take, from wherever somebody typed the place.
func (s *ShootSheet) chapter() {
	at, known := TimeCode(0), true
	for _, shot := range s.Shots {
		r := shot.Recorded
		c := SheetChapter{ShotID: shot.ID, Title: shot.Title, At: at, Reckoned: true}
		switch {
		case shot.ChapterMS != nil:
			c.At, c.Reckoned, at, known = *shot.ChapterMS, false, *shot.ChapterMS, true
		case r == nil:
			s.Trouble = append(s.Trouble, fmt.Sprintf("“%s” is not recorded yet.", shot.Title))
			known = false
			continue
		case !known:
			s.Trouble = append(s.Trouble, fmt.Sprintf("Where “%s” begins can't be told: type its place in the finished video.", shot.Title))
			continue
		}
		s.Chapters = append(s.Chapters, c)
		if r == nil || r.At == nil || r.Until == nil {
			known = false
			continue
		}
		at += *r.Until - *r.At
	}
	for i := 1; i < len(s.Chapters); i++ {
		if s.Chapters[i].At <= s.Chapters[i-1].At {
			s.Trouble = append(s.Trouble, fmt.Sprintf("“%s” begins at %s, not after “%s” at %s: mend the places in the finished video.",
				s.Chapters[i].Title, s.Chapters[i].At, s.Chapters[i-1].Title, s.Chapters[i-1].At))
		}
	}
}

// ChaptersVTT writes the chapters as a WebVTT file. The last one lasts as long
// as its shot does in its take, a second when that is not known.
func (s *ShootSheet) ChaptersVTT() (string, error) {
	chapters := make([]vtt.Chapter, len(s.Chapters))
	for i, c := range s.Chapters {
		chapters[i] = vtt.Chapter{StartMS: int(c.At), EndMS: int(c.At) + second, Title: c.Title}
		if i > 0 {
			chapters[i-1].EndMS = int(c.At)
		}
	}
	if n := len(chapters); n > 0 {
		for _, shot := range s.Shots {
			if r := shot.Recorded; shot.ID == s.Chapters[n-1].ShotID && r != nil && r.At != nil && r.Until != nil {
				chapters[n-1].EndMS = chapters[n-1].StartMS + int(*r.Until-*r.At)
			}
		}
	}
	text, err := vtt.Write(chapters)
	if err != nil {
		return "", failf(Conflict, "The chapters can't be written: %s. Mend the places in the finished video.", err)
	}
	return text, nil
}

// ChapterList writes the chapters as lines for a video's description.
func (s *ShootSheet) ChapterList() string {
	var b strings.Builder
	for _, c := range s.Chapters {
		whole := c.At - c.At%second
		fmt.Fprintf(&b, "%s %s\n", whole, c.Title)
	}
	return b.String()
}

// CardsText writes what has to be on screen for the sizes that are not spoken.
func (s *ShootSheet) CardsText() string {
	var b strings.Builder
	for _, shot := range s.Shots {
		if len(shot.Numbers) == 0 && shot.Differs == "" && len(shot.Skips) == 0 {
			continue
		}
		fmt.Fprintf(&b, "%s\n", shot.Title)
		for _, n := range shot.Numbers {
			words := orElse(n.Words, n.Name)
			if n.Line == "" {
				fmt.Fprintf(&b, "  %s: not in version %d\n", words, s.Version.Number)
				continue
			}
			fmt.Fprintf(&b, "  %s: %s", words, n.Line)
			if n.Demo != nil && s.Size != nil {
				fmt.Fprintf(&b, "  (shown in size %s: %s)", s.Size.Name, counts.Print([]*float64{n.Demo}, counts.Layout{}))
			}
			b.WriteString("\n")
		}
		for _, skip := range shot.Skips {
			fmt.Fprintf(&b, "  %s\n", skip)
		}
		if shot.Differs != "" {
			fmt.Fprintf(&b, "  %s\n", strings.ReplaceAll(shot.Differs, "\n", "\n  "))
		}
		b.WriteString("\n")
	}
	return b.String()
}

// NotesText writes the edit notes as lines.
func (s *ShootSheet) NotesText() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s, %d. %s\n\n", s.Design.Name, s.Installment.Position, s.Installment.Title)
	for _, n := range s.Notes {
		done := "[ ]"
		if n.Done {
			done = "[x]"
		}
		fmt.Fprint(&b, done)
		if n.Take > 0 {
			fmt.Fprintf(&b, " take %d", n.Take)
			if n.At != nil {
				fmt.Fprintf(&b, " %s", *n.At)
			}
			b.WriteString(":")
		}
		fmt.Fprintf(&b, " %s", strings.Join(strings.Fields(n.Words), " "))
		if n.Waits != "" {
			fmt.Fprintf(&b, " (%s)", n.Waits)
		}
		b.WriteString("\n")
	}
	return b.String()
}
