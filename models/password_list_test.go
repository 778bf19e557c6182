package models

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestEasyPasswords(t *testing.T) {
	for _, easy := range []string{"qwertyuiop", "1q2w3e4r5t", "Password123", "P4ssw0rd!!", "dragon-2026", "!!monkey!!1", "aaaaaaaaaaaa", "abcabcabcabc", "abcdefghijkl", "9876543210", "1234567890", "Tenter2026!", "crochet-123",
		"odile-lindqvist", "Odile Lindqvist 7", "knitting!!!"} {
		require.NotEmpty(t, easyToGuess(easy, "odile-lindqvist", "Odile Lindqvist"), easy)
		_, err := HashPassword(easy, "odile-lindqvist", "Odile Lindqvist")
		require.Equal(t, Invalid, KindOf(err), easy)
	}
	for _, good := range []string{"four plain words here", "another four plain words", "seven plain words for a marker", "zq-unhewn-otter-sails", "пять обычных слов здесь", "ö9#kd!fLq27", "my dragon eats yarn"} {
		require.Empty(t, easyToGuess(good, "odile", "Odile Lindqvist"), good)
	}
	_, err := HashPassword("éééèèèààà", "odile") // nine characters, eighteen bytes
	require.ErrorContains(t, err, "too short")
	_, err = HashPassword(strings.Repeat("wörd und ", 8), "odile")
	require.NoError(t, err)
	require.Greater(t, len(commonPasswords()), 4_000)
}
