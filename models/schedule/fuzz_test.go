package schedule_test

import (
	"encoding/json"
	"errors"
	"testing"

	"tenter/models/schedule"
)

// FuzzDocument: whatever the document, the answer is one that JSON can write
// (no NaN, no infinity) or an error that names its field.
func FuzzDocument(f *testing.F) {
	seed, err := json.Marshal(example())
	if err != nil {
		f.Fatal(err)
	}
	f.Add(seed)
	f.Add([]byte(`{"today":"2199-12-31","tasks":[{"id":"a","days":[0,0,1e-300],"on":"2190-01-01"},{"id":"b","days":[1,1,1],"after":["a","a"],"due":"2190-01-01"}]}`))
	f.Add([]byte(`{"today":"1900-01-01","people":[{"id":"p","days":["sun"],"hours_per_day":0.05}],"tasks":[{"id":"a","who":"p","hours":[0,1e-9,25],"due":"1900-01-02"}]}`))
	f.Fuzz(func(t *testing.T, document []byte) {
		var in schedule.Input
		if json.Unmarshal(document, &in) != nil {
			return
		}
		if in.Draws == 0 || in.Draws > 20 {
			in.Draws = 20
		}
		out, err := schedule.Calculate(in)
		if err != nil {
			var at *schedule.FieldError
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
