package vtt_test

import (
	"errors"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tenter/models/vtt"
)

// The shapes that W3C, "WebVTT: The Web Video Text Tracks Format", section 4.1
// (WebVTT timestamp), allows: hours of two digits or more only where they are
// written, minutes and seconds from 00 to 59, three digits of a second.
var timestamp = regexp.MustCompile(`^(\d{2,}:)?[0-5]\d:[0-5]\d\.\d{3}$`)

func TestTimestamp(t *testing.T) {
	for name, c := range map[string]struct {
		ms   int
		want string
	}{
		"the beginning":               {0, "00:00.000"},
		"just below a minute":         {59_999, "00:59.999"},
		"a minute":                    {60_000, "01:00.000"},
		"an hour has to be written":   {3_600_000, "01:00:00.000"},
		"hours may have three digits": {360_000_000, "100:00:00.000"},
		"an odd moment, by hand":      {3_723_045, "01:02:03.045"},
		"the last below an hour":      {3_599_999, "59:59.999"},
	} {
		t.Run(name, func(t *testing.T) {
			require.Equal(t, c.want, vtt.Timestamp(c.ms))
			require.Regexp(t, timestamp, vtt.Timestamp(c.ms))
		})
	}
	for _, bad := range []string{"0:01.000", "00:60.000", "00:01,000", "00:01.00", "1:00:00.000", "00:00:61.000", "00:01"} {
		require.NotRegexp(t, timestamp, bad, "the pattern of this test has to refuse what the format refuses")
	}
}

func TestWrite(t *testing.T) {
	text, err := vtt.Write([]vtt.Chapter{{0, 84_000, "Foundation"}, {84_000, 200_500, "Rows 1 & 2: <turn> --> join\n\nagain"}})
	require.NoError(t, err)
	require.Equal(t, "WEBVTT\n\n1\n00:00.000 --> 01:24.000\nFoundation\n\n2\n01:24.000 --> 03:20.500\nRows 1 &amp; 2: &lt;turn&gt; --&gt; join again\n", text)
	empty, err := vtt.Write(nil)
	require.NoError(t, err)
	require.Equal(t, "WEBVTT\n", empty)
}

// The nested cues of the example in the W3C document, in seconds; and two that
// overlap in part, which its definition of nested cues forbids.
func TestNested(t *testing.T) {
	list := func(spans ...[2]int) []vtt.Chapter {
		out := make([]vtt.Chapter, len(spans))
		for i, s := range spans {
			out[i] = vtt.Chapter{StartMS: 1000 * s[0], EndMS: 1000 * s[1], Title: "x"}
		}
		return out
	}
	_, err := vtt.Write(list([2]int{0, 84}, [2]int{0, 44}, [2]int{44, 79}, [2]int{84, 300}, [2]int{95, 180}, [2]int{180, 300}))
	require.NoError(t, err)
	for name, bad := range map[string][]vtt.Chapter{
		"overlapping in part":      list([2]int{0, 60}, [2]int{30, 90}),
		"out of order":             list([2]int{60, 90}, [2]int{0, 30}),
		"without length":           list([2]int{5, 5}),
		"ending before it begins":  list([2]int{5, 4}),
		"beginning before nothing": list([2]int{-1, 4}),
		"without a title":          {{0, 1, " \n "}},
	} {
		t.Run(name, func(t *testing.T) {
			text, err := vtt.Write(bad)
			var fault *vtt.Error
			require.True(t, errors.As(err, &fault))
			require.Empty(t, text)
		})
	}
}

// TestWhateverIsWrittenKeepsTheRules reads what was written by the rules alone.
func TestWhateverIsWrittenKeepsTheRules(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var chapters []vtt.Chapter
		at := 0
		for range rapid.IntRange(0, 8).Draw(t, "n") {
			end := at + rapid.IntRange(1, 5_000_000).Draw(t, "length")
			chapters = append(chapters, vtt.Chapter{StartMS: at, EndMS: end, Title: rapid.String().Draw(t, "title") + "x"})
			at = end + rapid.IntRange(0, 10).Draw(t, "gap")
		}
		text, err := vtt.Write(chapters)
		if err != nil {
			t.Fatal(err)
		}
		blocks := strings.Split(strings.TrimSuffix(text, "\n"), "\n\n")
		if blocks[0] != "WEBVTT" || len(blocks) != len(chapters)+1 {
			t.Fatalf("%d blocks for %d chapters: %q", len(blocks), len(chapters), text)
		}
		seen := map[string]bool{}
		for _, block := range blocks[1:] {
			lines := strings.Split(block, "\n")
			if len(lines) != 3 || seen[lines[0]] || strings.Contains(lines[0], "-->") || strings.Contains(lines[2], "-->") || strings.ContainsAny(lines[2], "<\r\x00") {
				t.Fatalf("cue %q", block)
			}
			seen[lines[0]] = true
			from, to, ok := strings.Cut(lines[1], " --> ")
			if !ok || !timestamp.MatchString(from) || !timestamp.MatchString(to) {
				t.Fatalf("timings %q", lines[1])
			}
		}
	})
}
