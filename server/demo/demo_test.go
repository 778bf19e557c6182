package demo_test

import (
	"context"
	"encoding/json"
	"fmt"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"tenter/models"
	"tenter/models/modelstest"
	"tenter/server/demo"
	"tenter/server/photostore"
)

// standing stands for the real clock, and stands still.
func standing() time.Time { return modelstest.Start }

// filled opens a fresh database and fills it.
func filled(t *testing.T, target string, now func() time.Time, zone string) *models.Store {
	t.Helper()
	clock := demo.NewClock(now)
	store, err := models.Open(target, models.Options{Now: clock.Now, Photos: photostore.NewFolder(t.TempDir())})
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, store.Close()) })
	people, err := demo.Fill(context.Background(), store, clock, zone)
	require.NoError(t, err)
	require.NotEmpty(t, people)
	require.Equal(t, now().UTC(), store.Now(), "the store's clock runs with the real one again")
	return store
}

// onEach runs f on the filled studio on SQLite and, where a server is at hand,
// on PostgreSQL.
func onEach(t *testing.T, f func(t *testing.T, store *models.Store)) {
	t.Helper()
	t.Run("sqlite", func(t *testing.T) {
		t.Parallel()
		f(t, filled(t, modelstest.SQLite(t), standing, "UTC"))
	})
	t.Run("postgres", func(t *testing.T) {
		t.Parallel()
		f(t, filled(t, modelstest.Postgres(t), standing, "UTC"))
	})
}

func TestEverybodyNamedCanSignIn(t *testing.T) {
	clock := demo.NewClock(standing)
	store, err := models.Open(modelstest.SQLite(t), models.Options{Now: clock.Now})
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, store.Close()) })
	ctx := context.Background()
	people, err := demo.Fill(ctx, store, clock, "UTC")
	require.NoError(t, err)
	roles := map[models.Role]int{}
	for _, p := range people {
		person, err := store.CheckPassword(ctx, p.Handle, demo.Password)
		require.NoError(t, err, p.Handle)
		require.NotEmpty(t, p.ComesFor)
		for _, r := range person.Roles {
			roles[r]++
		}
	}
	require.Equal(t, map[models.Role]int{models.Designer: 1, models.TechEditor: 1, models.Maker: 1, models.Filmer: 1, models.Tester: 2}, roles)
	studio, err := store.Studio(ctx)
	require.NoError(t, err)
	require.True(t, studio.Demo, "the pages say that it is invented")
	require.Contains(t, studio.Name, "invented")
	all, _, err := store.People(ctx, "", models.Page{Limit: 500})
	require.NoError(t, err)
	for _, p := range all {
		require.Regexp(t, `\.example$`, *p.Email, "a name that can't be anybody's (RFC 2606)")
	}
}

func TestSameClockGivesTheSameStudio(t *testing.T) {
	one := filled(t, modelstest.SQLite(t), standing, "UTC")
	two := filled(t, modelstest.SQLite(t), standing, "UTC")
	first, second := strings.Split(dump(t, one), "\n"), strings.Split(dump(t, two), "\n")
	require.Len(t, second, len(first))
	for i := range first {
		require.Equal(t, first[i], second[i], "line %d", i+1)
	}
}

// idShape is an id, or a key or digest that was made of some.
var idShape = regexp.MustCompile(`[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}|-[0-9a-f]{16}"|[0-9a-f]{64}`)

// dump is everything that the studio's people can read, with ids numbered by
// where they turn up first.
func dump(t *testing.T, store *models.Store) string {
	t.Helper()
	ctx := context.Background()
	everything := []any{}
	add := func(v any, err error) {
		require.NoError(t, err)
		everything = append(everything, v)
	}
	page := models.Page{Limit: 500}
	board, err := store.StudioBoard(ctx, page)
	add(board, err)
	people, _, err := store.People(ctx, "", page)
	add(people, err)
	for _, line := range board.Designs {
		id := line.Design.ID
		b, err := store.Board(ctx, id)
		add(b, err)
		samples, err := store.Samples(ctx, id)
		add(samples, err)
		compared, err := store.CompareDesign(ctx, id)
		add(compared, err)
		remarks, _, err := store.Remarks(ctx, id, page)
		add(remarks, err)
		history, next, err := store.History(ctx, id, page)
		add(history, err)
		require.Empty(t, next)
		calls, _, err := store.TestCalls(ctx, id, page)
		add(calls, err)
		for _, c := range calls {
			asked, _, err := store.Assignments(ctx, c.ID, page)
			add(asked, err)
		}
	}
	raw, err := json.MarshalIndent(everything, "", " ")
	require.NoError(t, err)
	require.Greater(t, len(raw), 100_000)
	seen := map[string]string{}
	return idShape.ReplaceAllStringFunc(string(raw), func(id string) string {
		if seen[id] == "" {
			seen[id] = fmt.Sprintf("id %d", len(seen)+1)
		}
		return seen[id]
	})
}

func TestNothingLiesInTheFuture(t *testing.T) {
	for name, now := range map[string]time.Time{
		"in the morning":           modelstest.Start,
		"just after midnight":      time.Date(2027, 3, 1, 0, 4, 0, 0, time.UTC),
		"just before midnight":     time.Date(2027, 3, 1, 23, 58, 0, 0, time.UTC),
		"after clocks went ahead":  time.Date(2027, 3, 29, 6, 0, 0, 0, time.UTC), // Europe/Oslo, 28 March 2027
		"after they were put back": time.Date(2027, 11, 1, 6, 0, 0, 0, time.UTC),
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			store := filled(t, modelstest.SQLite(t), func() time.Time { return now }, "Europe/Oslo")
			var late, events, days int64
			db := modelstest.Rows(t, store)
			require.NoError(t, db.Model(&models.Event{}).Count(&events).Error)
			require.NoError(t, db.Model(&models.Event{}).Where("at > ?", now).Count(&late).Error)
			require.NoError(t, db.Raw("SELECT count(DISTINCT substr(CAST(at AS TEXT), 1, 10)) FROM events").Scan(&days).Error)
			require.Greater(t, events, int64(300))
			require.Zero(t, late)
			require.Greater(t, days, int64(40), "the history runs over many days")
			var back int64
			require.NoError(t, db.Raw("SELECT count(*) FROM events a JOIN events b ON b.id > a.id AND b.at < a.at").Scan(&back).Error)
			require.Zero(t, back, "ids are sortable by when something happened")
		})
	}
}

func TestAnotherClockIsRefused(t *testing.T) {
	store, err := models.Open(modelstest.SQLite(t), models.Options{Now: standing})
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, store.Close()) })
	_, err = demo.Fill(context.Background(), store, demo.NewClock(standing), "UTC")
	require.ErrorContains(t, err, "does not run on the demo's clock")
	_, err = demo.Fill(context.Background(), store, demo.NewClock(standing), "Nowhere/Land")
	require.ErrorContains(t, err, "zone")
	designer, err := store.HasDesigner(context.Background())
	require.NoError(t, err)
	require.False(t, designer, "nothing was written")
}
