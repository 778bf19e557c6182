// Package atom writes a feed in the Atom syndication format, RFC 4287.
//
// What it keeps, by section: a feed has exactly one atom:id, atom:title and
// atom:updated, an author that holds for all its entries, and a link to itself
// (4.1.1); an entry has exactly one atom:id, atom:title and atom:updated, and
// content or a link rel="alternate" (4.1.2); of links rel="alternate" there is
// one for each type (4.1.1, 4.1.2); an atom:id is an absolute IRI that never
// changes (4.2.6); a date is an RFC 3339 date-time with an upper-case T and Z
// (3.3); a person has a name (3.2.1); html content is escaped text (4.1.3.1).
package atom

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"net/url"
	"strings"
	"time"
)

// Namespace is that of every element (section 1.2).
const Namespace = "http://www.w3.org/2005/Atom"

// Feed is a feed with one author for all its entries.
type Feed struct {
	ID       string // absolute IRI
	Title    string
	Subtitle string // "" for none
	Author   string
	Updated  time.Time
	Self     string // address of the feed
	Page     string // the same for people
	Entries  []Entry
}

// Entry is one entry. HTML is markup that the writer has made safe.
type Entry struct {
	ID        string // absolute IRI
	Title     string
	Page      string
	Published time.Time
	Updated   time.Time
	HTML      string
}

// Error says what of a feed breaks a rule; Field is "id" or "entries[2].title".
type Error struct{ Field, Problem string }

func (e *Error) Error() string { return e.Field + " " + e.Problem }

// FieldPath names the field at fault.
func (e *Error) FieldPath() string { return e.Field }

type link struct {
	Rel  string `xml:"rel,attr"`
	Type string `xml:"type,attr"`
	Href string `xml:"href,attr"`
}

type text struct {
	Type string `xml:"type,attr"`
	Body string `xml:",chardata"`
}

type entry struct {
	ID        string `xml:"id"`
	Title     text   `xml:"title"`
	Updated   string `xml:"updated"`
	Published string `xml:"published"`
	Link      link   `xml:"link"`
	Content   text   `xml:"content"`
}

type feed struct {
	XMLName  xml.Name `xml:"http://www.w3.org/2005/Atom feed"`
	ID       string   `xml:"id"`
	Title    text     `xml:"title"`
	Subtitle *text    `xml:"subtitle"`
	Updated  string   `xml:"updated"`
	Author   string   `xml:"author>name"`
	Links    []link   `xml:"link"`
	Entries  []entry  `xml:"entry"`
}

// Write returns the feed as a document in UTF-8. A feed that breaks a rule is an
// *Error; characters that XML can't hold are written as U+FFFD.
func Write(f Feed) ([]byte, error) {
	if err := f.check(); err != nil {
		return nil, err
	}
	out := feed{ID: f.ID, Title: plain(f.Title), Updated: stamp(f.Updated), Author: f.Author,
		Links: []link{{"self", "application/atom+xml", f.Self}, {"alternate", "text/html", f.Page}}}
	if f.Subtitle != "" {
		subtitle := plain(f.Subtitle)
		out.Subtitle = &subtitle
	}
	for _, e := range f.Entries {
		out.Entries = append(out.Entries, entry{ID: e.ID, Title: plain(e.Title), Updated: stamp(e.Updated), Published: stamp(e.Published),
			Link: link{"alternate", "text/html", e.Page}, Content: text{"html", e.HTML}})
	}
	var b bytes.Buffer
	b.WriteString(xml.Header)
	enc := xml.NewEncoder(&b)
	enc.Indent("", " ")
	if err := enc.Encode(out); err != nil {
		return nil, fmt.Errorf("atom: %w", err)
	}
	b.WriteByte('\n')
	return b.Bytes(), nil
}

func plain(s string) text { return text{"text", s} }

// stamp writes a moment as section 3.3 wants it.
func stamp(t time.Time) string { return t.UTC().Format(time.RFC3339) }

func (f Feed) check() error {
	if err := checkHead("", f.ID, f.Title, f.Page, f.Updated); err != nil {
		return err
	}
	if strings.TrimSpace(f.Author) == "" {
		return &Error{"author", "has no name"}
	}
	if !absolute(f.Self) {
		return &Error{"self", "is not an absolute address"}
	}
	seen := map[string]bool{f.ID: true}
	for i, e := range f.Entries {
		at := fmt.Sprintf("entries[%d].", i)
		if err := checkHead(at, e.ID, e.Title, e.Page, e.Updated); err != nil {
			return err
		}
		if seen[e.ID] {
			return &Error{at + "id", "is there twice"}
		}
		seen[e.ID] = true
		if e.Published.IsZero() || e.Published.After(e.Updated) {
			return &Error{at + "published", "is missing, or after the last change"}
		}
	}
	return nil
}

// checkHead checks what a feed and an entry have in common.
func checkHead(at, id, title, page string, updated time.Time) error {
	switch {
	case !absolute(id):
		return &Error{at + "id", "is not an absolute IRI"}
	case strings.TrimSpace(title) == "":
		return &Error{at + "title", "is empty"}
	case !absolute(page):
		return &Error{at + "page", "is not an absolute address"}
	case updated.IsZero() || updated.Year() > 9999:
		return &Error{at + "updated", "is missing or not in the years to 9999"}
	}
	return nil
}

func absolute(iri string) bool {
	u, err := url.Parse(iri)
	return err == nil && u.IsAbs() && (u.Opaque != "" || u.Host != "")
}
