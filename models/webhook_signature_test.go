package models_test

import (
	"crypto/sha256"
	"encoding/hex"
	"net/netip"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"tenter/models"
)

// hmacByDefinition is HMAC-SHA256 written out from RFC 2104, section 2:
// H(K xor opad, H(K xor ipad, text)), with blocks of 64 bytes.
func hmacByDefinition(key, text []byte) string {
	const block = 64
	if len(key) > block {
		sum := sha256.Sum256(key)
		key = sum[:]
	}
	inner, outer := make([]byte, block), make([]byte, block)
	copy(inner, key)
	copy(outer, key)
	for i := range inner {
		inner[i] ^= 0x36
		outer[i] ^= 0x5c
	}
	first := sha256.Sum256(append(inner, text...))
	second := sha256.Sum256(append(outer, first[:]...))
	return hex.EncodeToString(second[:])
}

func unhex(t *testing.T, s string) []byte {
	t.Helper()
	b, err := hex.DecodeString(s)
	require.NoError(t, err)
	return b
}

// The test cases for HMAC-SHA-256 of RFC 4231, sections 4.2 to 4.5, 4.7 and 4.8.
func TestHMACOfRFC4231(t *testing.T) {
	for name, row := range map[string]struct {
		key  []byte
		text string
		want string
	}{
		"4.2 a short text": {unhex(t, strings.Repeat("0b", 20)), "Hi There", "b0344c61d8db38535ca8afceaf0bf12b881dc200c9833da726e9376c2e32cff7"},
		"4.3 a key shorter than the output": {[]byte("Jefe"), "what do ya want for nothing?",
			"5bdcc146bf60754e6a042426089575c75a003f089d2739839dec58b964ec3843"},
		"4.4 key and text longer than the output": {unhex(t, strings.Repeat("aa", 20)), string(unhex(t, strings.Repeat("dd", 50))),
			"773ea91e36800e46854db8ebd09181a72959098b3ef8c122d9635514ced565fe"},
		"4.5 a key of counted bytes": {unhex(t, "0102030405060708090a0b0c0d0e0f10111213141516171819"), string(unhex(t, strings.Repeat("cd", 50))),
			"82558a389a443c0ea4cc819899f2083a85f0faa3e578f8077a2e3ff46729665b"},
		"4.7 a key longer than a block": {unhex(t, strings.Repeat("aa", 131)), "Test Using Larger Than Block-Size Key - Hash Key First",
			"60e431591ee0b67f0d8a26aacbf5b77f8e0bc6213728c5140546040f0ee37f54"},
		"4.8 key and text longer than a block": {unhex(t, strings.Repeat("aa", 131)),
			"This is a test using a larger than block-size key and a larger than block-size data. The key needs to be hashed before being used by the HMAC algorithm.",
			"9b09ffa71b942fcb27635fbcd5b0e944bfdc63644f0713938a7f51535c3a35e2"},
	} {
		t.Run(name, func(t *testing.T) { require.Equal(t, row.want, hmacByDefinition(row.key, []byte(row.text))) })
	}
}

// The expected number was computed with OpenSSL 3:
//
//	printf '0190a1b2-0000-7000-8000-000000000001.1805967000.{"kind":"report"}' | openssl dgst -sha256 -hmac tenter-AAAA…
func TestSignNotice(t *testing.T) {
	secret := "tenter-" + strings.Repeat("A", 43)
	at := time.Unix(1805967000, 999_000_000)
	id, body := "0190a1b2-0000-7000-8000-000000000001", `{"kind":"report"}`
	got := models.SignNotice(secret, id, at, []byte(body))
	require.Equal(t, "25813ab06babe866f48dfb0cf12b2aba502c3cdeece45e1977166296ca19a722", got)
	require.Equal(t, hmacByDefinition([]byte(secret), []byte(id+".1805967000."+body)), got)

	until := at.Add(time.Hour)
	w := models.Webhook{Secret: secret, WasSecret: "old", WasUntil: &until}
	require.Equal(t, "hmac-sha256="+got+", hmac-sha256="+hmacByDefinition([]byte("old"), []byte(id+".1805967000."+body)), w.Signatures(id, at, []byte(body)))
	w.WasUntil = &at
	require.Equal(t, "hmac-sha256="+got, w.Signatures(id, at, []byte(body)), "the old secret's time is over")
}

// The networks are those that the IANA's special-purpose address registries
// (RFC 6890) list as not globally reachable; the public ones are well-known.
func TestMayTell(t *testing.T) {
	for address, want := range map[string]bool{
		"93.184.215.14": true, "2606:2800:21f:cb07:6820:80da:af6b:8b2c": true, "1.1.1.1": true,
		"127.0.0.1": false, "127.8.9.10": false, "::1": false, "::ffff:127.0.0.1": false, "::127.0.0.1": false,
		"10.1.2.3": false, "172.16.0.1": false, "172.31.255.255": false, "172.32.0.1": true, "192.168.1.1": false, "fd00::1": false, "fec0::1": false,
		"169.254.169.254": false, "fe80::1": false, "fe80::1%eth0": false, "100.64.0.1": false, "100.128.0.1": true,
		"0.0.0.0": false, "0.1.2.3": false, "::": false, "255.255.255.255": false, "240.0.0.1": false, "224.0.0.1": false, "ff02::1": false,
		"192.0.2.1": false, "198.51.100.7": false, "203.0.113.9": false, "198.18.0.1": false, "2001:db8::1": false,
		"64:ff9b::7f00:1": false, "64:ff9b:1::a00:1": false, "2002:7f00:1::": false, "2001:0:7f00:1::": false, "192.0.0.8": false,
	} {
		t.Run(address, func(t *testing.T) { require.Equal(t, want, models.MayTell(netip.MustParseAddr(address), nil)) })
	}
	local := []netip.Prefix{netip.MustParsePrefix("127.0.0.1/32")}
	require.True(t, models.MayTell(netip.MustParseAddr("127.0.0.1"), local))
	require.True(t, models.MayTell(netip.MustParseAddr("::ffff:127.0.0.1"), local))
	require.False(t, models.MayTell(netip.MustParseAddr("127.0.0.2"), local))
	require.False(t, models.MayTell(netip.Addr{}, local))
}

func TestBackoff(t *testing.T) {
	var waits []time.Duration
	var all time.Duration
	for n := range 12 {
		waits = append(waits, models.Backoff(n+1))
		if n < 11 {
			all += waits[n]
		}
	}
	require.Equal(t, []time.Duration{30 * time.Second, time.Minute, 2 * time.Minute, 4 * time.Minute, 8 * time.Minute, 16 * time.Minute, 32 * time.Minute,
		64 * time.Minute, 128 * time.Minute, 256 * time.Minute, 6 * time.Hour, 6 * time.Hour}, waits)
	require.InDelta(t, 14.5, all.Hours(), 0.1)
	require.Equal(t, 30*time.Second, models.Backoff(0))
	require.Equal(t, 6*time.Hour, models.Backoff(1_000_000))
}
