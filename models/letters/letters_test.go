package letters_test

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tenter/models/letters"
)

func TestAddress(t *testing.T) {
	for address, right := range map[string]bool{
		"mara@reader.example":              true,
		"mara.o'reilly+test@a.example":     true,
		"жанна@reader.example":             true, // RFC 6531
		strings.Repeat("a", 60) + "@a.b":   true,
		"":                                 false,
		"mara":                             false,
		"@reader.example":                  false,
		"mara@":                            false,
		"mara@reader.example.":             false,
		" mara@reader.example":             false,
		"Mara <mara@reader.example>":       false,
		"<mara@reader.example>":            false,
		"a@b.example,c@d.example":          false,
		"\"two words\"@reader.example":     false,
		"mara@reader.example\n":            false,
		"mara@reader.example\r\nBcc: all":  false,
		"mara@reader.example (a comment)":  false,
		strings.Repeat("a", 250) + "@a.bc": false,
	} {
		require.Equal(t, right, letters.Address(address) == nil, "%q", address)
	}
}

func TestPlainAndHTMLSayTheSame(t *testing.T) {
	l := letters.Letter{Studio: "Hedgerow", Subject: "a <b>", Words: "Dear Mara,\r\n\r\none\rtwo & <three>\n\nHedgerow", Join: "https://tenter.example/join#x", Until: "Monday 1 March 2027",
		Stop: "https://tenter.example/stop", Group: "news"}
	require.Equal(t, "Dear Mara,\n\none\ntwo & <three>\n\nHedgerow\n\n"+
		"Your own link, which works once and is meant for nobody else. It works until Monday 1 March 2027.\nhttps://tenter.example/join#x\n\n"+
		"-- \nHedgerow writes to you because you test for them. To get no more e-mail of this kind (news):\nhttps://tenter.example/stop\n", l.Plain())
	html := l.HTML()
	require.Contains(t, html, "<title>a &lt;b&gt;</title>")
	require.Contains(t, html, "<p>one<br>\ntwo &amp; &lt;three&gt;</p>")
	require.Contains(t, html, `<a href="https://tenter.example/join#x">https://tenter.example/join#x</a>`)
	l.Join = `javascript:alert(1)`
	require.NotContains(t, l.HTML(), `href="javascript`, "only addresses are links")
}

// TestWait: never nothing, never more than four hours, and longer with each try
// for the same jitter.
func TestWait(t *testing.T) {
	require.Equal(t, 30*time.Second, letters.Wait(1, 0))
	require.Equal(t, 60*time.Second, letters.Wait(1, 1))
	require.Equal(t, 3*time.Hour, letters.Wait(40, 0.5))
	rapid.Check(t, func(t *rapid.T) {
		tries, jitter := rapid.IntRange(-3, 1<<40).Draw(t, "tries"), rapid.Float64Range(-1, 2).Draw(t, "jitter")
		wait := letters.Wait(tries, jitter)
		require.GreaterOrEqual(t, wait, 30*time.Second)
		require.LessOrEqual(t, wait, 4*time.Hour)
		require.GreaterOrEqual(t, letters.Wait(tries+1, jitter), wait)
	})
}
