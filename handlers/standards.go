package handlers

import (
	"context"
	"errors"
	"net/http"
	"strings"

	"github.com/danielgtaylor/huma/v2"

	"tenter/models"
	"tenter/models/gauge"
	"tenter/models/standards"
)

func (a *api) standards() {
	const tag = "Standards"
	get := func(id, path, summary string) huma.Operation {
		return operation(id, http.MethodGet, "/standards"+path, summary, tag)
	}
	add(a, get("list-body-charts", "/body-charts", "Published body measurements by size"), a.listBodyCharts)
	add(a, get("list-head-sizes", "/head-sizes", "Published head circumferences"), a.listHeadSizes)
	add(a, get("list-fits", "/fits", "Names of fits and the ease that each means"), a.listFits)
	add(a, get("list-garment-lengths", "/garment-lengths", "Names of garment lengths"), a.listGarmentLengths)
	add(a, get("list-body-dimensions", "/body-dimensions", "Body dimensions by their standard names"), a.listBodyDimensions)
	add(a, get("list-size-codes", "/size-codes", "Size codes and the bodies that they are for"), a.listSizeCodes)
	add(a, get("list-garment-points", "/garment-points", "Usual points of measure of a finished garment"), a.listGarmentPoints)
	add(a, get("list-tools", "/tools", "Hook and needle sizes"), a.listTools)
	add(a, get("list-yarn-classes", "/yarn-classes", "Yarn classes with usual gauge and tools"), a.listYarnClasses)
	add(a, get("hint-gauge", "/gauge-hint", "How a gauge lies to what is usual for a yarn class"), a.hintGauge)
	add(a, get("list-terms", "/terms", "What US and UK patterns call the same thing"), a.listTerms)
	add(a, operation("rewrite-terms", http.MethodPost, "/standards/rewrite", "Put a text into the reader's terms", tag), a.rewriteTerms)
	add(a, get("list-surveys", "/surveys", "Surveys of measured people"), a.listSurveys)
	add(a, get("cover-sizes", "/coverage", "Which share of a survey's people a range of sizes serves"), a.coverSizes)
}

// whole answers a table that has no pages.
func whole[T any](rows []T) (*listOf[T], error) {
	return list(rows, "", func(r T) T { return r }), nil
}

type nothing struct{}

type bodyChartsInput struct {
	Chart string `query:"chart" enum:"baby,child,youth,woman,man" doc:"Only this chart."`
}

func (a *api) listBodyCharts(_ context.Context, _ models.Actor, in *bodyChartsInput) (*listOf[standards.BodyChart], error) {
	var out []standards.BodyChart
	for _, c := range standards.BodyCharts() {
		if in.Chart == "" || c.Name == in.Chart {
			out = append(out, c)
		}
	}
	return whole(out)
}

type headSizesAnswer struct {
	Body struct {
		How   string               `json:"how" doc:"How a head is measured."`
		Items []standards.HeadSize `json:"items"`
	}
}

func (a *api) listHeadSizes(context.Context, models.Actor, *nothing) (*headSizesAnswer, error) {
	out := &headSizesAnswer{}
	out.Body.How, out.Body.Items = standards.HeadMeasuring, standards.HeadSizes()
	return out, nil
}

type fitsInput struct {
	EaseCM OptionalNumber `query:"ease_cm" minimum:"-200" maximum:"200" doc:"Only the names that this ease at the chest or bust answers to."`
}

func (a *api) listFits(_ context.Context, _ models.Actor, in *fitsInput) (*listOf[standards.Fit], error) {
	if in.EaseCM.Sent {
		return whole(standards.FitsOf(in.EaseCM.Value))
	}
	return whole(standards.Fits())
}

func (a *api) listGarmentLengths(context.Context, models.Actor, *nothing) (*listOf[standards.GarmentLength], error) {
	return whole(standards.GarmentLengths())
}

func (a *api) listBodyDimensions(context.Context, models.Actor, *nothing) (*listOf[standards.BodyDimension], error) {
	return whole(standards.BodyDimensions())
}

func (a *api) listSizeCodes(context.Context, models.Actor, *nothing) (*listOf[standards.SizeCode], error) {
	return whole(standards.SizeCodes())
}

type garmentPointsAnswer struct {
	Body struct {
		Items  []standards.GarmentPoint    `json:"items"`
		Advice []standards.MeasuringAdvice `json:"advice" doc:"How finished pieces and swatches are measured."`
	}
}

func (a *api) listGarmentPoints(context.Context, models.Actor, *nothing) (*garmentPointsAnswer, error) {
	out := &garmentPointsAnswer{}
	out.Body.Items, out.Body.Advice = standards.GarmentPoints(), standards.MeasuringPieces()
	return out, nil
}

type toolsInput struct {
	Kind string         `query:"kind" enum:"hook,steel_hook,needle"`
	MM   OptionalNumber `query:"mm" doc:"Only the sizes of the kind on either side of this thickness, or the one that has it."`
}

func (a *api) listTools(_ context.Context, _ models.Actor, in *toolsInput) (*listOf[standards.Tool], error) {
	find := func() ([]standards.Tool, error) { return standards.Tools(in.Kind) }
	if in.MM.Sent {
		find = func() ([]standards.Tool, error) { return standards.ToolsNear(in.Kind, in.MM.Value) }
	}
	tools, err := find()
	if err != nil {
		return nil, queryProblem(err)
	}
	return whole(tools)
}

func (a *api) listYarnClasses(context.Context, models.Actor, *nothing) (*listOf[standards.YarnClass], error) {
	return whole(standards.YarnClasses())
}

type gaugeHintInput struct {
	Craft    string  `query:"craft" required:"true" enum:"crochet,knit"`
	Class    int     `query:"class" required:"true" minimum:"0" maximum:"7" doc:"Number of the yarn class."`
	Stitches float64 `query:"stitches" required:"true"`
	Span     float64 `query:"span" required:"true" doc:"Over which the stitches were counted."`
	Unit     string  `query:"unit" required:"true" enum:"cm,in"`
}

func (a *api) hintGauge(_ context.Context, _ models.Actor, in *gaugeHintInput) (*plain[standards.GaugeHint], error) {
	hint, err := standards.HintGauge(in.Craft, in.Class, gauge.Swatch{Count: in.Stitches, Over: in.Span, Unit: gauge.LengthUnit(in.Unit)})
	if err != nil {
		return nil, queryProblem(err)
	}
	return &plain[standards.GaugeHint]{hint}, nil
}

func (a *api) listTerms(context.Context, models.Actor, *nothing) (*listOf[standards.Term], error) {
	return whole(standards.TermList())
}

type rewriteInput struct {
	Body struct {
		Text  string          `json:"text" maxLength:"200000"`
		Craft string          `json:"craft" enum:"crochet,knit"`
		From  standards.Terms `json:"from" enum:"us,uk" doc:"The terms in which the text is written."`
		To    standards.Terms `json:"to" enum:"us,uk" doc:"The reader's terms."`
	}
}

func (a *api) rewriteTerms(_ context.Context, _ models.Actor, in *rewriteInput) (*plain[standards.Rewriting], error) {
	out, err := standards.Rewrite(in.Body.Text, in.Body.Craft, in.Body.From, in.Body.To)
	if err != nil {
		return nil, fieldProblem("body.", err)
	}
	return &plain[standards.Rewriting]{out}, nil
}

func (a *api) listSurveys(context.Context, models.Actor, *nothing) (*listOf[standards.Survey], error) {
	return whole(standards.Surveys())
}

type coverageInput struct {
	Survey    string   `query:"survey" required:"true" enum:"service_2012,children_1977"`
	Dimension string   `query:"dimension" required:"true" enum:"chest,waist,hips,height,head"`
	SizesCM   []string `query:"sizes_cm,explode" required:"true" maxItems:"40" doc:"Body measurement of each size, from the smallest, with commas between or each for itself."`
	StepCM    float64  `query:"step_cm" required:"true" doc:"A person is served by a size when within half of it."`
	AgeFrom   int      `query:"age_from" doc:"Whole years, for children."`
	AgeTo     int      `query:"age_to" doc:"Whole years, this one included."`
}

func (a *api) coverSizes(_ context.Context, _ models.Actor, in *coverageInput) (*plain[standards.Covered], error) {
	sizes, err := numbersIn("sizes_cm", between(in.SizesCM))
	if err != nil {
		return nil, queryProblem(err)
	}
	out, err := standards.Cover(standards.CoverageQuestion{Survey: in.Survey, Dimension: in.Dimension, SizesCM: sizes, StepCM: in.StepCM, AgeFrom: in.AgeFrom, AgeTo: in.AgeTo})
	if err != nil {
		return nil, queryProblem(err)
	}
	return &plain[standards.Covered]{out}, nil
}

// queryProblem is the problem document of a field in the query. A gauge's parts
// are parameters of their own there.
func queryProblem(err error) error {
	var field *gauge.FieldError
	if errors.As(err, &field) {
		name := strings.NewReplacer("gauge.count", "stitches", "gauge.over", "span", "gauge.unit", "unit").Replace(field.Field)
		err = gauge.Wrongf(name, "%s", field.Problem)
	}
	return fieldProblem("query.", err)
}

// fieldProblem is the problem document of a field that a pure package found
// fault with, at its place in the request; any other error stays what it is.
func fieldProblem(place string, err error) error {
	var field *gauge.FieldError
	if !errors.As(err, &field) {
		return err
	}
	return huma.NewError(http.StatusUnprocessableEntity, "Something in this can't be taken as it is.",
		&huma.ErrorDetail{Location: place + field.Field, Message: field.Problem})
}
