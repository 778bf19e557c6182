package handlers_test

import (
	"net/http"
	"strings"
	"testing"
	"time"

	"github.com/mmcdole/gofeed"
	"github.com/stretchr/testify/require"

	"tenter/models/atomcheck"
	"tenter/server/servertest"
)

// announced announces a correction of size 3 and 4, keeps one in the text and
// one as a draft.
func (k *correcting) announced() (id string) {
	k.T.Helper()
	id = k.draft(map[string]any{"place": `Body <round 1> & "2"`, "is_now": "110 (122, 138, 152)\nand <b>turn</b>"})["id"].(string)
	k.move(id, 1, map[string]any{"state": "in_text"}).Want(200)
	k.move(id, 2, map[string]any{"state": "announced"}).Want(200)
	hidden := k.draft(map[string]any{"place": "Hidden, in the text", "found_by": k.three.Person.ID})["id"].(string)
	k.move(hidden, 1, map[string]any{"state": "in_text"}).Want(200)
	k.draft(map[string]any{"place": "Hidden draft", "found_words": "a reader"})
	return id
}

// release puts the design out, past the gates.
func (k *correcting) release() {
	k.T.Helper()
	pool, err := k.Store.SQL()
	require.NoError(k.T, err)
	_, err = pool.Exec(`UPDATE designs SET released_at = created_at, released_on = '2027-02-08' WHERE id = '` + k.design + `'`)
	require.NoError(k.T, err)
}

func TestEverybodyReadsWhatIsAnnouncedOfAReleasedDesign(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		k := newCorrecting(t, s)
		id := k.announced()
		nobody, page, feed := s.Nobody(), "/public/designs/saltmarsh-pullover/corrections", "/public/designs/saltmarsh-pullover/corrections.atom"
		unknown := string(nobody.Get("/public/designs/no-such-thing/corrections").Want(404).Body)
		same := func() {
			t.Helper()
			require.Equal(t, unknown, string(nobody.Get(page).Want(404).Body), "not released answers as not there")
			require.Equal(t, unknown, string(nobody.Get(feed).Want(404).Body))
			require.Equal(t, unknown, string(nobody.Get("/public/designs/"+k.design+"/corrections").Want(404).Body), "its id opens nothing")
		}
		same()
		revision := int(k.c.Get("/designs/" + k.design).Want(200).Map()["revision"].(float64))
		k.c.Patch("/designs/"+k.design, revision, map[string]any{"released_on": "2027-02-07"}).Want(200)
		same() // announced for a day is not out
		require.Nil(t, k.c.Get("/designs/" + k.design + "/corrections").Want(200).Map()["public_page"])
		k.release()
		require.Equal(t, "/corrections/saltmarsh-pullover", k.c.Get("/designs/" + k.design + "/corrections").Want(200).Map()["public_page"])
		a := nobody.Get(page).Want(200)
		require.Equal(t, "no-cache", a.Header.Get("Cache-Control"))
		all := a.Map()
		require.Equal(t, []any{"The test studio", "Saltmarsh pullover", "2027-02-08"}, []any{all["studio"], all["design"], all["released_on"]})
		items := all["items"].([]any)
		require.Len(t, items, 1)
		one := items[0].(map[string]any)
		delete(one, "announced_at")
		require.Equal(t, map[string]any{"number": 1., "place": `Body <round 1> & "2"`, "was": "110 (122, 136, 150)", "is_now": "110 (122, 138, 152)\nand <b>turn</b>",
			"sizes": []any{"3", "4"}, "since": 1., "mended": 2., "withdrawn_at": nil}, one)
		for _, address := range []string{page, feed} {
			for _, hidden := range []string{"Hidden", "burdock", "counted again", "a reader", k.three.Person.ID, k.design, k.version} {
				require.NotContains(t, string(nobody.Get(address).Want(200).Body), hidden)
			}
		}
		k.move(id, 3, map[string]any{"state": "withdrawn", "why": "136 was right."}).Want(200)
		one = nobody.Get(page).Want(200).Map()["items"].([]any)[0].(map[string]any)
		require.NotNil(t, one["withdrawn_at"])
		require.Equal(t, "136 was right.", one["withdrawn_why"])
	})
}

func TestTheFeedIsAtom(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		k := newCorrecting(t, s)
		k.release()
		nobody, address := s.Nobody(), "/public/designs/saltmarsh-pullover/corrections.atom"
		read := func() (*gofeed.Feed, *servertest.Answer) {
			t.Helper()
			a := nobody.Get(address).Want(200)
			require.Equal(t, "application/atom+xml; charset=utf-8", a.Header.Get("Content-Type"))
			require.NoError(t, atomcheck.Feed(a.Body))
			f, err := gofeed.NewParser().ParseString(string(a.Body))
			require.NoError(t, err)
			return f, a
		}
		empty, before := read()
		require.Empty(t, empty.Items)
		require.Equal(t, "2027-02-08T09:30:00Z", empty.Updated, "the release, while nothing is announced")
		k.announced()
		f, a := read()
		require.NotEqual(t, before.Header.Get("ETag"), a.Header.Get("ETag"))
		require.Equal(t, "Corrections to Saltmarsh pullover", f.Title)
		require.Equal(t, "The test studio", f.Authors[0].Name)
		require.True(t, strings.HasSuffix(f.FeedLink, "/api/v1"+address), f.FeedLink)
		require.True(t, strings.HasSuffix(f.Link, "/corrections/saltmarsh-pullover"), f.Link)
		require.True(t, strings.HasPrefix(f.FeedLink, "http://"))
		item := f.Items[0]
		require.Equal(t, `Body <round 1> & "2"`, item.Title)
		require.True(t, strings.HasSuffix(item.Link, "#correction-1"))
		require.Contains(t, item.Content, "<p><b>It now says:</b> 110 (122, 138, 152)<br>and &lt;b&gt;turn&lt;/b&gt;</p>", "what is typed is no markup")
		require.Contains(t, item.Content, "3, 4")
		require.True(t, strings.HasPrefix(item.GUID, "urn:uuid:"))

		// The same, whatever else changes; and the caches know what changed.
		unchanged := func(name, value string, want int) {
			t.Helper()
			got := nobody.Do(http.MethodGet, address, nil, http.Header{name: {value}}).Want(want)
			require.Equal(t, a.Header.Get("ETag"), got.Header.Get("ETag"))
			if want == 304 {
				require.Empty(t, got.Body)
			}
		}
		tag, modified := a.Header.Get("ETag"), a.Header.Get("Last-Modified")
		at, err := http.ParseTime(modified)
		require.NoError(t, err)
		unchanged("If-None-Match", tag, 304)
		unchanged("If-None-Match", `"other", W/`+tag, 304)
		unchanged("If-None-Match", `"other"`, 200)
		unchanged("If-Modified-Since", modified, 304)
		unchanged("If-Modified-Since", at.Add(-time.Second).UTC().Format(http.TimeFormat), 200)
		unchanged("If-Modified-Since", "yesterday", 200)
		both := http.Header{"If-None-Match": {`"other"`}, "If-Modified-Since": {modified}}
		nobody.Do(http.MethodGet, address, nil, both).Want(200) // RFC 9110, section 13.1.3: the tag decides alone

		s.Clock.Advance(time.Hour)
		k.c = s.For(k.c.Person)
		id := k.c.Get("/designs/" + k.design + "/corrections").Want(200).Map()["items"].([]any)[0].(map[string]any)["id"].(string)
		k.move(id, 3, map[string]any{"state": "withdrawn", "why": "136 was right."}).Want(200)
		later, b := read()
		require.Equal(t, item.GUID, later.Items[0].GUID)
		require.Equal(t, "Taken back: "+item.Title, later.Items[0].Title)
		require.Equal(t, item.Published, later.Items[0].Published)
		require.True(t, later.UpdatedParsed.After(*f.UpdatedParsed))
		require.NotEqual(t, modified, b.Header.Get("Last-Modified"))
		revision := int(k.c.Get("/designs/" + k.design).Map()["revision"].(float64))
		k.c.Patch("/designs/"+k.design, revision, map[string]any{"name": "Dune pullover", "slug": "dune"}).Want(200)
		address = "/public/designs/dune/corrections.atom"
		renamed, _ := read()
		require.Equal(t, "Corrections to Dune pullover", renamed.Title)
		id1, id2 := feedIDOf(t, b.Body), feedIDOf(t, nobody.Get(address).Body)
		require.Equal(t, id1, id2, "RFC 4287, section 4.2.6: an id never changes")
	})
}

func feedIDOf(t *testing.T, body []byte) string {
	t.Helper()
	doc, err := atomcheck.Read(body)
	require.NoError(t, err)
	id, err := doc.One("id")
	require.NoError(t, err)
	return id
}
