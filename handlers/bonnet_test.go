package handlers_test

import (
	"testing"

	"tenter/models"
	"tenter/server/servertest"
)

// bonnet is a design with everything that samples and filming stand on: two
// sizes, a point, counts, and three installments. The clock stands at
// 2027-02-08.
type bonnet struct {
	*servertest.Studio
	t                      *testing.T
	designer               *servertest.Client
	maker, filmer, editor  *servertest.Client
	design                 string
	small, large           string // sizes
	edge                   string // point "face edge"
	version                string
	ties, crown, sides     string // installments
	otherDesign, otherSize string
}

func newBonnet(t *testing.T, s *servertest.Studio) *bonnet {
	t.Helper()
	b := &bonnet{Studio: s, t: t, designer: s.Designer(), maker: s.As("pim", models.Maker), filmer: s.As("ada", models.Filmer), editor: s.As("eve", models.TechEditor)}
	b.design, b.small, b.large = b.addDesign("Thistle bonnet")
	b.otherDesign, b.otherSize, _ = b.addDesign("Heron tote")
	d := b.designer.Put("/designs/"+b.design+"/points", 2, map[string]any{"points": []any{map[string]any{"name": "face edge", "axis": "stitch", "expr": "edge",
		"tolerance": length(1, "cm")}}}).Want(200).Map()
	b.edge = d["points"].([]any)[0].(map[string]any)["id"].(string)
	b.version = d["versions"].([]any)[0].(map[string]any)["id"].(string)
	b.designer.Put("/versions/"+b.version+"/sheet", 1, map[string]any{"rules": []any{},
		"counts": []any{map[string]any{"name": "edge", "unit": "stitch", "values": []any{56, 70}}}}).Want(200)
	b.ties = b.addInstallment(map[string]any{"title": "Ties", "air_on": "2027-02-14"})
	b.crown = b.addInstallment(map[string]any{"title": "Crown", "air_on": "2027-02-21", "covers": "rounds 1 to 12"})
	b.sides = b.addInstallment(map[string]any{"title": "Sides"})
	return b
}

func (b *bonnet) addDesign(name string) (design, small, large string) {
	b.t.Helper()
	body := pullover()
	body["name"], body["grouping"] = name, ""
	design = b.designer.Post("/designs", body).Want(201).ID()
	d := b.designer.Put("/designs/"+design+"/sizes", 1, map[string]any{"sizes": []any{map[string]any{"name": "0-6 months"},
		map[string]any{"name": "6-12 months", "filmed": true}}}).Want(200).Map()
	sizes := d["sizes"].([]any)
	return design, sizes[0].(map[string]any)["id"].(string), sizes[1].(map[string]any)["id"].(string)
}

func (b *bonnet) addInstallment(body map[string]any) string {
	b.t.Helper()
	return b.designer.Post("/designs/"+b.design+"/installments", body).Want(201).ID()
}

// addSample adds a camera sample in the large size.
func (b *bonnet) addSample(more map[string]any) string {
	b.t.Helper()
	body := map[string]any{"label": "the grey one", "purpose": "camera", "size_id": b.large}
	for k, v := range more {
		body[k] = v
	}
	return b.designer.Post("/designs/"+b.design+"/samples", body).Want(201).ID()
}

// addTake adds an accepted take.
func (b *bonnet) addTake(installment string) string {
	b.t.Helper()
	take := b.filmer.Post("/installments/"+installment+"/takes", map[string]any{}).Want(201).ID()
	b.filmer.Patch("/takes/"+take, 1, map[string]any{"accepted": true}).Want(200)
	return take
}

// openGates opens by hand what holds an installment back, or the whole design
// when it is "".
func (b *bonnet) openGates(design, installment string) {
	b.t.Helper()
	page := b.designer.Get("/designs/" + design + "/release").Want(200).Map()
	gates := page["gates"].([]any)
	for _, x := range page["installments"].([]any) {
		if n := x.(map[string]any); n["id"] == installment {
			gates = n["gates"].([]any)
		}
	}
	for _, x := range gates {
		if g := x.(map[string]any); g["shut"] == true {
			body := map[string]any{"gate": g["gate"], "reason": "nothing but a trial", "seen": g["seen"]}
			if installment != "" {
				body["installment_id"] = installment
			}
			b.designer.Post("/designs/"+design+"/gate-overrides", body).Want(201)
		}
	}
}

func length(value float64, unit string) map[string]any {
	return map[string]any{"value": value, "unit": unit}
}

func swatch(stitches, rows any, span float64, unit string) map[string]any {
	return map[string]any{"stitches": stitches, "rows": rows, "span": span, "unit": unit}
}
