package handlers

import (
	"reflect"

	"github.com/danielgtaylor/huma/v2"
)

// OptionalNumber is a number in a query that may be missing; 0 is a number too.
type OptionalNumber struct {
	Value float64
	Sent  bool
}

// Schema describes the parameter as a plain number.
func (o OptionalNumber) Schema(r huma.Registry) *huma.Schema {
	return r.Schema(reflect.TypeFor[float64](), true, "")
}

// Receiver is where the parsed number goes.
func (o *OptionalNumber) Receiver() reflect.Value { return reflect.ValueOf(o).Elem().Field(0) }

// OnParamSet is told whether the parameter was sent.
func (o *OptionalNumber) OnParamSet(sent bool, _ any) { o.Sent = sent }
