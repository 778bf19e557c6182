package models_test

import (
	"context"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"tenter/models"
	"tenter/models/modelstest"
)

// longEnough is how long a test waits for what has to come; it is no bound on speed.
const longEnough = 30 * time.Second

// TestServersHearOfEachOther has two stores on one database, as two servers
// have, and looks at what the second one's screens are told.
func TestServersHearOfEachOther(t *testing.T) {
	target := modelstest.Postgres(t)
	one := modelstest.Open(t, target, models.Options{})
	two := modelstest.Open(t, target, models.Options{})
	heard, stop := two.Feed().Listen()
	t.Cleanup(stop)
	following, end := context.WithCancel(t.Context())
	done := make(chan struct{})
	go func() { defer close(done); two.Follow(following) }()
	t.Cleanup(func() { end(); <-done })

	require.NotEmpty(t, hears(t, heard, addPerson(t, one, "first")), "while it listens, or at once when it begins to")
	var cut int
	require.NoError(t, modelstest.Rows(t, one).Raw("SELECT count(pg_terminate_backend(pid)) FROM pg_stat_activity WHERE datname = current_database() AND query = 'LISTEN tenter_changes'").Scan(&cut).Error)
	require.Equal(t, 1, cut, "the one connection that listens")
	require.NotEmpty(t, hears(t, heard, addPerson(t, one, "second")), "what was committed while the connection was lost")
	require.NotEmpty(t, hears(t, heard, addPerson(t, one, "third")), "and it listens again")
}

// TestAServerHearsItselfOnce has a store that listens hear its own change once.
func TestAServerHearsItselfOnce(t *testing.T) {
	target := modelstest.Postgres(t)
	one := modelstest.Open(t, target, models.Options{})
	two := modelstest.Open(t, target, models.Options{})
	heard, stop := one.Feed().Listen()
	t.Cleanup(stop)
	following, end := context.WithCancel(t.Context())
	done := make(chan struct{})
	go func() { defer close(done); one.Follow(following) }()
	t.Cleanup(func() { end(); <-done })

	hears(t, heard, addPerson(t, two, "elsewhere")) // now it listens for sure
	own := addPerson(t, one, "own")
	last := addPerson(t, two, "after")
	times := 0
	for _, c := range hears(t, heard, last) {
		if c.EntityID == own {
			times++
		}
	}
	require.Equal(t, 1, times)
}

func addPerson(t *testing.T, s *models.Store, handle string) string {
	t.Helper()
	p, err := s.AddPerson(context.Background(), models.System("test"), models.NewPerson{Handle: handle, Roles: []models.Role{models.Maker}})
	require.NoError(t, err)
	return p.ID
}

// hears waits until the feed tells of the person, or, after a break, of people
// at all, and returns everything it was told until then.
func hears(t *testing.T, feed <-chan models.Change, id string) []models.Change {
	t.Helper()
	var all []models.Change
	tooLong := time.After(longEnough)
	for {
		select {
		case c := <-feed:
			all = append(all, c)
			if c.EntityID == id || (c.EntityID == "" && c.Entity == "person") {
				return all
			}
		case <-tooLong:
			t.Fatalf("never heard of %s; heard %v", id, all)
		}
	}
}
