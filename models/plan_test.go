package models_test

import (
	"context"
	"fmt"
	"strings"
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/models"
	"tenter/models/modelstest"
)

// applicantsTable is a sign-up form with so many answers, each for two of the
// call's two sizes.
func applicantsTable(n int) models.Sheetful {
	var b strings.Builder
	b.WriteString("Handle,Sizes,Accepted,Finished\n")
	for i := range n {
		sizes := "small / large"
		if i%3 == 0 {
			sizes = "large"
		}
		fmt.Fprintf(&b, "applicant-%05d,%s,%d,%d\n", i, sizes, i%7, i%7-i%2*min(1, i%7))
	}
	return models.Sheetful{Data: []byte(b.String())}
}

// What a call's page asks costs the same number of statements for a few people
// and for many.
func TestPlanRemindersAndSummaryTakeAConstantNumberOfStatements(t *testing.T) {
	for kind, fresh := range map[string]func(testing.TB) string{"sqlite": modelstest.SQLite, "postgres": modelstest.Postgres} {
		t.Run(kind, func(t *testing.T) {
			t.Parallel()
			var n atomic.Int64
			s := modelstest.Open(t, fresh(t), models.Options{Now: modelstest.NewClock().Now, Explain: func(string, []any) { n.Add(1) }})
			call, sizes := testRound(t, s)
			ctx, by := context.Background(), models.System("test")
			cost := func() map[string]int64 {
				out := map[string]int64{}
				for name, ask := range map[string]func() error{
					"plan":      func() error { _, err := s.Plan(ctx, call.ID, models.WhatIf{MoveAsked: true}); return err },
					"reminders": func() error { _, err := s.Reminders(ctx, call.ID); return err },
					"summary":   func() error { _, err := s.CallSummary(ctx, call.ID); return err },
				} {
					before := n.Load()
					require.NoError(t, ask())
					out[name] = n.Load() - before
				}
				return out
			}
			p := addTester(t, s, 0)
			_, err := s.AddApplication(ctx, by, call.ID, models.Applicant{Handle: p.Handle, Sizes: []string{sizes[0].ID}})
			require.NoError(t, err)
			_, err = s.Assign(ctx, by, call.ID, models.NewAssignment{PersonID: p.ID, SizeID: sizes[1].ID})
			require.NoError(t, err)
			few := cost()
			_, err = s.ImportApplicants(ctx, by, call.ID, applicantsTable(300), false)
			require.NoError(t, err)
			plan, err := s.Plan(ctx, call.ID, models.WhatIf{})
			require.NoError(t, err)
			require.Len(t, plan.People, 301)
			var take []models.PlanChange
			for _, one := range plan.People {
				if one.Change == models.PlanAsk {
					take = append(take, models.PlanChange{PersonID: one.PersonID, SizeID: one.Proposed})
				}
			}
			require.NotEmpty(t, take)
			_, err = s.TakePlan(ctx, by, call.ID, take, "")
			require.NoError(t, err)
			require.Equal(t, few, cost())
			t.Logf("%v", few)
		})
	}
}

// BenchmarkPlanOfStoredCall plans a call from the database, reading and all.
func BenchmarkPlanOfStoredCall(b *testing.B) {
	for _, n := range []int{100, 1000} {
		b.Run(fmt.Sprintf("%d applicants", n), func(b *testing.B) {
			s := modelstest.Open(b, modelstest.SQLite(b), models.Options{Now: modelstest.NewClock().Now})
			call, _ := testRound(b, s)
			ctx := context.Background()
			_, err := s.ImportApplicants(ctx, models.System("test"), call.ID, applicantsTable(n), false)
			require.NoError(b, err)
			for b.Loop() {
				_, err := s.Plan(ctx, call.ID, models.WhatIf{MoveAsked: true})
				require.NoError(b, err)
			}
		})
	}
}
