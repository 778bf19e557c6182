package handlers

import (
	"encoding/json"
	"fmt"
	"maps"
	"net/http"
	"reflect"
	"slices"
	"strings"

	"github.com/danielgtaylor/huma/v2"
)

// Bodies reads what requests bring. It knows the bodies of changes (PATCH), in
// which a field that is not sent stays as it is and null clears, as in a merge
// patch (RFC 7396): an optional text becomes the empty text, which the store
// refuses where there has to be one; an Optional reads null by itself; and for
// anything else null is refused, since a plain pointer could not tell it from a
// field that was not sent.
type Bodies struct{ changes map[reflect.Type]nulls }

// NewBodies returns a reader that knows no change yet; Register tells it.
func NewBodies() *Bodies { return &Bodies{map[reflect.Type]nulls{}} }

// nulls are, by the names of a change's fields, the indexes of those of which
// null means something that the field can't read by itself.
type nulls map[string]nullField

type nullField struct {
	index  []int
	clears bool // else it is refused
}

// learn keeps what null means in the body of a change.
func (b *Bodies) learn(op huma.Operation, input reflect.Type) nulls {
	body, found := input.FieldByName("Body")
	if op.Method != http.MethodPatch || !found || body.Type.Kind() != reflect.Struct {
		return nil
	}
	b.changes[body.Type] = nullsOf(body.Type)
	return b.changes[body.Type]
}

func nullsOf(body reflect.Type) nulls {
	out := nulls{}
	for _, f := range reflect.VisibleFields(body) {
		if f.Anonymous {
			continue // its fields come by themselves
		}
		name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
		if _, byItself := reflect.New(f.Type).Interface().(json.Unmarshaler); byItself {
			continue
		}
		text := f.Type.Kind() == reflect.Pointer && f.Type.Elem().Kind() == reflect.String
		out[name] = nullField{f.Index, text && f.Tag.Get("enum") == ""}
	}
	return out
}

// describe marks in the API's description which fields of a change null clears.
func (n nulls) describe(api huma.API, op huma.Operation) {
	if n == nil {
		return
	}
	schema := api.OpenAPI().Paths[op.Path].Patch.RequestBody.Content["application/json"].Schema
	if schema.Ref != "" {
		schema = api.OpenAPI().Components.Schemas.SchemaFromRef(schema.Ref)
	}
	for name, f := range n {
		if f.clears {
			schema.Properties[name].Nullable = true
		}
	}
}

// read reads a body as JSON, and of a change what its nulls mean.
func (b *Bodies) read(raw []byte, into any) error {
	if err := readJSON(raw, into); err != nil {
		return err
	}
	body := reflect.ValueOf(into).Elem()
	if fields, change := b.changes[body.Type()]; change {
		return fields.settle(raw, body)
	}
	return nil
}

func (n nulls) settle(raw []byte, body reflect.Value) error {
	var sent map[string]*json.RawMessage // nil for null
	if err := json.Unmarshal(raw, &sent); err != nil {
		return fmt.Errorf("is not a JSON object: %w", err)
	}
	for _, name := range slices.Sorted(maps.Keys(sent)) {
		f, known := n.field(name)
		switch {
		case sent[name] != nil || !known:
		case f.clears:
			field := body.FieldByIndex(f.index)
			field.Set(reflect.New(field.Type().Elem()))
		default:
			return fmt.Errorf("%s: is null, and this can't be cleared; leave it out to keep it as it is", name)
		}
	}
	return nil
}

// field finds a field by its name, in whatever case, as encoding/json does.
func (n nulls) field(name string) (nullField, bool) {
	if f, known := n[name]; known {
		return f, true
	}
	for own, f := range n {
		if strings.EqualFold(own, name) {
			return f, true
		}
	}
	return nullField{}, false
}
