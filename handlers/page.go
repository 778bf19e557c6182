package handlers

import (
	"slices"

	"tenter/models"
)

// Paged is what every list takes.
type Paged struct {
	Limit int    `query:"limit" minimum:"1" maximum:"500" default:"50" doc:"How many at most."`
	After string `query:"after" maxLength:"64" doc:"The cursor that the page before gave as next."`
}

func (p Paged) page() models.Page { return models.Page{After: p.After, Limit: p.Limit} }

// listOf is what every list answers.
type listOf[T any] struct {
	Body struct {
		Items []T    `json:"items"`
		Next  string `json:"next,omitempty" doc:"Cursor of the next page; absent on the last one."`
	}
}

func list[R, T any](rows []R, next string, view func(R) T) *listOf[T] {
	out := &listOf[T]{}
	out.Body.Next = next
	out.Body.Items = make([]T, len(rows))
	for i, r := range rows {
		out.Body.Items[i] = view(r)
	}
	return out
}

// one is an answer that carries one revisioned thing.
type one[T any] struct {
	ETag string `header:"ETag"`
	Body T
}

// made is the answer to a creation.
type made[T any] struct {
	ETag     string `header:"ETag"`
	Location string `header:"Location"`
	Body     T
}

// plain is an answer that has no revision.
type plain[T any] struct{ Body T }

// pageOf cuts one page out of a bounded list that was read whole.
func pageOf[R any](rows []R, page models.Page, id func(R) string) ([]R, string) {
	if page.After != "" {
		at := slices.IndexFunc(rows, func(r R) bool { return id(r) == page.After })
		rows = rows[at+1:] // an unknown cursor starts over
	}
	if page.Limit <= 0 || len(rows) <= page.Limit {
		return rows, ""
	}
	return rows[:page.Limit], id(rows[page.Limit-1])
}
