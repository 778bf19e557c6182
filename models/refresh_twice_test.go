package models_test

import (
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/models"
	"tenter/models/modelstest"
)

// TestARefreshTokenIsTradedOnce: a token that was copied and one that was not
// come at the same moment. One of them may win, never both: the other is the
// sign of a theft, and ends the sign-in.
func TestARefreshTokenIsTradedOnce(t *testing.T) {
	modelstest.Each(t, func(t *testing.T, store *models.Store, _ *modelstest.Clock) {
		person, err := store.AddPerson(t.Context(), models.System("test"), models.NewPerson{Handle: "odile", Roles: []models.Role{models.Designer}})
		require.NoError(t, err)
		for range 5 {
			family, secret, err := store.StartSignIn(t.Context(), models.System("test"), person.ID, "test")
			require.NoError(t, err)
			failed := make([]error, 6)
			start := make(chan struct{})
			var together sync.WaitGroup
			for i := range failed {
				together.Go(func() {
					<-start
					_, _, _, failed[i] = store.ContinueSignIn(t.Context(), models.System("test"), secret)
				})
			}
			close(start)
			together.Wait()
			traded := 0
			for _, err := range failed {
				if err == nil {
					traded++
					continue
				}
				require.Equal(t, models.Unsigned, models.KindOf(err), "%v", err)
			}
			require.Equal(t, 1, traded)
			_, err = store.SignedIn(t.Context(), person.ID, family)
			require.Equal(t, models.Unsigned, models.KindOf(err), "the sign-in has ended")
		}
	})
}
