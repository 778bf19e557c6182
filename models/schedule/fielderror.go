package schedule

import "fmt"

// FieldError says which field of the input is wrong, and how to mend it.
type FieldError struct {
	Field   string // path in the input document, such as "tasks[2].after"
	Problem string
}

// Error gives "field: problem".
func (e *FieldError) Error() string { return e.Field + ": " + e.Problem }

// FieldPath gives the path of the field at fault.
func (e *FieldError) FieldPath() string { return e.Field }

func fault(field, format string, args ...any) error {
	return &FieldError{Field: field, Problem: fmt.Sprintf(format, args...)}
}
