// Package vtt writes chapter files in the WebVTT format of the W3C.
//
// The rules that it keeps (W3C, "WebVTT: The Web Video Text Tracks Format",
// section 4.1 and the definition of chapters using nested cues): the file begins with
// WEBVTT and a blank line; a timestamp is [hh+:]mm:ss.ttt with exactly three
// digits behind a full stop, minutes and seconds to 59, and hours of at least
// two digits wherever they are not zero; a cue's identifier is one line and
// unique, its start is not before any earlier start, its end is after its
// start; identifier and text hold no "-->", and the text no blank line; a
// chapter's title is text alone, with &, < and > written as references; two
// chapters are one within the other or apart, never partly overlapping.
package vtt

import (
	"fmt"
	"strings"
)

// Chapter is one chapter of a recording, in milliseconds from its start.
type Chapter struct {
	StartMS, EndMS int
	Title          string
}

// Error says which chapter can't be written, counted from 0, and why.
type Error struct {
	Chapter int
	Problem string
}

func (e *Error) Error() string { return fmt.Sprintf("chapter %d: %s", e.Chapter+1, e.Problem) }

// Write returns the chapters as a WebVTT file. Line breaks in a title become
// spaces. Chapters that break a rule are an *Error.
func Write(chapters []Chapter) (string, error) {
	var b strings.Builder
	b.WriteString("WEBVTT\n")
	for i, c := range chapters {
		if err := check(chapters, i); err != nil {
			return "", err
		}
		title := escape(c.Title)
		if title == "" {
			return "", &Error{i, "has no title"}
		}
		fmt.Fprintf(&b, "\n%d\n%s --> %s\n%s\n", i+1, Timestamp(c.StartMS), Timestamp(c.EndMS), title)
	}
	return b.String(), nil
}

func check(chapters []Chapter, i int) error {
	c := chapters[i]
	if c.StartMS < 0 {
		return &Error{i, "begins before the recording"}
	}
	if c.EndMS <= c.StartMS {
		return &Error{i, fmt.Sprintf("ends at %s, which is not after it begins", Timestamp(max(0, c.EndMS)))}
	}
	for j, earlier := range chapters[:i] {
		if c.StartMS < earlier.StartMS {
			return &Error{i, fmt.Sprintf("begins before chapter %d, which stands before it", j+1)}
		}
		if c.StartMS < earlier.EndMS && c.EndMS > earlier.EndMS {
			return &Error{i, fmt.Sprintf("overlaps chapter %d in part", j+1)}
		}
	}
	return nil
}

// Timestamp writes milliseconds as a WebVTT timestamp.
func Timestamp(ms int) string {
	s := ms / 1000
	text := fmt.Sprintf("%02d:%02d.%03d", s/60%60, s%60, ms%1000)
	if hours := s / 3600; hours > 0 {
		text = fmt.Sprintf("%02d:%s", hours, text)
	}
	return text
}

// escape makes a title plain text of one line. With > written as a reference,
// no arrow can be left in it.
func escape(title string) string {
	title = strings.Join(strings.Fields(strings.ReplaceAll(title, "\x00", "\uFFFD")), " ")
	return strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;").Replace(title)
}
