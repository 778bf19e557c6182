package assign

import (
	"encoding/json"
	"testing"
)

// Whatever the document, the answer is a plan that keeps the rules or an error
// that names a field.
func FuzzCalculate(f *testing.F) {
	f.Add([]byte(call))
	f.Add([]byte(`{"sizes": [{"name": "8", "fewest": 2, "wanted": 2, "most": 2}], "applicants": [{"id": "a", "sizes": ["8"]}]}`))
	f.Add([]byte(`{"sizes": [{"name": "8", "most": 9}], "applicants": [{"id": "a"}], "fixed": [{"applicant": "a", "size": "8"}], "probability": 1e-9}`))
	f.Fuzz(func(t *testing.T, document []byte) {
		var in Input
		if json.Unmarshal(document, &in) != nil || len(in.Applicants) > 50 {
			return
		}
		out, err := Calculate(in)
		if err != nil {
			if field, ok := err.(*FieldError); !ok || field.Field == "" || field.Problem == "" {
				t.Fatalf("%v names no field", err)
			}
			return
		}
		if _, err := json.Marshal(out); err != nil { // NaN and Inf have no JSON
			t.Fatal(err)
		}
		if len(out.Assignments)+len(out.Unassigned) != len(in.Applicants) {
			t.Fatalf("%d assigned and %d not, of %d", len(out.Assignments), len(out.Unassigned), len(in.Applicants))
		}
		checkCertificates(t, in, out)
	})
}
