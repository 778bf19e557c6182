package yarn

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/require"
)

// FuzzCalculate looks for inputs that give neither an error that names a field
// nor an answer that JSON can hold.
func FuzzCalculate(f *testing.F) {
	in := worked()
	in.Ball = &Ball{Metres: 120, Grams: 50}
	raw, err := json.Marshal(in)
	require.NoError(f, err)
	f.Add(string(raw))
	f.Add(`{"sizes":["S"],"design_gauge":{"stitch":20,"row":20,"over_cm":10},"total_stitches":{"S":1},"testers":[{"id":"a","size":"S","metres_used":1e6}]}`)
	f.Fuzz(func(t *testing.T, raw string) {
		var in Input
		if json.Unmarshal([]byte(raw), &in) != nil {
			return
		}
		out, err := Calculate(in)
		if err != nil {
			var field interface{ FieldPath() string }
			require.ErrorAs(t, err, &field)
			return
		}
		_, err = json.Marshal(out)
		require.NoError(t, err)
	})
}
