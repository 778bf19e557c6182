package browsertest

import (
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/stretchr/testify/require"

	"tenter/models/modelstest"
)

// axeVariable names axe-core's script where it isn't beside the checks.
const axeVariable = "TENTER_TEST_AXE"

// axePatience is how long axe-core may look at a page: the longest has some
// hundred sections, and the machine may be busy.
const axePatience = 2 * time.Minute

// axe returns the script of axe-core, an open-source checker of the WCAG.
func (p *Page) axe() string {
	p.t.Helper()
	path := os.Getenv(axeVariable)
	if path == "" {
		path = filepath.Join("..", ".ci", "node_modules", "axe-core", "axe.min.js")
	}
	script, err := os.ReadFile(path)
	if err != nil {
		modelstest.Missing(p.t, "browser", "run npm ci in .ci, or set "+axeVariable+" to axe-core's axe.min.js")
	}
	return string(script)
}

// Accessible fails the test when axe-core finds a violation of WCAG 2.2 A or
// AA, or of its best practices, on the page as it stands. The script comes in
// through the debugger, which the page's content policy doesn't bind.
func (p *Page) Accessible() {
	p.t.Helper()
	Eval[bool](p, "(() => { if (!window.axe) {\n"+p.axe()+"\n} return true; })()")
	// What fades in has its own colours only when it is there.
	p.wait("still colours", `document.getAnimations().every((a) => a.playState !== 'running')`)
	found := evalWithin[[]string](p, axePatience, `axe.run(document, { runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'] })
		.then((r) => r.violations.map((v) => v.id + ': ' + v.help + ' at ' + v.nodes.map((n) => n.target.join(' ')).join(', ')))`)
	require.Empty(p.t, found, "%s:\n%s", Eval[string](p, "location.pathname"), strings.Join(found, "\n"))
}
