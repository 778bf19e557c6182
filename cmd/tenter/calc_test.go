package main

import (
	"encoding/json"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// gaugeInput asks for the length of 84 stitches at 14 to 10 cm: 60 cm, by the
// rule of three.
const gaugeInput = `{"gauge":{"stitches":14,"rows":11,"span":10,"unit":"cm"},"items":[{"name":"chest","axis":"stitch","count":84}]}`

func TestCalcIsTheSameByFileInputAndAPI(t *testing.T) {
	folder := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(folder, "gauge.json"), []byte(gaugeInput), 0o600))
	byFile := carryOut(t, command(t, folder, nil, "calc", "gauge", "gauge.json"), "ignored")
	byInput := carryOut(t, command(t, folder, nil, "calc", "gauge"), gaugeInput)
	require.Equal(t, byFile, byInput)
	require.Zero(t, byFile.code, byFile.err)
	require.Empty(t, byFile.err)
	var out struct {
		Items []struct {
			ExpectedCM float64 `json:"expected_cm"`
		}
	}
	require.NoError(t, json.Unmarshal([]byte(byFile.out), &out))
	require.InDelta(t, 60, out.Items[0].ExpectedCM, 1e-9)
	left, err := os.ReadDir(folder)
	require.NoError(t, err)
	require.Len(t, left, 1, "a calculation writes no file and opens no database")

	addDesigner(t, folder, nil)
	s := serveIn(t, folder, nil)
	req, err := http.NewRequest("POST", s.url+"/api/v1/calc/gauge", strings.NewReader(gaugeInput))
	require.NoError(t, err)
	req.Header.Set("Content-Type", "application/json")
	req.Header.Set("Authorization", "Bearer "+s.signIn(t, "odile"))
	res, err := http.DefaultClient.Do(req)
	require.NoError(t, err)
	defer res.Body.Close()
	byAPI, err := io.ReadAll(res.Body)
	require.NoError(t, err)
	require.Equal(t, http.StatusOK, res.StatusCode, "%s", byAPI)
	require.Equal(t, byFile.out, string(byAPI), "byte for byte")
}

// TestCalcRefusals: what is wrong with the input is said in one line that names
// the field, with exit code 2; nothing goes to standard output.
func TestCalcRefusals(t *testing.T) {
	folder := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(folder, "bad.json"), []byte(`{"gauge":`), 0o600))
	for _, row := range []struct {
		name  string
		args  []string
		input string
		code  int
		says  string
	}{
		{"no name", nil, "", exitBadInput, "<name>"},
		{"an unknown calculation", []string{"fortune"}, "{}", exitBadInput, `no calculation "fortune"; there are assign, counts,`},
		{"nothing", []string{"gauge"}, "", exitBadInput, "input: ends too early"},
		{"half a document", []string{"gauge"}, `{"gauge":{"stitches":14,`, exitBadInput, "input: ends too early"},
		{"half a document in a file", []string{"gauge", "bad.json"}, "", exitBadInput, "input: ends too early"},
		{"a file that isn't there", []string{"gauge", "absent.json"}, "", exitFailed, "absent.json"},
		{"no JSON", []string{"gauge"}, "stitches: 14", exitBadInput, "input: is not JSON"},
		{"two documents", []string{"gauge"}, gaugeInput + gaugeInput, exitBadInput, "input: goes on after the document"},
		{"a list", []string{"gauge"}, "[]", exitBadInput, "input: is a array"},
		{"an unknown field", []string{"gauge"}, `{"gage":{}}`, exitBadInput, "gage: is not a field"},
		{"a wrong type", []string{"gauge"}, `{"gauge":{"stitches":"14"}}`, exitBadInput, "gauge.stitches: "},
		{"a number without end", []string{"gauge"}, `{"gauge":{"stitches":1e999}}`, exitBadInput, "gauge.stitches: "},
		{"bytes that are no UTF-8", []string{"gauge"}, strings.Replace(gaugeInput, "chest", "ch\xffst", 1), exitBadInput, "input: is not UTF-8"},
		{"NaN", []string{"gauge"}, `{"gauge":{"stitches":NaN}}`, exitBadInput, "input: is not JSON"},
		{"no stitches at all", []string{"gauge"}, `{"gauge":{"stitches":-1,"rows":11,"span":10,"unit":"cm"}}`, exitBadInput, "gauge.stitches: "},
		{"an axis that there isn't", []string{"gauge"}, strings.Replace(gaugeInput, `"stitch"`, `"slant"`, 1), exitBadInput, "items[0].axis: "},
		{"an expression over nothing", []string{"counts"}, `{"sizes":["S"],"counts":[],"rules":[{"name":"r","kind":"holds","expr":"a = 1"}]}`, exitBadInput, "rules[0].expr: "},
	} {
		t.Run(row.name, func(t *testing.T) {
			o := carryOut(t, command(t, folder, nil, append([]string{"calc"}, row.args...)...), row.input)
			require.Equal(t, row.code, o.code, o.err)
			require.Empty(t, o.out)
			oneLine(t, o.err, row.says)
		})
	}
}

func TestCalcBoundsItsInput(t *testing.T) {
	o := carryOut(t, command(t, t.TempDir(), nil, "calc", "gauge"), strings.Repeat(" ", largestInput+1))
	require.Equal(t, exitBadInput, o.code)
	oneLine(t, o.err, "input: is larger than 64 MiB")
}
