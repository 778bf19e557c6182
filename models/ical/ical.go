// Package ical writes calendars in the iCalendar format of RFC 5545.
//
// What of it is kept here: every content line ends CR LF (3.1); a physical line
// holds at most 75 octets, a longer one is continued after CR LF and one space,
// never within a UTF-8 sequence (3.1); in texts backslash, semicolon, comma and
// line breaks are escaped, the colon is not (3.3.11); a calendar has one
// VERSION of 2.0, one PRODID and at least one component (3.6, 3.7); each event
// has one UID that stays the same for the life of what it is about, a DTSTAMP
// in UTC that, without a METHOD, is the time of the last change, and, here
// always, a date as its start (3.6.1, 3.8.4.7, 3.8.7.2); an event of whole days
// ends, exclusively, on the day after its last one (3.6.1).
package ical

import (
	"fmt"
	"strings"
	"time"
	"unicode/utf8"
)

// Event is something on a day.
type Event struct {
	UID         string
	Changed     time.Time // of the last change to what it is about
	On          string    // YYYY-MM-DD, its first day
	Days        int       // how many it lasts; 0 is read as 1
	Summary     string
	Description string // "" for none
	Category    string // "" for none
	Tentative   bool   // planned, not announced
}

// Calendar is a named list of events.
type Calendar struct {
	ProductID string
	Name      string
	Refresh   time.Duration // how often a reader is asked to look again; 0 leaves it out
	Events    []Event
}

// Error says which event can't be written, counted from 0, and why.
type Error struct {
	Event   int
	Problem string
}

func (e *Error) Error() string { return fmt.Sprintf("event %d: %s", e.Event+1, e.Problem) }

const longestLine = 75 // octets, without the line break

// Write returns the calendar as a file. A calendar without events gets one that
// says so in the past: the format asks for at least one component.
func Write(c Calendar) ([]byte, error) {
	var w writer
	w.line("BEGIN", "VCALENDAR")
	w.line("VERSION", "2.0")
	w.line("PRODID", text(c.ProductID))
	w.line("CALSCALE", "GREGORIAN")
	w.line("X-WR-CALNAME", text(c.Name))
	if c.Refresh > 0 {
		hours := max(1, int(c.Refresh.Hours()))
		w.line("REFRESH-INTERVAL;VALUE=DURATION", fmt.Sprintf("PT%dH", hours)) // RFC 7986, 5.7
		w.line("X-PUBLISHED-TTL", fmt.Sprintf("PT%dH", hours))
	}
	seen := map[string]bool{}
	for i, e := range c.Events {
		if e.UID == "" || seen[e.UID] {
			return nil, &Error{i, "needs a UID of its own"}
		}
		seen[e.UID] = true
		if err := w.event(i, e); err != nil {
			return nil, err
		}
	}
	if len(c.Events) == 0 {
		if err := w.event(0, nothing); err != nil {
			return nil, err
		}
	}
	w.line("END", "VCALENDAR")
	return []byte(w.b.String()), nil
}

var nothing = Event{UID: "nothing@tenter", Changed: time.Unix(0, 0), On: "1970-01-01", Summary: "Nothing is planned yet"}

type writer struct{ b strings.Builder }

func (w *writer) event(i int, e Event) error {
	first, err := time.Parse("2006-01-02", e.On)
	if err != nil {
		return &Error{i, fmt.Sprintf("is on %q, which is not a date", e.On)}
	}
	w.line("BEGIN", "VEVENT")
	w.line("UID", text(e.UID))
	w.line("DTSTAMP", e.Changed.UTC().Format("20060102T150405Z"))
	w.line("DTSTART;VALUE=DATE", first.Format("20060102"))
	w.line("DTEND;VALUE=DATE", first.AddDate(0, 0, max(1, e.Days)).Format("20060102"))
	w.line("SUMMARY", text(e.Summary))
	if e.Description != "" {
		w.line("DESCRIPTION", text(e.Description))
	}
	if e.Category != "" {
		w.line("CATEGORIES", text(e.Category))
	}
	if e.Tentative {
		w.line("STATUS", "TENTATIVE")
	} else {
		w.line("STATUS", "CONFIRMED")
	}
	w.line("TRANSP", "TRANSPARENT")
	w.line("END", "VEVENT")
	return nil
}

// line writes one content line, folded.
func (w *writer) line(name, value string) {
	rest := name + ":" + value
	room := longestLine
	for len(rest) > room {
		cut := room
		for cut > 0 && !utf8.RuneStart(rest[cut]) {
			cut--
		}
		w.b.WriteString(rest[:cut])
		w.b.WriteString("\r\n ")
		rest = rest[cut:]
		room = longestLine - 1 // the space that continues the line is one of its octets
	}
	w.b.WriteString(rest)
	w.b.WriteString("\r\n")
}

// text escapes a TEXT value. What is not valid UTF-8 and the control
// characters that the format forbids are left out.
func text(s string) string {
	s = strings.ToValidUTF8(s, "")
	s = strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(s)
	s = strings.Map(func(r rune) rune {
		if r < ' ' && r != '\n' && r != '\t' || r == 0x7f {
			return -1
		}
		return r
	}, s)
	return strings.NewReplacer(`\`, `\\`, ";", `\;`, ",", `\,`, "\n", `\n`).Replace(s)
}
