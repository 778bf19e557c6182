package ical_test

import (
	"bytes"
	"errors"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	parser "github.com/arran4/golang-ical" // a reader written by others, to read back what is written here
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tenter/models/ical"
)

var changed = time.Date(2027, 2, 8, 9, 30, 0, 0, time.FixedZone("", 3600))

func event(summary string) ical.Event {
	return ical.Event{UID: "a@tenter", Changed: changed, On: "2027-02-14", Summary: summary}
}

func written(t *testing.T, events ...ical.Event) string {
	t.Helper()
	b, err := ical.Write(ical.Calendar{ProductID: "-//Tenter//calendar//EN", Name: "Days, mine", Refresh: 6 * time.Hour, Events: events})
	require.NoError(t, err)
	return string(b)
}

// property returns the value of a property as written, its line unfolded.
func property(t *testing.T, file, name string) string {
	t.Helper()
	for _, line := range strings.Split(strings.ReplaceAll(file, "\r\n ", ""), "\r\n") {
		if value, ok := strings.CutPrefix(line, name+":"); ok {
			return value
		}
	}
	t.Fatalf("no %s in %q", name, file)
	return ""
}

// RFC 5545, 3.3.11: backslash, semicolon, comma and line break are escaped, the
// colon never.
func TestTextIsEscaped(t *testing.T) {
	for plain, want := range map[string]string{
		`a\b`:                 `a\\b`,
		"S; M, L":             `S\; M\, L`,
		"line1\nline2":        `line1\nline2`,
		"line1\r\nline2":      `line1\nline2`,
		"ratio 2:1":           "ratio 2:1",
		"a\x00b\x07c":         "abc",
		"bad \xff octet":      "bad  octet",
		`already \n, escaped`: `already \\n\, escaped`,
	} {
		require.Equal(t, want, property(t, written(t, event(plain)), "SUMMARY"), "%q", plain)
	}
}

// RFC 5545, 3.1: 75 octets on a line, 74 and a space on each that continues it,
// and no UTF-8 sequence apart. Each row gives the octets of the content line.
func TestLinesAreFolded(t *testing.T) {
	for _, c := range []struct {
		name   string
		octets int
		lines  int
	}{{"exactly a line", 75, 1}, {"one more", 76, 2}, {"two full lines", 149, 2}, {"one more than two", 150, 3}, {"three full lines", 223, 3}} {
		t.Run(c.name, func(t *testing.T) {
			file := written(t, event(strings.Repeat("x", c.octets-len("SUMMARY:"))))
			_, rest, _ := strings.Cut(file, "SUMMARY:")
			value, _, _ := strings.Cut(rest, "\r\nSTATUS")
			require.Equal(t, c.lines-1, strings.Count(value, "\r\n "))
		})
	}
	// 40 letters of two octets: 8 + 66 octets in the first line, as a 34th letter
	// would need octet 76, and the last 7 letters in the second.
	_, rest, _ := strings.Cut(written(t, event(strings.Repeat("é", 40))), "SUMMARY:")
	first, _, _ := strings.Cut(rest, "\r\n ")
	require.Equal(t, strings.Repeat("é", 33), first)
}

// RFC 5545, 3.6.1: the end of an event of whole days is exclusive.
func TestWholeDays(t *testing.T) {
	for _, c := range []struct {
		name, on   string
		days       int
		start, end string
	}{
		{"one day", "2026-03-01", 1, "20260301", "20260302"},
		{"over a leap day", "2028-02-28", 2, "20280228", "20280301"},
		{"over the new year", "2026-12-31", 1, "20261231", "20270101"},
		{"no length is a day", "1997-07-14", 0, "19970714", "19970715"},
	} {
		t.Run(c.name, func(t *testing.T) {
			e := event("x")
			e.On, e.Days = c.on, c.days
			file := written(t, e)
			require.Equal(t, c.start, property(t, file, "DTSTART;VALUE=DATE"))
			require.Equal(t, c.end, property(t, file, "DTEND;VALUE=DATE"))
		})
	}
}

func TestCalendarAsAWhole(t *testing.T) {
	e := event("Airs: Crown")
	e.Description, e.Category, e.Tentative = "Pipwillow Bonnet", "air", true
	file := written(t, e, ical.Event{UID: "b@tenter", Changed: changed, On: "2027-02-15", Summary: "x"})
	require.True(t, strings.HasPrefix(file, "BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//Tenter//calendar//EN\r\n"))
	require.True(t, strings.HasSuffix(file, "END:VEVENT\r\nEND:VCALENDAR\r\n"))
	require.Equal(t, "20270208T083000Z", property(t, file, "DTSTAMP"), "UTC")
	require.Equal(t, "TENTATIVE", property(t, file, "STATUS"))
	require.Equal(t, 1, strings.Count(file, "PRODID:"))
	require.Equal(t, 2, strings.Count(file, "\r\nDTSTAMP:"))
	require.NotContains(t, strings.ReplaceAll(file, "\r\n", ""), "\n")
	require.NotContains(t, file, "METHOD", "without a method DTSTAMP is the time of the last change")
	require.Contains(t, written(t), "BEGIN:VEVENT", "a calendar holds at least one component")
}

func TestBadEventsAreRefused(t *testing.T) {
	for name, bad := range map[string][]ical.Event{
		"no date":           {{UID: "a", On: "2027-02-30"}},
		"no id":             {{On: "2027-02-01"}},
		"the same id twice": {{UID: "a", On: "2027-02-01"}, {UID: "a", On: "2027-02-02"}},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := ical.Write(ical.Calendar{Events: bad})
			var fault *ical.Error
			require.True(t, errors.As(err, &fault))
		})
	}
}

// TestReadBack reads whatever was written with a parser written by others.
func TestReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		clean := rapid.StringOf(rapid.RuneFrom([]rune("ab é—“”日本;,:\\\n\"'<>&"))).Filter(func(s string) bool { return strings.TrimSpace(s) == s && s != "" })
		var events []ical.Event
		for i := range rapid.IntRange(1, 5).Draw(t, "n") {
			on := time.Date(2027, 1, 1, 0, 0, 0, 0, time.UTC).AddDate(0, 0, rapid.IntRange(0, 900).Draw(t, "day"))
			events = append(events, ical.Event{UID: string(rune('a'+i)) + "@tenter", Changed: changed, On: on.Format("2006-01-02"),
				Days: rapid.IntRange(1, 20).Draw(t, "days"), Summary: clean.Draw(t, "summary"), Description: clean.Draw(t, "description")})
		}
		file, err := ical.Write(ical.Calendar{ProductID: "p", Name: "n", Events: events})
		if err != nil {
			t.Fatal(err)
		}
		for _, line := range strings.Split(string(file), "\r\n") {
			if len(line) > 75 || !utf8.ValidString(line) {
				t.Fatalf("a line of %d octets: %q", len(line), line)
			}
		}
		read, err := parser.ParseCalendar(bytes.NewReader(file))
		if err != nil {
			t.Fatal(err)
		}
		got := read.Events()
		if len(got) != len(events) {
			t.Fatalf("%d events, want %d", len(got), len(events))
		}
		for i, e := range got {
			start, err := e.GetAllDayStartAt()
			if err != nil {
				t.Fatal(err)
			}
			end, err := e.GetAllDayEndAt()
			if err != nil {
				t.Fatal(err)
			}
			want := events[i]
			summary := e.GetProperty(parser.ComponentPropertySummary).Value
			description := e.GetProperty(parser.ComponentPropertyDescription).Value
			if e.Id() != want.UID || start.Format("2006-01-02") != want.On || int(end.Sub(start).Hours()/24+0.5) != want.Days || summary != want.Summary || description != want.Description {
				t.Fatalf("read %q %s %s %q %q, want %+v", e.Id(), start, end, summary, description, want)
			}
		}
	})
}
