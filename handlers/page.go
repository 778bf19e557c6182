package handlers

import "tenter/models"

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
