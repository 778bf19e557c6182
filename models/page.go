package models

// Page asks for one page of a list: what comes after a cursor, and how many.
type Page struct {
	After string // the last id of the page before; "" for the first page
	Limit int    // 0 for the usual number
}

// The usual and the largest length of one page.
const (
	usualPage   = 50
	largestPage = 500
)

func (p Page) limit() int {
	switch {
	case p.Limit <= 0:
		return usualPage
	case p.Limit > largestPage:
		return largestPage
	}
	return p.Limit
}

// cut shortens rows, which were asked for with one more than the limit, to the
// page and returns the cursor of the next one, "" at the end.
func cut[T any](rows []T, page Page, id func(T) string) ([]T, string) {
	n := page.limit()
	if len(rows) <= n {
		return rows, ""
	}
	return rows[:n], id(rows[n-1])
}
