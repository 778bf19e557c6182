package server_test

import (
	"net/http"
	"net/http/httptest"
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/models"
	"tenter/models/modelstest"
	"tenter/server/browsertest"
	"tenter/server/servertest"
)

// TestPhotosOverAPoorNetwork: a tester on a narrow phone chooses two photos
// while nothing gets through, the page is opened anew when something does, and
// both arrive, once.
func TestPhotosOverAPoorNetwork(t *testing.T) {
	s := servertest.OnSQLite(t)
	designer := s.Designer()
	pullover := s.NewPullover(designer, "Photographed")
	var down atomic.Bool
	web := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if !down.Load() {
			s.Server.Handler().ServeHTTP(w, r)
			return
		}
		if conn, _, err := w.(http.Hijacker).Hijack(); err == nil {
			conn.Close() //nolint:errcheck // cut off, as a network does
		}
	}))
	t.Cleanup(web.Close)
	through := *s
	through.URL = web.URL
	p := signedIn(t, &through, "bramble", 360, 740, models.Tester)
	p.At("/my")
	tester, err := s.Store.PersonByLogin(t.Context(), "bramble")
	require.NoError(t, err)
	call := designer.Post("/designs/"+pullover.ID+"/calls", map[string]any{"title": "Call", "opens_on": "2027-02-01", "due_on": "2027-03-12",
		"slots": []any{map[string]any{"size_id": pullover.Sizes["1"], "fewest": 1, "wanted": 1, "most": 2}}}).Want(201).ID()
	assignment := designer.Post("/calls/"+call+"/assignments", map[string]any{"person_id": tester.ID, "size_id": pullover.Sizes["1"]}).Want(201).ID()
	self := s.For(tester)
	self.Post("/assignments/"+assignment+"/accept", nil).Want(200)

	p.Goto("/my/" + assignment)
	p.See("Up to 12 photos")
	down.Store(true)
	p.UploadFiles("Add photos", map[string][]byte{"front.jpg": modelstest.PhoneJPEG(t, 3000, 2000, 6), "cuff.jpg": modelstest.PhoneJPEG(t, 900, 1200, 1)})
	p.See("is kept here and sent when the network is back")
	p.See("waits its turn")
	p.FillNth("What it shows", 0, "The front")
	p.Accessible()
	p.NoSidewaysScrolling()
	p.Screenshot("photos-waiting")
	require.Empty(t, photosOf(self, assignment))
	down.Store(false)
	p.Goto("/my/" + assignment)
	browsertest.Wait(p, "two photos that have arrived", `document.querySelectorAll('.photo-list .photo-thumb img').length === 2 && document.querySelectorAll('.photo-list progress').length === 0`)
	there := photosOf(self, assignment)
	require.Len(t, there, 2)
	require.ElementsMatch(t, []string{"The front", ""}, []string{there[0].Caption, there[1].Caption})
	for _, photo := range there {
		require.LessOrEqual(t, max(photo.Pictures[0].Width, photo.Pictures[0].Height), 2560)
	}
	p.Goto("/my/" + assignment)
	browsertest.Wait(p, "both photos", `document.querySelectorAll('.photo-list .photo-thumb img').length === 2`)
	require.Len(t, photosOf(self, assignment), 2, "once")
	p.NoSidewaysScrolling()
	p.Accessible()

	// A look at one, and removing one, by key.
	p.Focus(".photo-thumb")
	p.Keys("\r")
	p.See("1 of 2")
	p.Accessible()
	p.Screenshot("photo-large")
	p.Press("Next")
	p.See("2 of 2")
	p.Press("Close")
	p.Press("Remove: The front")
	p.Press("Remove it for good")
	browsertest.Wait(p, "one photo", `document.querySelectorAll('.photo-list .photo-thumb img').length === 1`)
	require.Len(t, photosOf(self, assignment), 1)
	p.Screenshot("photos-there")
	p.NoErrors("ERR_EMPTY_RESPONSE", "ERR_CONNECTION")
}

type photoThere struct {
	Caption  string
	Pictures []struct{ Width, Height int }
}

func photosOf(c *servertest.Client, assignment string) []photoThere {
	var page struct{ Items []photoThere }
	c.Get("/assignments/" + assignment + "/photos").Want(200).Into(&page)
	return page.Items
}
