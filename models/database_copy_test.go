package models_test

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/models"
	"tenter/models/modelstest"
)

func filled(t *testing.T) (*models.Store, string) {
	t.Helper()
	path := modelstest.SQLite(t)
	clock := modelstest.NewClock()
	store := modelstest.Open(t, path, models.Options{Now: clock.Now})
	modelstest.FillDesigns(t, store, 20, modelstest.Round{Sizes: 5, Points: 4, Reports: 10})
	return store, path
}

func TestCopyHoldsTheSame(t *testing.T) {
	_, path := filled(t)
	to := filepath.Join(t.TempDir(), "new folder", "copy.db")
	copied, err := models.CopyDatabase(context.Background(), path, to)
	require.NoError(t, err)
	require.EqualValues(t, 20, copied.Rows["designs"])
	require.EqualValues(t, 20*10*4, copied.Rows["measurements"])
	require.NotEmpty(t, copied.LastEvent)
	info, err := os.Stat(to)
	require.NoError(t, err)
	require.Equal(t, os.FileMode(0o600), info.Mode().Perm(), "it holds addresses")
	require.Equal(t, info.Size(), copied.Bytes)
	sum, err := os.ReadFile(models.SumPath(to))
	require.NoError(t, err)
	require.Equal(t, copied.SHA256+"  copy.db\n", string(sum))
	require.Equal(t, []string{"copy.db", "copy.db.sha256"}, namesIn(t, filepath.Dir(to)))

	held, err := models.SoundFile(context.Background(), to)
	require.NoError(t, err)
	require.Equal(t, copied.Contents, *held)

	_, err = models.CopyDatabase(context.Background(), path, to)
	require.ErrorIs(t, err, fs.ErrExist)
}

func namesIn(t *testing.T, folder string) []string {
	t.Helper()
	entries, err := os.ReadDir(folder)
	require.NoError(t, err)
	var names []string
	for _, e := range entries {
		names = append(names, e.Name())
	}
	return names
}

// TestCopyWhileWriting copies again and again under a writer that never
// stops. Each copy holds every write that was acknowledged before it began,
// and no half one: a person comes with their role and their event.
func TestCopyWhileWriting(t *testing.T) {
	store, path := filled(t)
	var acknowledged atomic.Int64
	ctx, stop := context.WithCancel(context.Background())
	var writing sync.WaitGroup
	writing.Go(func() {
		for i := 0; ctx.Err() == nil; i++ {
			_, err := store.AddPerson(context.Background(), models.System("test"), models.NewPerson{Handle: fmt.Sprintf("writer-%d", i), Roles: []models.Role{models.Tester}})
			if err != nil {
				t.Error(err)
				return
			}
			acknowledged.Add(1)
		}
	})
	defer writing.Wait()
	defer stop()
	before, err := models.SoundFile(context.Background(), path)
	require.NoError(t, err)
	people := before.Rows["people"] - acknowledged.Load() // at most; what was there when it began
	for i := range 8 {
		least := acknowledged.Load()
		copied, err := models.CopyDatabase(context.Background(), path, filepath.Join(t.TempDir(), fmt.Sprintf("%d.db", i)))
		require.NoError(t, err)
		require.GreaterOrEqual(t, copied.Rows["people"], people+least)
		require.Equal(t, copied.Rows["people"], copied.Rows["person_roles"])
		other := modelstest.Open(t, copied.Path, models.Options{})
		faults, err := other.Check(context.Background())
		require.NoError(t, err)
		require.Empty(t, faults)
	}
	require.Positive(t, acknowledged.Load())
}

func TestRestore(t *testing.T) {
	now := modelstest.Start
	store, path := filled(t)
	copied, err := models.CopyDatabase(context.Background(), path, filepath.Join(t.TempDir(), "copy.db"))
	require.NoError(t, err)
	later, err := store.AddPerson(context.Background(), models.System("test"), models.NewPerson{Handle: "later", Roles: []models.Role{models.Tester}})
	require.NoError(t, err)

	_, err = models.RestoreDatabase(context.Background(), copied.Path, path, false, now)
	require.ErrorContains(t, err, "say --replace")
	_, err = models.RestoreDatabase(context.Background(), copied.Path, path, true, now)
	require.ErrorIs(t, err, models.ErrHeld)
	_, err = store.Person(context.Background(), later.ID)
	require.NoError(t, err, "a refused restore changes nothing")
	require.Equal(t, []string{"tenter.db", "tenter.db-shm", "tenter.db-wal"}, namesIn(t, filepath.Dir(path)))
	require.NoError(t, store.Close())

	done, err := models.RestoreDatabase(context.Background(), copied.Path, path, true, now)
	require.NoError(t, err)
	require.Equal(t, copied.Contents, done.Contents)
	require.Equal(t, []string{"tenter.db", filepath.Base(done.Aside)}, namesIn(t, filepath.Dir(path)))
	store = modelstest.Open(t, path, models.Options{})
	_, err = store.Person(context.Background(), later.ID)
	require.Equal(t, models.NotFound, models.KindOf(err))
	was := modelstest.Open(t, done.Aside, models.Options{})
	_, err = was.Person(context.Background(), later.ID)
	require.NoError(t, err, "what was replaced is kept whole")

	fresh := filepath.Join(t.TempDir(), "elsewhere", "tenter.db")
	done, err = models.RestoreDatabase(context.Background(), copied.Path, fresh, false, now)
	require.NoError(t, err)
	require.Empty(t, done.Aside)
}

// TestRestoreRefusesWhatIsNotSound tries copies that something happened to.
func TestRestoreRefusesWhatIsNotSound(t *testing.T) {
	_, path := filled(t)
	sound, err := models.CopyDatabase(context.Background(), path, filepath.Join(t.TempDir(), "copy.db"))
	require.NoError(t, err)
	raw, err := os.ReadFile(sound.Path)
	require.NoError(t, err)
	sum, err := os.ReadFile(models.SumPath(sound.Path))
	require.NoError(t, err)
	text := strings.Index(string(raw), "Design 7")
	require.Positive(t, text)
	for _, row := range []struct {
		name string
		data []byte
		sum  bool
		says string
	}{
		{"cut short", raw[:len(raw)/2], false, "damaged"},
		{"a page of zeros", append(append(append([]byte{}, raw[:8192]...), make([]byte, 4096)...), raw[12288:]...), false, ""},
		{"a letter changed within a text", append(append(append([]byte{}, raw[:text]...), 'X'), raw[text+1:]...), true, "checksum"},
		{"a text file", []byte(strings.Repeat("This is no database. ", 100)), false, "not a database"},
		{"an empty file", nil, false, "not one of Tenter's"},
	} {
		t.Run(row.name, func(t *testing.T) {
			folder := t.TempDir()
			bad, to := filepath.Join(folder, "bad.db"), filepath.Join(folder, "tenter.db")
			require.NoError(t, os.WriteFile(bad, row.data, 0o600))
			if row.sum {
				require.NoError(t, os.WriteFile(models.SumPath(bad), sum, 0o600))
			}
			require.NoError(t, os.WriteFile(to, []byte("what was there"), 0o600))
			_, err := models.RestoreDatabase(context.Background(), bad, to, true, modelstest.Start)
			require.Error(t, err)
			require.Contains(t, err.Error(), row.says)
			was, err := os.ReadFile(to)
			require.NoError(t, err)
			require.Equal(t, "what was there", string(was))
		})
	}
	t.Run("a damaged database can be replaced", func(t *testing.T) {
		to := filepath.Join(t.TempDir(), "tenter.db")
		require.NoError(t, os.WriteFile(to, []byte(strings.Repeat("damaged ", 2000)), 0o600))
		done, err := models.RestoreDatabase(context.Background(), sound.Path, to, true, modelstest.Start)
		require.NoError(t, err)
		was, err := os.ReadFile(done.Aside)
		require.NoError(t, err)
		require.Equal(t, strings.Repeat("damaged ", 2000), string(was))
	})
	t.Run("a missing file", func(t *testing.T) {
		_, err := models.RestoreDatabase(context.Background(), filepath.Join(t.TempDir(), "none.db"), path, true, modelstest.Start)
		require.True(t, errors.Is(err, fs.ErrNotExist), "%v", err)
	})
}
