package server

import (
	"errors"
	"fmt"
	"time"

	"github.com/golang-jwt/jwt/v5"

	"tenter/models"
)

// Access tokens are pinned to one algorithm, one issuer and one audience.
const (
	tokenIssuer   = "tenter"
	tokenAudience = "tenter-api"
	accessLife    = 10 * time.Minute // chosen
	configuredKey = "configured"     // key id of a key given by environment
)

// tokens makes and checks access tokens (RFC 7519).
type tokens struct {
	now     func() time.Time
	signing string            // key id
	keys    map[string][]byte // by key id; retired ones still check
}

func newTokens(now func() time.Time, configured Secret, kept []models.SigningKey) (*tokens, error) {
	t := &tokens{now: now, keys: map[string][]byte{}}
	for i, k := range kept {
		t.keys[k.ID] = k.Secret
		if i == 0 {
			t.signing = k.ID
		}
	}
	if configured != "" {
		t.keys[configuredKey], t.signing = []byte(configured), configuredKey
	}
	if t.signing == "" {
		return nil, errors.New("no key to sign access tokens with")
	}
	return t, nil
}

type claims struct {
	jwt.RegisteredClaims
	Family string `json:"sid"`
}

// issue makes an access token for a person's sign-in.
func (t *tokens) issue(personID, familyID string) (string, time.Time, error) {
	now := t.now()
	expires := now.Add(accessLife)
	token := jwt.NewWithClaims(jwt.SigningMethodHS256, claims{
		RegisteredClaims: jwt.RegisteredClaims{Issuer: tokenIssuer, Audience: jwt.ClaimStrings{tokenAudience}, Subject: personID,
			IssuedAt: jwt.NewNumericDate(now), ExpiresAt: jwt.NewNumericDate(expires)},
		Family: familyID,
	})
	token.Header["kid"] = t.signing
	signed, err := token.SignedString(t.keys[t.signing])
	if err != nil {
		return "", time.Time{}, fmt.Errorf("sign access token: %w", err)
	}
	return signed, expires, nil
}

// check returns the person and the sign-in that a token is for.
func (t *tokens) check(text string) (personID, familyID string, err error) {
	var c claims
	_, err = jwt.ParseWithClaims(text, &c, func(token *jwt.Token) (any, error) {
		id, _ := token.Header["kid"].(string)
		key, ok := t.keys[id]
		if !ok {
			return nil, errors.New("unknown key")
		}
		return key, nil
	},
		jwt.WithValidMethods([]string{jwt.SigningMethodHS256.Alg()}),
		jwt.WithIssuer(tokenIssuer), jwt.WithAudience(tokenAudience),
		jwt.WithExpirationRequired(), jwt.WithIssuedAt(), jwt.WithTimeFunc(t.now))
	if err != nil {
		return "", "", fmt.Errorf("access token: %w", err)
	}
	return c.Subject, c.Family, nil
}

// sealing returns the keys from which those are derived that secrets are kept
// under, the one in use first.
func sealing(configured Secret, kept []models.SigningKey) [][]byte {
	var out [][]byte
	if configured != "" {
		out = append(out, []byte(configured))
	}
	for _, k := range kept {
		out = append(out, k.Secret)
	}
	return out
}
