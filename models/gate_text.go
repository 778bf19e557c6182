package models

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"slices"
	"strings"

	"tenter/models/counts"
	"tenter/models/gauge"
)

// shutCounts tells whether the version that goes out has counts, and whether
// they hold. Whoever signed it has answered each failure in writing.
func (r *gateRows) shutCounts() shutting {
	switch {
	case len(r.sizes) == 0:
		return shutFor("no sizes", "No sizes are set up yet.")
	case r.checked == nil:
		return shutting{} // not judged
	case r.checked.Counts == 0:
		return shutFor("no counts", "Version %d has no counts yet.", r.out.Number)
	case r.isSigned():
		return shutting{}
	}
	var out shutting
	var said []string
	for _, f := range r.checked.Failures() {
		if f.Kind == counts.FindingEase {
			continue // how much ease is meant is for the sign-off to answer
		}
		said = append(said, f.Message)
		out.facts = append(out.facts, GateFact{Key: factOf(f.Kind, f.Name, f.Size, f.Message)})
	}
	if len(said) > 0 {
		out.why = firstAndMore(said, "finding")
	}
	return out
}

// factOf makes a key of what is said in words; the words themselves, which may
// name people, are not kept in it.
func factOf(kind string, parts ...string) string {
	sum := sha256.Sum256([]byte(strings.Join(parts, "\x00")))
	return kind + "-" + hex.EncodeToString(sum[:8])
}

// isSigned tells whether a sign-off of the version that goes out stands.
func (r *gateRows) isSigned() bool { return r.signed != nil && r.signed.standing }

// shutSignOff tells what is missing of the tech editor's sign-off. A text that
// was changed since it was opened by hand asks anew.
func (r *gateRows) shutSignOff() shutting {
	switch {
	case r.isSigned():
		return shutting{}
	case r.signed != nil:
		return shutFor("withdrawn "+r.signed.id, "The sign-off of version %d was withdrawn: %s", r.out.Number, r.signed.why)
	}
	return shutFor(fmt.Sprintf("unsigned %s %d", r.out.ID, r.out.Revision), "Version %d is not signed off by a tech editor yet.", r.out.Number)
}

// shutCautions names the cautions that hold and that nobody has acknowledged.
func (r *gateRows) shutCautions() shutting {
	d := r.cautions
	if d.Told == nil && forChildren(d.Design.Audience) {
		return shutFor("features", "Nobody has said yet what this has of what cautions are about: cords, ties, a hood, small parts, sleepwear.")
	}
	var out shutting
	var open []string
	for _, c := range d.Cautions {
		if c.Holds && c.Read == nil {
			open = append(open, "“"+c.Title+"”")
			out.facts = append(out.facts, GateFact{Key: factOf("caution", c.ID, statement(c.Caution))})
		}
	}
	if len(open) > 0 {
		out.why = fmt.Sprintf("%s not acknowledged: %s.", countedVerb(len(open), "caution", "is", "are"), strings.Join(open, ", "))
	}
	return out
}

// shutTesters names the sizes that are short of approved reports.
func (r *gateRows) shutTesters() shutting {
	if r.call == nil {
		return shutFor("no call", "No test call has been opened yet.")
	}
	var out shutting
	var short []string
	for _, z := range r.sizes {
		t := r.testers[z.ID]
		if t.Approved < t.Fewest {
			short = append(short, fmt.Sprintf("size %s has %s and needs at least %d", z.Name, approvedReports(t.Approved), t.Fewest))
			out.facts = append(out.facts, GateFact{Key: "size " + z.ID, Short: t.Fewest - t.Approved})
		}
	}
	switch len(short) {
	case 0:
	case 1, 2:
		out.why = sentence(strings.Join(short, "; "))
	default:
		out.why = sentence(fmt.Sprintf("%s, and %s fall short too", short[0], counted(len(short)-1, "more size")))
	}
	return out
}

func approvedReports(n int) string {
	if n == 0 {
		return "no approved report"
	}
	return counted(n, "approved report")
}

// shutFit names the most serious finding that nobody has decided on.
func (r *gateRows) shutFit() shutting {
	if r.said == nil {
		return shutting{} // not judged
	}
	if r.reports > 0 && r.said.Problem != "" {
		return shutFor("problem", "%s", r.said.Problem)
	}
	var out shutting
	var waiting []string
	for i := range r.said.Findings {
		f := &r.said.Findings[i]
		if decided, _ := f.standing(r.decisions[f.Key]); f.Asks && !decided {
			waiting = append(waiting, f.Message)
			out.facts = append(out.facts, GateFact{Key: f.Key, Numbers: &f.Numbers})
		}
	}
	if len(waiting) > 0 {
		out.why = firstAndMore(waiting, "finding")
	}
	return out
}

// shutYarn names the sizes for which no amount is stated.
func (r *gateRows) shutYarn() shutting {
	var out shutting
	var open []string
	for _, z := range r.sizes {
		if !r.stated[z.ID] {
			open = append(open, z.Name)
			out.facts = append(out.facts, GateFact{Key: "size " + z.ID})
		}
	}
	switch {
	case len(open) == 0:
	case len(open) == len(r.sizes):
		out.why = "No amount of yarn is stated yet."
	case len(open) == 1:
		out.why = fmt.Sprintf("No amount of yarn is stated for size %s.", open[0])
	default:
		out.why = fmt.Sprintf("No amount of yarn is stated for sizes %s and %s.", strings.Join(open[:len(open)-1], ", "), open[len(open)-1])
	}
	return out
}

// shutGauge says how the samples speak of the design's gauge where they don't
// bear it out. Opened by hand, it holds for the axes as far off as they were, to
// a whole percent.
func (r *gateRows) shutGauge() shutting {
	if r.bearing.State == BorneOut {
		return shutting{}
	}
	out := shutting{why: r.bearing.Sentence}
	for _, a := range r.bearing.Axes {
		if a.Answer == gauge.BearsOut {
			continue
		}
		fact := GateFact{Key: string(a.Axis) + " " + string(a.Answer) + " " + gauge.Decimal(a.StatedPer10CM, 2)}
		if a.Answer == gauge.DoesNot {
			fact.Key += " " + sideOf(a.Percent)
			fact.Short = int(max(a.Percent, -a.Percent))
		}
		out.facts = append(out.facts, fact)
	}
	if len(out.facts) == 0 {
		out.facts = []GateFact{{Key: string(r.bearing.State)}}
	}
	return out
}

func sideOf(percent float64) string {
	if percent < 0 {
		return "fewer"
	}
	return "more"
}

// shutRemarks counts the remarks on the text that nobody has settled.
func (r *gateRows) shutRemarks() shutting {
	if len(r.remarks) == 0 {
		return shutting{}
	}
	out := shutting{why: fmt.Sprintf("%s on the text %s not settled.", counted(len(r.remarks), "remark"), isAre(len(r.remarks)))}
	for _, id := range slices.Sorted(slices.Values(r.remarks)) {
		out.facts = append(out.facts, GateFact{Key: id})
	}
	return out
}

// shutCorrections tells which corrections are not in the text that goes out, and
// which testers are still to be told of one.
func (r *gateRows) shutCorrections() shutting {
	if r.corrections == nil {
		return shutting{} // not judged
	}
	out := shutting{why: r.corrections.Why(r.out.Number)}
	for _, c := range r.corrections.missing(r.out.Number) {
		out.facts = append(out.facts, GateFact{Key: "correction " + c.ID})
	}
	for _, m := range r.corrections.Makers {
		if len(m.Due) > 0 {
			out.facts = append(out.facts, GateFact{Key: "tell " + m.AssignmentID, Short: len(m.Due)})
		}
	}
	return out
}
