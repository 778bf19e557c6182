package handlers_test

import (
	"fmt"
	"net/http"
	"net/url"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/text/encoding/unicode"

	"tenter/models"
	"tenter/server/servertest"
)

var asCSV = http.Header{"Content-Type": {"text/csv"}}

func (r *round) preview(file, query string) *servertest.Answer {
	r.T.Helper()
	return r.c.Do("POST", "/calls/"+r.call+"/applicants/preview"+query, file, asCSV)
}

func (r *round) bring(file, query string) *servertest.Answer {
	r.T.Helper()
	return r.c.Do("POST", "/calls/"+r.call+"/applicants/import"+query, file, asCSV)
}

// applicants is an invented sign-up form's export: twelve rows, one of them
// with a line break in a cell.
func applicants(t *testing.T) string {
	t.Helper()
	b, err := os.ReadFile("testdata/applicants.csv")
	require.NoError(t, err)
	return string(b)
}

type imported struct {
	Created, Changed, Same int
	Skipped                []struct {
		Line    int
		Problem string
	}
}

func (r *round) brought(file, query string) imported {
	r.T.Helper()
	var out imported
	r.bring(file, query).Want(200).Into(&out)
	return out
}

// applied lists the call's applications by handle.
func (r *round) applied() map[string]map[string]any {
	r.T.Helper()
	out := map[string]map[string]any{}
	for _, item := range r.c.Get("/calls/" + r.call + "/applications?limit=500").Want(200).Map()["items"].([]any) {
		m := item.(map[string]any)
		out[m["person"].(map[string]any)["handle"].(string)] = m
	}
	return out
}

func TestTableOfApplicantsIsPreviewedImportedAndImportedAgain(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		r := newRound(t, s)
		known := r.tester("quillfeather") // on file in other capitals, without an address
		file := applicants(t)

		p := r.preview(file, "").Want(200).Map()
		require.InDelta(t, 12, p["good"], 0)
		require.InDelta(t, 0, p["bad"], 0)
		require.Equal(t, map[string]any{"applied_at": "Timestamp", "handle": "Handle", "email": "E-mail", "sizes": "Sizes you would make (best first)",
			"accepted": "Tests accepted so far", "finished": "Tests finished so far", "unit": "Units", "terms": "Terms", "remarks": "Remarks"}, p["mapping"])
		require.Len(t, p["columns"], 9)
		row := p["rows"].([]any)[2].(map[string]any)
		require.Equal(t, map[string]any{"line": 4., "handle": "mossgrave", "email": "mossgrave@testers.example", "sizes": []any{"2", "1", "3"}, "accepted": 3., "finished": 3.,
			"unit": "cm", "terms": "uk", "remarks": `likes linen, "scratchy" is fine`, "applied_at": "2027-01-18T12:02:00Z", "state": "new"}, row)
		require.InDelta(t, 10, p["rows"].([]any)[7].(map[string]any)["line"], 0, "the row before it has two lines")
		require.Empty(t, r.applied(), "a preview writes nothing")
		require.Len(t, r.c.Get("/people").Map()["items"], 2)

		require.Equal(t, imported{Created: 12, Skipped: []struct {
			Line    int
			Problem string
		}{}}, r.brought(file, ""))
		got := r.applied()
		require.Len(t, got, 12)
		require.Equal(t, known.Person.ID, got["quillfeather"]["person"].(map[string]any)["id"])
		require.Equal(t, "cm", got["quillfeather"]["person"].(map[string]any)["unit"], "what is on file stays")
		require.Equal(t, "first row\nsecond row", got["larchcomb"]["remarks"])
		require.Equal(t, []any{r.size["3"], r.size["4"], r.size["2"]}, got["dimity"]["sizes"])
		require.Equal(t, "2027-01-20T11:11:00Z", got["dimity"]["applied_at"])
		require.Equal(t, "in", got["dimity"]["person"].(map[string]any)["unit"])
		events := len(r.c.Get("/designs/" + r.design + "/history?limit=500").Map()["items"].([]any))

		again := r.brought(file, "")
		require.Equal(t, []int{0, 0, 12}, []int{again.Created, again.Changed, again.Same})
		require.Equal(t, got, r.applied(), "the second time changes nothing, not even a revision")
		require.Len(t, r.c.Get("/designs/" + r.design + "/history?limit=500").Map()["items"], events)
		for _, row := range r.preview(file, "").Map()["rows"].([]any) {
			require.Equal(t, "same", row.(map[string]any)["state"])
		}

		changed := strings.Replace(strings.Replace(file, "1 / 2,6,5", "2 / 4,7,6", 1), "left-handed", "both hands", 1)
		states := map[string]int{}
		for _, row := range r.preview(changed, "").Map()["rows"].([]any) {
			states[row.(map[string]any)["state"].(string)]++
		}
		require.Equal(t, map[string]int{"changed": 2, "same": 10}, states)
		third := r.brought(changed, "")
		require.Equal(t, []int{0, 2, 10}, []int{third.Created, third.Changed, third.Same})
		now := r.applied()
		require.Equal(t, []any{r.size["2"], r.size["4"]}, now["pebblewick"]["sizes"])
		require.InDelta(t, 7, now["pebblewick"]["accepted"], 0)
		require.InDelta(t, 2, now["pebblewick"]["revision"], 0)
		require.Equal(t, got["pebblewick"]["id"], now["pebblewick"]["id"])
		require.Equal(t, "both hands", now["windlestraw"]["remarks"])
	})
}

func TestSizesOfOneCell(t *testing.T) {
	s := servertest.OnSQLite(t)
	r := newRound(t, s)
	d := r.c.Put("/designs/"+r.design+"/sizes", 3, map[string]any{"sizes": []map[string]any{{"id": r.size["1"], "name": "XS"}, {"id": r.size["2"], "name": "S/M"}, {"id": r.size["3"], "name": "2X Long"}, {"id": r.size["4"], "name": "4"}}})
	d.Want(200)
	for cell, want := range map[string][]any{
		"XS":                  {"XS"},
		"xs / 4":              {"XS", "4"},
		"4 / XS / S/M":        {"4", "XS", "S/M"},
		"4/xs":                {"4", "XS"},
		"S/M":                 {"S/M"},
		"s / m":               {"S/M"},
		`"4, XS,2x  long"`:    {"4", "XS", "2X Long"},
		"4; XS ;S/M":          {"4", "XS", "S/M"},
		"\"4\nXS\"":           {"4", "XS"},
		" 2XLONG / 4 ":        {"2X Long", "4"},
		`"4 / XS, S/M;"`:      {"4", "XS", "S/M"},
		"4 / / XS":            {"4", "XS"},
		"4 / 5":               nil,
		"":                    nil,
		" / ":                 nil,
		"4 / XS / 4":          nil,
		"XXXXXXXXXXXXXXXXXXS": nil,
	} {
		t.Run(cell, func(t *testing.T) {
			row := r.preview("Handle,Sizes,Notes\npebblewick,"+cell+",x\n", "").Want(200).Map()["rows"].([]any)[0].(map[string]any)
			if want == nil {
				require.Contains(t, row["problem"], `"Sizes" `)
				return
			}
			require.Nil(t, row["problem"])
			require.Equal(t, want, row["sizes"])
		})
	}
}

func TestBadRowsAreNamedWithLineColumnAndMend(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		r := newRound(t, s)
		r.c.Post("/people", map[string]any{"handle": "ferrule", "email": "ferrule@testers.example", "roles": []string{"tester"}}).Want(201)
		file := strings.Join([]string{
			"Timestamp,Handle,E-mail,Sizes,Tests accepted so far,Tests finished so far,Units,Terms,Remarks",
			"2027-01-18 07:45,pebblewick,pebblewick@testers.example,1,1,1,cm,US,fine",     // 2
			"2027-01-18 07:45,mossgrave,mossgrave@testers.example,7,1,1,cm,US,",           // 3 no such size
			"2027-01-18 07:45,,dimity@testers.example,1,1,1,cm,US,",                       // 4 no handle
			"2027-01-18 07:45,hobnail,hobnail at home,1,1,1,cm,US,",                       // 5 no address
			"2027-01-18 07:45,larchcomb,,1,two,1,cm,US,",                                  // 6 no number
			"2027-01-18 07:45,osierbed,,1,1,2,cm,US,",                                     // 7 more finished than accepted
			"2027-01-18 07:45,tansyloaf,,1,1,1,mm,AU,",                                    // 8 unit and terms
			"18/01/27,fallowmere,,1,1,1,cm,US,",                                           // 9 no time
			"2027-01-18 07:45,thimblerigg,,1,1,1,cm,US,no wool, please",                   // 10 one cell too many
			"2027-01-18 07:45,Pebblewick,,2,1,1,cm,US,",                                   // 11 the same person
			"2027-01-18 07:45,ferrule,other@testers.example,1,1,1,cm,US,",                 // 12 another address
			"2027-01-18 07:45,copperkettle,Ferrule@testers.example,1,1,1,cm,US,",          // 13 somebody else's address
			"2027-01-18 07:45,windlestraw,pebblewick@testers.example,1,1,1,cm,US,",        // 14 an address of another row
			"2027-01-18 07:45,designer,,1,1,1,cm,US,",                                     // 15 not a tester
			"2027-01-18 07:45,quillfeather,quillfeather@testers.example,2 / 1,,,in,UK,ok", // 16
		}, "\r\n")
		want := map[int]string{3: `"Sizes" names size "7", which this design doesn't have; its sizes are 1, 2, 3, 4`, 4: `"Handle" is empty`, 5: `"E-mail" is not an e-mail address`,
			6: `"Tests accepted so far" is "two"; write a whole number`, 7: `"Tests finished so far" is 2 of 1 tests accepted`, 8: `"Units" is "mm"; write cm or in, or leave it empty; "Terms" is "AU"; write US or UK`,
			9: `"Timestamp" is "18/01/27"; write it like 2027-02-01 08:00`, 10: "The row has 10 cells where the header has 9", 11: `"Handle" stands in line 2 already`,
			12: `"E-mail" is not the address of the ferrule on file`, 13: `"E-mail" is the address of ferrule`, 14: `"E-mail" is the address of pebblewick`, 15: `"Handle" is designer, who is not a tester`}

		p := r.preview(file, "").Want(200).Map()
		require.Equal(t, []any{2., 13.}, []any{p["good"], p["bad"]})
		for _, item := range p["rows"].([]any) {
			row := item.(map[string]any)
			line := int(row["line"].(float64))
			if want[line] == "" {
				require.Nil(t, row["problem"], "line %d", line)
				require.Equal(t, "new", row["state"])
				continue
			}
			require.Contains(t, row["problem"], want[line], "line %d", line)
			require.Nil(t, row["state"], "line %d", line)
		}

		refused := r.bring(file, "").Names(422, "body.line[3]")
		refused.Names(422, "body.line[15]")
		require.Contains(t, string(refused.Body), "13 of 15 rows")
		require.Empty(t, r.applied(), "all or nothing")
		require.Len(t, r.c.Get("/people").Map()["items"], 2)

		got := r.brought(file, "?skip_bad=true")
		require.Equal(t, []int{2, 0, 0, 13}, []int{got.Created, got.Changed, got.Same, len(got.Skipped)})
		require.Equal(t, 3, got.Skipped[0].Line)
		require.Contains(t, got.Skipped[0].Problem, want[3])
		require.Len(t, r.applied(), 2)
		require.Equal(t, []any{r.size["2"], r.size["1"]}, r.applied()["quillfeather"]["sizes"])
	})
}

func TestTableAsAWholeIsRefused(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		r := newRound(t, s)
		mapped := func(m string) string { return "?map=" + url.QueryEscape(m) }
		for name, row := range map[string]struct {
			file, query, field string
		}{
			"blank lines":                {"\n \n", "", "body.table"},
			"a broken quote":             {"Handle,Sizes\npebblewick,1\nmossgrave,\"2\ndimity,3\n", "", "body.line[3]"},
			"a column is missing":        {"Handle,Size wanted\npebblewick,1\n", "", "query.map.sizes"},
			"headers twice":              {"Handle,Sizes,handle\npebblewick,1,x\n", "", "body.line[1]"},
			"a mapping to nothing":       {"Handle,Sizes\npebblewick,1\n", mapped(`{"email": "Mail"}`), "query.map.email"},
			"a mapping of nothing":       {"Handle,Sizes\npebblewick,1\n", mapped(`{"colour": "Sizes"}`), "query.map.colour"},
			"a mapping that is no JSON":  {"Handle,Sizes\npebblewick,1\n", mapped(`handle=Handle`), "query.map"},
			"100,000 rows":               {"Handle,Sizes\n" + strings.Repeat("pebblewick,1\n", 100_000), "", "body.line[10002]"},
			"Latin-1":                    {"Handle,Sizes\n\xE5lder,1\n", "", "body.line[2]"},
			"JSON instead of a table":    {`{"handle": "x"}`, "", "body.line[1]"},
			"a picture instead of text":  {"\x89PNG\r\n\x1a\n\x00\x00", "", "body.line[1]"},
			"a header and a NUL further": {"Handle,Sizes\npebble\x00wick,1\n", "", "body.line[2]"},
		} {
			for _, do := range []func(string, string) *servertest.Answer{r.preview, r.bring} {
				a := do(row.file, row.query)
				require.Equal(t, 422, a.Status, "%s: %s", name, a.Body)
				a.Names(422, row.field)
			}
		}
		require.Contains(t, string(r.preview("Handle,Size wanted\nx,1\n", "").Body), `found \"Handle\", \"Size wanted\"`)
		r.bring("", "").Want(400)
		big := "Handle,Sizes\n" + strings.Repeat(strings.Repeat("x", 99)+",1\n", 21_000)
		require.Greater(t, len(big), 2<<20)
		r.bring(big, "").Want(413)
		require.Empty(t, r.applied())
		r.c.Do("POST", "/calls/"+models.NewID()+"/applicants/import", applicants(t), asCSV).Want(404)
		r.c.Patch("/calls/"+r.call, 1, map[string]any{"closed": true}).Want(200)
		r.bring(applicants(t), "").Want(409)
	})
}

func TestTableInOtherDressAndWithOtherHeaders(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		r := newRound(t, s)
		file := applicants(t)
		r.brought(file, "")
		wide, err := unicode.UTF16(unicode.LittleEndian, unicode.UseBOM).NewEncoder().String(file)
		require.NoError(t, err)
		for name, dressed := range map[string]string{
			"byte order mark": "\xEF\xBB\xBF" + file,
			"UTF-16":          wide,
			"CR LF":           strings.ReplaceAll(file, "\n", "\r\n"),
			"tabs":            strings.ReplaceAll(strings.ReplaceAll(file, `"likes linen, ""scratchy"" is fine"`, `"likes linen; ""scratchy"" is fine"`), ",", "\t"),
			"capitals":        strings.Replace(file, "Handle,E-mail", "HANDLE,e mail", 1),
		} {
			same := 12
			if name == "tabs" {
				same = 11 // its remark can't hold the comma
			}
			got := r.brought(dressed, "")
			require.Equal(t, []int{0, 12 - same, same}, []int{got.Created, got.Changed, got.Same}, name)
			r.brought(file, "")
		}
		odd := "Who?;Which;Anything;Mail\nnewcomer;3, 4;hello;newcomer@testers.example\n"
		r.preview(odd, "").Names(422, "query.map.handle")
		query := "?map=" + url.QueryEscape(`{"handle": "who", "sizes": "Which", "remarks": "Anything", "email": ""}`)
		require.Equal(t, 1, r.brought(odd, query).Created)
		got := r.applied()["newcomer"]
		require.Equal(t, "hello", got["remarks"])
		require.Equal(t, []any{r.size["3"], r.size["4"]}, got["sizes"])
		require.Nil(t, got["person"].(map[string]any)["email"])
	})
}

func TestTimesWithoutAZoneAreTheStudios(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		r := newRound(t, s)
		r.c.Patch("/studio/settings", 1, map[string]any{"zone": "Europe/Oslo"}).Want(200)
		file := "Timestamp,Handle,Sizes\n2027-01-18 07:45,one,1\n2027-07-18T07:45:30,two,1\n2027-01-18T07:45:00Z,three,1\n2027-01-18,four,1\n,five,1\n1887-01-18,six,1\n"
		var p struct{ Rows []map[string]any }
		r.preview(file, "").Want(200).Into(&p)
		at := func(i int) any { return p.Rows[i]["applied_at"] }
		require.Equal(t, []any{"2027-01-18T07:45:00+01:00", "2027-07-18T07:45:30+02:00", "2027-01-18T07:45:00Z", "2027-01-18T00:00:00+01:00", nil}, []any{at(0), at(1), at(2), at(3), at(4)})
		require.Contains(t, p.Rows[5]["problem"], `"Timestamp" lies outside the years 2000 to 2100`)
		r.brought(file, "?skip_bad=true")
		got := r.applied()
		require.Equal(t, "2027-07-18T05:45:30Z", got["two"]["applied_at"])
		require.Contains(t, got["five"]["applied_at"], "2027-02-08T09:30:00", "now, when the table doesn't tell")
	})
}

// A column that the table doesn't have leaves what is on file as it is.
func TestWhatATableDoesntTellStays(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		r := newRound(t, s)
		r.brought(applicants(t), "")
		before := r.applied()["pebblewick"]
		require.Equal(t, 1, r.brought("Handle,Sizes\npebblewick,1 / 2\n", "").Same)
		require.Equal(t, 1, r.brought("Handle,Sizes\npebblewick,2\n", "").Changed)
		after := r.applied()["pebblewick"]
		require.Equal(t, []any{r.size["2"]}, after["sizes"])
		for _, field := range []string{"accepted", "finished", "remarks", "applied_at"} {
			require.Equal(t, before[field], after[field], field)
		}
	})
}

func TestARepeatedImportWithAKeyIsAnsweredFromTheFirst(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		r := newRound(t, s)
		header := http.Header{"Content-Type": {"text/csv"}, "Idempotency-Key": {"first try"}}
		path := "/calls/" + r.call + "/applicants/import"
		first := r.c.Do("POST", path, applicants(t), header).Want(200)
		second := r.c.Do("POST", path, applicants(t), header).Want(200)
		require.Equal(t, string(first.Body), string(second.Body))
		require.InDelta(t, 12, second.Map()["created"], 0)
	})
}

func TestAThousandApplicantsAtOnce(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		r := newRound(t, s)
		var b strings.Builder
		b.WriteString("Handle,E-mail,Sizes,Tests accepted so far\n")
		for i := range 1000 {
			fmt.Fprintf(&b, "invented%d,invented%d@testers.example,%d / %d,%d\n", i, i, i%4+1, (i+1)%4+1, i%9)
		}
		require.Equal(t, 1000, r.brought(b.String(), "").Created)
		again := r.brought(b.String(), "")
		require.Equal(t, []int{0, 0, 1000}, []int{again.Created, again.Changed, again.Same})
		require.InDelta(t, 500, r.slots()["3"]["applied"], 0)
		require.Len(t, r.c.Get("/calls/" + r.call + "/applications?limit=500").Map()["items"], 500)
	})
}
