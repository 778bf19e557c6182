package server_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/server/browsertest"
)

// foldedOf lists the points of bobbin's report that the page does not show.
const foldedOf = `(() => {
	const row = [...document.querySelectorAll('.reports tbody tr')].find((r) => r.textContent.includes('size 6, bobbin'));
	return [...row.querySelectorAll('td')].filter((c) => c.offsetParent === null).map((c) => c.dataset.label).join(', ');
})()`

// On a phone the designer sees of each report what raises a question, and
// opens the rest; on a wide screen nothing is folded away.
func TestReportsOnAPhoneShowWhatRaisesAQuestion(t *testing.T) {
	s := demoStudio(t)
	p := browsertest.Open(t, s.URL, 360, 740)
	submitSignIn(p, "teasel")
	p.At("/")
	p.Goto("/d/fenwhistle-pullover/testing")
	p.See("size 6, bobbin")
	require.Equal(t, "bust, hem, cuff, neck width, body length, sleeve length, armhole depth", browsertest.Eval[string](p, foldedOf))
	p.Press("7 of 8 points raise no question: size 6, bobbin")
	require.Empty(t, browsertest.Eval[string](p, foldedOf))
	p.Press("7 of 8 points raise no question: size 6, bobbin")
	require.NotEmpty(t, browsertest.Eval[string](p, foldedOf))

	wide := browsertest.Open(t, s.URL, 1280, 900)
	submitSignIn(wide, "teasel")
	wide.At("/")
	wide.Goto("/d/fenwhistle-pullover/testing")
	wide.See("size 6, bobbin")
	require.Empty(t, browsertest.Eval[string](wide, foldedOf))
}
