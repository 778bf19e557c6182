package handlers

import (
	"bytes"
	"encoding/json"
	"reflect"

	"github.com/danielgtaylor/huma/v2"
)

// Optional is a field of a change: not sent, sent as null, or sent with a
// value. A plain pointer can't tell the first two apart.
type Optional[T any] struct {
	Sent  bool
	Null  bool
	Value T
}

// UnmarshalJSON is only called when the field was sent.
func (o *Optional[T]) UnmarshalJSON(b []byte) error {
	o.Sent = true
	if bytes.Equal(b, []byte("null")) {
		o.Null = true
		return nil
	}
	return json.Unmarshal(b, &o.Value)
}

// Schema describes the field as its value or null. A named type is written out
// in place: a null beside a reference would need "one of", and its error would
// not name the field within.
func (o Optional[T]) Schema(r huma.Registry) *huma.Schema {
	schema := r.Schema(reflect.TypeFor[T](), true, "")
	if schema.Ref != "" {
		schema = r.SchemaFromRef(schema.Ref)
	}
	s := *schema
	s.Nullable = true
	return &s
}

// change returns what a store's change struct wants: nil for "leave it", else
// a pointer to the new value, itself nil when the field is to be cleared.
func (o Optional[T]) change() **T {
	if !o.Sent {
		return nil
	}
	var v *T
	if !o.Null {
		v = &o.Value
	}
	return &v
}
