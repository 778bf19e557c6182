package atomcheck_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/models/atomcheck"
)

// brief is after the brief example of RFC 4287, section 1.1, with a link to itself.
const brief = `<?xml version="1.0" encoding="utf-8"?>
<feed xmlns="http://www.w3.org/2005/Atom">
  <title>Example Feed</title>
  <link href="http://example.org/"/><link rel="self" href="http://example.org/feed"/>
  <updated>2003-12-13T18:30:02Z</updated>
  <author><name>John Doe</name></author>
  <id>urn:uuid:60a76c80-d399-11d9-b93C-0003939e0af6</id>
  <entry>
    <title>Atom-Powered Robots Run Amok</title>
    <link href="http://example.org/2003/12/13/atom03"/>
    <id>urn:uuid:1225c695-cfb8-4ebb-aaaa-80da344efa6a</id>
    <updated>2003-12-13T18:30:02Z</updated>
    <summary>Some text.</summary>
  </entry>
</feed>`

func TestTheStandardsOwnExamplePasses(t *testing.T) {
	require.NoError(t, atomcheck.Feed([]byte(brief)))
}

func TestWhatBreaksTheStandardIsFound(t *testing.T) {
	entry := brief[strings.Index(brief, "  <entry>"):strings.Index(brief, "</feed>")]
	rows := []struct{ name, from, to, section string }{
		{"not well-formed", "</author>", "", "section 2,"},
		{"another document element", "feed", "rss", "section 2,"},
		{"another namespace", "2005/Atom", "1999/other", "section 2,"},
		{"no id", "<id>urn:uuid:60a76c80-d399-11d9-b93C-0003939e0af6</id>", "", "section 4.1.1"},
		{"two titles", "<title>Example Feed</title>", "<title>a</title><title>b</title>", "section 4.1.1"},
		{"no link to itself", `rel="self"`, `rel="related"`, "section 4.1.1"},
		{"two alternates of one type", `<link rel="self"`, `<link href="http://example.org/b"/><link rel="self"`, "section 4.1.1"},
		{"no author anywhere", "<author><name>John Doe</name></author>", "", "section 4.1.2"},
		{"an author without a name", "<name>John Doe</name>", "<name> </name>", "section 3.2.1"},
		{"an entry without an update", "<updated>2003-12-13T18:30:02Z</updated>\n    <summary>", "<summary>", "section 4.1.2"},
		{"an entry with neither content nor page", `<link href="http://example.org/2003/12/13/atom03"/>`, "", "section 4.1.2"},
		{"a date without its T", "2003-12-13T18", "2003-12-13 18", "section 3.3"},
		{"a date that is none", "2003-12-13T18", "2003-13-13T18", "section 3.3"},
		{"an id that is no IRI", "urn:uuid:1225c695-cfb8-4ebb-aaaa-80da344efa6a", "entry-1", "section 4.2.6"},
		{"a link to nowhere", `href="http://example.org/2003`, `title="http://example.org/2003`, "section 4.2.7.1"},
		{"markup that is not escaped", "<summary>Some text.</summary>", `<content type="html"><p>Some</p></content>`, "section 4.1.3.3"},
		{"an entry twice", entry, entry + entry, "section 4.1.1"},
	}
	for _, row := range rows {
		t.Run(strings.ReplaceAll(row.name, " ", "-"), func(t *testing.T) {
			require.Contains(t, brief, row.from)
			require.ErrorContains(t, atomcheck.Feed([]byte(strings.ReplaceAll(brief, row.from, row.to))), row.section)
		})
	}
}
