package models

import (
	"fmt"

	"gorm.io/gorm"
)

// listed is a row of a list that a designer replaces whole, in order: one with
// an id keeps what stands on it, one without is new, one that is left out goes.
type listed interface{ listID() string }

func (z Size) listID() string  { return z.ID }
func (q Point) listID() string { return q.ID }

// leftOut returns the rows of before that after leaves out, and refuses ids in
// after that are not of before, or stand there twice. list is the list's name
// in the request and its table's: "sizes"; one is a row's: "size".
func leftOut[T listed](list, one string, before, after []T) ([]T, error) {
	known, kept := map[string]bool{}, map[string]bool{}
	for _, row := range before {
		known[row.listID()] = true
	}
	for i, row := range after {
		id := row.listID()
		if id != "" && (!known[id] || kept[id]) {
			return nil, &Error{Kind: Invalid, Message: "The " + list + " were not changed.", Fields: []FieldProblem{{
				fmt.Sprintf("%s[%d].id", list, i), fmt.Sprintf("is not a %s of this design, or is given twice; leave the id out for a new %s", one, one)}}}
		}
		kept[id] = true
	}
	var out []T
	for _, row := range before {
		if !kept[row.listID()] {
			out = append(out, row)
		}
	}
	return out, nil
}

// freeNames gives the rows of a design's list names that nobody uses: names
// swap places now and then, and the unique index looks at each step.
func (t *tx) freeNames(table, designID string) error {
	if err := t.Table(table).Where("design_id = ?", designID).UpdateColumn("name", gorm.Expr("id")).Error; err != nil {
		return fmt.Errorf("%s: %w", table, err)
	}
	return nil
}
