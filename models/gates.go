package models

// ReleaseGates are a design's gates: those of the design as a whole, and those
// that hold each installment back.
type ReleaseGates struct {
	Design []Gate
	// Installments are, by installment, the gates of the design that hold it back
	// as well, then its own. One of the design that was opened by hand for this
	// installment alone has its id.
	Installments map[string][]Gate
}

// HoldsInstallments tells whether a gate of the design holds back each
// installment as well. What is said on camera can't be called back, so whatever
// could make it wrong or unsafe does: counts, sign-off, cautions, testers, fit,
// gauge, corrections. What is only written holds the text alone: yarn and
// remarks. Takes, slips and captions each installment has of its own.
func (k GateKey) HoldsInstallments() bool {
	switch k {
	case GateCounts, GateSignOff, GateCautions, GateTesters, GateFit, GateGauge, GateCorrections:
		return true
	}
	return false
}

// find returns a gate by its key and installment, nil for none.
func (g ReleaseGates) find(installmentID string, key GateKey) *Gate {
	of := g.Design
	if installmentID != "" {
		of = g.Installments[installmentID]
	}
	for i := range of {
		if of[i].Key == key {
			return &of[i]
		}
	}
	return nil
}

// name is what the pages call a gate.
func (k GateKey) name() string {
	return map[GateKey]string{GateCounts: "Counts", GateSignOff: "Tech editor's sign-off", GateCautions: "Cautions", GateTesters: "Testers in every size",
		GateFit: "Fit findings decided", GateYarn: "Yarn amounts set", GateGauge: "Design gauge", GateRemarks: "Remarks settled", GateCorrections: "Corrections closed",
		GateTakes: "Takes accepted", GateSlips: "Slips mended", GateCaptions: "Captions present"}[k]
}

// gate makes a gate of why it is not open by itself, and lets the standing
// override decide whether it holds.
func (r *gateRows) gate(installmentID string, key GateKey, where string, s shutting) Gate {
	g := Gate{Key: key, Name: key.name(), InstallmentID: installmentID, Why: s.why, Where: where, facts: s.facts}
	g.settle(r.overrides[gateAt{installmentID, key}])
	return g
}

// gates computes every gate of a design. Those that take a calculation are open
// in rows that were not judged.
func (r *gateRows) gates() ReleaseGates {
	r.own = make(map[string][]Gate, len(r.run))
	for _, n := range r.run {
		r.own[n.ID] = r.ownGates(n)
	}
	out := ReleaseGates{Installments: make(map[string][]Gate, len(r.run))}
	for _, g := range []struct {
		key   GateKey
		where string
		shut  func() shutting
	}{
		{GateCounts, "counts", r.shutCounts},
		{GateSignOff, "counts#sign-off", r.shutSignOff},
		{GateCautions, "setup#cautions", r.shutCautions},
		{GateTesters, "testing", r.shutTesters},
		{GateFit, "fit", r.shutFit},
		{GateCorrections, "corrections", r.shutCorrections},
		{GateYarn, "yarn", r.shutYarn},
		{GateGauge, "samples", r.shutGauge},
		{GateTakes, "filming", r.shutTakes},
		{GateSlips, "filming", r.shutSlips},
		{GateCaptions, "filming", r.shutCaptions},
		{GateRemarks, "testing", r.shutRemarks},
	} {
		out.Design = append(out.Design, r.gate("", g.key, g.where, g.shut()))
	}
	for _, n := range r.run {
		out.Installments[n.ID] = append(r.sharedGates(n.ID, out.Design), r.own[n.ID]...)
	}
	return out
}

// sharedGates are the design's gates that hold an installment back as well.
// What is shut for the design may be opened by hand for one installment alone:
// a crown can go out before anybody has read the caution about the ties.
func (r *gateRows) sharedGates(installmentID string, design []Gate) []Gate {
	var out []Gate
	for _, g := range design {
		if !g.Key.HoldsInstallments() {
			continue
		}
		if o := r.overrides[gateAt{installmentID, g.Key}]; o != nil && g.Shut {
			g.InstallmentID, g.Again = installmentID, ""
			g.settle(o)
		}
		out = append(out, g)
	}
	return out
}
