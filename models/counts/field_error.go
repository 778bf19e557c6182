package counts

import "fmt"

// FieldError says which field of an input is at fault and how to mend it.
// Field is a path such as "rules[2].expr".
type FieldError struct {
	Field   string
	Problem string
}

func (e *FieldError) Error() string { return e.Field + ": " + e.Problem }

// FieldPath returns the path of the field at fault.
func (e *FieldError) FieldPath() string { return e.Field }

// fieldf makes a FieldError for the field at path.
func fieldf(path, format string, args ...any) error {
	return &FieldError{Field: path, Problem: fmt.Sprintf(format, args...)}
}
