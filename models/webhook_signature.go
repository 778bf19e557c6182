package models

import (
	"crypto/hmac"
	"crypto/sha256"
	"encoding/hex"
	"strconv"
	"strings"
	"time"
)

// signatureScheme stands before each signature in the header.
const signatureScheme = "hmac-sha256="

// SignNotice signs what goes out: HMAC-SHA256 (RFC 2104, FIPS 180-4) with the
// secret's own characters as the key, over the delivery's id, the seconds since
// 1970 and the body, with a full stop between each, in hex. The moment is in
// it so that whoever overhears a notice can't send it again later.
func SignNotice(secret, id string, at time.Time, body []byte) string {
	mac := hmac.New(sha256.New, []byte(secret))
	mac.Write([]byte(id + "." + strconv.FormatInt(at.Unix(), 10) + ".")) //nolint:errcheck // a hash never fails
	mac.Write(body)                                                      //nolint:errcheck // a hash never fails
	return hex.EncodeToString(mac.Sum(nil))
}

// Signatures is the header's value: one signature for the secret, and one for
// the secret before as long as it counts.
func (w Webhook) Signatures(id string, at time.Time, body []byte) string {
	out := []string{signatureScheme + SignNotice(w.Secret, id, at, body)}
	if w.WasSecret != "" && w.WasUntil != nil && at.Before(*w.WasUntil) {
		out = append(out, signatureScheme+SignNotice(w.WasSecret, id, at, body))
	}
	return strings.Join(out, ", ")
}
