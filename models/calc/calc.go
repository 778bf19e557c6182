// Package calc carries out any of the calculations by name, from JSON to JSON.
// The command line and the API both go through it, so that the same input
// gives the same output, byte for byte, whichever way it comes.
package calc

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"tenter/models/assign"
	"tenter/models/counts"
	"tenter/models/film"
	"tenter/models/fit"
	"tenter/models/gauge"
	"tenter/models/schedule"
	"tenter/models/yarn"
)

// calculations are those that Run knows, by name.
var calculations = map[string]func([]byte) ([]byte, error){
	"assign":   via(assign.Calculate),
	"counts":   via(counts.Calculate),
	"film":     via(film.Calculate),
	"fit":      via(fit.Calculate),
	"gauge":    via(gauge.Calculate),
	"schedule": via(schedule.Calculate),
	"yarn":     via(yarn.Calculate),
}

// Names lists the calculations.
func Names() []string {
	names := make([]string, 0, len(calculations))
	for name := range calculations {
		names = append(names, name)
	}
	slices.Sort(names)
	return names
}

// UnknownError says that there is no calculation of that name.
type UnknownError struct{ Name string }

func (e *UnknownError) Error() string {
	return fmt.Sprintf("There is no calculation %q; there are %s.", e.Name, strings.Join(Names(), ", "))
}

// Run carries out the calculation on a JSON document and returns the answer as
// a JSON document that ends with a newline. An error about the input names its
// field; see Field.
func Run(name string, in []byte) ([]byte, error) {
	f, ok := calculations[name]
	if !ok {
		return nil, &UnknownError{name}
	}
	return f(in)
}

// inputError is a document that is no input at all.
type inputError struct{ field, problem string }

func (e *inputError) Error() string     { return e.field + ": " + e.problem }
func (e *inputError) FieldPath() string { return e.field }

func via[I, O any](calculate func(I) (O, error)) func([]byte) ([]byte, error) {
	return func(raw []byte) ([]byte, error) {
		var in I
		if err := decode(raw, &in); err != nil {
			return nil, err
		}
		out, err := calculate(in)
		if err != nil {
			return nil, err
		}
		var b bytes.Buffer
		enc := json.NewEncoder(&b)
		enc.SetEscapeHTML(false)
		if err := enc.Encode(out); err != nil {
			return nil, fmt.Errorf("write answer: %w", err)
		}
		return b.Bytes(), nil
	}
}

// decode reads exactly one document and refuses fields that nobody reads.
func decode(raw []byte, into any) error {
	if !utf8.Valid(raw) { // encoding/json would quietly put other characters there
		return &inputError{"input", "is not UTF-8, as JSON has to be"}
	}
	dec := json.NewDecoder(bytes.NewReader(raw))
	dec.DisallowUnknownFields()
	err := dec.Decode(into)
	var (
		syntax *json.SyntaxError
		typed  *json.UnmarshalTypeError
	)
	switch {
	case err == nil:
		if _, err := dec.Token(); !errors.Is(err, io.EOF) {
			return &inputError{"input", "goes on after the document; give one JSON document"}
		}
		return nil
	case errors.As(err, &syntax):
		return &inputError{"input", fmt.Sprintf("is not JSON: %s at byte %d", syntax.Error(), syntax.Offset)}
	case errors.As(err, &typed):
		return &inputError{orInput(typed.Field), fmt.Sprintf("is a %s; a %s is wanted", typed.Value, typed.Type)}
	case errors.Is(err, io.EOF), errors.Is(err, io.ErrUnexpectedEOF):
		return &inputError{"input", "ends too early; give one whole JSON document"}
	}
	if field, ok := strings.CutPrefix(err.Error(), "json: unknown field "); ok {
		return &inputError{strings.Trim(field, `"`), "is not a field of this calculation; remove it or mend its name"}
	}
	var own interface{ FieldPath() string }
	if errors.As(err, &own) {
		return err
	}
	return &inputError{"input", strings.TrimPrefix(err.Error(), "json: ")}
}

func orInput(field string) string {
	if field == "" {
		return "input"
	}
	return field
}

// Field returns the path of the field that an error of Run is about.
func Field(err error) string {
	var f interface{ FieldPath() string }
	if errors.As(err, &f) {
		return f.FieldPath()
	}
	return "input"
}

// Problem returns what is wrong with that field.
func Problem(err error) string {
	return strings.TrimPrefix(err.Error(), Field(err)+": ")
}
