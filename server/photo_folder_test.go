package server

import (
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

// TestEachDatabaseHasItsOwnPhotos: the sweep removes what a database's rows do
// not name, so no two databases may share a folder by default.
func TestEachDatabaseHasItsOwnPhotos(t *testing.T) {
	for database, folder := range map[string]string{
		"data/tenter.db": "data/tenter.db.photos",
		"postgres://studio:pw@db.example:5432/tenter?sslmode=disable": "data/photos/tenter",
		"postgresql://db.example/trial":                               "data/photos/trial",
		"postgres://db.example":                                       "data/photos/postgres",
		"postgres://db.example/..%2f..%2fetc":                         "data/photos/______etc",
	} {
		require.Equal(t, filepath.FromSlash(folder), PhotoSettings{}.folder(database), database)
	}
	require.Equal(t, "pictures", PhotoSettings{Photos: "pictures"}.folder("postgres://db.example/tenter"))
}
