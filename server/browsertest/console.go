package browsertest

import (
	"fmt"
	"strings"

	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// listen gathers what the page complains of: uncaught errors, refused content,
// failed requests, and what its own code calls an error.
func (p *Page) listen() {
	entries := chromedp.Events(p.ctx, log.EntryAdded)
	thrown := chromedp.Events(p.ctx, runtime.ExceptionThrown)
	said := chromedp.Events(p.ctx, runtime.ConsoleAPICalled)
	go func() {
		for e, err := range said {
			if err != nil {
				return
			}
			if e.Type == runtime.ConsoleAPICalledTypeError || e.Type == runtime.ConsoleAPICalledTypeAssert {
				p.complain(consoleText(e.Args))
			}
		}
	}()
	go func() {
		for e, err := range entries {
			if err != nil {
				return // the browser is closed
			}
			if e.Entry.Level == "error" {
				p.complain(fmt.Sprintf("%s %s", e.Entry.Text, e.Entry.URL))
			}
		}
	}()
	go func() {
		for e, err := range thrown {
			if err != nil {
				return
			}
			text := e.ExceptionDetails.Text
			if x := e.ExceptionDetails.Exception; x != nil {
				text += " " + x.Description
			}
			p.complain(text)
		}
	}()
}

// consoleText is what a page's code wrote to its console.
func consoleText(args []*runtime.RemoteObject) string {
	words := make([]string, len(args))
	for i, a := range args {
		if words[i] = a.Description; words[i] == "" {
			words[i] = string(a.Value)
		}
	}
	return strings.Join(words, " ")
}

func (p *Page) complain(text string) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.errors = append(p.errors, text)
}

// Errors is what the page has complained of so far.
func (p *Page) Errors() []string {
	p.mu.Lock()
	defer p.mu.Unlock()
	return append([]string(nil), p.errors...)
}

// NoErrors fails the test when the page complained of anything but answers
// that the test expects, named by a part of their text.
func (p *Page) NoErrors(expected ...string) {
	p.t.Helper()
	for _, e := range p.Errors() {
		known := false
		for _, x := range expected {
			known = known || strings.Contains(e, x)
		}
		require.True(p.t, known, "the page %s complains: %s", Eval[string](p, "location.pathname"), e)
	}
}
