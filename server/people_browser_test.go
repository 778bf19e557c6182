package server_test

import (
	"testing"

	"github.com/chromedp/chromedp/kb"

	"tenter/server/browsertest"
	"tenter/server/demo"
)

// TestPeopleAsksFirst: a new invitation link says which one it ends, and
// another address takes the password of who changes it.
func TestPeopleAsksFirst(t *testing.T) {
	s := demoStudio(t)
	p := browsertest.Open(t, s.URL, 320, 740)
	p.Dark(true)
	submitSignIn(p, "teasel")
	p.At("/")
	p.Goto("/people")

	p.Press("Invitation link for mallow")
	p.See("It is shown only now.")
	p.Keys(kb.Escape)
	p.Press("Invitation link for mallow")
	p.See("has not been used yet and works until")
	p.Accessible()
	p.NoSidewaysScrolling()
	p.Press("Make a new link")
	p.See("It is shown only now.")
	focusIsIn(p, "dialog[open]")
	p.Keys(kb.Escape)
	p.NoErrors()

	p.Press("Change mallow")
	p.Fill("E-mail", "mallow@elsewhere.example")
	p.See("Asked for another address")
	p.Accessible()
	p.NoSidewaysScrolling()
	p.Fill("Your own password", "not it at all")
	p.Press("Save")
	p.See("Is not your password")
	p.Fill("Your own password", demo.Password)
	p.Press("Save")
	p.See("mallow@elsewhere.example")
	p.NoErrors("422") // the wrong password
}
