package server_test

import (
	"encoding/json"
	"net/http/httptest"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/server"
)

// tokenFrom trades a refresh token at a server for an access token.
func tokenFrom(t *testing.T, s *server.Server, refresh string) string {
	t.Helper()
	ask := httptest.NewRequest("POST", "/api/v1/auth/refresh", strings.NewReader(`{"refresh_token": "`+refresh+`"}`))
	ask.Header.Set("Content-Type", "application/json")
	answer := httptest.NewRecorder()
	s.Handler().ServeHTTP(answer, ask)
	require.Equal(t, 200, answer.Code, answer.Body.String())
	var in struct {
		AccessToken string `json:"access_token"`
	}
	require.NoError(t, json.Unmarshal(answer.Body.Bytes(), &in))
	return in.AccessToken
}
