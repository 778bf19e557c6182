package handlers_test

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"mime"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"tenter/models"
	"tenter/server/servertest"
)

// pulloverWithReports is the invented design with its applicants and reports
// read from tables.
func pulloverWithReports(t *testing.T, s *servertest.Studio, d *servertest.Client) *servertest.Pullover {
	t.Helper()
	p := s.NewPullover(d, "Exchanged")
	s.OpenCall(d, p)
	sendTable(d, "/calls/"+p.CallID+"/applicants/import?skip_bad=true", servertest.Applicants).Want(200)
	items := d.Get("/calls/" + p.CallID + "/applications?limit=500").Want(200).Map()["items"].([]any)
	reported, err := csv.NewReader(strings.NewReader(servertest.Reports)).ReadAll()
	require.NoError(t, err)
	size := map[string]string{}
	for _, row := range reported[1:] {
		size[strings.ToLower(row[0])] = row[1]
	}
	for _, item := range items {
		m := item.(map[string]any)["person"].(map[string]any)
		if name := size[strings.ToLower(m["handle"].(string))]; name != "" {
			d.Post("/calls/"+p.CallID+"/assignments", map[string]any{"person_id": m["id"], "size_id": p.Sizes[name]})
		}
	}
	sendTable(d, "/calls/"+p.CallID+"/reports/import?skip_bad=true", servertest.Reports).Want(200)
	return p
}

func sendTable(c *servertest.Client, path, text string) *servertest.Answer {
	return c.Do("POST", path, []byte(text), map[string][]string{"Content-Type": {"text/csv"}})
}

// readCSV reads a table with the standard library's reader.
func readCSV(t *testing.T, body []byte) [][]string {
	t.Helper()
	rows, err := csv.NewReader(bytes.NewReader(body)).ReadAll()
	require.NoError(t, err, "%s", body)
	require.NotEmpty(t, rows)
	require.Equal(t, bytes.Count(body, []byte("\r\n")) > 0, true)
	return rows
}

// readSheet reads a spreadsheet with the library that is not what wrote it row
// by row: the same library's reader of whole files.
func readSheet(t *testing.T, body []byte) [][]string {
	t.Helper()
	book, err := excelize.OpenReader(bytes.NewReader(body))
	require.NoError(t, err)
	defer book.Close()
	require.Len(t, book.GetSheetList(), 1)
	rows, err := book.GetRows(book.GetSheetList()[0], excelize.Options{RawCellValue: true})
	require.NoError(t, err)
	return rows
}

// TestEveryTableInBothForms takes each table out twice and compares the cells.
func TestEveryTableInBothForms(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		d := s.Designer()
		p := pulloverWithReports(t, s, d)
		bad := "=HYPERLINK(\"http://evil.example\")"
		d.Post("/designs/"+p.ID+"/remarks", map[string]any{"place": "+1", "body": bad}).Want(201)
		var tables struct {
			Items []struct{ Name, Address string }
		}
		d.Get("/tables").Want(200).Into(&tables)
		require.Greater(t, len(tables.Items), 25)
		full := 0
		for _, one := range tables.Items {
			path := strings.TrimPrefix(strings.ReplaceAll(one.Address, "{design}", p.Slug), "/api/v1")
			a := d.Get(path).Want(200)
			kind, parameters, err := mime.ParseMediaType(a.Header.Get("Content-Type"))
			require.NoError(t, err)
			require.Equal(t, "text/csv", kind)
			require.Equal(t, map[string]string{"charset": "utf-8", "header": "present"}, parameters)
			_, file, err := mime.ParseMediaType(a.Header.Get("Content-Disposition"))
			require.NoError(t, err)
			require.True(t, strings.HasSuffix(file["filename"], one.Name+".csv"), file["filename"])
			text := readCSV(t, a.Body)
			sheet := readSheet(t, d.Get(path+"?as=xlsx").Want(200).Body)
			require.Equal(t, len(text), len(sheet), one.Name)
			if len(text) > 1 {
				full++
			}
			for i, row := range text {
				for j, cell := range row {
					have := ""
					if j < len(sheet[i]) { // empty cells at the end of a row are not there
						have = sheet[i][j]
					}
					sameCell(t, cell, have, fmt.Sprintf("%s row %d column %q", one.Name, i, text[0][j]))
					require.False(t, cell != "" && strings.ContainsRune("=+@\t\r\n＝＋－＠", []rune(cell)[0]), "%s: %q", one.Name, cell)
				}
			}
		}
		require.Greater(t, full, 12, "most tables have to have something to compare")
		require.Contains(t, string(d.Get("/designs/"+p.ID+"/tables/remarks").Want(200).Body), "'+1,\"'=HYPERLINK(")
		d.Get("/designs/" + p.ID + "/tables/nothing").Want(404)
		d.Get("/designs/nothing/tables/counts").Want(404)
		require.Contains(t, string(d.Get("/designs/"+p.ID+"/tables/counts?as=ods").Want(422).Body), "query.as")
	})
}

// sameCell compares texts, and numbers by their value.
func sameCell(t *testing.T, a, b, where string) {
	t.Helper()
	x, errA := strconv.ParseFloat(a, 64)
	y, errB := strconv.ParseFloat(b, 64)
	if errA == nil && errB == nil {
		require.InEpsilon(t, x+1e9, y+1e9, 1e-12, where)
		return
	}
	require.Equal(t, a, b, where)
}

// TestTablesComeBack: the applicants and reports that we write, our own imports
// read, and find that nothing is new.
func TestTablesComeBack(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		d := s.Designer()
		p := pulloverWithReports(t, s, d)
		for _, name := range []string{"applicants", "reports"} {
			body := d.Get("/designs/" + p.ID + "/tables/" + name).Want(200).Body
			var preview struct {
				Rows []struct{ State, Problem, Handle string }
				Good int
				Bad  int
			}
			sendTable(d, "/calls/"+p.CallID+"/"+name+"/preview", string(body)).Want(200).Into(&preview)
			require.Zero(t, preview.Bad, "%s: %+v", name, preview.Rows)
			require.Greater(t, preview.Good, 5, name)
			for _, row := range preview.Rows {
				require.Equal(t, "same", row.State, "%s %s", name, row.Handle)
			}
		}
		// The counts come back through the paste of a block: name first, then a
		// number for each size.
		rows := readCSV(t, d.Get("/designs/"+p.ID+"/tables/counts").Want(200).Body)
		require.Equal(t, []string{"Name", "1", "2", "3", "4", "5", "6", "7", "8", "9", "Unit", "Note"}, rows[0])
		var sheet struct {
			Counts []struct {
				Name   string
				Values []*float64
			}
		}
		d.Get("/versions/" + p.VersionID).Want(200).Into(&sheet)
		require.Len(t, rows, len(sheet.Counts)+1)
		for i, c := range sheet.Counts {
			require.Equal(t, c.Name, rows[i+1][0])
			for j, v := range c.Values {
				want := ""
				if v != nil {
					want = strconv.FormatFloat(*v, 'f', -1, 64)
				}
				require.Equal(t, want, rows[i+1][j+1])
			}
		}
	})
}

// TestTablesKeepSecrets: addresses and bodies are the designer's.
func TestTablesKeepSecrets(t *testing.T) {
	s := servertest.OnSQLite(t)
	w := newWholeTester(t, s)
	maker := s.As("a-maker", models.Maker)
	tester := s.As("a-tester", models.Tester)
	for _, path := range []string{"/designs/" + w.pullover.ID + "/tables/bodies", "/tables/people", "/tables/events", "/tables/letters", "/tables/letter-refusals", "/tables/invitations"} {
		maker.Get(path).Want(403)
		w.designer.Get(path).Want(200)
		tester.Get(path).Want(403)
		s.Nobody().Get(path).Want(401)
	}
	of := "/designs/" + w.pullover.ID + "/tables/"
	require.Contains(t, string(w.designer.Get(of+"applicants").Want(200).Body), itsEmail)
	require.NotContains(t, string(maker.Get(of+"applicants").Want(200).Body), itsEmail)
	for _, table := range models.DesignTables() {
		if table.Designer {
			continue
		}
		body := string(maker.Get(of + table.Name).Want(200).Body)
		require.NotContains(t, body, itsEmail, table.Name)
		require.NotContains(t, body, "93.71", table.Name)
	}
}
