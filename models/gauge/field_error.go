package gauge

import "fmt"

// FieldError names the input field at fault, as a path like "items[2].count",
// and how to mend it.
type FieldError struct {
	Field   string
	Problem string
}

// Error returns "field: problem".
func (e *FieldError) Error() string { return e.Field + ": " + e.Problem }

// FieldPath returns the path of the field at fault.
func (e *FieldError) FieldPath() string { return e.Field }

// Wrongf makes a FieldError.
func Wrongf(field, format string, args ...any) error {
	return &FieldError{Field: field, Problem: fmt.Sprintf(format, args...)}
}

// Under joins a field to the path that it stands under: Under("own", "span")
// is "own.span", Under("", "span") is "span".
func Under(path, field string) string {
	if path == "" {
		return field
	}
	return path + "." + field
}
