// Package browsertest drives the pages in a real browser. Only tests import it.
//
// A page is worked as a person works it: fields are found by their labels,
// buttons and links by their names, keys are pressed and text is typed.
package browsertest

import (
	"context"
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"

	"tenter/models/modelstest"
)

// Variable names the browser's program where it isn't on the path.
const Variable = "TENTER_TEST_CHROMIUM"

// patience is how long a page may take to show what is waited for.
const patience = 20 * time.Second

// find returns the browser's program, or skips the test.
func find(t testing.TB) string {
	t.Helper()
	names := []string{"chromium", "chromium-browser", "google-chrome", "chrome"}
	if named := os.Getenv(Variable); named != "" {
		names = []string{named}
	}
	for _, name := range names {
		if program, err := exec.LookPath(name); err == nil {
			return program
		}
	}
	modelstest.Missing(t, "browser", "put Chromium on the path, or set "+Variable)
	return ""
}

// Page is one browser with one page.
type Page struct {
	t    testing.TB
	ctx  context.Context
	base string

	mu     sync.Mutex
	errors []string // of the page's console
}

// Open starts a browser with a fresh profile and a window of the given size in
// CSS pixels.
func Open(t testing.TB, base string, width, height int64) *Page {
	t.Helper()
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(find(t)), chromedp.UserDataDir(t.TempDir()),
		chromedp.NoSandbox, chromedp.DisableGPU, chromedp.NoFirstRun,
		chromedp.Flag("disable-background-networking", true), chromedp.Flag("disable-component-update", true), chromedp.Flag("disable-sync", true))
	allocator, cancelAllocator := chromedp.NewExecAllocator(context.Background(), options...)
	ctx, cancel := chromedp.NewContext(allocator)
	t.Cleanup(func() { cancel(); cancelAllocator() })
	// The first action starts the browser, which lives as long as the context
	// of that action: so not one with a deadline.
	require.NoError(t, chromedp.Do(ctx))
	p := &Page{t: t, ctx: ctx, base: base}
	p.do(chromedp.EmulateViewport(width, height))
	p.listen()
	return p
}

func (p *Page) do(actions ...chromedp.Action[chromedp.Void]) {
	p.t.Helper()
	ctx, cancel := context.WithTimeout(p.ctx, patience)
	defer cancel()
	require.NoError(p.t, chromedp.Do(ctx, actions...))
}

// call sends a command of the DevTools protocol.
func (p *Page) call(f func(context.Context, *chromedp.Target) error) {
	p.t.Helper()
	p.do(chromedp.Func(f))
}

// Dark switches to the dark scheme, or back.
func (p *Page) Dark(on bool) {
	p.t.Helper()
	value := "light"
	if on {
		value = "dark"
	}
	p.call(func(ctx context.Context, target *chromedp.Target) error {
		_, err := cdp.Call(ctx, target, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
			Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: value}}})
		return err
	})
}

// Goto opens a path of the server and waits until its screen is drawn.
func (p *Page) Goto(path string) {
	p.t.Helper()
	p.t.Logf("open %s", path)
	p.do(chromedp.Navigate(p.base + path))
	p.Drawn()
}

// Drawn waits until the screen says that it is drawn: its heading is there and
// nothing is loading.
func (p *Page) Drawn() {
	p.t.Helper()
	p.wait("a drawn screen", `document.readyState === 'complete' && document.querySelector('h1')?.textContent.trim() !== '' && !document.querySelector('main[aria-busy="true"]')`)
}

// Eval runs JavaScript in the page and returns its value.
func Eval[T any](p *Page, script string) T {
	p.t.Helper()
	return evalWithin[T](p, patience, script)
}

func evalWithin[T any](p *Page, patience time.Duration, script string) T {
	p.t.Helper()
	ctx, cancel := context.WithTimeout(p.ctx, patience)
	defer cancel()
	v, err := chromedp.Run(ctx, chromedp.Evaluate[T](script, chromedp.EvalAwaitPromise))
	require.NoError(p.t, err, "%s", script)
	return v
}

// wait waits until a condition in the page holds.
func (p *Page) wait(what, condition string) {
	p.t.Helper()
	deadline := time.Now().Add(patience)
	for !Eval[bool](p, "Boolean("+condition+")") {
		if time.Now().After(deadline) {
			p.t.Fatalf("waited for %s at %s; the page says:\n%s\nconsole: %s", what, Eval[string](p, "location.href"), p.Text(), strings.Join(p.Errors(), "\n"))
		}
		// Asks again when the page has drawn its next frame, not after a time.
		Eval[bool](p, "new Promise((done) => requestAnimationFrame(() => setTimeout(() => done(true), 30)))")
	}
}

// See waits until the page shows a text.
func (p *Page) See(text string) {
	p.t.Helper()
	p.wait(fmt.Sprintf("%q", text), fmt.Sprintf(`document.body.innerText.replace(/\s+/g, ' ').includes(%s)`, quote(text)))
}

// At waits until the address has a path.
func (p *Page) At(path string) {
	p.t.Helper()
	p.wait("the address "+path, fmt.Sprintf("location.pathname === %s", quote(path)))
	p.Drawn()
}

// Text is what the page shows.
func (p *Page) Text() string { p.t.Helper(); return Eval[string](p, "document.body.innerText") }

func quote(s string) string {
	b, _ := json.Marshal(s) // a string always marshals
	return string(b)
}

// named finds the visible element of a kind whose accessible name is or begins
// with a text; nth counts from 0.
const named = `((kinds, name, nth) => {
  const clean = (s) => (s || '').replace(/\s+/g, ' ').trim();
  const seen = (e) => e.checkVisibility?.({ visibilityProperty: true }) && !e.closest('[inert]');
  const of = (e) => clean(e.getAttribute('aria-label')) || clean((e.getAttribute('aria-labelledby') || '').split(' ').map((id) => document.getElementById(id)?.textContent || '').join(' ')) || clean(e.labels?.[0]?.textContent) || clean(e.textContent) || clean(e.title) || clean(e.value);
  const open = [...document.querySelectorAll('dialog[open]')].pop() || document;
  const all = [...open.querySelectorAll(kinds)].filter(seen);
  return all.filter((e) => of(e) === name)[nth] || all.filter((e) => of(e).startsWith(name))[nth] || null;
})`

const (
	pressable = "button, a[href], summary, input[type=submit], [role=button], [role=tab]"
	fillable  = "input, select, textarea"
)

// Press clicks the button or link of that name.
func (p *Page) Press(name string) { p.t.Helper(); p.PressNth(name, 0) }

// PressNth clicks the nth of several of the same name, from 0.
func (p *Page) PressNth(name string, nth int) {
	p.t.Helper()
	find := fmt.Sprintf("%s(%s, %s, %d)", named, quote(pressable), quote(name), nth)
	p.wait("something to press named "+name, find)
	p.clickAt(find)
}

// still scrolls to an element and returns the spot to click once the page has
// stopped moving under it, by the animation frame.
const still = `((find) => new Promise((done) => {
  let last = '';
  let calm = 0;
  const look = () => {
    const e = find();
    if (!e) { calm = 0; requestAnimationFrame(look); return; }
    e.scrollIntoView({ block: 'center', behavior: 'instant' });
    const r = e.getBoundingClientRect();
    const now = [r.x, r.y, r.width, r.height].join();
    calm = now === last ? calm + 1 : 0;
    last = now;
    if (calm >= 8) done([r.x + r.width / 2, r.y + Math.min(r.height / 2, 20)]);
    else requestAnimationFrame(look);
  };
  look();
}))`

// clickAt clicks in the middle of an element with the mouse.
func (p *Page) clickAt(find string) {
	p.t.Helper()
	spot := Eval[[]float64](p, still+"(() => "+find+")")
	p.do(chromedp.MouseClickXY(spot[0], spot[1]))
}

// Fill types into the field of that label, in place of what it holds.
func (p *Page) Fill(label, value string) { p.t.Helper(); p.FillNth(label, 0, value) }

// FillNth types into the nth field of a label, from 0.
func (p *Page) FillNth(label string, nth int, value string) {
	p.t.Helper()
	find := fmt.Sprintf("%s(%s, %s, %d)", named, quote(fillable), quote(label), nth)
	p.wait("a field labelled "+label, find)
	if Eval[string](p, find+".tagName") == "SELECT" {
		chosen := Eval[bool](p, fmt.Sprintf(`(() => { const e = %s; const o = [...e.options].find((o) => o.value === %s || o.text.trim() === %s);
			if (!o) return false; e.focus(); e.value = o.value; e.dispatchEvent(new Event('input', { bubbles: true })); e.dispatchEvent(new Event('change', { bubbles: true })); return true; })()`, find, quote(value), quote(value)))
		require.True(p.t, chosen, "%s has no choice %q", label, value)
		return
	}
	if strings.Contains("date time checkbox radio", Eval[string](p, find+".type")) {
		Eval[bool](p, fmt.Sprintf(`(() => { const e = %s; e.focus(); e.value = %s; e.dispatchEvent(new Event('input', { bubbles: true })); e.dispatchEvent(new Event('change', { bubbles: true })); return true; })()`, find, quote(value)))
		return
	}
	Eval[bool](p, "(() => { const e = "+find+"; e.scrollIntoView({ block: 'center' }); e.focus(); e.select?.(); return true; })()")
	p.call(func(ctx context.Context, target *chromedp.Target) error {
		_, err := cdp.Call(ctx, target, input.InsertText, input.InsertTextParams{Text: value})
		return err
	})
	Eval[bool](p, "(() => { document.activeElement.dispatchEvent(new Event('change', { bubbles: true })); return true; })()")
}

// Wait waits until a condition of a script's holds; what names it.
func Wait(p *Page, what, condition string) { p.t.Helper(); p.wait(what, condition) }

// Upload gives a file to the file field of that label.
func (p *Page) Upload(label, name, content string) {
	p.t.Helper()
	p.UploadFiles(label, map[string][]byte{name: []byte(content)})
}

// UploadFiles gives files, by their names, to the file field of that label.
func (p *Page) UploadFiles(label string, files map[string][]byte) {
	p.t.Helper()
	folder := p.t.TempDir()
	var paths []string
	for _, name := range slices.Sorted(maps.Keys(files)) {
		path := filepath.Join(folder, name)
		require.NoError(p.t, os.WriteFile(path, files[name], 0o600))
		paths = append(paths, path)
	}
	find := fmt.Sprintf("%s(%s, %s, 0)", named, quote("input[type=file]"), quote(label))
	p.wait("a file field labelled "+label, find)
	Eval[bool](p, "(() => { "+find+".setAttribute('data-upload', ''); return true; })()")
	p.do(chromedp.SetUploadFiles(chromedp.CSS("input[data-upload]"), paths))
}

// Keys presses keys in the focused element, as chromedp's kb names them.
func (p *Page) Keys(keys string) { p.t.Helper(); p.do(chromedp.KeyEvent(keys)) }

// Paste puts a text into the focused element as the clipboard would.
func (p *Page) Paste(text string) {
	p.t.Helper()
	Eval[bool](p, fmt.Sprintf(`(() => { const data = new DataTransfer(); data.setData('text/plain', %s);
		document.activeElement.dispatchEvent(new ClipboardEvent('paste', { clipboardData: data, bubbles: true, cancelable: true })); return true; })()`, quote(text)))
}

// Focus puts the focus on the element that a selector finds.
func (p *Page) Focus(selector string) {
	p.t.Helper()
	p.wait(selector, fmt.Sprintf("document.querySelector(%s)", quote(selector)))
	Eval[bool](p, fmt.Sprintf("(() => { document.querySelector(%s).focus(); return true; })()", quote(selector)))
}

// NoSidewaysScrolling fails the test when the page is wider than its window.
func (p *Page) NoSidewaysScrolling() {
	p.t.Helper()
	wide := Eval[[]float64](p, "[document.documentElement.scrollWidth, document.documentElement.clientWidth]")
	require.LessOrEqual(p.t, wide[0], wide[1], "%s scrolls sideways", Eval[string](p, "location.pathname"))
}

// Screenshot writes a picture of the whole page, for somebody to look at, when
// TENTER_TEST_PICTURES names a folder.
func (p *Page) Screenshot(name string) {
	p.t.Helper()
	folder := os.Getenv("TENTER_TEST_PICTURES")
	if folder == "" {
		return
	}
	ctx, cancel := context.WithTimeout(p.ctx, patience)
	defer cancel()
	picture, err := chromedp.Run(ctx, chromedp.FullScreenshot(90))
	require.NoError(p.t, err)
	require.NoError(p.t, os.WriteFile(filepath.Join(folder, name+".png"), picture, 0o600))
}

// Holds waits until the field of that label holds a value.
func (p *Page) Holds(label, value string) {
	p.t.Helper()
	p.wait(fmt.Sprintf("%q in %s", value, label), fmt.Sprintf("%s(%s, %s, 0)?.value === %s", named, quote(fillable), quote(label), quote(value)))
}

// Check ticks the box of that label.
func (p *Page) Check(label string) {
	p.t.Helper()
	find := fmt.Sprintf("%s(%s, %s, 0)", named, quote("input[type=checkbox], input[type=radio]"), quote(label))
	p.wait("a box labelled "+label, find)
	p.clickAt(find)
}
