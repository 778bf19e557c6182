package models

import (
	"errors"
	"fmt"
	"strings"
	"time"

	"tenter/models/letters"
)

// Kind is the closed list of ways in which a request can fail. One table in
// handlers turns a kind into an HTTP status.
type Kind string

// The kinds of failure.
const (
	Invalid      Kind = "invalid"       // a value is wrong; Fields say which and how to mend it
	Conflict     Kind = "conflict"      // right in itself, but not as things stand
	Stale        Kind = "stale"         // somebody else has changed it since it was read
	NeedRevision Kind = "need revision" // a change to a shared thing that doesn't say which revision it read
	NotFound     Kind = "not found"     // absent, or not for this person's eyes
	Forbidden    Kind = "forbidden"     // this role may not do this
	Unsigned     Kind = "unsigned"      // nobody is signed in, or the sign-in is over
	TooMany      Kind = "too many"      // tried too often
	TooLarge     Kind = "too large"     // more bytes than are taken
	Unavailable  Kind = "unavailable"   // not now; later may do
	Full         Kind = "full"          // the server has no room to write; reading goes on
)

// FieldProblem names one field at fault and how to mend it. Field is a path
// in the request, like "gauge.span" or "sizes[3].name".
type FieldProblem struct {
	Field   string
	Problem string
}

// Error is a failure that the person who asked is told about. Anything else
// that goes wrong is internal: logged, never shown.
type Error struct {
	Kind    Kind
	Message string
	Fields  []FieldProblem
	Wait    time.Duration // of TooMany: how long until it is worth trying again; 0: not known
}

func (e *Error) Error() string {
	if len(e.Fields) == 0 {
		return e.Message
	}
	parts := make([]string, len(e.Fields))
	for i, f := range e.Fields {
		parts[i] = f.Field + ": " + f.Problem
	}
	return strings.Join(parts, "; ")
}

// KindOf returns the kind of err, or "" when it is internal.
func KindOf(err error) Kind {
	var e *Error
	if errors.As(err, &e) {
		return e.Kind
	}
	return ""
}

func failf(kind Kind, format string, args ...any) error {
	return &Error{Kind: kind, Message: fmt.Sprintf(format, args...)}
}

func notFound(what string) error {
	return failf(NotFound, "There is no such %s, or it is not yours to see.", what)
}

func staleError(what string, have int) error {
	return failf(Stale, "Somebody has changed this %s since you read it; it is at revision %d now. Read it again and repeat your change: nothing was overwritten.", what, have)
}

// problems gathers everything wrong with an input, so that all of it is told
// at once.
type problems struct{ fields []FieldProblem }

func (p *problems) addf(field, format string, args ...any) {
	p.fields = append(p.fields, FieldProblem{field, fmt.Sprintf(format, args...)})
}

func (p *problems) err() error {
	if len(p.fields) == 0 {
		return nil
	}
	return &Error{Kind: Invalid, Message: "Something in this can't be taken as it is; nothing was changed.", Fields: p.fields}
}

// text checks a required or optional text against its bound in characters.
func (p *problems) text(field, value string, required bool, most int) {
	switch n := len([]rune(value)); {
	case required && strings.TrimSpace(value) == "":
		p.addf(field, "is empty; write something here")
	case n > most:
		p.addf(field, "has %d characters; keep it to %d", n, most)
	case strings.ContainsRune(value, 0):
		p.addf(field, "contains a NUL character; remove it")
	}
}

// line checks a text that may stand in the header of a letter, where a line
// break would begin another header.
func (p *problems) line(field, value string, required bool, most int) {
	before := len(p.fields)
	p.text(field, value, required, most)
	if err := letters.Line("it", value, most); err != nil && len(p.fields) == before {
		p.addf(field, "holds a line break or another character that is not seen; write it on one line")
	}
}

// oneOf checks a value against a short closed list.
func (p *problems) oneOf(field, value string, allowed ...string) {
	for _, a := range allowed {
		if value == a {
			return
		}
	}
	p.addf(field, "is not one of %s", strings.Join(allowed, ", "))
}
