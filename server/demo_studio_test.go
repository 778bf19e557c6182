package server_test

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"tenter/models"
	"tenter/server"
	"tenter/server/demo"
	"tenter/server/photostore"
	"tenter/server/servertest"
)

// filledDemo is the demo's studio as files, by their paths in one folder. It is
// filled once for all tests: under the race detector that takes long.
var filledDemo = sync.OnceValues(func() (files map[string][]byte, err error) {
	folder, err := os.MkdirTemp("", "tenter-demo-")
	if err != nil {
		return nil, err
	}
	defer func() { err = errors.Join(err, os.RemoveAll(folder)) }()
	clock := demo.NewClock(time.Now)
	store, err := server.Open(context.Background(), filepath.Join(folder, "studio.db"), models.Options{Now: clock.Now, Photos: photostore.NewFolder(filepath.Join(folder, "photos"))})
	if err != nil {
		return nil, err
	}
	_, err = demo.Fill(context.Background(), store, clock, "UTC")
	if err = errors.Join(err, store.Close()); err != nil {
		return nil, err
	}
	files = map[string][]byte{}
	return files, fs.WalkDir(os.DirFS(folder), ".", func(name string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			files[name], err = os.ReadFile(filepath.Join(folder, name))
		}
		return err
	})
})

// demoStudio serves the demo's invented studio, each test its own.
func demoStudio(t *testing.T) *servertest.Studio {
	t.Helper()
	files, err := filledDemo()
	require.NoError(t, err)
	folder := t.TempDir()
	for name, content := range files {
		path := filepath.Join(folder, name)
		require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o700))
		require.NoError(t, os.WriteFile(path, content, 0o600))
	}
	clock := demo.NewClock(time.Now)
	store, err := models.Open(filepath.Join(folder, "studio.db"), models.Options{Now: clock.Now, Photos: photostore.NewFolder(filepath.Join(folder, "photos"))})
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, store.Close()) })
	return servertest.New(t, store, nil)
}
