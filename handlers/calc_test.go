package handlers_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/models"
	"tenter/models/calc"
	"tenter/server/servertest"
)

// TestCalculationIsTheSameEveryWay: what the API answers is what calc.Run
// gives, byte for byte; the command line prints the same.
func TestCalculationIsTheSameEveryWay(t *testing.T) {
	s := servertest.OnSQLite(t)
	tester := s.As("agrimony", models.Tester)
	in := `{"gauge": {"stitches": 14, "rows": 11, "span": 10, "unit": "cm"}, "items": [{"name": "bust", "axis": "stitch", "count": 122}]}`
	want, err := calc.Run("gauge", []byte(in))
	require.NoError(t, err)
	got := tester.Do("POST", "/calc/gauge", in, nil).Want(200)
	require.Equal(t, string(want), string(got.Body))
	require.Contains(t, string(want), "87.142857") // 122 * 10 / 14

	for _, row := range []struct {
		name, calculation, in, field string
		status                       int
	}{
		{"an unknown calculation", "knots", `{}`, "", 404},
		{"not JSON", "gauge", `{"gauge": `, "body.input", 422},
		{"an unknown field", "gauge", strings.Replace(in, `"items"`, `"things"`, 1), "body.things", 422},
		{"a gauge of nothing", "gauge", strings.Replace(in, `"stitches": 14`, `"stitches": 0`, 1), "body.gauge.stitches", 422},
		{"a word for a number", "gauge", strings.Replace(in, `14`, `"many"`, 1), "body.gauge.stitches", 422},
		{"two documents", "gauge", in + in, "body.input", 422},
	} {
		t.Run(row.name, func(t *testing.T) {
			a := tester.Do("POST", "/calc/"+row.calculation, row.in, nil)
			if row.field == "" {
				a.Want(row.status)
				return
			}
			a.Names(row.status, row.field)
		})
	}
	s.Nobody().Do("POST", "/calc/gauge", in, nil).Want(401)
}
