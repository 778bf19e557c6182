package handlers_test

import (
	"net/http"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/models"
	"tenter/server/servertest"
)

// gateBody is a gate as the release page tells it.
type gateBody struct {
	Gate              string
	Name, Why, Again  string
	Where, Seen       string
	Shut              bool
	ByHand            bool `json:"by_hand"`
	HoldsInstallments bool `json:"holds_installments"`
	Opened            *struct{ ID, Reason, Why, By string }
}

type releaseItem struct {
	Item, Says, By, Link, Where, Again string
	Done                               bool
	Version                            *int
}

type releaseBody struct {
	OutVersion   int `json:"out_version"`
	Signed       bool
	ReleasedBy   string `json:"released_by"`
	Design       struct{ Revision int }
	Gates        []gateBody
	Installments []struct {
		ID, State string
		Revision  int
		Gates     []gateBody
		Shut      []string
	}
	Days []struct {
		On       *string
		Standing string
		Parts    []struct {
			InstallmentID *string `json:"installment_id"`
			Version       int
			Shut          []string
			Items         []releaseItem
		}
	}
	TakenBack []struct{ ID, Reason, TakenBackBy string } `json:"taken_back"`
}

func (b *bonnet) release() (r releaseBody) {
	b.t.Helper()
	b.editor.Get("/designs/" + b.design + "/release").Want(200).Into(&r)
	return r
}

// gate returns the design's gate, or an installment's.
func (b *bonnet) gate(installment, key string) gateBody {
	b.t.Helper()
	r := b.release()
	gates := r.Gates
	for _, n := range r.Installments {
		if n.ID == installment {
			gates = n.Gates
		}
	}
	for _, g := range gates {
		if g.Gate == key {
			return g
		}
	}
	b.t.Fatalf("no gate %q of %q", key, installment)
	return gateBody{}
}

// item returns an item of an installment's day, or of the design's own.
func (b *bonnet) item(installment, item string) releaseItem {
	b.t.Helper()
	for _, d := range b.release().Days {
		for _, p := range d.Parts {
			if (p.InstallmentID == nil) != (installment == "") || p.InstallmentID != nil && *p.InstallmentID != installment {
				continue
			}
			for _, i := range p.Items {
				if i.Item == item {
					return i
				}
			}
		}
	}
	b.t.Fatalf("no item %q of %q", item, installment)
	return releaseItem{}
}

func (b *bonnet) open(installment, key, reason string) *servertest.Answer {
	b.t.Helper()
	body := map[string]any{"gate": key, "reason": reason, "seen": b.gate(installment, key).Seen}
	if installment != "" {
		body["installment_id"] = installment
	}
	return b.designer.Post("/designs/"+b.design+"/gate-overrides", body)
}

func (b *bonnet) revisionOf(path string) int {
	b.t.Helper()
	return int(b.designer.Get(path).Want(200).Map()["revision"].(float64))
}

func (b *bonnet) putSheet(rules ...any) {
	b.t.Helper()
	if rules == nil {
		rules = []any{}
	}
	path := "/versions/" + b.version
	b.designer.Put(path+"/sheet", b.revisionOf(path), map[string]any{"rules": rules,
		"counts": []any{map[string]any{"name": "edge", "unit": "stitch", "values": []any{56, 70}}}}).Want(200)
}

func (b *bonnet) sign() {
	b.t.Helper()
	path := "/versions/" + b.version
	b.editor.Do(http.MethodPost, path+"/sign-off", map[string]any{"answers": []any{}}, servertest.IfMatch(b.revisionOf(path))).Want(201)
}

// call opens a call whose sizes each need so many reports.
func (b *bonnet) call(fewest int) string {
	b.t.Helper()
	slot := func(size string) map[string]any {
		return map[string]any{"size_id": size, "fewest": fewest, "wanted": 1, "most": 2}
	}
	return b.designer.Post("/designs/"+b.design+"/calls", map[string]any{"title": "Round", "opens_on": "2027-02-01", "due_on": "2027-03-10",
		"slots": []any{slot(b.small), slot(b.large)}}).Want(201).ID()
}

// makes lets a tester make the size and send a report that is approved.
func (b *bonnet) makes(handle, call, size string) {
	b.t.Helper()
	tester := b.As(handle, models.Tester)
	a := b.designer.Post("/calls/"+call+"/assignments", map[string]any{"person_id": tester.Person.ID, "size_id": size, "due_on": "2027-03-05"}).Want(201).ID()
	tester.Post("/assignments/"+a+"/accept", map[string]any{}).Want(200)
	cm := map[string]float64{b.small: 40, b.large: 50}[size]
	report := tester.Post("/assignments/"+a+"/reports", map[string]any{"swatch": swatch(14, 11, 10, "cm"),
		"measurements": []any{map[string]any{"point_id": b.edge, "value": cm, "unit": "cm"}}}).Want(201).ID()
	b.designer.Post("/reports/"+report+"/approve", map[string]any{"approved": true}).Want(200)
}

func (b *bonnet) intend(cm float64) {
	b.t.Helper()
	b.designer.Put("/designs/"+b.design+"/points", b.revisionOf("/designs/"+b.design), map[string]any{"points": []any{map[string]any{"id": b.edge, "name": "face edge", "axis": "stitch", "expr": "edge",
		"tolerance": length(1, "cm"), "intended": []any{map[string]any{"size_id": b.small, "value": 40, "unit": "cm"}, map[string]any{"size_id": b.large, "value": cm, "unit": "cm"}}}}}).Want(200)
}

// TestEachGateIsShutAndOpened takes every gate from shut to open by the thing
// itself, never by hand.
func TestEachGateIsShutAndOpened(t *testing.T) {
	own := func(b *bonnet) string { return b.ties }
	for _, row := range []struct {
		name, gate string
		of         func(*bonnet) string // whose gate; nil: the design's
		shut       func(*bonnet)        // nil: it is shut from the beginning
		why, where string
		open       func(*bonnet)
	}{
		{"a rule of the counts fails", "counts", nil, func(b *bonnet) {
			b.putSheet(map[string]any{"name": "even", "kind": "multiple", "expr": "edge", "of": 4, "plus": 0})
		}, "70", "/counts", func(b *bonnet) { b.putSheet() }},
		{"nobody has signed", "sign_off", nil, nil, "Version 1 is not signed off by a tech editor yet.", "/counts#sign-off", (*bonnet).sign},
		{"a child's garment of which nobody has said what it has", "cautions", nil, func(b *bonnet) {
			b.designer.Patch("/designs/"+b.design, b.revisionOf("/designs/"+b.design), map[string]any{"audience": "baby"}).Want(200)
		}, "Nobody has said yet what this has", "/setup#cautions", func(b *bonnet) {
			got := b.designer.Put("/designs/"+b.design+"/features", b.revisionOf("/designs/"+b.design), map[string]any{"features": []any{}}).Want(200).Map()
			require.Contains(b.t, b.gate("", "cautions").Why, "not acknowledged")
			for _, c := range got["cautions"].([]any) {
				b.designer.Post("/designs/"+b.design+"/cautions/"+c.(map[string]any)["id"].(string)+"/acknowledge", map[string]any{}).Want(200)
			}
		}},
		{"no test call", "testers", nil, nil, "No test call has been opened yet.", "/testing", func(b *bonnet) { b.call(0) }},
		{"a size is short of reports", "testers", nil, func(b *bonnet) {
			call := b.call(1)
			b.makes("vetch", call, b.small)
		}, "Size 6-12 months has no approved report and needs at least 1.", "/testing", func(b *bonnet) {
			call := b.designer.Get("/designs/" + b.design + "/calls").Map()["items"].([]any)[0].(map[string]any)["id"].(string)
			b.makes("mallow", call, b.large)
		}},
		{"a finding nobody has decided on", "fit", nil, func(b *bonnet) { b.intend(60) }, "face edge", "/fit", func(b *bonnet) { b.intend(50) }},
		{"no yarn stated", "yarn", nil, nil, "No amount of yarn is stated yet.", "/yarn", func(b *bonnet) {
			b.designer.Put("/designs/"+b.design+"/yarn", 0, map[string]any{"share": 0.9, "sizes": []any{
				map[string]any{"size_id": b.small, "value": 50, "unit": "m"}, map[string]any{"size_id": b.large, "value": 60, "unit": "m"}}}).Want(200)
		}},
		{"no sample with a washed gauge", "gauge", nil, nil, "", "/samples", func(b *bonnet) {
			b.addSample(map[string]any{"purpose": "swatch", "after": swatch(14, 11, 10, "cm")})
		}},
		{"a sample off the gauge", "gauge", nil, func(b *bonnet) {
			b.addSample(map[string]any{"purpose": "swatch", "after": swatch(17, 11, 10, "cm")})
		}, "17", "/samples", func(b *bonnet) {
			s := b.designer.Get("/designs/" + b.design + "/samples").Map()["items"].([]any)[0].(map[string]any)
			b.designer.Patch("/samples/"+s["id"].(string), int(s["revision"].(float64)), map[string]any{"after": swatch(14, 11, 10, "cm")}).Want(200)
		}},
		{"a remark that is open", "remarks", nil, func(b *bonnet) {
			b.editor.Post("/designs/"+b.design+"/remarks", map[string]any{"body": "unclear"}).Want(201)
		}, "1 remark on the text is not settled.", "/testing", func(b *bonnet) {
			m := b.editor.Get("/designs/" + b.design + "/remarks").Map()["items"].([]any)[0].(map[string]any)
			b.editor.Patch("/remarks/"+m["id"].(string), 1, map[string]any{"settled": true}).Want(200)
		}},
		{"a correction that is a draft", "corrections", nil, func(b *bonnet) {
			b.editor.Post("/designs/"+b.design+"/corrections", map[string]any{"place": "Edge", "was": "a", "is_now": "b"}).Want(201)
		}, "The correction of “Edge” is not in the text of version 1.", "/corrections", func(b *bonnet) {
			c := b.editor.Get("/designs/" + b.design + "/corrections").Map()["items"].([]any)[0].(map[string]any)
			b.designer.Do(http.MethodPost, "/corrections/"+c["id"].(string)+"/state", map[string]any{"state": "withdrawn", "why": "it was right"}, servertest.IfMatch(1)).Want(200)
		}},
		{"an installment without an accepted take", "takes", own, nil, "No take is accepted yet.", "/filming#", func(b *bonnet) { b.addTake(b.ties) }},
		{"a slip that is not mended", "slips", own, func(b *bonnet) {
			take := b.addTake(b.ties)
			b.filmer.Post("/takes/"+take+"/slips", map[string]any{"at_ms": 1000, "wrong": "says 70", "remedy": "cut"}).Want(201)
		}, "1 slip in the takes that will be used is not mended.", "/filming#", func(b *bonnet) {
			n := b.filmer.Get("/installments/" + b.ties).Map()
			slip := n["takes"].([]any)[0].(map[string]any)["slips"].([]any)[0].(map[string]any)
			b.filmer.Patch("/slips/"+slip["id"].(string), 1, map[string]any{"mended": true}).Want(200)
		}},
		{"no captions", "captions", own, nil, "It has no captions yet.", "/filming#", func(b *bonnet) {
			b.addTake(b.ties)
			b.filmer.Patch("/installments/"+b.ties, 1, map[string]any{"edited": true, "captioned": true}).Want(200)
		}},
		{"the design waits for every take", "takes", nil, func(b *bonnet) { b.addTake(b.ties); b.addTake(b.crown) }, "“Sides” is unrecorded.", "/filming",
			func(b *bonnet) { b.addTake(b.sides) }},
	} {
		t.Run(row.name, func(t *testing.T) {
			servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
				b := newBonnet(t, s)
				of := ""
				if row.of != nil {
					of = row.of(b)
				}
				if row.shut != nil {
					require.Equal(t, row.gate == "testers" || row.gate == "gauge" || row.gate == "takes" && of == "", b.gate(of, row.gate).Shut, "before")
					row.shut(b)
				}
				g := b.gate(of, row.gate)
				require.True(t, g.Shut)
				require.Contains(t, g.Why, row.why)
				require.NotEmpty(t, g.Seen)
				require.Contains(t, g.Where, "/d/thistle-bonnet"+row.where)
				row.open(b)
				g = b.gate(of, row.gate)
				require.False(t, g.Shut, g.Why)
				require.Empty(t, g.Why)
				require.False(t, g.ByHand)
			})
		})
	}
}

func TestTheBoardShowsTheSameGates(t *testing.T) {
	servertest.Each(t, func(t *testing.T, s *servertest.Studio) {
		b := newBonnet(t, s)
		b.open("", "yarn", "one size fits a ball").Want(201)
		var board boardBody
		b.editor.Get("/designs/" + b.design + "/board").Want(200).Into(&board)
		r := b.release()
		require.Len(t, board.Gates, len(r.Gates))
		for i, g := range r.Gates {
			require.Equal(t, g.Name, board.Gates[i].Name)
			require.Equal(t, g.Shut, board.Gates[i].Shut, g.Name)
		}
	})
}
