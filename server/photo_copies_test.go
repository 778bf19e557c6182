package server_test

import (
	"context"
	"fmt"
	"io/fs"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"slices"
	"syscall"
	"testing"
	"time"

	"github.com/johannesboyne/gofakes3"
	"github.com/johannesboyne/gofakes3/backend/s3mem"
	"github.com/stretchr/testify/require"

	"tenter/models"
	"tenter/models/modelstest"
	"tenter/server"
	"tenter/server/photostore"
	"tenter/server/servertest"
)

// withPhotos is a studio on a SQLite file with a sample and its photos.
type withPhotos struct {
	*servertest.Studio
	database string
	photos   models.PhotoFiles
	designer *servertest.Client
	sample   string
}

func newWithPhotos(t *testing.T, photos func(database string) models.PhotoFiles) *withPhotos {
	t.Helper()
	w := &withPhotos{database: modelstest.SQLite(t)}
	w.photos = photos(w.database)
	clock := modelstest.NewClock()
	w.Studio = servertest.New(t, modelstest.Open(t, w.database, models.Options{Now: clock.Now, Photos: w.photos}), clock)
	w.designer = w.Designer()
	p := w.NewPullover(w.designer, "Photographed")
	w.sample = w.designer.Post("/designs/"+p.ID+"/samples", map[string]any{"label": "grey", "purpose": "fit", "size_id": p.Sizes["1"]}).Want(201).ID()
	return w
}

func folderBeside(database string) models.PhotoFiles {
	return photostore.NewFolder(server.PhotosBeside(database))
}

func objectStore(t *testing.T) func(string) models.PhotoFiles {
	return func(string) models.PhotoFiles {
		backend := s3mem.New()
		require.NoError(t, backend.CreateBucket("studio"))
		web := httptest.NewServer(gofakes3.New(backend).Server())
		t.Cleanup(web.Close)
		store, err := photostore.NewObjects("s3://studio/photos", photostore.Access{Endpoint: web.URL, Region: "us-east-1", Key: "key", Secret: "secret"})
		require.NoError(t, err)
		return store
	}
}

func (w *withPhotos) add(n int) string {
	w.T.Helper()
	return w.send(n).Want(201).ID()
}

func (w *withPhotos) send(n int) *servertest.Answer {
	w.T.Helper()
	return w.designer.Do("POST", "/samples/"+w.sample+"/photos", modelstest.JPEG(w.T, modelstest.Quarters(20+n, 20)), http.Header{"Content-Type": {"image/jpeg"}})
}

func filesIn(t *testing.T, photos models.PhotoFiles) []string {
	t.Helper()
	out := []string{}
	require.NoError(t, photos.List(context.Background(), func(f models.StoredPhoto) error { out = append(out, f.Key); return nil }))
	slices.Sort(out)
	return out
}

// TestBackupHoldsItsPhotos: a copy and its folder make a working studio again,
// whether the photos lie in a folder or in an object store.
func TestBackupHoldsItsPhotos(t *testing.T) {
	for name, photos := range map[string]func(string) models.PhotoFiles{"folder": folderBeside, "objects": objectStore(t)} {
		t.Run(name, func(t *testing.T) {
			ctx := context.Background()
			w := newWithPhotos(t, photos)
			first := w.add(1)
			w.add(2)
			backups := filepath.Join(t.TempDir(), "backups")
			begin := time.Date(2027, 2, 8, 9, 30, 0, 0, time.UTC)
			made, err := server.BackUpInto(ctx, w.database, backups, w.photos, 2, begin)
			require.NoError(t, err)
			require.Equal(t, 6, made.Photos)
			require.Empty(t, made.Lost)
			require.Equal(t, filesIn(t, w.photos), filesIn(t, folderBeside(made.Path)))

			// Removed here, kept in the backup from before.
			w.designer.Do("DELETE", "/photos/"+first, nil, nil).Want(204)
			second, err := server.BackUpInto(ctx, w.database, backups, w.photos, 2, begin.Add(time.Hour))
			require.NoError(t, err)
			require.Equal(t, 3, second.Photos)
			require.Len(t, filesIn(t, folderBeside(second.Path)), 3)
			require.Len(t, filesIn(t, folderBeside(made.Path)), 6)
			_, err = server.BackUpInto(ctx, w.database, backups, w.photos, 2, begin.Add(2*time.Hour))
			require.NoError(t, err)
			require.NoDirExists(t, server.PhotosBeside(made.Path), "it goes with its backup")

			to := filepath.Join(t.TempDir(), "again.db")
			_, err = models.RestoreDatabase(ctx, second.Path, to, false, begin)
			require.NoError(t, err)
			restored := folderBeside(to)
			store := modelstest.Open(t, to, models.Options{Photos: restored})
			put, lost, err := server.RestorePhotos(ctx, store, restored, second.Path)
			require.NoError(t, err)
			require.Equal(t, 3, put)
			require.Empty(t, lost)
			faults, err := store.CheckPhotos(ctx)
			require.NoError(t, err)
			require.Empty(t, faults)
			put, _, err = server.RestorePhotos(ctx, store, restored, second.Path)
			require.NoError(t, err)
			require.Zero(t, put, "what is there is left alone")
		})
	}
}

// TestLostPhotosAreTold: a backup is made all the same, and says what it lacks.
func TestLostPhotosAreTold(t *testing.T) {
	ctx := context.Background()
	w := newWithPhotos(t, folderBeside)
	w.add(1)
	keys := filesIn(t, w.photos)
	path := func(i int) string { return filepath.Join(server.PhotosBeside(w.database), filepath.FromSlash(keys[i])) }
	require.NoError(t, os.Remove(path(0)))
	require.NoError(t, os.WriteFile(path(1), []byte("another"), 0o600))
	made, err := server.BackUp(ctx, w.database, filepath.Join(t.TempDir(), "copy.db"), w.photos, "")
	require.NoError(t, err)
	require.ElementsMatch(t, keys[:2], made.Lost)
	require.Equal(t, 1, made.Photos)

	faults, err := w.Store.CheckPhotos(ctx)
	require.NoError(t, err)
	require.Contains(t, fmt.Sprint(faults), "a photo's file is there; this is not so for 1 row: "+keys[0])
	require.Contains(t, fmt.Sprint(faults), "a photo's file is what was written; this is not so for 1 row: "+keys[1])
}

// TestSweep: what a crash between the files and the row leaves behind goes
// after a while, what was removed at once, and nothing else.
func TestSweep(t *testing.T) {
	ctx := context.Background()
	w := newWithPhotos(t, folderBeside)
	kept, removed := w.add(1), w.add(2)
	stray := models.PhotoKey(models.NewID(), "large")
	require.NoError(t, w.photos.Put(ctx, stray, []byte("from a crash")))
	at := func(age time.Duration) {
		path := filepath.Join(server.PhotosBeside(w.database), filepath.FromSlash(stray))
		require.NoError(t, os.Chtimes(path, time.Time{}, w.Store.Now().Add(-age)))
	}
	at(time.Hour)
	w.designer.Do("DELETE", "/photos/"+removed, nil, nil).Want(204)
	require.NoError(t, w.photos.Put(ctx, models.PhotoKey(removed, "thumb"), []byte("the server was killed before it went")))
	n, err := w.Store.SweepPhotos(ctx)
	require.NoError(t, err)
	require.Equal(t, 1, n)
	require.Contains(t, filesIn(t, w.photos), stray, "its row may be on the way")

	at(models.PhotoGrace + time.Hour)
	faults, err := w.Store.CheckPhotos(ctx)
	require.NoError(t, err)
	require.Contains(t, fmt.Sprint(faults), stray)
	n, err = w.Store.SweepPhotos(ctx)
	require.NoError(t, err)
	require.Equal(t, 1, n)
	require.Len(t, filesIn(t, w.photos), 3)
	w.designer.Get("/photos/" + kept + "/thumb").Want(200)
}

// full is a folder whose disk runs full at the second file.
type full struct {
	models.PhotoFiles
	room int
}

func (f *full) Put(ctx context.Context, key string, content []byte) error {
	if f.room--; f.room < 0 {
		return fmt.Errorf("keep a photo: %w", &fs.PathError{Op: "write", Path: key, Err: syscall.ENOSPC})
	}
	return f.PhotoFiles.Put(ctx, key, content)
}

func TestDiskOfPhotosIsFull(t *testing.T) {
	disk := &full{room: 1}
	w := newWithPhotos(t, func(database string) models.PhotoFiles { disk.PhotoFiles = folderBeside(database); return disk })
	untouched(t, w.Studio, func() {
		a := w.send(1).Want(507)
		require.Contains(t, string(a.Body), "disk is full")
	})
	require.Empty(t, filesIn(t, w.photos), "nothing half written stays")
	disk.room = 3
	w.add(1)
}
