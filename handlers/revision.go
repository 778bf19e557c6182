package handlers

import (
	"strconv"
	"strings"
)

// Precondition is the precondition of a change (RFC 9110, section 13.1.1). Our
// entity tags are the revision in quotes; a list is allowed, and "*" is any.
type Precondition struct {
	IfMatch string `header:"If-Match" maxLength:"400" doc:"The revision that was read, in quotes, as the ETag gave it."`
}

// revision returns the revision that the request names, nil for none. With "*"
// or a list it is the current one when that is among them.
func (m Precondition) revision(current func() (int, error)) (*int, error) {
	value := strings.TrimSpace(m.IfMatch)
	switch {
	case value == "":
		return nil, nil
	case value == "*":
		have, err := current()
		return &have, err
	}
	tags := strings.Split(value, ",")
	if len(tags) == 1 {
		return revisionOf(tags[0])
	}
	have, err := current()
	if err != nil {
		return nil, err
	}
	for _, tag := range tags {
		if n, err := revisionOf(tag); err == nil && *n == have {
			return n, nil
		}
	}
	return revisionOf(tags[0])
}

func revisionOf(tag string) (*int, error) {
	// A weak tag never matches strongly, and no tag of ours is weak: an
	// unreadable tag is a revision that never was.
	tag = strings.TrimSpace(tag)
	n, err := strconv.Atoi(strings.Trim(tag, `"`))
	if err != nil || etag(n) != tag { // tags are compared letter by letter
		n = -1
	}
	return &n, nil
}

// etag is the entity tag of a revision.
func etag(revision int) string { return `"` + strconv.Itoa(revision) + `"` }
