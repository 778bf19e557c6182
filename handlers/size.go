package handlers

import (
	"context"

	"tenter/models"
)

// Size is one graded size.
type Size struct {
	ID       string `json:"id"`
	Position int    `json:"position"`
	Name     string `json:"name"`
	Filmed   bool   `json:"filmed" doc:"Its numbers are the ones spoken on camera."`
	Body     []Body `json:"body"`
}

// Body is a measurement of the body that a size is for.
type Body struct {
	Dimension string `json:"dimension"`
	Length    Length `json:"length"`
}

func sizeView(z models.Size) Size {
	return Size{z.ID, z.Position, z.Name, z.Filmed, each(z.Body, func(b models.BodyMeasurement) Body { return Body{b.Dimension, lengthView(b.Length)} })}
}

type putSizesInput struct {
	DesignPath
	Precondition
	Body struct {
		Sizes []SizeIn `json:"sizes" maxItems:"40"`
	}
}

// SizeIn is a size as it is set; without an id it is a new one.
type SizeIn struct {
	ID     string   `json:"id,omitempty" maxLength:"36"`
	Name   string   `json:"name"`
	Filmed bool     `json:"filmed,omitempty"`
	Body   []BodyIn `json:"body,omitempty" maxItems:"20"`
}

// BodyIn is a body measurement as it is set.
type BodyIn struct {
	Dimension string  `json:"dimension"`
	Value     float64 `json:"value"`
	Unit      string  `json:"unit" enum:"cm,in"`
}

func (in SizeIn) size() models.Size {
	z := models.Size{ID: in.ID, Name: in.Name, Filmed: in.Filmed}
	for _, b := range in.Body {
		z.Body = append(z.Body, models.BodyMeasurement{Dimension: b.Dimension, Length: models.NewLength(b.Value, b.Unit)})
	}
	return z
}

func (a *api) putSizes(ctx context.Context, actor models.Actor, in *putSizesInput) (*one[Design], error) {
	revision, err := in.revision(a.designRevision(ctx, in.Design))
	if err != nil {
		return nil, err
	}
	d, err := a.Store.PutSizes(ctx, actor, in.Design, revision, each(in.Body.Sizes, SizeIn.size))
	if err != nil {
		return nil, err
	}
	return a.designView(ctx, d)
}
