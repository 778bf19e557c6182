package handlers

import (
	"net/http"
	"time"
)

// The cookies of a browser's sign-in. Programs use the tokens in the answer.
// Over TLS their names begin in the way that makes browsers refuse them from
// anywhere else: __Host- is for this host and its every path, __Secure- leaves
// the path free (RFC 6265bis, section 4.1.3).
const (
	accessCookie  = "tenter_access"
	refreshCookie = "tenter_refresh"
	hostPrefix    = "__Host-"
	securePrefix  = "__Secure-"
)

// refreshCookieLife is as long as a refresh token can live; the tokens inside
// carry their own, shorter ends.
const refreshCookieLife = 30 * 24 * time.Hour

// AccessCookie is the name of the cookie with the access token.
func AccessCookie(secure bool) string {
	if secure {
		return hostPrefix + accessCookie
	}
	return accessCookie
}

func (a *api) cookies(access, refresh string, maxAge int) []http.Cookie {
	name := refreshCookie
	if a.Secure {
		name = securePrefix + refreshCookie
	}
	return []http.Cookie{
		a.cookie(AccessCookie(a.Secure), access, "/", maxAge),
		a.cookie(name, refresh, Prefix+"/auth", maxAge),
	}
}

func (a *api) cookie(name, value, path string, maxAge int) http.Cookie {
	return http.Cookie{Name: name, Value: value, Path: path, MaxAge: maxAge, HttpOnly: true, Secure: a.Secure, SameSite: http.SameSiteStrictMode}
}
