package server_test

import (
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"tenter/frontend"
	"tenter/models"
	"tenter/server/browsertest"
	"tenter/server/servertest"
)

// screens reads every address from the frontend's own list of routes and fills
// its placeholders: those of a design for each design. unsigned are those that
// take no sign-in.
func screens(t *testing.T, s *servertest.Studio) (unsigned, staff, tester []string) {
	t.Helper()
	list, err := frontend.FS.ReadFile("app/routes.js")
	require.NoError(t, err)
	designs, _, err := s.Store.Designs(t.Context(), false, models.Page{})
	require.NoError(t, err)
	require.NotEmpty(t, designs)
	all := regexp.MustCompile(`path: '([^']+)', who: '([^']+)'`).FindAllStringSubmatch(string(list), -1)
	require.Greater(t, len(all), 10)
	for _, route := range all {
		path, who := route[1], route[2]
		switch {
		case who == "tester":
			tester = append(tester, path)
		case path == "/corrections/:design": // for everybody, once it is out
			for _, d := range designs {
				if d.ReleasedOn != "" {
					unsigned = append(unsigned, strings.Replace(path, ":design", d.Slug, 1))
				}
			}
		case who == "anyone":
			unsigned = append(unsigned, path)
		case strings.Contains(path, ":slug"):
			for _, d := range designs {
				staff = append(staff, strings.Replace(path, ":slug", d.Slug, 1))
			}
		default:
			staff = append(staff, path)
		}
	}
	return unsigned, staff, tester
}

// TestEveryPageIsAccessible has axe-core look at every screen of the demo's
// studio, wide and light, narrow and dark, looks for sideways scrolling, and
// fails when a page writes an error into the browser's console or asks for
// what it does not get.
func TestEveryPageIsAccessible(t *testing.T) {
	s := demoStudio(t)
	unsigned, staff, tester := screens(t, s)
	for _, view := range []struct {
		name          string
		width, height int64
		dark          bool
	}{{"wide", 1280, 900, false}, {"narrow", 320, 740, true}} {
		t.Run(view.name, func(t *testing.T) {
			t.Parallel() // two browsers on one studio
			look := func(p *browsertest.Page, path string) {
				if path = fillPlaceholders(p, path); path == "" {
					return
				}
				p.Goto(path)
				p.Accessible()
				p.NoSidewaysScrolling()
				p.NoErrors()
				p.Screenshot(view.name + strings.ReplaceAll(path, "/", "-"))
			}
			open := func() *browsertest.Page {
				p := browsertest.Open(t, s.URL, view.width, view.height)
				p.Dark(view.dark)
				return p
			}
			p := open()
			for _, path := range unsigned {
				look(p, path)
			}
			for who, paths := range map[string][]string{"teasel": staff, "sorrel": tester} {
				p := open()
				submitSignIn(p, who)
				p.At(map[string]string{"teasel": "/", "sorrel": "/my"}[who])
				for _, path := range paths {
					look(p, path)
				}
			}
		})
	}
}

// TestSignUpPageOpensWithoutComplaint asks for a page that nobody has opened
// yet, and opens it.
func TestSignUpPageOpensWithoutComplaint(t *testing.T) {
	s := demoStudio(t)
	teasel, err := s.Store.PersonByLogin(t.Context(), "teasel")
	require.NoError(t, err)
	designer := s.For(teasel)
	sizes := designer.Get("/designs/oddmarrow-tote").Want(200).Map()["sizes"].([]any)
	today := models.DateOf(s.Store.Now(), time.UTC)
	slot := map[string]any{"size_id": sizes[0].(map[string]any)["id"], "fewest": 1, "wanted": 1, "most": 2}
	designer.Post("/designs/oddmarrow-tote/calls", map[string]any{"title": "Tote round", "opens_on": today, "due_on": today.Add(30), "slots": []any{slot}}).Want(201)
	p := browsertest.Open(t, s.URL, 320, 740)
	submitSignIn(p, "teasel")
	p.At("/")
	p.Goto("/d/oddmarrow-tote/testing")
	p.Press("Sign-up page")
	p.See("Whoever has the link can offer to make a size")
	p.Accessible()
	p.NoSidewaysScrolling()
	p.NoErrors()
	p.Press("Open the page")
	p.See("Copy the link")
	p.NoErrors()
}

// fillPlaceholders finds what an address needs on the page that leads there,
// by the first link of that form; "" when no page has one.
func fillPlaceholders(p *browsertest.Page, path string) string {
	before, _, found := strings.Cut(path, "/:")
	if !found {
		return path
	}
	from := map[bool]string{true: before, false: regexp.MustCompile(`/[^/]+$`).ReplaceAllString(before, "")}[before == "/my"]
	if strings.HasSuffix(before, "/reports") {
		from = strings.TrimSuffix(before, "/reports") + "/testing"
	}
	p.Goto(from)
	return browsertest.Eval[string](p, `[...document.querySelectorAll('a[href^="`+before+`/"]')].map((a) => a.pathname)[0] || ''`)
}
