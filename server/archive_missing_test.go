package server_test

import (
	"archive/zip"
	"bytes"
	"context"
	"encoding/json"
	"io"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/models"
	"tenter/models/archive"
	"tenter/models/modelstest"
	"tenter/server"
	"tenter/server/photostore"
	"tenter/server/servertest"
)

// manifestOf reads a manifest as anybody with an unzip does.
func manifestOf(t *testing.T, raw []byte) map[string]any {
	t.Helper()
	z, err := zip.NewReader(bytes.NewReader(raw), int64(len(raw)))
	require.NoError(t, err)
	in, err := z.Open("manifest.json")
	require.NoError(t, err)
	text, err := io.ReadAll(in)
	require.NoError(t, err)
	require.NoError(t, in.Close())
	var m map[string]any
	require.NoError(t, json.Unmarshal(text, &m))
	return m
}

// TestAStudioLeavesWithWhatItHas: one file of a photo is lost, one is not what
// was kept. The archive goes out all the same and says which are missing, and so
// do the answer and whoever reads it in; all the rest is there. tenter check
// says it on both sides.
func TestAStudioLeavesWithWhatItHas(t *testing.T) {
	for _, kind := range []string{"sqlite", "postgres"} {
		t.Run(kind, func(t *testing.T) {
			ctx, folder, clock := context.Background(), t.TempDir(), modelstest.NewClock()
			database := modelstest.SQLite
			if kind == "postgres" {
				database = modelstest.Postgres
			}
			store := modelstest.Open(t, database(t), models.Options{Now: clock.Now, Photos: photostore.NewFolder(folder)})
			s := servertest.New(t, store, clock)
			d := s.Designer()
			p := s.NewPullover(d, "Leaving")
			sample := d.Post("/designs/"+p.ID+"/samples", body("label", "blue", "size_id", p.Sizes["1"], "purpose", "fit")).Want(201).ID()
			photo := d.Do("POST", "/samples/"+sample+"/photos", modelstest.PhoneJPEG(t, 400, 300, 1), map[string][]string{"Content-Type": {"image/jpeg"}}).Want(201).ID()
			require.Equal(t, "0", d.Get("/studio/archive").Want(200).Header.Get("Tenter-Missing-Photos"))

			path := func(size string) string { return filepath.Join(folder, models.PhotoKey(photo, size)) }
			require.NoError(t, os.Remove(path("large")))
			damaged, err := os.ReadFile(path("thumb"))
			require.NoError(t, err)
			damaged[len(damaged)/2] ^= 1
			require.NoError(t, os.WriteFile(path("thumb"), damaged, 0o600))
			a := d.Get("/studio/archive").Want(200)
			require.Equal(t, "1", a.Header.Get("Tenter-Missing-Photos"), "what can be told without reading them all")
			want := []string{"photos/" + models.PhotoKey(photo, "large"), "photos/" + models.PhotoKey(photo, "thumb")}
			var told []string
			for _, e := range manifestOf(t, a.Body)["missing_photos"].([]any) {
				told = append(told, e.(map[string]any)["name"].(string))
			}
			require.Equal(t, want, told)

			to := photostore.NewFolder(t.TempDir())
			target := fresh(t, kind)
			m, err := server.ArchiveInto(ctx, bytes.NewReader(a.Body), int64(len(a.Body)), target, to)
			require.NoError(t, err)
			require.Equal(t, want, entryNames(m.Missing))
			require.Equal(t, []string{"photos/" + models.PhotoKey(photo, "screen")}, entryNames(m.Photos))
			other, err := server.OpenAsIs(ctx, target, models.Options{Photos: to})
			require.NoError(t, err)
			defer other.Close() //nolint:errcheck // it is only read
			lost, err := other.CheckPhotos(ctx)
			require.NoError(t, err)
			require.Len(t, lost, 1)
			require.Equal(t, 2, lost[0].Many, "both files are told to be lost there")
			before, err := store.CheckPhotos(ctx)
			require.NoError(t, err)
			require.Len(t, before, 2, "one that is lost, and one that is another")

			// What is in the archive still has to be what its manifest says.
			changed := rewritten(t, a.Body, func(name string, data []byte) []byte {
				if name == "photos/"+models.PhotoKey(photo, "screen") {
					data = bytes.Clone(data)
					data[len(data)/2] ^= 1
				}
				return data
			})
			target = fresh(t, kind)
			_, err = server.ArchiveInto(ctx, bytes.NewReader(changed), int64(len(changed)), target, photostore.NewFolder(t.TempDir()))
			require.ErrorContains(t, err, "checksum")
			nothingAt(t, kind, target)
		})
	}
}

func entryNames(entries []archive.Entry) (out []string) {
	for _, e := range entries {
		out = append(out, e.Name)
	}
	return out
}

// TestAStoreThatDoesNotAnswerIsNoLoss: photos that can't be asked for now are
// not left out.
func TestAStoreThatDoesNotAnswerIsNoLoss(t *testing.T) {
	folder := t.TempDir()
	store := modelstest.Open(t, modelstest.SQLite(t), models.Options{Photos: photostore.NewFolder(folder)})
	s := servertest.New(t, store, nil)
	d := s.Designer()
	p := s.NewPullover(d, "Staying")
	sample := d.Post("/designs/"+p.ID+"/samples", body("label", "blue", "size_id", p.Sizes["1"], "purpose", "fit")).Want(201).ID()
	photo := d.Do("POST", "/samples/"+sample+"/photos", modelstest.PhoneJPEG(t, 60, 40, 1), map[string][]string{"Content-Type": {"image/jpeg"}}).Want(201).ID()
	thumb := filepath.Join(folder, models.PhotoKey(photo, "thumb"))
	require.NoError(t, os.Remove(thumb))
	require.NoError(t, os.Mkdir(thumb, 0o700)) // there, and can't be read
	var out bytes.Buffer
	_, err := store.WriteArchive(t.Context(), &out, true)
	require.ErrorContains(t, err, models.PhotoKey(photo, "thumb"))
}
