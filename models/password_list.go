package models

import (
	_ "embed" // the list of common passwords
	"slices"
	"strings"
	"sync"
)

//go:embed common_passwords.txt
var commonPasswordsText string

// commonPasswords are the lines of the list, in small letters and sorted.
var commonPasswords = sync.OnceValue(func() []string {
	var out []string
	for line := range strings.Lines(commonPasswordsText) {
		if line = strings.TrimSpace(line); line != "" && !strings.HasPrefix(line, "#") {
			out = append(out, line)
		}
	}
	slices.Sort(out)
	return out
})

// placeWords are what somebody who guesses would try here first.
var placeWords = []string{"tenter", "crochet", "knitting", "pattern", "patterns", "designer", "studio", "tester", "testing", "techeditor", "maker", "filmer", "pullover", "yarn", "stitches"}

// disguises are the signs that are put in place of letters (common practice).
var disguises = strings.NewReplacer("0", "o", "1", "l", "3", "e", "4", "a", "5", "s", "7", "t", "@", "a", "$", "s", "!", "i")

// fewestLetters is how many different characters a password has at least; a
// few, over and over, are found at once (chosen).
const fewestLetters = 5

// easyToGuess tells why a password is easy to guess, or "". also are words
// about its person. Signs and digits around a word make it no harder, nor do
// some in place of letters.
func easyToGuess(password string, also ...string) string {
	small := strings.ToLower(password)
	different := map[rune]bool{}
	for _, r := range small {
		different[r] = true
	}
	switch {
	case len(different) < fewestLetters:
		return "is made of too few different characters; choose something that others can't guess"
	case isRun(small):
		return "is a run along the alphabet or the digits; choose something that others can't guess"
	}
	for _, form := range []string{small, bare(small), bare(disguises.Replace(small)), disguises.Replace(bare(small))} {
		if _, found := slices.BinarySearch(commonPasswords(), form); found {
			return "is among the passwords that are tried first, or one of them with a little around it; a few words that only you put together are better"
		}
		if slices.Contains(placeWords, form) {
			return "is what somebody would try here first; choose something that others can't guess"
		}
		for _, word := range also {
			if word = strings.ToLower(word); word != "" && (form == word || form == bare(word)) {
				return "repeats your own name here; choose something that others can't guess"
			}
		}
	}
	return ""
}

// bare takes digits, signs and spaces off both ends.
func bare(text string) string {
	return strings.TrimFunc(text, func(r rune) bool { return r < 'a' || r > 'z' && r < 0x80 })
}

// isRun tells whether each character follows the one before, or the other way.
func isRun(text string) bool {
	runes := []rune(text)
	up, down := true, true
	for i := 1; i < len(runes); i++ {
		up = up && (runes[i] == runes[i-1]+1 || runes[i-1] == '9' && runes[i] == '0')
		down = down && (runes[i] == runes[i-1]-1 || runes[i-1] == '0' && runes[i] == '9')
	}
	return up || down
}
