// Package atomcheck holds a document against what RFC 4287 demands of every
// feed, for tests. It is written from the standard and knows nothing of the
// package that writes feeds; sections are named beside each demand.
package atomcheck

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"mime"
	"net/url"
	"regexp"
	"strings"
	"time"
)

const namespace = "http://www.w3.org/2005/Atom" // 1.2

// Element is one element of the document with what is in it.
type Element struct {
	Name     xml.Name
	Attrs    map[string]string
	Text     string
	Children []*Element
}

// All returns the children of a name, of Atom's namespace only.
func (e *Element) All(name string) []*Element {
	var out []*Element
	for _, c := range e.Children {
		if c.Name.Space == namespace && c.Name.Local == name {
			out = append(out, c)
		}
	}
	return out
}

// One returns the text of the only child of a name.
func (e *Element) One(name string) (string, error) {
	all := e.All(name)
	if len(all) != 1 {
		return "", fmt.Errorf("%s has %d %s elements, not one", e.Name.Local, len(all), name)
	}
	return all[0].Text, nil
}

// Read reads a well-formed document (section 2) into a tree.
func Read(document []byte) (*Element, error) {
	dec := xml.NewDecoder(bytes.NewReader(document))
	var stack []*Element
	var root *Element
	for {
		token, err := dec.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return nil, fmt.Errorf("section 2, not well-formed: %w", err)
		}
		switch x := token.(type) {
		case xml.StartElement:
			e := &Element{Name: x.Name, Attrs: map[string]string{}}
			for _, a := range x.Attr {
				e.Attrs[a.Name.Local] = a.Value
			}
			if len(stack) == 0 {
				root = e
			} else {
				parent := stack[len(stack)-1]
				parent.Children = append(parent.Children, e)
			}
			stack = append(stack, e)
		case xml.EndElement:
			stack = stack[:len(stack)-1]
		case xml.CharData:
			if len(stack) > 0 {
				stack[len(stack)-1].Text += string(x)
			}
		}
	}
	if root == nil {
		return nil, errors.New("section 2, the document is empty")
	}
	return root, nil
}

// Feed checks a whole feed.
func Feed(document []byte) error {
	root, err := Read(document)
	if err != nil {
		return err
	}
	if root.Name.Space != namespace || root.Name.Local != "feed" {
		return fmt.Errorf("section 2, the document element is %s", root.Name.Local)
	}
	if err := head("4.1.1", root); err != nil {
		return err
	}
	if len(links(root, "self")) == 0 {
		return errors.New("section 4.1.1, a feed should have a link to itself")
	}
	ids := map[string]bool{}
	for _, e := range root.All("entry") {
		if err := entry(root, e); err != nil {
			return err
		}
		id, _ := e.One("id")
		if ids[id] {
			return fmt.Errorf("section 4.1.1, two entries with the id %s and the same feed", id)
		}
		ids[id] = true
	}
	return nil
}

func entry(feed, e *Element) error {
	if err := head("4.1.2", e); err != nil {
		return err
	}
	if len(e.All("author")) == 0 && len(feed.All("author")) == 0 {
		return errors.New("section 4.1.2, an entry has no author, nor has its feed")
	}
	for _, name := range []string{"content", "published", "rights", "source", "summary"} {
		if n := len(e.All(name)); n > 1 {
			return fmt.Errorf("section 4.1.2, %d %s elements", n, name)
		}
	}
	if len(e.All("content")) == 0 && len(links(e, "alternate")) == 0 {
		return errors.New("section 4.1.2, an entry has neither content nor a link rel=alternate")
	}
	for _, c := range e.All("content") {
		kind := c.Attrs["type"]
		if (kind == "" || kind == "text" || kind == "html") && len(c.Children) > 0 {
			return errors.New("section 4.1.3.3, text or html content has child elements: it is not escaped")
		}
	}
	return nil
}

// head checks what feeds and entries have in common.
func head(section string, e *Element) error {
	for _, name := range []string{"id", "title", "updated"} {
		if _, err := e.One(name); err != nil {
			return fmt.Errorf("section %s: %w", section, err)
		}
	}
	id, _ := e.One("id")
	if u, err := url.Parse(id); err != nil || !u.IsAbs() {
		return fmt.Errorf("section 4.2.6, the id %q is no absolute IRI", id)
	}
	if title := e.All("title")[0]; title.Attrs["type"] != "xhtml" && len(title.Children) > 0 {
		return errors.New("section 3.1.1, a text title has child elements")
	}
	for _, name := range []string{"updated", "published"} {
		for _, d := range e.All(name) {
			if err := date(d.Text); err != nil {
				return err
			}
		}
	}
	for _, author := range e.All("author") {
		name, err := author.One("name")
		if err != nil || strings.TrimSpace(name) == "" {
			return errors.New("section 3.2.1, an author has no name")
		}
	}
	return checkLinks(section, e)
}

// 3.3: RFC 3339, with an upper-case T, and Z where there is no offset.
var moment = regexp.MustCompile(`^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d+)?(Z|[+-]\d\d:\d\d)$`)

func date(text string) error {
	if !moment.MatchString(text) {
		return fmt.Errorf("section 3.3, %q is not a date", text)
	}
	if _, err := time.Parse(time.RFC3339, text); err != nil {
		return fmt.Errorf("section 3.3: %w", err)
	}
	return nil
}

func links(e *Element, rel string) []*Element {
	var out []*Element
	for _, l := range e.All("link") {
		if l.Attrs["rel"] == rel || rel == "alternate" && l.Attrs["rel"] == "" { // 4.2.7.2
			out = append(out, l)
		}
	}
	return out
}

func checkLinks(section string, e *Element) error {
	for _, l := range e.All("link") {
		if l.Attrs["href"] == "" {
			return errors.New("section 4.2.7.1, a link has no href")
		}
		if kind, given := l.Attrs["type"]; given {
			if _, _, err := mime.ParseMediaType(kind); err != nil {
				return fmt.Errorf("section 4.2.7.3, %q is no media type", kind)
			}
		}
	}
	seen := map[string]bool{}
	for _, l := range links(e, "alternate") {
		key := l.Attrs["type"] + " " + l.Attrs["hreflang"]
		if seen[key] {
			return fmt.Errorf("section %s, two links rel=alternate of one type and language", section)
		}
		seen[key] = true
	}
	return nil
}
