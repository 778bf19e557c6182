package atom_test

import (
	"strings"
	"testing"
	"time"

	"github.com/mmcdole/gofeed"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tenter/models/atom"
	"tenter/models/atomcheck"
)

var noon = time.Date(2027, 3, 1, 12, 0, 0, 0, time.FixedZone("", 3600))

func small() atom.Feed {
	return atom.Feed{ID: "urn:uuid:f3bd5a7a-6a1a-5c5e-9f3c-3a4d2f1b0c11", Title: "Corrections to <Marlstep> & more", Author: "The studio", Updated: noon,
		Self: "https://tenter.example/feed.atom", Page: "https://tenter.example/corrections/marlstep",
		Entries: []atom.Entry{{ID: "urn:uuid:018f0000-0000-7000-8000-000000000001", Title: "Gusset, round 1", Page: "https://tenter.example/corrections/marlstep#correction-1",
			Published: noon.Add(-time.Hour), Updated: noon, HTML: "<p>72 (78, 82) &amp; 86</p>"}}}
}

// gofeed is a feed reader that knows nothing of the writer.
func TestAnIndependentReaderReadsTheSame(t *testing.T) {
	body, err := atom.Write(small())
	require.NoError(t, err)
	require.NoError(t, atomcheck.Feed(body))
	got, err := gofeed.NewParser().ParseString(string(body))
	require.NoError(t, err)
	require.Equal(t, []string{"atom", "1.0"}, []string{got.FeedType, got.FeedVersion})
	require.Equal(t, "Corrections to <Marlstep> & more", got.Title)
	require.Equal(t, "https://tenter.example/feed.atom", got.FeedLink)
	require.Equal(t, "https://tenter.example/corrections/marlstep", got.Link)
	require.Equal(t, "The studio", got.Authors[0].Name)
	require.True(t, got.UpdatedParsed.Equal(noon))
	require.Len(t, got.Items, 1)
	item := got.Items[0]
	require.Equal(t, "urn:uuid:018f0000-0000-7000-8000-000000000001", item.GUID)
	require.Equal(t, "Gusset, round 1", item.Title)
	require.Equal(t, "<p>72 (78, 82) &amp; 86</p>", strings.TrimSpace(item.Content))
	require.True(t, item.PublishedParsed.Equal(noon.Add(-time.Hour)))
	require.Equal(t, "2027-03-01T11:00:00Z", item.Updated)
}

func TestBrokenFeedIsRefused(t *testing.T) {
	rows := []struct {
		name, field string
		spoil       func(*atom.Feed)
	}{
		{"no id", "id", func(f *atom.Feed) { f.ID = "" }},
		{"an id that is no IRI", "id", func(f *atom.Feed) { f.ID = "feed-1" }},
		{"no title", "title", func(f *atom.Feed) { f.Title = " " }},
		{"no author", "author", func(f *atom.Feed) { f.Author = "" }},
		{"never updated", "updated", func(f *atom.Feed) { f.Updated = time.Time{} }},
		{"a relative address", "self", func(f *atom.Feed) { f.Self = "/feed" }},
		{"a relative page", "page", func(f *atom.Feed) { f.Page = "corrections" }},
		{"an entry without an id", "entries[0].id", func(f *atom.Feed) { f.Entries[0].ID = "" }},
		{"an entry without a title", "entries[0].title", func(f *atom.Feed) { f.Entries[0].Title = "" }},
		{"the same entry twice", "entries[1].id", func(f *atom.Feed) { f.Entries = append(f.Entries, f.Entries[0]) }},
		{"published after it changed", "entries[0].published", func(f *atom.Feed) { f.Entries[0].Published = noon.Add(time.Hour) }},
	}
	for _, row := range rows {
		t.Run(strings.ReplaceAll(row.name, " ", "-"), func(t *testing.T) {
			f := small()
			row.spoil(&f)
			_, err := atom.Write(f)
			var wrong *atom.Error
			require.ErrorAs(t, err, &wrong)
			require.Equal(t, row.field, wrong.FieldPath())
		})
	}
}

// TestWhateverIsWrittenIsSound: any text comes through as it was, but for what
// XML can't hold (XML 1.0, section 2.2).
func TestWhateverIsWrittenIsSound(t *testing.T) {
	held := func(s string) string {
		return strings.Map(func(r rune) rune {
			if r == '\t' || r == '\n' || r == '\r' || r >= 0x20 && r <= 0xD7FF || r >= 0xE000 && r <= 0xFFFD || r >= 0x10000 {
				return r
			}
			return '\uFFFD'
		}, s)
	}
	rapid.Check(t, func(t *rapid.T) {
		f := small()
		text := rapid.StringN(1, 40, 200)
		f.Title = "t" + text.Draw(t, "title") + "t"
		f.Entries[0].Title = "<" + text.Draw(t, "entry") + ">"
		f.Entries[0].HTML = "h" + text.Draw(t, "html") + "]]>&amp;h"
		body, err := atom.Write(f)
		require.NoError(t, err)
		require.NoError(t, atomcheck.Feed(body))
		doc, err := atomcheck.Read(body)
		require.NoError(t, err)
		entry := doc.All("entry")[0]
		require.Equal(t, held(f.Title), doc.All("title")[0].Text)
		require.Equal(t, held(f.Entries[0].Title), entry.All("title")[0].Text)
		require.Equal(t, held(f.Entries[0].HTML), entry.All("content")[0].Text)
	})
}
