package fit

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/require"
)

// FuzzCalculate looks for inputs that give neither an error that names a field
// nor an answer that JSON can hold, without NaN or infinities.
func FuzzCalculate(f *testing.F) {
	for _, in := range []Input{plainRound(), madeRound{sizes: 2, stitchPoints: 1, rowPoints: 2, testers: 3, faults: 1, nuisances: true}.make(1)} {
		raw, err := json.Marshal(in)
		require.NoError(f, err)
		f.Add(string(raw))
	}
	f.Add(`{}`)
	f.Add(`{"sizes":["S"],"points":[{"id":"p","axis":"row"}],"design_gauge":{"row":20,"over_cm":10},"counts":{"S":{"p":1e-300}},"testers":[]}`)
	f.Fuzz(func(t *testing.T, raw string) {
		var in Input
		if json.Unmarshal([]byte(raw), &in) != nil {
			return
		}
		out, err := Calculate(in)
		if err != nil {
			var field interface{ FieldPath() string }
			require.ErrorAs(t, err, &field)
			require.NotEmpty(t, field.FieldPath())
			return
		}
		_, err = json.Marshal(out)
		require.NoError(t, err)
	})
}
