package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"image"
	"image/jpeg"
	"io"
	"math/rand/v2"
	"net/http"
	"path/filepath"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// photoSender sends photos of one sample, each a picture of its own.
type photoSender struct {
	sample string
	chance *rand.Rand
	acked  map[string][]byte // what was sent, by the id that it was answered with
	open   []byte            // what was sent and not answered
}

// mostSent is how many photos one sender sends: fewer than a sample has room for.
const mostSent = 20

// send sends one photo and tells whether it was answered.
func (p *photoSender) send(s *serving, token string, file []byte, want ...int) bool {
	p.open = file
	a, err := s.sendPhoto("/samples/"+p.sample+"/photos", token, file)
	if err != nil {
		return false
	}
	for _, status := range want {
		if a.status == status {
			p.acked[a.body["id"].(string)], p.open = file, nil
			return true
		}
	}
	return false
}

func (s *serving) sendPhoto(path, token string, file []byte) (*answer, error) {
	req, err := http.NewRequest("POST", s.url+"/api/v1"+path, bytes.NewReader(file))
	if err != nil {
		return nil, err
	}
	req.Header.Set("Content-Type", "image/jpeg")
	req.Header.Set("Authorization", "Bearer "+token)
	res, err := http.DefaultClient.Do(req)
	if err != nil {
		return nil, err
	}
	defer res.Body.Close()
	a := &answer{status: res.StatusCode, header: res.Header}
	return a, json.NewDecoder(res.Body).Decode(&a.body)
}

// noise is a picture that no other is like.
func noise(chance *rand.Rand) []byte {
	m := image.NewGray(image.Rect(0, 0, 480, 360))
	for i := range m.Pix {
		m.Pix[i] = byte(chance.Uint32())
	}
	var out bytes.Buffer
	if err := jpeg.Encode(&out, m, nil); err != nil {
		panic(err) // a buffer takes everything
	}
	return out.Bytes()
}

// TestKilledInTheMiddleOfPhotos kills the server with SIGKILL while photos
// arrive: no photo that was acknowledged is lost, none is there without its
// files or twice, and one whose answer was lost is sent again as a phone does.
func TestKilledInTheMiddleOfPhotos(t *testing.T) {
	rounds, chance := killRounds(t, 5)
	folder := t.TempDir()
	settings := []string{"TENTER_DATABASE=" + filepath.Join(folder, "studio.db"), "TENTER_WRITES_A_MINUTE=0"}
	addDesigner(t, folder, settings)
	s := serveIn(t, folder, settings)
	token := s.signIn(t, "odile")
	total := 0
	for round := range rounds {
		senders := photoSenders(t, s, token, fmt.Sprintf("Photographed %d", round), chance)
		photosUntilKilled(s, token, senders, int64(1+chance.IntN(len(senders)*mostSent)), time.Duration(chance.IntN(60))*time.Millisecond)
		require.Error(t, s.wait(), "it was not killed")

		o := carryOut(t, command(t, folder, settings, "check"), "")
		require.Equal(t, outcome{0, "The database is sound and every rule holds.\n", ""}, o)
		s = serveIn(t, folder, settings)
		token = s.signIn(t, "odile")
		for _, p := range senders {
			total += len(p.acked)
			if p.open != nil {
				require.True(t, p.send(s, token, p.open, 200, 201), "sent again")
			}
			p.compare(t, s, token)
		}
	}
	t.Logf("%d kills, %d acknowledged photos, none lost", rounds, total)
}

// photoSenders adds a design with a sample for each of three senders.
func photoSenders(t *testing.T, s *serving, token, name string, chance *rand.Rand) []*photoSender {
	t.Helper()
	design := s.want(t, 201, "POST", "/designs", token, pullover(name))["id"].(string)
	sizes, err := s.ask("PUT", "/designs/"+design+"/sizes", token, map[string]string{"If-Match": `"1"`}, map[string]any{"sizes": []any{map[string]any{"name": "M"}}})
	require.NoError(t, err)
	require.Equal(t, 200, sizes.status, sizes.body)
	size := sizes.body["sizes"].([]any)[0].(map[string]any)["id"].(string)
	senders := make([]*photoSender, 3)
	for i := range senders {
		sample := s.want(t, 201, "POST", "/designs/"+design+"/samples", token, map[string]any{"size_id": size, "label": "the grey one", "purpose": "fit"})
		senders[i] = &photoSender{sample: sample["id"].(string), chance: rand.New(rand.NewPCG(chance.Uint64(), uint64(i))), acked: map[string][]byte{}}
	}
	return senders
}

func photosUntilKilled(s *serving, token string, senders []*photoSender, moment int64, later time.Duration) {
	var (
		wg   sync.WaitGroup
		sent atomic.Int64
	)
	for _, p := range senders {
		wg.Go(func() {
			for range mostSent {
				file := noise(p.chance)
				if sent.Add(1) == moment {
					time.AfterFunc(later, func() { s.cmd.Process.Kill() }) //nolint:errcheck // a server that lives on fails the test
				}
				if !p.send(s, token, file, 201) {
					return
				}
			}
		})
	}
	wg.Wait()
}

// compare looks at every photo of the sample and at each of its pictures.
func (p *photoSender) compare(t *testing.T, s *serving, token string) {
	t.Helper()
	items := s.want(t, 200, "GET", "/samples/"+p.sample+"/photos", token, nil)["items"].([]any)
	require.Len(t, items, len(p.acked))
	for _, item := range items {
		photo := item.(map[string]any)
		require.Contains(t, p.acked, photo["id"])
		for _, picture := range photo["pictures"].([]any) {
			p.see(t, s, token, picture.(map[string]any))
		}
	}
}

func (p *photoSender) see(t *testing.T, s *serving, token string, picture map[string]any) {
	t.Helper()
	req, err := http.NewRequest("GET", s.url+picture["href"].(string), nil)
	require.NoError(t, err)
	req.Header.Set("Authorization", "Bearer "+token)
	res, err := http.DefaultClient.Do(req)
	require.NoError(t, err)
	defer res.Body.Close()
	require.Equal(t, 200, res.StatusCode, picture["href"])
	raw, err := io.ReadAll(res.Body)
	require.NoError(t, err)
	shown, err := jpeg.DecodeConfig(bytes.NewReader(raw))
	require.NoError(t, err)
	require.EqualValues(t, picture["width"], shown.Width)
}
