package models_test

import (
	"bytes"
	"context"
	"log/slog"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/models"
	"tenter/models/modelstest"
)

// TestFailingStatementIsLoggedWithoutItsValues: a table is taken away, so that
// a lookup by a secret fails and is logged, by Find and by Scan.
func TestFailingStatementIsLoggedWithoutItsValues(t *testing.T) {
	var logged bytes.Buffer
	store := modelstest.Open(t, modelstest.SQLite(t), models.Options{Log: slog.New(slog.NewTextHandler(&logged, nil))})
	db, err := store.SQL()
	require.NoError(t, err)
	_, err = db.Exec("DROP TABLE sign_ins")
	require.NoError(t, err)
	ctx := context.Background()
	_, err = store.SignedIn(ctx, "a-secret-person", "a-secret-family") // a Scan
	require.Error(t, err)
	_, err = db.Exec("DROP TABLE invitations")
	require.NoError(t, err)
	_, err = store.LookAtInvitation(ctx, "a-secret-token") // a Find
	require.Error(t, err)
	require.Contains(t, logged.String(), "sign_ins", "a failing statement is not logged at all")
	require.Contains(t, logged.String(), "invitations")
	require.NotContains(t, logged.String(), "a-secret")
}
