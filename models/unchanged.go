package models

import (
	"reflect"
	"time"
)

// unchanged tells whether a change leaves a thing as it was. Then nothing is
// written: its revision and the log stay as they are, nobody's screen is told,
// and whoever else has read it can still write.
func unchanged[T any](before, after *T) bool {
	return alike(reflect.ValueOf(before), reflect.ValueOf(after))
}

// alike compares two values of one type as they are kept: a moment is the same
// in any zone, and no list is the same as an empty one.
func alike(a, b reflect.Value) bool {
	if at, is := timeIn(a); is {
		other, _ := timeIn(b)
		return at.Equal(other)
	}
	switch a.Kind() {
	case reflect.Pointer:
		if a.IsNil() || b.IsNil() {
			return a.IsNil() == b.IsNil()
		}
		return alike(a.Elem(), b.Elem())
	case reflect.Struct:
		for i := range a.NumField() {
			if !alike(a.Field(i), b.Field(i)) {
				return false
			}
		}
		return true
	case reflect.Slice:
		if a.Len() != b.Len() {
			return false
		}
		for i := range a.Len() {
			if !alike(a.Index(i), b.Index(i)) {
				return false
			}
		}
		return true
	case reflect.Map:
		return a.Len() == 0 && b.Len() == 0 || a.CanInterface() && reflect.DeepEqual(a.Interface(), b.Interface())
	}
	return a.Equal(b)
}

func timeIn(v reflect.Value) (time.Time, bool) {
	if !v.CanInterface() {
		return time.Time{}, false
	}
	at, is := v.Interface().(time.Time)
	return at, is
}
