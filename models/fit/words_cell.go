package fit

import (
	"fmt"

	"tenter/models/gauge"
)

func cellSentence(c Cell, axis gauge.Axis) string {
	switch c.Verdict {
	case Fault:
		return faultSentence(c, axis)
	case Suspect:
		return suspectSentence(c, axis)
	case Clear:
		return fmt.Sprintf("Size %s, %s: right within %s (%s, 95 %% sure, from %s).", c.Size, plain(c.Point),
			pct(c.TolPct), between(c.LoPct, c.HiPct), counted(c.Reports, "report", "reports"))
	}
	return cellUnknown(c)
}

func faultSentence(c Cell, axis gauge.Axis) string {
	return fmt.Sprintf("Size %s, %s: %s came out %s %s here and only here (%s, %s), after allowing for their own gauge and the fabric; "+
		"that is %s. Compare this line of the text with the sheet.",
		c.Size, plain(c.Point), testersWho(c), pct(*c.EstimatePct), offWord(axis, *c.EstimatePct),
		between(c.LoPct, c.HiPct), sure(c.PFault), countPhrase(c.AsCount))
}

// testersWho says whose values an offset rests on.
func testersWho(c Cell) string {
	switch {
	case c.Used < c.Reports:
		return fmt.Sprintf("%d of %d testers", c.Used, c.Reports)
	case c.Used == 2:
		return "both testers"
	}
	return fmt.Sprintf("all %d testers", c.Used)
}

// countPhrase writes an offset as stitches or rows, the interval from the end
// nearer to 0.
func countPhrase(o *CountOffset) string {
	near, far, more := o.Lo, o.Hi, "more"
	if o.Estimate < 0 {
		near, far, more = o.Hi, o.Lo, "fewer"
	}
	low := inWhole(near)
	if near*o.Estimate < 0 {
		low = "0"
	}
	return fmt.Sprintf("as if about %s %s %s (between %s and %s)", inWhole(o.Estimate), o.Unit, more, low, inWhole(far))
}

func suspectSentence(c Cell, axis gauge.Axis) string {
	if c.Reports > 1 {
		return fmt.Sprintf("Size %s, %s: %s came out %s %s here (%s), and a wrong count is the likeliest reason but not a sure one (%s). %s",
			c.Size, plain(c.Point), testersWho(c), pct(*c.EstimatePct), offWord(axis, *c.EstimatePct),
			between(c.LoPct, c.HiPct), sure(c.PFault), settles(c))
	}
	return fmt.Sprintf("One tester of size %s is %s %s at %s (%s). With one report a wrong count (%s) and a wrong tape look the same; %s Ask them to measure again first.",
		c.Size, pct(*c.EstimatePct), offWord(axis, *c.EstimatePct), plain(c.Point), between(c.LoPct, c.HiPct), sure(c.PFault), settles(c))
}

// settles says how many more reports would tell.
func settles(c Cell) string {
	if *c.MoreReports == 0 {
		return fmt.Sprintf("More reports of this size alone will not settle it: three more would show only %s or over.", pct(*c.VisibleWith3Pct))
	}
	return fmt.Sprintf("%s of this size should settle it.", counted(int(*c.MoreReports), "more report", "more reports"))
}

func cellUnknown(c Cell) string {
	from := counted(c.Reports, "report", "reports")
	if c.EstimatePct == nil {
		return fmt.Sprintf("Size %s, %s: can't be told yet; no value of %s can be relied on. %s", c.Size, plain(c.Point), from, settles(c))
	}
	return fmt.Sprintf("Size %s, %s: can't be told yet; from %s it is %s off, 95 %% sure to lie %s, and right means within %s. %s",
		c.Size, plain(c.Point), from, signed(*c.EstimatePct)+" %", within(c.LoPct, c.HiPct), pct(c.TolPct), settles(c))
}
