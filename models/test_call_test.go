package models_test

import (
	"context"
	"fmt"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/models"
	"tenter/models/modelstest"
)

// testRound adds a design of two sizes with a call for them, two testers wanted
// at most for each.
func testRound(t testing.TB, s *models.Store) (call *models.TestCall, sizes []models.Size) {
	t.Helper()
	ctx, by := context.Background(), models.System("test")
	d, err := s.AddDesign(ctx, by, models.Design{Name: "Harbour cowl", Craft: "knit", Audience: "unisex", Terms: "uk", Unit: "in",
		Gauge: models.Gauge{Stitches: 20, Rows: 28, Span: 4, Unit: "in"}})
	require.NoError(t, err)
	revision := d.Revision
	_, err = s.PutSizes(ctx, by, d.ID, &revision, []models.Size{{Name: "small"}, {Name: "large"}})
	require.NoError(t, err)
	sizes, err = s.Sizes(ctx, d.ID)
	require.NoError(t, err)
	versions, err := s.Versions(ctx, d.ID)
	require.NoError(t, err)
	first := versions[0].Revision
	_, err = s.PutSheet(ctx, by, versions[0].ID, &first, []models.Count{{Name: "cast_on", Unit: "stitch",
		Values: []models.CountValue{{SizeID: sizes[0].ID, Value: 96}, {SizeID: sizes[1].ID, Value: 112}}}}, nil)
	require.NoError(t, err)
	call, err = s.AddTestCall(ctx, by, d.ID, models.NewTestCall{Title: "Round", OpensOn: "2027-02-01", DueOn: "2027-03-01",
		Slots: []models.Slot{{SizeID: sizes[0].ID, Fewest: 1, Wanted: 2, Most: 2}, {SizeID: sizes[1].ID, Fewest: 1, Wanted: 2, Most: 50}}})
	require.NoError(t, err)
	return call, sizes
}

func addTester(t *testing.T, s *models.Store, i int) *models.Person {
	t.Helper()
	p, err := s.AddPerson(context.Background(), models.System("test"), models.NewPerson{Handle: fmt.Sprintf("tester%d", i), Roles: []models.Role{models.Tester}})
	require.NoError(t, err)
	return p
}

func TestASizeIsNeverOverfilled(t *testing.T) {
	modelstest.Each(t, func(t *testing.T, s *models.Store, _ *modelstest.Clock) {
		call, sizes := testRound(t, s)
		const askers = 8
		people := make([]*models.Person, askers)
		for i := range people {
			people[i] = addTester(t, s, i)
		}
		var wait sync.WaitGroup
		errs := make([]error, askers)
		for i, p := range people {
			wait.Go(func() {
				_, errs[i] = s.Assign(context.Background(), models.System("test"), call.ID, models.NewAssignment{PersonID: p.ID, SizeID: sizes[0].ID})
			})
		}
		wait.Wait()
		given := 0
		for _, err := range errs {
			if err == nil {
				given++
				continue
			}
			require.Equal(t, models.Conflict, models.KindOf(err), "%v", err)
		}
		require.Equal(t, 2, given)
		slots, err := s.SlotCounts(context.Background(), call.ID)
		require.NoError(t, err)
		require.Equal(t, 2, slots[call.ID][0].Assigned)
	})
}

func TestAPersonIsAskedOnceHoweverManyAskAtOnce(t *testing.T) {
	modelstest.Each(t, func(t *testing.T, s *models.Store, _ *modelstest.Clock) {
		call, sizes := testRound(t, s)
		p := addTester(t, s, 1)
		var wait sync.WaitGroup
		errs := make([]error, 6)
		for i := range errs {
			wait.Go(func() {
				_, errs[i] = s.Assign(context.Background(), models.System("test"), call.ID, models.NewAssignment{PersonID: p.ID, SizeID: sizes[1].ID})
			})
		}
		wait.Wait()
		given := 0
		for _, err := range errs {
			if err == nil {
				given++
				continue
			}
			require.Equal(t, models.Conflict, models.KindOf(err), "%v", err)
		}
		require.Equal(t, 1, given)
	})
}

func TestTwoImportsAtOnceBringNobodyTwice(t *testing.T) {
	modelstest.Each(t, func(t *testing.T, s *models.Store, _ *modelstest.Clock) {
		call, _ := testRound(t, s)
		file := models.Sheetful{Data: []byte("Handle,Sizes\none,small\ntwo,small / large\nthree,large\n")}
		var wait sync.WaitGroup
		done, errs := make([]*models.Import, 4), make([]error, 4)
		for i := range done {
			wait.Go(func() {
				done[i], errs[i] = s.ImportApplicants(context.Background(), models.System("test"), call.ID, file, false)
			})
		}
		wait.Wait()
		created, same := 0, 0
		for i, d := range done {
			require.NoError(t, errs[i])
			created, same = created+d.Created, same+d.Same
		}
		require.Equal(t, 3, created)
		require.Equal(t, 9, same)
		rows, _, err := s.Applications(context.Background(), call.ID, models.Page{})
		require.NoError(t, err)
		require.Len(t, rows, 3)
	})
}

// The lists of testing cost the same number of statements for one tester and
// for many.
func TestListsOfTestingCostAConstantNumberOfStatements(t *testing.T) {
	var mu sync.Mutex
	n := 0
	s := modelstest.Open(t, modelstest.SQLite(t), models.Options{Now: modelstest.NewClock().Now, Explain: func(string, []any) {
		mu.Lock()
		defer mu.Unlock()
		n++
	}})
	call, sizes := testRound(t, s)
	ctx, by := context.Background(), models.System("test")
	var mine models.Actor
	grow := func(from, to int) {
		for i := from; i < to; i++ {
			p := addTester(t, s, i)
			_, err := s.AddApplication(ctx, by, call.ID, models.Applicant{Handle: p.Handle, Sizes: []string{sizes[1].ID, sizes[0].ID}})
			require.NoError(t, err)
			a, err := s.Assign(ctx, by, call.ID, models.NewAssignment{PersonID: p.ID, SizeID: sizes[1].ID})
			require.NoError(t, err)
			_, _, err = s.InviteToAssignment(ctx, by, a.ID)
			require.NoError(t, err)
			mine = models.Actor{PersonID: p.ID, Roles: []models.Role{models.Tester}}
		}
	}
	lists := map[string]func() error{
		"calls":        func() error { _, _, err := s.TestCalls(ctx, call.DesignID, models.Page{}); return err },
		"applications": func() error { _, _, err := s.Applications(ctx, call.ID, models.Page{}); return err },
		"assignments":  func() error { _, _, err := s.Assignments(ctx, call.ID, models.Page{}); return err },
		"mine":         func() error { _, _, err := s.MyAssignments(ctx, mine, models.Page{}); return err },
		"slots":        func() error { _, err := s.SlotCounts(ctx, call.ID); return err },
		"preview": func() error {
			_, err := s.PreviewApplicants(ctx, call.ID, models.Sheetful{Data: []byte("Handle,Sizes\nx,small\n")})
			return err
		},
	}
	cost := func() map[string]int {
		out := map[string]int{}
		for name, list := range lists {
			n = 0
			require.NoError(t, list())
			out[name] = n
		}
		return out
	}
	grow(0, 1)
	few := cost()
	grow(1, 30)
	require.Equal(t, few, cost())
	require.Equal(t, map[string]int{"calls": 2, "applications": 5, "assignments": 2, "mine": 2, "slots": 1, "preview": 9}, few)
}
