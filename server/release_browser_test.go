package server_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/server/browsertest"
	"tenter/server/demo"
)

// TestTheDesignerWorksAReleaseList in the demo's studio: the sock's third
// installment is out but for a note, the fourth is held back by a correction.
func TestTheDesignerWorksAReleaseList(t *testing.T) {
	s := demoStudio(t)
	p := browsertest.Open(t, s.URL, 360, 740)
	p.Goto("/sign-in")
	p.Fill("Handle or e-mail", "teasel")
	p.Fill("Password", demo.Password)
	p.Press("Sign in")
	p.At("/")
	p.Goto("/d/marlstep-sock/release")
	p.See("1 day overdue")
	p.Press("Tick: Tell the testers that it is out, 3. Gusset")
	p.See("Done: 3 days")
	require.NotContains(t, p.Text(), "overdue")

	p.Press("Tick: The video is out, 4. Foot")
	p.See("“Foot” can't be marked as aired: 1 gate is shut: Corrections closed.")
	p.Press("Open by hand: Corrections closed, Foot")
	p.See("Why it may be open")
	p.Press("Open it")
	p.See("Why it may be open")
	p.Fill("Why it may be open", "It is about the toe, which comes a week later.")
	p.Press("Open it")
	p.See("It is about the toe, which comes a week later.")
	p.Accessible()
	p.NoSidewaysScrolling()
	p.Press("Tick: Put up the text, version 2: gusset to toe, 4. Foot")
	p.See("4. Foot is announced for") // its day is still to come
	p.Accessible()
	p.Press("It is out already")
	p.Press("Tick: The video is out, 4. Foot")
	p.See("4. Foot is announced for")
	p.Press("It is out already")
	p.Press("Take back: The video is out, 4. Foot")
	p.Press("4. Foot") // not out any more: its gates are there again
	p.Press("Take back: Corrections closed, Foot")
	p.See("Opened by hand before: 1")
	p.Press("Tick: The video is out, 4. Foot")
	p.See("“Foot” can't be marked as aired")

	p.Press("Name another version")
	p.Fill("Goes out", "1")
	p.Press("Name it")
	p.See("Version 1 goes out, although there is version 2.")
	p.Accessible()
	p.NoErrors("409", "422")
}
