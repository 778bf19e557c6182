// Package letters is how a letter reads: the words, the links below them, the
// same as plain text and as HTML, and what may stand in a header.
package letters

import (
	"fmt"
	"html"
	"strings"
)

// Letter is what somebody is written. Links are whole addresses, or words in
// brackets where a letter is only looked at.
type Letter struct {
	Studio  string
	Subject string
	Words   string // paragraphs with an empty line between them
	Page    string // where the reader finds their things; "": no such line
	Join    string // the personal link; "": no such line
	Until   string // the day on which Join ends, written out
	Stop    string // where letters of this kind are ended; "": they can't be
	Group   string // what is ended there, in words
}

// piece is a paragraph, and what of it is a link.
type piece struct {
	text, link string
	small      bool
}

func (l Letter) pieces() []piece {
	var out []piece
	for _, p := range strings.Split(strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(l.Words), "\n\n") {
		if p = strings.Trim(p, "\n"); p != "" {
			out = append(out, piece{text: p})
		}
	}
	if l.Join != "" {
		until := ""
		if l.Until != "" {
			until = " It works until " + l.Until + "."
		}
		out = append(out, piece{"Your own link, which works once and is meant for nobody else." + until, l.Join, false})
	}
	if l.Page != "" {
		out = append(out, piece{"Your page:", l.Page, false})
	}
	if l.Stop != "" {
		out = append(out, piece{fmt.Sprintf("%s writes to you because you test for them. To get no more e-mail of this kind (%s):", l.Studio, l.Group), l.Stop, true})
	}
	return out
}

// Plain is the letter as text, with lines that end in LF.
func (l Letter) Plain() string {
	var parts []string
	for _, p := range l.pieces() {
		text := p.text
		if p.small {
			text = "-- \n" + text // what follows is a signature, by custom
		}
		if p.link != "" {
			text += "\n" + p.link
		}
		parts = append(parts, text)
	}
	return strings.Join(parts, "\n\n") + "\n"
}

// HTML is the letter as a whole document: what was written, escaped, and
// nothing that is fetched from anywhere.
func (l Letter) HTML() string {
	var b strings.Builder
	fmt.Fprintf(&b, `<!DOCTYPE html>
<html lang="en"><head><meta charset="utf-8"><meta name="color-scheme" content="light dark"><title>%s</title></head>
<body style="margin:0;padding:24px;font:16px/1.5 Georgia,serif"><div style="max-width:36em">
`, html.EscapeString(l.Subject))
	for _, p := range l.pieces() {
		style := ""
		if p.small {
			style = ` style="font-size:13px"`
		}
		fmt.Fprintf(&b, "<p%s>%s", style, strings.ReplaceAll(html.EscapeString(p.text), "\n", "<br>\n"))
		if p.link != "" {
			b.WriteString("<br>\n" + linked(p.link))
		}
		b.WriteString("</p>\n")
	}
	b.WriteString("</div></body></html>\n")
	return b.String()
}

// linked makes a link of an address, and of nothing else.
func linked(link string) string {
	text := html.EscapeString(link)
	if !strings.HasPrefix(link, "https://") && !strings.HasPrefix(link, "http://") {
		return text
	}
	return `<a href="` + text + `">` + text + `</a>`
}
