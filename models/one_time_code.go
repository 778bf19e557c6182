package models

import (
	"encoding/base32"
	"net/url"
	"strings"
	"time"

	"github.com/pquerna/otp"
	"github.com/pquerna/otp/hotp"
)

// One-time codes by time (RFC 6238): six digits, SHA-1 and 30 seconds, which
// every program that makes such codes takes.
const (
	codeStep        = 30 * time.Second
	codeDrift       = 1  // steps that the two clocks may be apart, either way (RFC 6238, section 5.2)
	codeSecretBytes = 20 // as long as HMAC-SHA-1's output (RFC 4226, section 4, R6)
)

var (
	codeShape  = hotp.ValidateOpts{Digits: otp.DigitsSix, Algorithm: otp.AlgorithmSHA1}
	base32Bare = base32.StdEncoding.WithPadding(base32.NoPadding)
)

// timeStep numbers the 30 seconds in which a moment lies, from 1970 on.
func timeStep(at time.Time) int64 { return at.Unix() / int64(codeStep/time.Second) }

// codeTaken returns the time step of a code if it is one of the secret's for
// now, a step before or a step after, and later than the last one that was
// taken: a code that somebody watched being typed is worth nothing any more.
func codeTaken(secret []byte, code string, now time.Time, last int64) (step int64, ok bool) {
	text := base32Bare.EncodeToString(secret)
	for step := timeStep(now) - codeDrift; step <= timeStep(now)+codeDrift; step++ {
		if step <= last || step < 0 {
			continue
		}
		if ok, err := hotp.ValidateCustom(code, uint64(step), text, codeShape); err == nil && ok {
			return step, true
		}
	}
	return 0, false
}

// codeLink is the address by which programs take a secret from a QR code. Its
// form is common practice; no standard has it.
func codeLink(studio, handle string, secret []byte) string {
	label := url.PathEscape(strings.ReplaceAll(studio, ":", " ")) + ":" + url.PathEscape(handle)
	query := "secret=" + base32Bare.EncodeToString(secret) + "&issuer=" + strings.ReplaceAll(url.QueryEscape(studio), "+", "%20") + "&algorithm=SHA1&digits=6&period=30"
	return "otpauth://totp/" + label + "?" + query
}

// isCode tells a one-time code from anything else that could be typed.
func isCode(text string) bool {
	return len(text) == codeShape.Digits.Length() && strings.Trim(text, "0123456789") == ""
}
