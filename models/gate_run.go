package models

import "fmt"

// An installment's own gates. Each is of what was recorded of it; the gates of
// the text that hold it back as well are the design's.
func (r *gateRows) ownGates(n InstallmentNow) []Gate {
	where := "filming#" + n.ID
	return []Gate{
		r.gate(n.ID, GateTakes, where, shutOwnTakes(n)),
		r.gate(n.ID, GateSlips, where, shutOwnSlips(n)),
		r.gate(n.ID, GateCaptions, where, shutOwnCaptions(n)),
	}
}

// shutOwnTakes names the shots without an accepted take.
func shutOwnTakes(n InstallmentNow) shutting {
	if n.State != Unrecorded {
		return shutting{}
	}
	var out shutting
	for _, shot := range n.Open {
		out.facts = append(out.facts, GateFact{Key: "shot " + shot.ID})
	}
	switch {
	case len(n.Open) == 1:
		out.why = fmt.Sprintf("The shot “%s” has no accepted take.", n.Open[0].Title)
	case len(n.Open) > 1:
		out.why = fmt.Sprintf("%d of %s have no accepted take, “%s” first.", len(n.Open), counted(len(n.Shots), "shot"), n.Open[0].Title)
	default:
		out = shutFor("recording "+n.ID, "No take is accepted yet.")
	}
	if take, slip := againSlip(n.Takes); take != nil {
		out.why += fmt.Sprintf(" Take %d has to be recorded again.", take.Number)
		out.facts = append(out.facts, GateFact{Key: "again " + slip.ID})
	}
	return out
}

// shutOwnSlips counts the slips that are not mended in the takes that will be
// used.
func shutOwnSlips(n InstallmentNow) shutting {
	open := slipsToMend(n.Takes)
	if len(open) == 0 {
		return shutting{}
	}
	out := shutting{why: fmt.Sprintf("%s in the takes that will be used %s not mended.", counted(len(open), "slip"), isAre(len(open)))}
	for _, slip := range open {
		out.facts = append(out.facts, GateFact{Key: "slip " + slip.ID})
	}
	return out
}

// shutOwnCaptions tells whether there are captions of the edit as it is.
func shutOwnCaptions(n InstallmentNow) shutting {
	if n.CaptionedAt != nil {
		return shutting{}
	}
	return shutFor("captions "+n.ID, "It has no captions yet.")
}

// shutRun is a gate of the whole design over its run: it is shut for whatever
// an installment's own one is shut for, and says which installments those are.
// What was opened by hand for an installment is open here too.
func (r *gateRows) shutRun(key GateKey) (out shutting, open []InstallmentNow) {
	for _, n := range r.run {
		for _, g := range r.own[n.ID] {
			if g.Key == key && g.Shut {
				out.facts = append(out.facts, g.facts...)
				open = append(open, n)
			}
		}
	}
	return out, open
}

func (r *gateRows) shutTakes() shutting {
	if len(r.run) == 0 {
		return shutFor("no run", "No installments are planned yet.")
	}
	out, open := r.shutRun(GateTakes)
	switch len(open) {
	case 0:
	case 1:
		out.why = fmt.Sprintf("“%s” is unrecorded.", open[0].Title)
	default:
		out.why = fmt.Sprintf("%d of %d installments are unrecorded, “%s” first.", len(open), len(r.run), open[0].Title)
	}
	return out
}

func (r *gateRows) shutSlips() shutting {
	out, open := r.shutRun(GateSlips)
	n := len(out.facts)
	switch len(open) {
	case 0:
	case 1:
		out.why = fmt.Sprintf("%s of “%s” %s not mended.", counted(n, "slip"), open[0].Title, isAre(n))
	default:
		out.why = fmt.Sprintf("%s of %s are not mended, “%s” first.", counted(n, "slip"), counted(len(open), "installment"), open[0].Title)
	}
	return out
}

func (r *gateRows) shutCaptions() shutting {
	out, open := r.shutRun(GateCaptions)
	switch len(open) {
	case 0:
	case 1:
		out.why = fmt.Sprintf("“%s” has no captions yet.", open[0].Title)
	default:
		out.why = fmt.Sprintf("%d of %d installments have no captions yet, “%s” first.", len(open), len(r.run), open[0].Title)
	}
	return out
}
