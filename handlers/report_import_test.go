package handlers_test

import (
	"encoding/csv"
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/server/servertest"
)

func csvHeader() http.Header { return http.Header{"Content-Type": {"text/csv"}} }

// wholeCall brings in the forty applicants and assigns the twenty-four who
// reported, each the size that they made.
func wholeCall(t *testing.T, s *servertest.Studio, c *servertest.Client) *servertest.Pullover {
	t.Helper()
	p := s.NewPullover(c, "Saltmarsh pullover")
	s.OpenCall(c, p)
	done := c.Do("POST", "/calls/"+p.CallID+"/applicants/import", servertest.Applicants, csvHeader()).Want(200).Map()
	require.EqualValues(t, 40, done["created"])
	people := map[string]string{}
	for _, item := range c.Get("/calls/" + p.CallID + "/applications?limit=100").Want(200).Map()["items"].([]any) {
		person := item.(map[string]any)["person"].(map[string]any)
		people[person["handle"].(string)] = person["id"].(string)
	}
	require.Len(t, people, 40)
	rows, err := csv.NewReader(strings.NewReader(servertest.Reports)).ReadAll()
	require.NoError(t, err)
	for _, row := range rows[1:] {
		c.Post("/calls/"+p.CallID+"/assignments", map[string]any{"person_id": people[row[0]], "size_id": p.Sizes[row[1]]}).Want(201)
	}
	return p
}

type importDone struct {
	Created, Changed, Same int
	Skipped                []struct {
		Line    int
		Problem string
	}
}

// TestReportsComeInFromATable: 24 rows, once; a second time nothing changes.
func TestReportsComeInFromATable(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		c := s.Designer()
		p := wholeCall(t, s, c)
		path := "/calls/" + p.CallID + "/reports/"
		preview := c.Do("POST", path+"preview", servertest.Reports, csvHeader()).Want(200).Map()
		require.EqualValues(t, 24, preview["good"])
		require.EqualValues(t, 0, preview["bad"])
		require.Equal(t, "upper arm", preview["mapping"].(map[string]any)["point:upper arm"])
		require.Empty(t, c.Get("/designs/" + p.ID + "/comparison").Want(200).Map()["rows"], "a preview wrote something")

		var done importDone
		c.Do("POST", path+"import", servertest.Reports, csvHeader()).Want(200).Into(&done)
		require.Equal(t, importDone{Created: 24, Skipped: done.Skipped}, done)
		c.Do("POST", path+"import", servertest.Reports, csvHeader()).Want(200).Into(&done)
		require.Equal(t, 24, done.Same)
		require.Zero(t, done.Created+done.Changed)

		var got struct {
			Rows []struct {
				Handle string
				Yarn   struct {
					Value float64
					Unit  string
				}
				Swatch struct{ Stitches, Rows, Span float64 }
				Cells  []comparisonCell
			}
		}
		c.Get("/designs/" + p.ID + "/comparison").Want(200).Into(&got)
		require.Len(t, got.Rows, 24)
		measured := 0
		for _, r := range got.Rows {
			for _, cell := range r.Cells {
				if cell.MeasuredCM != nil {
					measured++
				}
			}
			switch r.Handle {
			case "yarrow": // made 9 over 4 in; hem 32.25 in is half of what it should be
				require.InDelta(t, 4, r.Swatch.Span, 0)
				hem := cell(t, r.Cells, "hem")
				require.Equal(t, "half", hem.Warnings[0].Kind)
			case "teasel": // bust 54 cm in a size of 136
				require.NotEmpty(t, cell(t, r.Cells, "bust").Warnings)
			case "figwort":
				require.Nil(t, cell(t, r.Cells, "body length").MeasuredCM, "an empty cell is not a measurement")
			}
		}
		// 24 rows of 8 points, less the empty cells of the file.
		require.Equal(t, 24*8-strings.Count(emptyPoints(t), "x"), measured)

		changed := strings.Replace(servertest.Reports, "gorse,7,13,11,10 cm,154.5", "gorse,7,13,11,10 cm,155.5", 1)
		c.Do("POST", path+"import", changed, csvHeader()).Want(200).Into(&done)
		require.Equal(t, 1, done.Changed)
		require.Equal(t, 23, done.Same)
	})
}

// emptyPoints marks each empty cell of a point in the file with an x.
func emptyPoints(t *testing.T) string {
	t.Helper()
	rows, err := csv.NewReader(strings.NewReader(servertest.Reports)).ReadAll()
	require.NoError(t, err)
	marks := ""
	for _, row := range rows[1:] {
		for _, cell := range row[5:13] {
			if cell == "" {
				marks += "x"
			}
		}
	}
	return marks
}

func TestBadReportRowsAreNamedAndNothingIsWritten(t *testing.T) {
	s := servertest.OnSQLite(t)
	c := s.Designer()
	p := wholeCall(t, s, c)
	path := "/calls/" + p.CallID + "/reports/import"
	header := strings.SplitAfterN(servertest.Reports, "\n", 2)[0]
	for _, row := range []struct{ name, line, says string }{
		{"a tester without a size", "willow,3,14,11,10 cm,105,,,,,,,,cm,,", "has no size in this call"},
		{"another size than assigned", "gorse,6,13,11,10 cm,154,,,,,,,,cm,,", "was assigned size 7"},
		{"a word for a length", "gorse,7,13,11,10 cm,wide,,,,,,,,cm,,", "bust"},
		{"a bust of four metres", "gorse,7,13,11,10 cm,400,,,,,,,,cm,,", "300"},
		{"an unknown unit", "gorse,7,13,11,10 cm,154,,,,,,,,ell,,", "Unit"},
		{"a swatch over nothing", "gorse,7,13,11,,154,,,,,,,,cm,,", "Over"},
		{"a swatch of a word", "gorse,7,many,11,10 cm,154,,,,,,,,cm,,", "Stitches"},
		{"not a number for yarn", "gorse,7,13,11,10 cm,154,,,,,,,,cm,NaN,", "Yarn used"},
		{"too few cells", "gorse,7,13", "cells"},
	} {
		t.Run(row.name, func(t *testing.T) {
			good := "vetch,1,14.5,9.5,10 cm,83,,,,,,,,cm,,\n"
			a := c.Do("POST", path, header+good+row.line+"\n", csvHeader()).Names(422, "body.line[3]")
			require.Contains(t, string(a.Body), row.says)
			require.Empty(t, c.Get("/designs/" + p.ID + "/comparison").Want(200).Map()["rows"])
		})
	}
	c.Do("POST", path, strings.Replace(servertest.Reports, "Handle,", "Who,", 1), csvHeader()).Names(422, "query.map.handle")
	twice := header + "vetch,1,14.5,9.5,10 cm,83,,,,,,,,cm,,\nvetch,1,14.5,9.5,10 cm,84,,,,,,,,cm,,\n"
	c.Do("POST", path, twice, csvHeader()).Names(422, "body.line[3]")
	var done importDone
	c.Do("POST", path+"?skip_bad=true", twice, csvHeader()).Want(200).Into(&done)
	require.Equal(t, 1, done.Created)
	require.Len(t, done.Skipped, 1)
}
