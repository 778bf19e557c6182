package models

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"strings"
)

// GateKey names a gate. It never changes; what the pages call it may.
type GateKey string

// The gates.
const (
	GateCounts      GateKey = "counts"
	GateSignOff     GateKey = "sign_off"
	GateCautions    GateKey = "cautions"
	GateTesters     GateKey = "testers"
	GateFit         GateKey = "fit"
	GateYarn        GateKey = "yarn"
	GateGauge       GateKey = "gauge"
	GateRemarks     GateKey = "remarks"
	GateTakes       GateKey = "takes"
	GateSlips       GateKey = "slips"
	GateCaptions    GateKey = "captions"
	GateCorrections GateKey = "corrections"
)

// Gate is a condition for release. It is computed, never typed in: one that is
// not open by itself says why in words, where it is opened, and on which facts
// that rests. The designer may open it by hand (see GateOverride).
type Gate struct {
	Key           GateKey
	Name          string
	InstallmentID string        // whose own gate it is, or for whom alone it was opened; "" for the design's
	Shut          bool          // it holds release back: neither open by itself nor by hand
	Why           string        // why it is not open by itself; "" when it is
	Where         string        // screen of the design, such as "testing" or "counts#sign-off"
	Opened        *GateOverride // by hand, and not taken back; nil for not
	Again         string        // why it is shut again although it was opened by hand

	facts []GateFact
}

// GateFact is one thing that a gate is shut for. Key tells it from others, Short
// is by how much something falls short, and Numbers are those of a finding of
// the fit.
type GateFact struct {
	Key     string          `json:"key"`
	Short   int             `json:"short,omitempty"`
	Numbers *FindingNumbers `json:"numbers,omitempty"`
}

// shutting is what keeps a gate from being open by itself; the zero value is an
// open one.
type shutting struct {
	why   string
	facts []GateFact
}

// shutFor makes a shutting of one fact.
func shutFor(fact, format string, args ...any) shutting {
	return shutting{fmt.Sprintf(format, args...), []GateFact{{Key: fact}}}
}

// ByHand tells whether a gate is open only because somebody opened it.
func (g Gate) ByHand() bool { return !g.Shut && g.Why != "" }

// Seen is the mark of what a gate is shut for, so that whoever opens it by hand
// can be told when it is shut for something else by then. "" when it is open by
// itself.
func (g Gate) Seen() string {
	if g.Why == "" {
		return ""
	}
	facts, err := json.Marshal(g.facts)
	if err != nil {
		return "" // numbers of findings are finite; what can't be marked can't be opened
	}
	sum := sha256.Sum256(facts)
	return hex.EncodeToString(sum[:8])
}

// coveredBy tells whether the facts that a gate was opened for cover this one:
// it was among them, it falls no further short, and the numbers of a finding
// have not changed materially.
func (f GateFact) coveredBy(was []GateFact) bool {
	for _, w := range was {
		if w.Key != f.Key || f.Short > w.Short {
			continue
		}
		return w.Numbers == nil || f.Numbers == nil || w.Numbers.Changed(*f.Numbers) == ""
	}
	return false
}

// settle decides whether a gate holds: it is open by itself, or by an override
// that covers each of its facts. Fewer facts than it was opened for are covered.
func (g *Gate) settle(o *GateOverride) {
	g.Opened, g.Shut = o, g.Why != ""
	if !g.Shut || o == nil {
		return
	}
	was := o.facts()
	for _, f := range g.facts {
		if !f.coveredBy(was) {
			g.Again = "It was opened for something else: " + o.Why
			return
		}
	}
	g.Shut = false
}

// shutOnes are the gates that hold release back.
func shutOnes(gates []Gate) []Gate {
	var out []Gate
	for _, g := range gates {
		if g.Shut {
			out = append(out, g)
		}
	}
	return out
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

// sentence makes a clause a sentence.
func sentence(clause string) string {
	if clause == "" {
		return ""
	}
	return strings.ToUpper(clause[:1]) + clause[1:] + "."
}
