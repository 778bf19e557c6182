package handlers_test

import (
	"context"
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/models"
	"tenter/models/modelstest"
	"tenter/server/servertest"
)

// wholeTester is a tester of whom everything is known that can be: each of it
// can be found again, word by word, wherever it is told.
type wholeTester struct {
	s        *servertest.Studio
	designer *servertest.Client
	pullover *servertest.Pullover
	person   *models.Person
	self     *servertest.Client

	application, assignment, report, remark, withdrawn, correction, photo, letter string
}

// The words by which things are found again. Nobody else's are like them.
const (
	itsHandle   = "hawthorn-y"
	itsName     = "Ysolde Markerby"
	itsEmail    = "ysolde@marker.example"
	itsPassword = "seven plain words for a marker"
	itsBust     = "93.71"
)

// itsWords are the free texts, by the fact of the privacy table that they are.
var itsWords = map[string][]string{
	"handle":      {itsHandle},
	"name":        {itsName},
	"email":       {itsEmail},
	"application": {"remarks from an application", "a yarn from an application"},
	"body":        {itsBust},
	"assignment":  {"moved to the coast", "the section note", "the reason for more time"},
	"report":      {"a note with a report", "21.375"},
	"photo":       {"a caption under a sleeve"},
	"remark":      {"row 12 does not add up"},
	"letter":      {"to see whether e-mail from"},
	"correction":  {"where ysolde looked twice"},
	"consent":     {`"agreed":{"version":1`, "hush until the day"},
	"sign_ins":    {"an unusual browser"},
}

func newWholeTester(t *testing.T, s *servertest.Studio) *wholeTester {
	t.Helper()
	w := &wholeTester{s: s, designer: s.Designer()}
	c := w.designer
	w.pullover = s.NewPullover(c, "Saltmarsh pullover")
	p := w.pullover
	slots := []any{}
	for _, z := range []string{"1", "2", "3"} {
		slots = append(slots, map[string]any{"size_id": p.Sizes[z], "fewest": 1, "wanted": 2, "most": 4})
	}
	p.CallID = c.Post("/designs/"+p.ID+"/calls", map[string]any{"title": "First call", "opens_on": "2027-02-01", "due_on": "2027-03-12", "slots": slots, "confidentiality": "hush until the day"}).Want(201).ID()
	link := c.Do("PUT", "/calls/"+p.CallID+"/sign-up", map[string]any{"introduction": "", "open": true}, nil).Want(200).Map()["link"].(string)
	_, token, _ := strings.Cut(link, "/apply#")
	hash := s.Nobody().Post("/sign-up/look", map[string]any{"token": token}).Want(200).Map()["confidentiality_hash"]
	s.Nobody().Post("/sign-up/apply", map[string]any{"token": token, "handle": itsHandle, "name": itsName, "email": itsEmail, "unit": "cm", "terms": "uk",
		"sizes": []string{p.Sizes["1"]}, "accepted": 3, "finished": 3, "yarn": "a yarn from an application", "remarks": "remarks from an application", "agreed": hash,
		"body": []any{map[string]any{"dimension": "bust", "value": 93.71, "unit": "cm"}}}).Want(200)
	item := c.Get("/calls/" + p.CallID + "/applications").Want(200).Map()["items"].([]any)[0].(map[string]any)
	w.application = item["id"].(string)
	person := item["person"].(map[string]any)["id"].(string)
	w.join(t, person)
	w.test(t)
	return w
}

// join uses an invitation and withdraws a first time.
func (w *wholeTester) join(t *testing.T, person string) {
	t.Helper()
	c, p := w.designer, w.pullover
	ask := func(size string) string {
		return c.Post("/calls/"+p.CallID+"/assignments", map[string]any{"person_id": person, "size_id": p.Sizes[size]}).Want(201).ID()
	}
	w.withdrawn = ask("2")
	invited := c.Post("/assignments/"+w.withdrawn+"/invitation", nil).Want(201).Map()["token"]
	in := w.s.Nobody().Do("POST", "/invitations/accept", map[string]any{"token": invited, "password": itsPassword}, http.Header{"User-Agent": {"an unusual browser"}}).Want(200).Map()
	require.NotEmpty(t, in["access_token"])
	var err error
	w.person, err = w.s.Store.Person(context.Background(), person)
	require.NoError(t, err)
	w.self = w.s.For(w.person)
	w.self.Post("/assignments/"+w.withdrawn+"/accept", nil).Want(200)
	w.self.Post("/assignments/"+w.withdrawn+"/withdraw", map[string]any{"why": "moved to the coast"}).Want(200)
	w.assignment = ask("1")
}

func (w *wholeTester) test(t *testing.T) {
	t.Helper()
	c, p := w.designer, w.pullover
	w.self.Post("/assignments/"+w.assignment+"/accept", nil).Want(200)
	w.self.Post("/assignments/"+w.assignment+"/check-ins", map[string]any{"done": 1, "note": "the section note"}).Want(200)
	w.self.Post("/assignments/"+w.assignment+"/more-time", map[string]any{"wanted_on": "2027-03-20", "why": "the reason for more time"}).Want(200)
	w.photo = addPhoto(w.self, "/assignments/"+w.assignment+"/photos?caption=a+caption+under+a+sleeve", modelstest.PhoneJPEG(t, 60, 40, 6)).Want(201).ID()
	w.report = w.self.Post("/assignments/"+w.assignment+"/reports", map[string]any{
		"swatch":       map[string]any{"stitches": 13, "rows": 11, "span": 4, "unit": "in"},
		"measurements": measured(p, "cm", map[string]float64{"bust": 95, "hem": 43}), "hours": 21.375, "note": "a note with a report",
		"remarks": []any{map[string]any{"place": "Row 12", "body": "row 12 does not add up"}}}).Want(201).ID()
	remarks := c.Get("/designs/" + p.ID + "/remarks").Want(200).Map()["items"].([]any)
	w.remark = remarks[0].(map[string]any)["id"].(string)
	w.correction = c.Post("/designs/"+p.ID+"/corrections", map[string]any{"place": "where ysolde looked twice", "was": "13", "is_now": "12", "remark_id": w.remark}).Want(201).ID()
	letter, err := w.s.Store.WriteTest(t.Context(), models.Actor{PersonID: w.person.ID})
	require.NoError(t, err)
	w.letter = letter.ID
}

// mention lets the designer name the tester in what only the designer writes.
func (w *wholeTester) mention() {
	c, p := w.designer, w.pullover
	c.Patch("/remarks/"+w.remark, 1, map[string]any{"answer": "Thank you, Ysolde Markerby; hawthorn-y is right."}).Want(200)
	c.Post("/designs/"+p.ID+"/remarks", map[string]any{"place": "Row 3", "body": "Ask Hawthorn-Y (ysolde@marker.example) about this, not hawthorn-yard."}).Want(201)
	c.Patch("/designs/"+p.ID, w.revision(p.ID), map[string]any{"note": "For hawthorn-y's sake."}).Want(200)
	c.Post("/designs/"+p.ID+"/corrections", map[string]any{"place": "As hawthorn-y wrote", "was": "hawthorn-y: 13", "is_now": "12, hawthorn-y", "why": "hawthorn-y", "found_words": "hawthorn-y by letter"}).Want(201)
	var r releaseBody
	c.Get("/designs/" + p.ID + "/release").Want(200).Into(&r)
	for _, g := range r.Gates {
		if g.Gate == "yarn" {
			c.Post("/designs/"+p.ID+"/gate-overrides", map[string]any{"gate": "yarn", "reason": "Hawthorn-y weighed hers.", "seen": g.Seen}).Want(201)
		}
	}
}

func (w *wholeTester) revision(design string) int {
	return int(w.designer.Get("/designs/" + design).Want(200).Map()["revision"].(float64))
}
