package handlers_test

import (
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"tenter/models"
	"tenter/server/servertest"
)

// atOnce lets all of them begin at the same moment, and waits for them.
func atOnce(all ...func()) {
	start := make(chan struct{})
	var together sync.WaitGroup
	for _, f := range all {
		together.Go(func() { <-start; f() })
	}
	close(start)
	together.Wait()
}

// TestEndingSignInsEndsHalfOnesToo: whoever has got as far as the password
// starts again, also where no other sign-in is there to be ended.
func TestEndingSignInsEndsHalfOnesToo(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		bram := withPassword(t, s, "bram", models.Maker)
		designer, c := s.Designer(), signedInAs(t, s, "bram")
		d, _ := setUp(t, s, c)
		finish := func(token string) *servertest.Answer {
			s.Clock.Advance(30 * time.Second)
			return s.Nobody().Post("/auth/second-step", map[string]any{"token": token, "code": d.code()})
		}
		token := half(t, s, "bram")
		c.Post("/me/sign-ins/end-others", nil).Want(204)
		finish(token).Want(401)
		c.Get("/me").Want(200)

		c.Post("/auth/sign-out", nil).Want(204)
		token = half(t, s, "bram")
		designer.Post("/people/"+bram.ID+"/sign-in/end", nil).Want(204)
		finish(token).Want(401)
		finish(half(t, s, "bram")).Want(200)
	})
}

// TestFinishingAndEndingAtOnce: a sign-in that is finished while all others are
// ended is either refused or ended, and a half one is finished once.
func TestFinishingAndEndingAtOnce(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		bram := withPassword(t, s, "bram", models.Maker)
		c := signedInAs(t, s, "bram")
		d, codes := setUp(t, s, c)
		ctx, actor := t.Context(), models.Actor{}
		for round := range 4 {
			s.Clock.Advance(30 * time.Second)
			begun, err := s.Store.BeginSignIn(ctx, actor, bram.ID, "another")
			require.NoError(t, err)
			finished := make([]error, 3)
			finish := func(i int, code string) func() {
				return func() { _, _, finished[i] = s.Store.FinishSignIn(ctx, actor, begun.Half, code, "another") }
			}
			atOnce(finish(0, d.code()), finish(1, codes[2*round]), finish(2, codes[2*round+1]))
			through := 0
			for _, err := range finished {
				if err == nil {
					through++
					continue
				}
				require.Equal(t, models.Unsigned, models.KindOf(err), "%v", err)
			}
			require.Equal(t, 1, through)

			s.Clock.Advance(30 * time.Second)
			begun, err = s.Store.BeginSignIn(ctx, actor, bram.ID, "another")
			require.NoError(t, err)
			code := d.code()
			atOnce(finish(0, code), func() { c.Post("/me/sign-ins/end-others", nil).Want(204) })
			left, err := s.Store.SignIns(ctx, bram.ID)
			require.NoError(t, err)
			require.Len(t, left, 1, "all but the one that ended the others")
		}
	})
}

// TestSettingUpTheSecondStepAtOnce: whoever was told that it is set up has it,
// with the secret that they were shown; another request for a secret comes
// before or after that, and never in between.
func TestSettingUpTheSecondStepAtOnce(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		bram := withPassword(t, s, "bram", models.Maker)
		ctx, actor := t.Context(), models.Actor{PersonID: bram.ID, Roles: bram.Roles, FamilyID: "none"}
		for range 4 {
			made, err := s.Store.PrepareSecondFactor(ctx, actor, password)
			require.NoError(t, err)
			d := &device{t, s, made.Text}
			code := d.code()
			var prepared [3]error
			var confirmed [2]error
			prepare := func(i int) func() {
				return func() { _, prepared[i] = s.Store.PrepareSecondFactor(ctx, actor, password) }
			}
			confirm := func(i int) func() {
				return func() { _, confirmed[i] = s.Store.ConfirmSecondFactor(ctx, actor, code) }
			}
			atOnce(prepare(0), confirm(0), prepare(1), confirm(1), prepare(2))
			set := 0
			for _, err := range confirmed {
				if err == nil {
					set++
				} else {
					require.Contains(t, []models.Kind{models.Conflict, models.Invalid}, models.KindOf(err), "%v", err)
				}
			}
			state, err := s.Store.SecondFactor(ctx, bram.ID, bram.Roles)
			require.NoError(t, err)
			if set == 0 {
				require.Nil(t, state.Since)
				continue
			}
			require.Equal(t, 1, set)
			require.NotNil(t, state.Since, "it was said to be set up")
			require.Equal(t, 8, state.RecoveryLeft)
			for _, err := range prepared {
				if err != nil {
					require.Equal(t, models.Conflict, models.KindOf(err), "%v", err)
				}
			}
			begun, err := s.Store.BeginSignIn(ctx, actor, bram.ID, "test")
			require.NoError(t, err)
			_, _, err = s.Store.FinishSignIn(ctx, models.Actor{}, begun.Half, d.next(), "test")
			require.NoError(t, err, "the secret that was confirmed is the one that counts")
			require.NoError(t, s.Store.RemoveMySecondFactor(ctx, actor, password))
		}
	})
}
