package models

import "github.com/google/uuid"

// NewID returns a UUIDv7 (RFC 9562): opaque, and sortable by when it was made.
func NewID() string { return uuid.Must(uuid.NewV7()).String() }

func isID(s string) bool {
	_, err := uuid.Parse(s)
	return err == nil && len(s) == 36
}
