package server_test

import (
	"context"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"tenter/models/modelstest"
	"tenter/server"
	"tenter/server/photostore"
)

func TestRotationKeepsTheNewest(t *testing.T) {
	target, folder := modelstest.SQLite(t), filepath.Join(t.TempDir(), "backups")
	photos := photostore.NewFolder(server.PhotosBeside(target))
	begin := time.Date(2027, 2, 8, 9, 30, 0, 0, time.UTC)
	require.NoError(t, os.MkdirAll(folder, 0o700))
	for _, others := range []string{"tenter-notes.db", "holiday.jpg", "tenter-20270101T000000.000000Z.db.bak"} {
		require.NoError(t, os.WriteFile(filepath.Join(folder, others), []byte("not ours"), 0o600))
	}
	for day := range 5 {
		made, err := server.BackUpInto(context.Background(), target, folder, photos, 3, begin.AddDate(0, 0, day))
		require.NoError(t, err)
		require.FileExists(t, made.Path)
	}
	entries, err := os.ReadDir(folder)
	require.NoError(t, err)
	var names []string
	for _, e := range entries {
		names = append(names, e.Name())
	}
	require.Equal(t, []string{"holiday.jpg",
		"tenter-20270101T000000.000000Z.db.bak",
		"tenter-20270210T093000.000000Z.db", "tenter-20270210T093000.000000Z.db.sha256",
		"tenter-20270211T093000.000000Z.db", "tenter-20270211T093000.000000Z.db.sha256",
		"tenter-20270212T093000.000000Z.db", "tenter-20270212T093000.000000Z.db.sha256", "tenter-notes.db"}, names)

	require.NoError(t, os.WriteFile(target, []byte("no database any more"), 0o600))
	_, err = server.BackUpInto(context.Background(), target, folder, photos, 1, begin.AddDate(0, 0, 9))
	require.Error(t, err)
	after, err := os.ReadDir(folder)
	require.NoError(t, err)
	require.Len(t, after, len(entries), "a backup that failed removes nothing and leaves nothing")
}
