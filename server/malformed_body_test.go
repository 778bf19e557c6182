package server_test

import (
	"encoding/json"
	"maps"
	"slices"
	"strings"

	"github.com/danielgtaylor/huma/v2"
	"github.com/stretchr/testify/require"
)

// raw is JSON as it is to be sent.
type raw string

// MarshalJSON returns it as it is.
func (r raw) MarshalJSON() ([]byte, error) { return []byte(r), nil }

func (m *malformer) text(v any) string {
	b, err := json.Marshal(v)
	require.NoError(m.t, err)
	return string(b)
}

// deepest bounds what is made of a schema that contains itself.
const deepest = 5

// valid makes a value of a schema, as far as the schema tells.
func (m *malformer) valid(s *huma.Schema, depth int) any {
	s = m.resolve(s)
	if len(s.Enum) > 0 {
		return pick(m, s.Enum)
	}
	switch s.Type {
	case "object":
		out := map[string]any{}
		for _, name := range slices.Sorted(maps.Keys(s.Properties)) {
			if slices.Contains(s.Required, name) || depth < deepest && m.IntN(2) == 0 {
				out[name] = m.valid(s.Properties[name], depth+1)
			}
		}
		return out
	case "array":
		out := []any{}
		for range m.IntN(3) {
			out = append(out, m.valid(s.Items, depth+1))
		}
		return out
	case "integer", "number":
		if s.Minimum != nil {
			return *s.Minimum
		}
		return m.IntN(100)
	case "boolean":
		return m.IntN(2) == 0
	case "string":
		return pick(m, []string{"a word", "cm", "2027-03-01", "018f0000-0000-7000-8000-000000000000"})
	}
	return nil
}

// wrong are values of no such type.
var wrong = map[string][]any{
	"object":  {"text", 7, true, []any{}, []any{map[string]any{}}},
	"array":   {"text", 7, false, map[string]any{"0": 1}},
	"string":  {7, true, 1.5, []any{"a"}, map[string]any{"a": "b"}, raw("1e400"), raw("123456789012345678901234567890")},
	"number":  {"7", "NaN", true, []any{1}, map[string]any{}, raw("1e999")},
	"integer": {"7", "NaN", true, 1.5, []any{1}, map[string]any{}, raw("1e999"), raw("99999999999999999999999")},
	"boolean": {"yes", "true", 1, []any{true}, map[string]any{}, raw("0.0")},
}

// broken makes a value of a schema with one thing wrong in it, and says what.
func (m *malformer) broken(s *huma.Schema, depth int) (any, string) {
	s = m.resolve(s)
	if values, known := wrong[s.Type]; known && (m.IntN(4) == 0 || depth >= deepest) {
		return pick(m, values), "another type than " + s.Type
	}
	switch s.Type {
	case "object":
		return m.brokenObject(s, depth)
	case "array":
		if s.MaxItems != nil && *s.MaxItems <= 300 && m.IntN(4) == 0 {
			many := make([]any, *s.MaxItems+1)
			for i := range many {
				many[i] = m.valid(s.Items, deepest)
			}
			return many, "too many items"
		}
		item, how := m.broken(s.Items, depth+1)
		return []any{item}, how
	case "string":
		if len(s.Enum) > 0 {
			return "none-of-these", "a word that is not in the list"
		}
		if s.MaxLength != nil && *s.MaxLength <= 10_000 && m.IntN(2) == 0 {
			return strings.Repeat("w", *s.MaxLength+1), "a text too long"
		}
		return "a\x00b", "a NUL character"
	case "integer", "number":
		if s.Maximum != nil && m.IntN(2) == 0 {
			return *s.Maximum + 1, "a number too large"
		}
		if s.Minimum != nil && m.IntN(2) == 0 {
			return *s.Minimum - 1, "a number too small"
		}
		return raw("1e999"), "a number beyond all"
	case "boolean":
		return pick(m, wrong["boolean"]), "another type than boolean"
	}
	return raw(`"\u0000"`), "a NUL character"
}

func (m *malformer) brokenObject(s *huma.Schema, depth int) (any, string) {
	value, _ := m.valid(s, depth).(map[string]any)
	names := slices.Sorted(maps.Keys(s.Properties))
	switch n := m.IntN(6); {
	case n == 0 && len(s.Required) > 0:
		name := pick(m, s.Required)
		delete(value, name)
		return value, "without " + name
	case n == 1 && s.AdditionalProperties == false || len(names) == 0:
		value[pick(m, []string{"no_such_field", "__proto__", "constructor", "", "id ", strings.Repeat("n", 3000)})] = pick(m, []any{1, "x", nil, map[string]any{"a": []any{}}})
		return value, "an unknown field"
	}
	name := pick(m, names)
	broken, how := m.broken(s.Properties[name], depth+1)
	value[name] = broken
	return value, name + ": " + how
}
