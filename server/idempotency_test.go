package server_test

import (
	"fmt"
	"net/http"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/models"
	"tenter/server/servertest"
)

func under(key string) http.Header { return http.Header{"Idempotency-Key": {key}} }

func names(t *testing.T, c *servertest.Client) []string {
	t.Helper()
	var out []string
	for _, d := range c.Get("/designs").Want(200).Map()["items"].([]any) {
		out = append(out, d.(map[string]any)["name"].(string))
	}
	return out
}

func TestRepeatedCreationIsAnsweredFromTheFirst(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		c, other := s.Designer(), s.As("second", models.Designer)
		first := c.Do("POST", "/designs", newDesign("", nil), under("k1")).Want(201)
		require.Empty(t, first.Header.Get("Idempotency-Replayed"))
		untouched(t, s, func() {
			again := c.Do("POST", "/designs", newDesign("", nil), under("k1")).Want(201)
			require.Equal(t, string(first.Body), string(again.Body))
			require.Equal(t, "true", again.Header.Get("Idempotency-Replayed"))
			for _, name := range []string{"ETag", "Location", "Content-Type"} {
				require.Equal(t, first.Header.Get(name), again.Header.Get(name), name)
			}
			isProblem(t, c.Do("POST", "/designs", newDesign("name", "Another"), under("k1")), 422, "")
			isProblem(t, c.Do("POST", "/people", body("handle", "bram", "roles", list("maker")), under("k1")), 422, "")
		})
		other.Do("POST", "/designs", newDesign("name", "Somebody else's"), under("k1")).Want(201) // each person has their own keys
		c.Do("POST", "/designs", newDesign("name", "With another key"), under("k2")).Want(201)
		require.ElementsMatch(t, []string{"Reed jacket", "Somebody else's", "With another key"}, names(t, c))
	})
}

func TestRefusedCreationLeavesItsKeyFree(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		c := s.Designer()
		untouched(t, s, func() {
			isProblem(t, c.Do("POST", "/designs", newDesign("craft", "felt"), under("k")), 422, "body.craft")
			isProblem(t, c.Do("POST", "/designs", "{", under("k")), 400, "body")
		})
		c.Do("POST", "/designs", newDesign("", nil), under("k")).Want(201)
	})
}

// TestLostAnswer: the server ended after the change and before its answer was
// kept, so the database holds the key with no answer.
func TestLostAnswer(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		c := s.Designer()
		c.Do("POST", "/designs", newDesign("", nil), under("k")).Want(201)
		db, err := s.Store.SQL()
		require.NoError(t, err)
		_, err = db.Exec("UPDATE idempotency_keys SET status = 0, headers = '{}'")
		require.NoError(t, err)
		untouched(t, s, func() {
			d := isProblem(t, c.Do("POST", "/designs", newDesign("", nil), under("k")), 409, "")
			require.Contains(t, d.Detail, "was carried out")
		})
	})
}

// TestSameKeyAtTheSameMoment: one request is carried out, whoever wins.
func TestSameKeyAtTheSameMoment(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		c := s.Designer()
		answers := make([]*servertest.Answer, 8)
		var wg sync.WaitGroup
		for i := range answers {
			wg.Go(func() { answers[i] = c.Do("POST", "/designs", newDesign("", nil), under("k")) })
		}
		wg.Wait()
		ids := map[string]bool{}
		for _, a := range answers {
			if a.Status == 201 {
				ids[a.ID()] = true
				continue
			}
			isProblem(t, a, 409, "")
		}
		require.Len(t, ids, 1)
		require.Len(t, names(t, c), 1)
		c.Do("POST", "/designs", newDesign("", nil), under("k")).Want(201)
	})
}

// TestAnswersWithSecretsAreNotKept: a link's secret and a sign-in's tokens are
// in the database as hashes only, under a key as well.
func TestAnswersWithSecretsAreNotKept(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		c := s.Designer()
		mara := s.As("mara", models.Tester).Person.ID
		link := c.Do("POST", "/people/"+mara+"/invitation", nil, under("k1")).Want(201)
		require.Equal(t, "no-store", link.Header.Get("Cache-Control"))
		_, refresh, err := s.Store.StartSignIn(t.Context(), models.System("test"), mara, "test")
		require.NoError(t, err)
		renewed := c.Do("POST", "/auth/refresh", body("refresh_token", refresh), under("k2")).Want(200).Map()
		all := fmt.Sprint(contents(t, s))
		for _, secret := range []string{link.Map()["token"].(string), refresh, renewed["refresh_token"].(string), renewed["access_token"].(string)} {
			require.NotContains(t, all, secret)
		}
		untouched(t, s, func() {
			isProblem(t, c.Do("POST", "/people/"+mara+"/invitation", nil, under("k1")), 409, "")
			isProblem(t, c.Do("POST", "/auth/refresh", body("refresh_token", refresh), under("k2")), 409, "")
		})
	})
}

func TestKeysThatAreNone(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		c := s.Designer()
		untouched(t, s, func() {
			isProblem(t, c.Do("POST", "/designs", newDesign("", nil), under(strings.Repeat("k", 201))), 422, "")
			isProblem(t, c.Do("POST", "/designs", newDesign("", nil), under("k\xff")), 400, "")
		})
	})
}
