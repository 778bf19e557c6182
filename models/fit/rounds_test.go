package fit

import (
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

// The synthetic rounds in testdata carry the verdicts of an independent
// implementation of the same model, which between them use every word but
// points_disagree and sheet_cell.
func TestVerdictsOfSyntheticRounds(t *testing.T) {
	files, err := filepath.Glob("testdata/rounds/*.json")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) {
			raw, err := os.ReadFile(file)
			require.NoError(t, err)
			var r struct {
				Input Input
				Words map[string]map[string]string
			}
			require.NoError(t, json.Unmarshal(raw, &r))
			out, err := Calculate(r.Input)
			require.NoError(t, err)
			require.Equal(t, r.Words, words(out))
		})
	}
}

// words gathers all verdicts of an answer.
func words(out Output) map[string]map[string]string {
	w := map[string]map[string]string{
		"fabric": {}, "cells": {}, "testers": {}, "odd_values": {}, "points": {}, "grading": {},
	}
	for _, x := range out.Fabric {
		w["fabric"][string(x.Axis)] = string(x.Verdict)
	}
	for _, x := range out.Cells {
		w["cells"][x.Size+" "+x.Point] = string(x.Verdict)
	}
	for _, x := range out.Testers {
		w["testers"][x.Tester+" "+string(x.Axis)] = string(x.Verdict)
	}
	for _, x := range out.OddValues {
		w["odd_values"][x.Tester+" "+x.Point] = string(x.Verdict) + " " + string(x.Signature)
	}
	for _, x := range out.Points {
		w["points"][x.Point] = string(x.Verdict)
	}
	for _, x := range out.Grading {
		w["grading"][x.Point] = string(x.Verdict)
	}
	return w
}

// The verdicts of the worked examples, numbers and all.
func TestWorkedVerdicts(t *testing.T) {
	for n := 1; n <= 3; n++ {
		w := readWorked(t, n)
		out, err := Calculate(w.Input)
		require.NoError(t, err)
		got, err := json.Marshal(out)
		require.NoError(t, err)
		var want, have map[string]any
		require.NoError(t, json.Unmarshal(w.Expected.Verdicts, &want))
		require.NoError(t, json.Unmarshal(got, &have))
		for list, keys := range map[string][]string{
			"fabric": {"axis"}, "cells": {"size", "point"}, "testers": {"tester", "axis"},
			"odd_values": {"tester", "point"}, "points": {"point"}, "grading": {"point"},
		} {
			mine := keyed(have[list], keys)
			theirs := keyed(want[list], keys)
			require.Len(t, mine, len(theirs), list)
			for key, x := range theirs {
				for field, value := range x {
					if number, ok := value.(float64); ok {
						require.InDelta(t, number, mine[key][field], 0.0011, "example %d, %s %s %s", n, list, key, field)
						continue
					}
					require.Equal(t, value, mine[key][field], "example %d, %s %s %s", n, list, key, field)
				}
			}
		}
	}
}

func keyed(list any, keys []string) map[string]map[string]any {
	out := map[string]map[string]any{}
	for _, x := range list.([]any) {
		entry := x.(map[string]any)
		key := ""
		for _, k := range keys {
			key += entry[k].(string) + " "
		}
		out[key] = entry
	}
	return out
}
