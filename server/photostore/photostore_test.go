package photostore_test

import (
	"context"
	"errors"
	"io"
	"io/fs"
	"net/http/httptest"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/johannesboyne/gofakes3"
	"github.com/johannesboyne/gofakes3/backend/s3mem"
	"github.com/stretchr/testify/require"

	"tenter/models"
	"tenter/server/photostore"
)

// each runs f on a folder and on an object store with a server of its own.
func each(t *testing.T, f func(t *testing.T, store models.PhotoFiles)) {
	t.Run("folder", func(t *testing.T) { f(t, photostore.NewFolder(filepath.Join(t.TempDir(), "photos"))) })
	t.Run("objects", func(t *testing.T) {
		backend := s3mem.New()
		require.NoError(t, backend.CreateBucket("studio"))
		require.NoError(t, backend.CreateBucket("other"))
		web := httptest.NewServer(gofakes3.New(backend).Server())
		t.Cleanup(web.Close)
		store, err := photostore.NewObjects("s3://studio/tenter/photos", photostore.Access{Endpoint: web.URL, Region: "us-east-1", Key: "key", Secret: "secret"})
		require.NoError(t, err)
		f(t, store)
	})
}

const (
	one = "5a/01a212a1-c493-7574-9d72-bd39fbd6c75a-large.jpg"
	two = "5b/01a212a1-c493-7574-9d72-bd39fbd6c75b-thumb.jpg"
)

func keys(t *testing.T, store models.PhotoFiles) []string {
	t.Helper()
	var out []string
	require.NoError(t, store.List(context.Background(), func(f models.StoredPhoto) error {
		require.False(t, f.Written.IsZero())
		out = append(out, f.Key)
		return nil
	}))
	slices.Sort(out)
	return out
}

func TestWhatIsKeptComesBack(t *testing.T) {
	each(t, func(t *testing.T, store models.PhotoFiles) {
		ctx := context.Background()
		require.Empty(t, keys(t, store), "nothing is made until there is a photo")
		_, err := store.Open(ctx, one)
		require.ErrorIs(t, err, fs.ErrNotExist)
		require.NoError(t, store.Put(ctx, one, []byte("first")))
		require.NoError(t, store.Put(ctx, two, []byte("second")))
		require.NoError(t, store.Put(ctx, one, []byte("first")), "once more is the same")
		require.Equal(t, []string{one, two}, keys(t, store))
		r, err := store.Open(ctx, two)
		require.NoError(t, err)
		content, err := io.ReadAll(r)
		require.NoError(t, errors.Join(err, r.Close()))
		require.Equal(t, "second", string(content))
		require.NoError(t, store.Remove(ctx, one))
		require.NoError(t, store.Remove(ctx, one), "what is gone is gone")
		require.Equal(t, []string{two}, keys(t, store))
		enough := errors.New("enough")
		require.ErrorIs(t, store.List(ctx, func(models.StoredPhoto) error { return enough }), enough)
		for _, key := range []string{"", "../outside.jpg", "5a/../../etc/passwd", "/etc/passwd", "5a/name.jpg"} {
			require.Error(t, store.Put(ctx, key, nil), "%q is no key", key)
		}
	})
}

// TestOthersFilesAreLeftAlone: a folder or bucket may hold more than photos, and
// what is listed the sweep may remove.
func TestOthersFilesAreLeftAlone(t *testing.T) {
	others := []string{".hidden", "notes.txt", "5a/notes.txt", "ab/cd/" + one, one + ".part/x.part"}
	t.Run("folder", func(t *testing.T) {
		path := t.TempDir()
		for _, key := range others {
			file := filepath.Join(path, filepath.FromSlash(key))
			require.NoError(t, os.MkdirAll(filepath.Dir(file), 0o700))
			require.NoError(t, os.WriteFile(file, []byte("theirs"), 0o600))
		}
		onlyPhotos(t, photostore.NewFolder(path), others)
	})
	t.Run("objects without a prefix", func(t *testing.T) {
		backend := s3mem.New()
		require.NoError(t, backend.CreateBucket("shared"))
		for _, key := range others {
			_, err := backend.PutObject("shared", key, nil, strings.NewReader("theirs"), 6, nil)
			require.NoError(t, err)
		}
		web := httptest.NewServer(gofakes3.New(backend).Server())
		t.Cleanup(web.Close)
		store, err := photostore.NewObjects("s3://shared", photostore.Access{Endpoint: web.URL, Region: "us-east-1", Key: "key", Secret: "secret"})
		require.NoError(t, err)
		onlyPhotos(t, store, others)
	})
}

func onlyPhotos(t *testing.T, store models.PhotoFiles, others []string) {
	t.Helper()
	require.NoError(t, store.Put(context.Background(), one, []byte("first")))
	require.Equal(t, []string{one}, keys(t, store))
	for _, key := range others {
		require.Error(t, store.Remove(context.Background(), key), key)
	}
}

func TestFolderIsForItsOwnerAndLeavesNoHalves(t *testing.T) {
	path := filepath.Join(t.TempDir(), "photos")
	store := photostore.NewFolder(path)
	require.NoError(t, store.Put(context.Background(), one, []byte("first")))
	info, err := os.Stat(filepath.Join(path, filepath.FromSlash(one)))
	require.NoError(t, err)
	require.Equal(t, fs.FileMode(0o600), info.Mode().Perm())
	info, err = os.Stat(path)
	require.NoError(t, err)
	require.Equal(t, fs.FileMode(0o700), info.Mode().Perm())

	half := one + ".123.part" // as a crash leaves one
	require.NoError(t, os.WriteFile(filepath.Join(path, filepath.FromSlash(half)), []byte("fi"), 0o600))
	require.Equal(t, []string{one, half}, keys(t, store), "the sweep has to see it")
	require.NoError(t, store.Remove(context.Background(), half))
	require.Equal(t, []string{one}, keys(t, store))
	require.Error(t, store.Remove(context.Background(), "../x.part"))
}

func TestPlacesOfObjects(t *testing.T) {
	good := photostore.Access{Endpoint: "https://objects.example", Region: "us-east-1", Key: "k", Secret: "s"}
	_, err := photostore.NewObjects("s3://bucket", good)
	require.NoError(t, err)
	for _, at := range []string{"bucket", "http://bucket", "s3://", "s3:///prefix"} {
		_, err := photostore.NewObjects(at, good)
		require.Error(t, err, at)
	}
	for _, endpoint := range []string{"", "objects.example", "ftp://objects.example", "https://objects.example/path"} {
		bad := good
		bad.Endpoint = endpoint
		_, err := photostore.NewObjects("s3://bucket", bad)
		require.Error(t, err, endpoint)
	}
}

func TestMissingBucketIsAnError(t *testing.T) {
	web := httptest.NewServer(gofakes3.New(s3mem.New()).Server())
	t.Cleanup(web.Close)
	store, err := photostore.NewObjects("s3://nowhere", photostore.Access{Endpoint: web.URL, Region: "us-east-1", Key: "key", Secret: "secret"})
	require.NoError(t, err)
	require.Error(t, store.Put(context.Background(), one, []byte("x")))
	require.Error(t, store.List(context.Background(), func(models.StoredPhoto) error { return nil }))
}
