package handlers_test

import (
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/models"
	"tenter/server/servertest"
)

// correcting is a round with testers of its first version, and a second version
// in which the body of sizes 3 and 4 is another.
type correcting struct {
	*round
	editor            *servertest.Client
	one, three, asked *servertest.Client // testers of sizes 1 and 3, and one of size 4 who has not answered
	of                map[*servertest.Client]string
	second            string
}

func newCorrecting(t *testing.T, s *servertest.Studio) *correcting {
	t.Helper()
	r := newRound(t, s)
	k := &correcting{round: r, editor: s.As("eve", models.TechEditor), one: r.tester("mallow"), three: r.tester("burdock"), asked: r.tester("skein"), of: map[*servertest.Client]string{}}
	for size, c := range map[string]*servertest.Client{"1": k.one, "3": k.three, "4": k.asked} {
		k.of[c] = r.assign(c, size)
	}
	for _, c := range []*servertest.Client{k.one, k.three} {
		c.Post("/assignments/"+k.of[c]+"/accept", nil).Want(200)
	}
	k.second = r.c.Post("/designs/"+r.design+"/versions", map[string]any{"note": "body"}).Want(201).ID()
	k.sheet(k.second, 1, 110, 122, 138, 152)
	return k
}

func (k *correcting) sheet(version string, revision int, body ...int) {
	k.T.Helper()
	k.c.Put("/versions/"+version+"/sheet", revision, map[string]any{"rules": []any{}, "counts": []map[string]any{
		{"name": "body", "unit": "stitch", "values": body}, {"name": "short_rows", "unit": "row", "values": []any{nil, nil, 4, 6}},
		{"name": "cuff", "unit": "stitch", "values": []int{32, 34, 36, 38}}}}).Want(200)
}

// draft writes a correction to the body of sizes 3 and 4.
func (k *correcting) draft(change map[string]any) map[string]any {
	k.T.Helper()
	body := map[string]any{"place": "Body, round 1", "count": "body", "sizes": []string{k.size["4"], k.size["3"]}, "since_version_id": k.version, "why": "burdock counted again"}
	for name, v := range change {
		body[name] = v
	}
	return k.editor.Post("/designs/"+k.design+"/corrections", body).Want(201).Map()
}

func (k *correcting) move(id string, revision int, body map[string]any) *servertest.Answer {
	return k.c.Do(http.MethodPost, "/corrections/"+id+"/state", body, servertest.IfMatch(revision))
}

// due lists what is to be told, by handle.
func (k *correcting) due() map[string]reminder {
	k.T.Helper()
	var list struct{ Items []reminder }
	k.c.Get("/calls/" + k.call + "/reminders").Want(200).Into(&list)
	out := map[string]reminder{}
	for _, x := range list.Items {
		if x.Kind == "correction" {
			out[x.Handle] = x
		}
	}
	return out
}

type reminder struct {
	Kind, Handle, Subject, Text, About string
	PersonID                           string `json:"person_id"`
}

func (k *correcting) tell(x reminder) *servertest.Answer {
	return k.c.Post("/calls/"+k.call+"/reminders/told", map[string]any{"person_id": x.PersonID, "kind": x.Kind, "about": x.About})
}

func (k *correcting) gate() string {
	k.T.Helper()
	for _, g := range k.c.Get("/designs/" + k.design + "/board").Want(200).Map()["gates"].([]any) {
		if gate := g.(map[string]any); gate["name"] == "Corrections closed" {
			why, _ := gate["why"].(string)
			require.Equal(k.T, gate["shut"], why != "")
			require.Equal(k.T, "/d/saltmarsh-pullover/corrections", gate["where"])
			return why
		}
	}
	require.Fail(k.T, "no such gate")
	return ""
}

func TestCorrectionGoesFromDraftToItsAnnouncement(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		k := newCorrecting(t, s)
		require.Empty(t, k.gate())
		c := k.draft(nil)
		id := c["id"].(string)
		require.Equal(t, "draft", c["state"])
		require.Equal(t, []any{"in_text", "withdrawn"}, c["next"])
		require.InDelta(t, 1, c["number"], 0)
		require.Equal(t, "110 (122, 136, 150)", c["was"], "taken from the count sheet")
		require.Equal(t, []any{k.size["3"], k.size["4"]}, c["sizes"], "in order")
		require.Empty(t, k.due(), "nobody is told of a draft")
		require.Equal(t, "The correction of “Body, round 1” is not in the text of version 2.", k.gate())

		k.move(id, 1, map[string]any{"state": "announced"}).Names(409, "body.state")
		k.move(id, 1, map[string]any{"state": "draft"}).Names(409, "body.state")
		k.move(id, 1, map[string]any{"state": "gone"}).Names(422, "body.state")
		k.move(id, 1, map[string]any{"state": "withdrawn"}).Names(422, "body.why")
		k.move(id, 1, map[string]any{"state": "in_text", "version_id": k.version}).Names(422, "body.version_id")
		k.move(id, 1, map[string]any{"state": "in_text", "version_id": id}).Names(422, "body.version_id")
		k.c.Post("/corrections/"+id+"/state", map[string]any{"state": "in_text"}).Want(428)
		require.InDelta(t, 1, k.editor.Get("/corrections/" + id).Want(200).Map()["revision"], 0)

		c = k.move(id, 1, map[string]any{"state": "in_text"}).Want(200).Map()
		require.Equal(t, "in_text", c["state"])
		require.InDelta(t, 2, c["mended"], 0)
		require.Equal(t, "110 (122, 138, 152)", c["is_now"], "taken from the count sheet")
		k.move(id, 1, map[string]any{"state": "announced"}).Want(412)
		require.Equal(t, "2 testers of older versions are still to be told.", k.gate())
		require.Len(t, k.due(), 2)

		c = k.move(id, 2, map[string]any{"state": "draft"}).Want(200).Map()
		require.Nil(t, c["mended"])
		k.move(id, 3, map[string]any{"state": "in_text", "version_id": k.second}).Want(200)
		revision := int(k.c.Get("/versions/" + k.second).Want(200).Map()["revision"].(float64))
		k.sheet(k.second, revision, 110, 122, 136, 150)
		require.Contains(t, k.gate(), "The correction of “Body, round 1” is not in the text of version 2; ", "the count sheet was changed back")
		k.sheet(k.second, revision+1, 110, 122, 138, 152)
		require.NotContains(t, k.gate(), "is not in the text")
		c = k.move(id, 4, map[string]any{"state": "announced"}).Want(200).Map()
		require.Equal(t, []any{"withdrawn"}, c["next"])
		require.Contains(t, c["announced_at"], "2027-02-08T09:30:00")
		k.move(id, 5, map[string]any{"state": "draft"}).Names(409, "body.state")
		k.editor.Put("/corrections/"+id, 5, map[string]any{"place": "Elsewhere", "was": "a"}).Want(409)

		var history struct {
			Items []struct{ Entity, Action string }
		}
		k.c.Get("/designs/" + k.design + "/history?limit=20").Want(200).Into(&history)
		var actions []string
		for _, e := range history.Items {
			if e.Entity == "correction" {
				actions = append(actions, e.Action)
			}
		}
		require.Equal(t, []string{"announced", "put into the text", "taken back to draft", "put into the text", "drafted"}, actions)
	})
}

func TestTestersAreToldWhatACorrectionMeansForTheirPiece(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		k := newCorrecting(t, s)
		first := k.draft(nil)["id"].(string)
		k.three.Post("/assignments/"+k.of[k.three]+"/check-ins", map[string]any{"done": 1}).Want(200)
		mine := func(c *servertest.Client) []any {
			return c.Get("/assignments/" + k.of[c]).Want(200).Map()["corrections"].([]any)
		}
		require.Empty(t, mine(k.three))
		k.move(first, 1, map[string]any{"state": "in_text"}).Want(200)
		due := k.due()
		require.Len(t, due, 2, "who has not answered yet is not told")
		require.Equal(t, "Saltmarsh pullover: a correction for your size", due["burdock"].Subject)
		require.Contains(t, due["burdock"].Text, "Body, round 1\nFor your size, body is 138 now. It was 136.")
		require.Contains(t, due["burdock"].Text, "On Monday 8 February 2027 you told us that you had finished “")
		require.Contains(t, due["burdock"].Text, "part 1 of ")
		require.Equal(t, "Saltmarsh pullover: the pattern was corrected; your size stays as it is", due["mallow"].Subject)
		for _, other := range []string{"138", "152", "136", "burdock"} {
			require.NotContains(t, due["mallow"].Text, other, "other sizes' numbers, and who they are, stay with them")
		}
		require.NotRegexp(t, `\b152\b`, due["burdock"].Text)
		require.NotContains(t, due["burdock"].Text, "counted again", "why is for the studio")
		require.Equal(t, []any{map[string]any{"number": 1., "place": "Body, round 1", "count": "body", "before": 136., "after": 138., "mended": 2.}}, mine(k.three))
		require.Empty(t, mine(k.one))
		k.one.Get("/assignments/" + k.of[k.three]).Want(404)

		k.tell(due["burdock"]).Want(204)
		bad := due["mallow"]
		bad.About = "something"
		k.tell(bad).Names(422, "body.about")
		require.Len(t, k.due(), 1)
		require.Equal(t, "1 tester of older versions is still to be told.", k.gate())
		k.move(first, 2, map[string]any{"state": "draft"}).Want(409)

		// The next one goes to whoever knows the first, and both in one letter to
		// whoever does not.
		second := k.draft(map[string]any{"place": "Cuff", "count": "", "sizes": []string{}, "was": "turn, 2 dc", "is_now": "turn, 1 dc"})["id"].(string)
		k.move(second, 1, map[string]any{"state": "in_text"}).Want(200)
		due = k.due()
		require.True(t, strings.HasSuffix(due["burdock"].About, " 2"), due["burdock"].About)
		require.True(t, strings.HasSuffix(due["mallow"].About, " 1,2"), due["mallow"].About)
		require.Contains(t, due["mallow"].Text, "1 correction besides is for other sizes")
		require.Contains(t, due["mallow"].Text, "turn, 2 US dc", "no word of two meanings stands bare")
		for _, x := range due {
			k.tell(x).Want(204)
		}
		require.Empty(t, k.due())
		require.Empty(t, k.gate())

		// What was told is told again when it is taken back.
		k.move(first, 2, map[string]any{"state": "withdrawn", "why": "It was right before."}).Want(200)
		due = k.due()
		require.Equal(t, "Saltmarsh pullover: a correction is taken back", due["mallow"].Subject)
		require.Contains(t, due["burdock"].Text, "We take back what we told you of “Body, round 1”: the text that you have is right there. It was right before.")
		require.Equal(t, "2 testers of older versions are still to be told.", k.gate())
		require.Len(t, mine(k.three), 1, "what was taken back is gone")

		// A finished piece stays as it is, in a closed call too.
		third := k.draft(map[string]any{"place": "Neck", "count": "", "sizes": []string{}, "was": "a", "is_now": "b"})["id"].(string)
		k.report(k.three, k.of[k.three], true)
		k.c.Patch("/calls/"+k.call, 1, map[string]any{"closed": true}).Want(200)
		k.move(third, 1, map[string]any{"state": "in_text"}).Want(200)
		require.Contains(t, k.due()["burdock"].Text, "Please leave it as it is")
		require.Len(t, k.c.Get("/designs/" + k.design + "/corrections").Want(200).Map()["makers"], 2)
	})
}

func TestBadCorrectionNamesItsFieldAndChangesNothing(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		k := newCorrecting(t, s)
		tote := pullover()
		tote["name"] = "Heron tote"
		other := k.c.Post("/designs", tote).Want(201).Map()
		strange := other["versions"].([]any)[0].(map[string]any)["id"]
		path := "/designs/" + k.design + "/corrections"
		good := map[string]any{"place": "Body", "was": "a", "is_now": "b", "since_version_id": k.version}
		for field, change := range map[string]map[string]any{
			"place": {"place": " "}, "was": {"was": ""}, "is_now": {"is_now": strings.Repeat("x", 5000)}, "count": {"count": "sleeve"},
			"since_version_id": {"since_version_id": strange}, "sizes[0]": {"sizes": []any{strange}}, "sizes[1]": {"sizes": []any{k.size["1"], k.size["1"]}},
			"found_by": {"found_by": strange}, "found_words": {"found_by": k.one.Person.ID, "found_words": "a reader"},
			"finding_key": {"finding_key": "cell-nothing"}, "remark_id": {"remark_id": strange},
		} {
			body := map[string]any{}
			for _, m := range []map[string]any{good, change} {
				for name, v := range m {
					body[name] = v
				}
			}
			k.editor.Post(path, body).Names(422, "body."+field)
		}
		require.Empty(t, k.editor.Get(path).Want(200).Map()["items"])
		s.As("pim", models.Maker).Post(path, good).Want(403)

		c := k.draft(map[string]any{"sizes": []string{k.size["1"]}})["id"].(string)
		k.move(c, 1, map[string]any{"state": "in_text"}).Names(422, "body.version_id") // size 1 has the same body in both
		k.editor.Put("/corrections/"+c, 1, map[string]any{"place": "Cuff", "count": "cuff", "since_version_id": k.version}).Want(200)
		k.move(c, 2, map[string]any{"state": "in_text"}).Names(422, "body.version_id") // the cuff is the same in every size
		k.editor.Put("/corrections/"+c, 2, map[string]any{"place": "Cuff", "was": "a", "since_version_id": k.version}).Want(200)
		k.move(c, 3, map[string]any{"state": "in_text"}).Names(422, "body.is_now")
		k.move(c, 3, map[string]any{"state": "withdrawn", "why": "no", "version_id": k.second}).Names(422, "body.version_id")
		k.editor.Post("/corrections/"+c+"/state", map[string]any{"state": "withdrawn", "why": "no"}).Want(403)
		k.editor.Put("/corrections/"+c, 2, good).Want(412)
		k.move(c, 3, map[string]any{"state": "withdrawn", "why": "no"}).Want(200)
		k.editor.Put("/corrections/"+c, 4, good).Want(409)

		// A size that a correction is for stays.
		next := k.draft(nil)
		require.InDelta(t, 2, next["number"], 0)
		k.c.Put("/designs/"+k.design+"/sizes", 3, map[string]any{"sizes": []any{map[string]any{"id": k.size["1"], "name": "1"}}}).Want(409)
	})
}

func TestCorrectionComesFromARemarkOrAFinding(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		k := newCorrecting(t, s)
		remark := k.three.Post("/assignments/"+k.of[k.three]+"/remarks", map[string]any{"place": "Row 3", "body": "two too many"}).Want(201).ID()
		path := "/designs/" + k.design + "/corrections"
		c := k.editor.Post(path, map[string]any{"place": "Row 3", "was": "a", "remark_id": remark}).Want(201).Map()
		require.Equal(t, k.three.Person.ID, c["found_by"], "who remarked found it")
		require.Equal(t, "burdock", c["found_handle"])
		require.InDelta(t, 1, c["since"], 0, "the remark's version, though a later one is there")
		c = k.editor.Post(path, map[string]any{"place": "Row 3", "was": "a", "remark_id": remark, "found_words": "a reader by letter"}).Want(201).Map()
		require.Nil(t, c["found_by"])
		k.editor.Post(path, map[string]any{"place": "Row 3", "was": "a", "remark_id": remark, "finding_key": "cell-1"}).Names(422, "body.remark_id")

		changed := k.editor.Get(path + "/count?count=body").Want(200).Map()
		require.Equal(t, map[string]any{"count": "body", "since": 1., "now": 2., "was": "110 (122, 136, 150)", "is_now": "110 (122, 138, 152)", "same": false,
			"sizes": []any{k.size["3"], k.size["4"]}}, changed)
		require.Equal(t, true, k.editor.Get(path + "/count?count=cuff&since=" + k.version + "&version=" + k.second).Want(200).Map()["same"])
		k.editor.Get(path+"/count?count=sleeve").Names(422, "body.count")
	})
}
