package handlers

import (
	"context"
	"mime"
	"net/http"

	"github.com/danielgtaylor/huma/v2"

	"tenter/models"
	"tenter/models/calc"
)

type calcInput struct {
	Name        string `path:"name" maxLength:"40" doc:"gauge, counts, fit, yarn, assign, film or schedule."`
	ContentType string `header:"Content-Type" hidden:"true"`
	RawBody     []byte `contentType:"application/json"`
}

type calcAnswer struct {
	ContentType string `header:"Content-Type"`
	Body        []byte
}

func (a *api) calculations() {
	op := operation("calculate", http.MethodPost, "/calc/{name}", "Carry out a calculation on given data", "Calculations")
	op.SkipValidateBody = true // each calculation reads and checks its own document
	op.RequestBody = &huma.RequestBody{Required: true, Content: map[string]*huma.MediaType{"application/json": {Schema: &huma.Schema{Type: "object"}}}}
	add(a, op, a.postCalc)
}

// postCalc is stateless: the same bytes in give the same bytes out, here and
// on the command line.
func (a *api) postCalc(_ context.Context, _ models.Actor, in *calcInput) (*calcAnswer, error) {
	if kind, _, err := mime.ParseMediaType(in.ContentType); in.ContentType != "" && (err != nil || kind != "application/json") {
		return nil, huma.Error415UnsupportedMediaType("Send the input as application/json.")
	}
	out, err := calc.Run(in.Name, in.RawBody)
	if err != nil {
		return nil, calcProblem(in.Name, err)
	}
	return &calcAnswer{ContentType: "application/json", Body: out}, nil
}

func calcProblem(name string, err error) error {
	if unknown, ok := err.(*calc.UnknownError); ok {
		return &models.Error{Kind: models.NotFound, Message: unknown.Error()}
	}
	return &models.Error{Kind: models.Invalid, Message: "The input of " + name + " can't be taken as it is.",
		Fields: []models.FieldProblem{{Field: calc.Field(err), Problem: calc.Problem(err)}}}
}
