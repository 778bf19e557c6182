package models

import (
	"testing"
	"time"

	"github.com/pquerna/otp"
	"github.com/pquerna/otp/hotp"
	"github.com/stretchr/testify/require"
)

// The secret of the examples in RFC 4226, Appendix D, and RFC 6238, Appendix B;
// the latter repeats it up to the length of each hash.
const (
	secretOfRFC   = "12345678901234567890"
	secret256     = "12345678901234567890123456789012"
	secret512     = "1234567890123456789012345678901234567890123456789012345678901234"
	nothingBefore = -1
)

// TestCodesByCounter: RFC 4226, Appendix D.
func TestCodesByCounter(t *testing.T) {
	for counter, want := range []string{"755224", "287082", "359152", "969429", "338314", "254676", "287922", "162583", "399871", "520489"} {
		at := time.Unix(int64(counter)*30, 0)
		step, right := codeTaken([]byte(secretOfRFC), want, at, nothingBefore)
		require.True(t, right, "counter %d", counter)
		require.EqualValues(t, counter, step)
	}
}

// TestCodesByTime: RFC 6238, Appendix B. Its codes have eight digits; ours are
// the last six of them.
func TestCodesByTime(t *testing.T) {
	for _, row := range []struct {
		at                   int64
		sha1, sha256, sha512 string
	}{
		{59, "94287082", "46119246", "90693936"},
		{1111111109, "07081804", "68084774", "25091201"},
		{1111111111, "14050471", "67062674", "99943326"},
		{1234567890, "89005924", "91819424", "93441116"},
		{2000000000, "69279037", "90698825", "38618901"},
		{20000000000, "65353130", "77737706", "47863826"},
	} {
		step, right := codeTaken([]byte(secretOfRFC), row.sha1[2:], time.Unix(row.at, 0), nothingBefore)
		require.True(t, right, "%d", row.at)
		require.Equal(t, row.at/30, step)
		for algorithm, of := range map[otp.Algorithm][2]string{otp.AlgorithmSHA1: {secretOfRFC, row.sha1}, otp.AlgorithmSHA256: {secret256, row.sha256}, otp.AlgorithmSHA512: {secret512, row.sha512}} {
			code, err := hotp.GenerateCodeCustom(base32Bare.EncodeToString([]byte(of[0])), uint64(row.at/30), hotp.ValidateOpts{Digits: otp.DigitsEight, Algorithm: algorithm})
			require.NoError(t, err)
			require.Equal(t, of[1], code, "%s at %d", algorithm, row.at)
		}
	}
}

// TestDriftAndReplay: one step either way, and no step twice.
func TestDriftAndReplay(t *testing.T) {
	secret, now := []byte(secretOfRFC), time.Unix(5*30+7, 0)                                                                     // step 5
	for code, taken := range map[string]bool{"969429": false, "338314": true, "254676": true, "287922": true, "162583": false} { // counters 3 to 7
		_, right := codeTaken(secret, code, now, nothingBefore)
		require.Equal(t, taken, right, code)
	}
	_, right := codeTaken(secret, "254676", now, 5)
	require.False(t, right, "the same step again")
	_, right = codeTaken(secret, "338314", now, 5)
	require.False(t, right, "a step before the last one that was taken")
	_, right = codeTaken(secret, "287922", now, 5)
	require.True(t, right, "the next one")
	for _, text := range []string{"", "25467", "2546766", "25467a", "２５４６７６"} {
		require.False(t, isCode(text), text)
	}
}

func TestLinkOfASecret(t *testing.T) {
	require.Equal(t, "otpauth://totp/Reed%20&%20Rush:odile?secret=GEZDGNBVGY3TQOJQGEZDGNBVGY3TQOJQ&issuer=Reed%20%26%20Rush&algorithm=SHA1&digits=6&period=30",
		codeLink("Reed & Rush", "odile", []byte(secretOfRFC)))
}

func TestSealedSecrets(t *testing.T) {
	old, err := newSealer([][]byte{[]byte("the first key, long enough to be one")})
	require.NoError(t, err)
	sealed, key := old.seal([]byte("a secret"), "odile")
	require.NotContains(t, string(sealed), "a secret")
	again, _ := old.seal([]byte("a secret"), "odile")
	require.NotEqual(t, sealed, again)
	opened, err := old.open(sealed, key, "odile")
	require.NoError(t, err)
	require.Equal(t, "a secret", string(opened))
	_, err = old.open(sealed, key, "bram")
	require.Error(t, err, "somebody else's row")
	sealed[len(sealed)-1] ^= 1
	_, err = old.open(sealed, key, "odile")
	require.Error(t, err, "changed")
	sealed[len(sealed)-1] ^= 1

	rotated, err := newSealer([][]byte{[]byte("the second key, also long enough for it"), []byte("the first key, long enough to be one")})
	require.NoError(t, err)
	require.NotEqual(t, old.current, rotated.current)
	opened, err = rotated.open(sealed, key, "odile")
	require.NoError(t, err)
	require.Equal(t, "a secret", string(opened))
	gone, err := newSealer([][]byte{[]byte("the second key, also long enough for it")})
	require.NoError(t, err)
	_, err = gone.open(sealed, key, "odile")
	require.ErrorIs(t, err, errSealedElsewhere)
	_, err = newSealer(nil)
	require.Error(t, err)
}

func TestRecoveryCodes(t *testing.T) {
	seen := map[string]bool{}
	for range 200 {
		code := newRecoveryCode()
		require.Regexp(t, `^([0-9A-HJKMNP-TV-Z]{6}-){3}[0-9A-HJKMNP-TV-Z]{6}$`, code)
		require.False(t, seen[code])
		seen[code] = true
	}
	require.Equal(t, hashRecoveryCode("01ABCD-EFGHJK-MNPQRS-TVWXYZ"), hashRecoveryCode(" olabcd efghjkmnpqrs tvwxyz "), "as it is read from paper")
	require.NotEqual(t, hashRecoveryCode("01ABCD-EFGHJK-MNPQRS-TVWXYZ"), hashRecoveryCode("01ABCD-EFGHJK-MNPQRS-TVWXYY"))
}

func TestDeviceWords(t *testing.T) {
	for agent, want := range map[string]string{
		"Mozilla/5.0 (X11; Linux x86_64; rv:140.0) Gecko/20100101 Firefox/140.0":                                                                     "Firefox on Linux",
		"Mozilla/5.0 (Windows NT 10.0; Win64; x64) AppleWebKit/537.36 (KHTML, like Gecko) Chrome/140.0.0.0 Safari/537.36":                            "Chrome on Windows",
		"Mozilla/5.0 (Windows NT 10.0; Win64; x64) AppleWebKit/537.36 (KHTML, like Gecko) Chrome/140.0.0.0 Safari/537.36 Edg/140.0":                  "Edge on Windows",
		"Mozilla/5.0 (iPhone; CPU iPhone OS 18_5 like Mac OS X) AppleWebKit/605.1.15 (KHTML, like Gecko) Version/18.5 Mobile/15E148 Safari/604.1":    "Safari on iPhone",
		"Mozilla/5.0 (Linux; Android 15; SM-S931B) AppleWebKit/537.36 (KHTML, like Gecko) SamsungBrowser/28.0 Chrome/130.0.0.0 Mobile Safari/537.36": "Samsung Internet on Android",
		"Mozilla/5.0 (Macintosh; Intel Mac OS X 10_15_7) AppleWebKit/605.1.15 (KHTML, like Gecko) Version/18.5 Safari/605.1.15":                      "Safari on a Mac",
		"curl/8.14.1":                       "curl",
		"":                                  unknownDevice,
		"<script>alert(1)</script> Windows": "a browser on Windows",
	} {
		require.Equal(t, want, DeviceWords(agent), agent)
	}
}
