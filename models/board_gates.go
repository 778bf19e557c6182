package models

import (
	"fmt"
	"strings"
)

// Gate is a condition for release. It is computed, never typed in; a shut one
// says why in words and where it is opened.
type Gate struct {
	Name  string
	Shut  bool
	Why   string // "" when it is open
	Where string // screen of the design: "testing", "counts", "samples", "filming", "setup"
}

// gates computes what still holds back release.
func (r *boardRows) gates(b *Board) []Gate {
	return []Gate{
		gate("Counts", "counts", r.whyCounts(b)),
		gate("Tech editor's sign-off", "counts#sign-off", r.whySigned(b)),
		gate("Cautions", "setup#cautions", r.cautions.why()),
		gate("Testers in every size", "testing", whyTesters(b)),
		gate("Fit findings decided", "fit", r.whyFindings()),
		gate("Yarn amounts set", "yarn", r.whyYarn(b)),
		gate("Design gauge", "samples", whyGauge(b)),
		gate("Installments recorded", "filming", whyRecorded(b)),
		gate("Slips mended", "filming", whySlips(b)),
		gate("Remarks settled", "testing", whyRemarks(b)),
		gate("Corrections closed", "corrections", r.corrections.Why(b.Version.Number)),
	}
}

func gate(name, where, why string) Gate {
	return Gate{Name: name, Shut: why != "", Why: why, Where: where}
}

// whyCounts tells whether the latest version has counts, and whether they hold.
func (r *boardRows) whyCounts(b *Board) string {
	switch {
	case len(b.Sizes) == 0:
		return "No sizes are set up yet."
	case r.yardstick.versions[b.Version.ID] == nil:
		return fmt.Sprintf("Version %d has no counts yet.", b.Version.Number)
	}
	if r.checked == nil || r.isSigned() {
		return "" // whoever signed has answered each failure
	}
	var said []string
	for _, f := range r.checked.Findings {
		if f.Kind == "rule" || f.Kind == "multiple" || f.Kind == "intended" {
			said = append(said, f.Message)
		}
	}
	for _, u := range r.checked.Unchecked {
		said = append(said, "The "+u.Field+" "+u.Problem+".")
	}
	if len(said) == 0 {
		return ""
	}
	return firstAndMore(said, "finding")
}

// firstAndMore says the first of several things and how many more there are.
func firstAndMore(said []string, noun string) string {
	if len(said) == 1 {
		return said[0]
	}
	return said[0] + andMore(len(said)-1, noun)
}

// andMore completes a sentence: " And 2 more findings."
func andMore(n int, noun string) string { return " And " + counted(n, "more "+noun) + "." }

func whyTesters(b *Board) string {
	if b.Call == nil {
		return "No test call has been opened yet."
	}
	var short []string
	for _, z := range b.Sizes {
		if z.Testers.Approved < z.Testers.Fewest {
			short = append(short, fmt.Sprintf("size %s has %s and needs at least %d", z.Name, approvedReports(z.Testers.Approved), z.Testers.Fewest))
		}
	}
	switch len(short) {
	case 0:
		return ""
	case 1, 2:
		return sentence(strings.Join(short, "; "))
	}
	return sentence(fmt.Sprintf("%s, and %s fall short too", short[0], counted(len(short)-1, "more size")))
}

func approvedReports(n int) string {
	if n == 0 {
		return "no approved report"
	}
	return counted(n, "approved report")
}

// sentence makes a clause a sentence.
func sentence(clause string) string {
	if clause == "" {
		return ""
	}
	return strings.ToUpper(clause[:1]) + clause[1:] + "."
}

func whyGauge(b *Board) string {
	if b.Bearing.State == BorneOut {
		return ""
	}
	return b.Bearing.Sentence
}

func whyRecorded(b *Board) string {
	if len(b.Installments) == 0 {
		return "No installments are planned yet."
	}
	var open []string
	for _, in := range b.Installments {
		if in.State == Unrecorded {
			open = append(open, "“"+in.Title+"”")
		}
	}
	switch len(open) {
	case 0:
		return ""
	case 1:
		return open[0] + " is unrecorded."
	}
	return fmt.Sprintf("%d of %d installments are unrecorded, %s first.", len(open), len(b.Installments), open[0])
}

func whySlips(b *Board) string {
	n := 0
	for _, in := range b.Installments {
		n += in.OpenSlips
	}
	if n == 0 {
		return ""
	}
	return fmt.Sprintf("%s in accepted takes %s not mended.", counted(n, "slip"), isAre(n))
}

func whyRemarks(b *Board) string {
	if b.RemarksOpen == 0 {
		return ""
	}
	return fmt.Sprintf("%s on the text %s not settled.", counted(b.RemarksOpen, "remark"), isAre(b.RemarksOpen))
}
