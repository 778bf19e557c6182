package assign

import "fmt"

// FieldError says which field of an input is at fault and how to mend it.
type FieldError struct {
	Field   string // path in the document, such as applicants[3].sizes[1]
	Problem string
}

// Error gives "field: problem".
func (e *FieldError) Error() string { return e.Field + ": " + e.Problem }

// FieldPath gives the path of the field at fault.
func (e *FieldError) FieldPath() string { return e.Field }

// faulty builds a FieldError.
func faulty(field, format string, values ...any) error {
	return &FieldError{Field: field, Problem: fmt.Sprintf(format, values...)}
}
