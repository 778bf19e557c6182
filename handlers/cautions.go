package handlers

import (
	"context"
	"net/http"

	"tenter/models"
	"tenter/models/cautions"
)

func (a *api) cautions() {
	const tag = "Cautions"
	add(a, operation("select-cautions", http.MethodGet, "/cautions", "What to watch for in a design, by whom it is for and what it has", tag), a.selectCautions)
	add(a, operation("list-caution-features", http.MethodGet, "/cautions/features", "What of a design the cautions depend on", tag), a.listCautionFeatures)
	add(a, operation("list-safety-rules", http.MethodGet, "/cautions/rules", "The published rules behind the cautions, summarised", tag), a.listSafetyRules)
}

type cautionsInput struct {
	Audience string   `query:"audience" required:"true" enum:"baby,child,youth,woman,man,unisex"`
	Features []string `query:"features,explode" maxItems:"40" doc:"Ids of features, with commas between or each for itself."`
	AgeFrom  int      `query:"age_from_months" minimum:"0" maximum:"1440" doc:"Youngest wearer; leave both ages out for the audience's usual ones."`
	AgeTo    int      `query:"age_to_months" minimum:"0" maximum:"1440" doc:"Oldest wearer."`
}

func (a *api) selectCautions(_ context.Context, _ models.Actor, in *cautionsInput) (*plain[cautions.CautionAdvice], error) {
	features := each(between(in.Features), func(id string) cautions.Feature { return cautions.Feature(id) })
	out, err := cautions.Select(cautions.Design{Audience: in.Audience, Features: features, AgeFrom: in.AgeFrom, AgeTo: in.AgeTo})
	if err != nil {
		return nil, queryProblem(err)
	}
	return &plain[cautions.CautionAdvice]{out}, nil
}

func (a *api) listCautionFeatures(context.Context, models.Actor, *nothing) (*listOf[cautions.FeatureLabel], error) {
	return whole(cautions.Features())
}

type safetyRulesAnswer struct {
	Body struct {
		Items    []cautions.SafetyRule `json:"items"`
		Deferral string                `json:"deferral"`
	}
}

func (a *api) listSafetyRules(context.Context, models.Actor, *nothing) (*safetyRulesAnswer, error) {
	out := &safetyRulesAnswer{}
	out.Body.Items, out.Body.Deferral = cautions.Rules(), cautions.Deferral
	return out, nil
}
