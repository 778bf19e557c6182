package handlers

import (
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/danielgtaylor/huma/v2"
)

// plainJSON is JSON (RFC 8259) as it is read here: nothing but UTF-8, and no
// NUL character in any text, which PostgreSQL can't keep. encoding/json would
// quietly replace what is not UTF-8, and its errors speak to programmers.
func plainJSON(bodies *Bodies) map[string]huma.Format {
	format := huma.DefaultJSONFormat
	format.Unmarshal = bodies.read
	return map[string]huma.Format{"application/json": format, "json": format}
}

func readJSON(raw []byte, into any) error {
	if !utf8.Valid(raw) {
		return errors.New("is not UTF-8, as JSON has to be")
	}
	err := json.Unmarshal(raw, into)
	var (
		syntax *json.SyntaxError
		typed  *json.UnmarshalTypeError
	)
	switch {
	case errors.As(err, &syntax):
		return fmt.Errorf("is not JSON: %s, at byte %d", syntax.Error(), syntax.Offset)
	case errors.As(err, &typed):
		return fmt.Errorf("%s: is beyond every number that can be kept", numberAt(raw, typed.Offset))
	case err != nil:
		return err
	}
	// The body is read twice: first as any, to be held against its description.
	if whole, ok := into.(*any); ok {
		if at, found := nulIn(*whole); found {
			return fmt.Errorf("%s: contains a NUL character; remove it", strings.TrimPrefix(at, "."))
		}
	}
	return nil
}

// nulIn returns the path of a text with a NUL character in a JSON document.
func nulIn(v any) (path string, found bool) {
	switch v := v.(type) {
	case string:
		return "", strings.ContainsRune(v, 0)
	case []any:
		for i, item := range v {
			if at, found := nulIn(item); found {
				return fmt.Sprintf("[%d]%s", i, at), true
			}
		}
	case map[string]any:
		for _, name := range slices.Sorted(maps.Keys(v)) {
			if at, found := nulIn(v[name]); found {
				return "." + name + at, true
			}
		}
	}
	return "", false
}

// numberAt returns the path of the value that ends at a byte of a document.
func numberAt(raw []byte, offset int64) string {
	dec := json.NewDecoder(strings.NewReader(string(raw)))
	dec.UseNumber()
	return strings.TrimPrefix(walkTo(dec, offset), ".")
}

// walkTo reads one value and returns the path inside it of what ends at offset,
// or "" when that is the value itself or lies elsewhere.
func walkTo(dec *json.Decoder, offset int64) string {
	token, err := dec.Token()
	if err != nil || (token != json.Delim('{') && token != json.Delim('[')) {
		return ""
	}
	for i := 0; dec.More(); i++ {
		step := fmt.Sprintf("[%d]", i)
		if token == json.Delim('{') {
			name, err := dec.Token()
			if err != nil {
				return ""
			}
			step = fmt.Sprintf(".%v", name)
		}
		rest := walkTo(dec, offset)
		if dec.InputOffset() >= offset-1 { // the decoder has looked one byte past the value
			return step + rest
		}
	}
	dec.Token() //nolint:errcheck // the closing bracket, of a document that was read before
	return ""
}
