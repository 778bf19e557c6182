package server_test

import (
	"testing"
	"time"

	"github.com/chromedp/chromedp/kb"
	"github.com/pquerna/otp/totp"
	"github.com/stretchr/testify/require"

	"tenter/server/browsertest"
	"tenter/server/demo"
)

// TestSigningInIsAccessible goes where no address leads: through setting up a
// second step, its recovery codes, the page that asks for a code, a studio
// that wants one of its people, and the dialogs of sign-ins and webhooks. Axe
// looks at each, and the focus has to be where the work goes on.
func TestSigningInIsAccessible(t *testing.T) {
	for _, view := range []struct {
		name          string
		width, height int64
		dark          bool
	}{{"wide", 1280, 900, false}, {"narrow", 320, 740, true}} {
		t.Run(view.name, func(t *testing.T) {
			t.Parallel()
			s := demoStudio(t)
			p := browsertest.Open(t, s.URL, view.width, view.height)
			p.Dark(view.dark)
			look := func(name string) {
				t.Helper()
				p.Accessible()
				p.NoSidewaysScrolling()
				p.Screenshot(view.name + "-signing-in-" + name)
			}
			submitSignIn(p, "teasel")
			p.At("/")
			code := setUpSecondStep(t, p, look)
			p.Goto("/settings")
			tellAProgram(p, look)
			p.Check("The studio’s own people give a code")
			p.PressNth("Save", 1)
			browsertest.Wait(p, "the setting", `document.querySelector('check-field[name=staff_second_step] input')?.checked && !document.querySelector('main[aria-busy=true]')`)
			look("settings")

			s.Nobody().Post("/auth/sign-in", body("login", "sorrel", "password", demo.Password)).Want(200)
			p.Goto("/people")
			p.Press("Sign-in of sorrel")
			p.See("Signed in in")
			look("person")
			p.Press("End every sign-in")
			p.See("Not signed in anywhere.")
			look("person-ended")
			focusIsIn(p, "dialog[open]")
			p.Keys(kb.Escape)

			leave(p)
			giveCode(p, code, look)
			leave(p)
			submitSignIn(p, "bodkin")
			p.At("/me")
			p.See("The studio wants this of its people.")
			look("wanted")
			p.NoErrors("422") // a wrong code
		})
	}
}

func submitSignIn(p *browsertest.Page, handle string) {
	p.Goto("/sign-in")
	p.Fill("Handle or e-mail", handle)
	p.Fill("Password", demo.Password)
	p.Press("Sign in")
}

// leave ends the sign-in from a page that asks for nothing more by itself, and
// that stays: the button loads another, which a wait here might fall into.
func leave(p *browsertest.Page) {
	p.Goto("/privacy")
	browsertest.Eval[bool](p, `fetch('/api/v1/auth/sign-out', { method: 'POST' }).then((r) => r.ok)`)
}

// setUpSecondStep sets one up for who is signed in and returns a recovery code.
func setUpSecondStep(t *testing.T, p *browsertest.Page, look func(string)) string {
	t.Helper()
	p.Goto("/me")
	p.Press("Set it up")
	p.Fill("Your password", demo.Password)
	look("set-up-password")
	p.Press("Go on")
	p.See("Scan this")
	focusIsIn(p, "dialog[open]")
	look("set-up-secret")
	code, err := totp.GenerateCode(browsertest.Eval[string](p, `document.querySelector('.secret').textContent.replaceAll(' ', '')`), time.Now())
	require.NoError(t, err)
	p.Fill("Code that the program shows", code)
	p.Press("Set it up")
	p.See("I have them")
	look("recovery-codes")
	recovery := browsertest.Eval[string](p, `document.querySelector('.codes code').textContent`)
	p.Press("I have them")
	p.See("8 recovery codes left.")
	focusIsIn(p, "#second-step")
	look("me")
	return recovery
}

// giveCode signs in with a wrong code and then a recovery code.
func giveCode(p *browsertest.Page, code string, look func(string)) {
	submitSignIn(p, "teasel")
	p.See("Now the code.")
	focusIsIn(p, "form-field[name=code]")
	look("code")
	p.Fill("Code", "000000")
	p.Press("Sign in")
	browsertest.Wait(p, "a refusal", `document.querySelector('main [aria-invalid=true], main [role=alert]:not(:empty)')`)
	focusIsIn(p, "form-field[name=code]")
	look("code-wrong")
	p.Fill("Code", code)
	p.Press("Sign in")
	p.At("/")
}

// tellAProgram adds a webhook and looks at its dialogs.
func tellAProgram(p *browsertest.Page, look func(string)) {
	p.Press("Add a webhook")
	p.Fill("Name", "The yarn shop’s shelf")
	p.Fill("Address", "https://shelf.example/a-rather-long-address/that-goes-on/and-on-without-a-break/until-the-end")
	browsertest.Eval[bool](p, `(() => { document.querySelector('dialog[open] input[type=checkbox]').click(); return true; })()`)
	look("webhook-form")
	p.Press("Add")
	p.See("The secret of")
	look("webhook-secret")
	p.Press("Close")
	focusIsIn(p, "#webhooks")
	p.Press("Send a trial to")
	p.Press("What it was told")
	p.See("On its way.")
	p.See("A trial, to see whether it arrives.")
	look("webhook-told")
	p.Press("Look again")
	p.Press("Close")
	focusIsIn(p, "#webhooks")
}

// focusIsIn waits until the focused element is, or is within, what a selector finds.
func focusIsIn(p *browsertest.Page, selector string) {
	browsertest.Wait(p, "the focus within "+selector, `document.activeElement?.closest('`+selector+`')`)
}
