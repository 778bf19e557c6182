package film_test

import (
	"encoding/json"
	"errors"
	"testing"

	"tenter/models/film"
)

// FuzzDocument: whatever the document, the answer is one that JSON can write
// (no NaN, no infinity) or an error that names its field.
func FuzzDocument(f *testing.F) {
	f.Add([]byte(`{"today":"2026-03-02","hours_per_day":2,"same_day_hours":0.5,"states":[{"name":"cast on","hours":0},{"name":"yoke","hours":6}],"samples":[{"id":"s1","state":"yoke","free_from":"2026-03-02"}],"shots":[{"id":"a","on":"2026-03-06","from":"cast on","to":"yoke"},{"id":"b","on":"2026-03-06","from":"yoke","to":"yoke"}]}`))
	f.Add([]byte(`{"today":"1900-01-01","hours_per_day":0,"states":[{"name":"x","hours":1e-300}],"shots":[{"id":"a","on":"2199-12-31","from":"x","to":"x"},{"id":"b","on":"1900-01-01","from":"x","to":"x"}]}`))
	f.Fuzz(func(t *testing.T, document []byte) {
		var in film.Input
		if json.Unmarshal(document, &in) != nil {
			return
		}
		out, err := film.Calculate(in)
		if err != nil {
			var at *film.FieldError
			if !errors.As(err, &at) || at.Field == "" || at.Problem == "" {
				t.Fatalf("%s gives %v, which names no field", document, err)
			}
			return
		}
		if _, err := json.Marshal(out); err != nil {
			t.Fatalf("%s: %v", document, err)
		}
	})
}
