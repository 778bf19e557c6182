package handlers

import (
	"context"

	"tenter/models"
)

// Studio is every design at a glance.
type Studio struct {
	Today   models.Date  `json:"today"`
	Designs []StudioLine `json:"designs"`
	Needs   []Need       `json:"today_needs" doc:"What needs somebody today or soon, the most pressing first."`
	Next    string       `json:"next,omitempty" doc:"Cursor of the next page; absent on the last one."`
}

// StudioLine is one design.
type StudioLine struct {
	ID       string   `json:"id"`
	Slug     string   `json:"slug"`
	Name     string   `json:"name"`
	Craft    string   `json:"craft" enum:"crochet,knit"`
	Audience string   `json:"audience"`
	Tracks   []Track  `json:"tracks"`
	NextAir  *NextAir `json:"next_air"`
	Blocks   *Need    `json:"blocks_most" doc:"The one thing that holds it back most."`
}

// NextAir is the next announced day.
type NextAir struct {
	Title    string      `json:"title"`
	AirOn    models.Date `json:"air_on"`
	DaysLeft *int        `json:"days_left"`
	State    string      `json:"state"`
}

// Need is something that needs a person.
type Need struct {
	Design   string      `json:"design,omitempty"`
	Sentence string      `json:"sentence"`
	Where    string      `json:"where" doc:"Path of the screen where it is mended."`
	DueOn    models.Date `json:"due_on,omitempty"`
}

func needView(n models.Need) Need {
	if n.Design == nil {
		return Need{Sentence: n.Sentence, Where: n.Where}
	}
	return Need{n.Design.Name, n.Sentence, screen(n.Design.Slug, n.Where), n.DueOn}
}

type studioQuery struct{ Paged }

func (a *api) getStudio(ctx context.Context, actor models.Actor, in *studioQuery) (*plain[Studio], error) {
	b, err := a.Store.StudioBoard(ctx, in.page())
	if err != nil {
		return nil, err
	}
	needs := b.Needs
	if in.page().After == "" { // once, not with each page of designs
		house, err := a.Store.HouseNeeds(ctx, actor)
		if err != nil {
			return nil, err
		}
		needs = append(house, needs...)
	}
	return &plain[Studio]{Studio{Today: b.Today, Designs: each(b.Designs, studioLine), Needs: each(needs, needView), Next: b.Next}}, nil
}

func studioLine(l models.StudioLine) StudioLine {
	out := StudioLine{ID: l.Design.ID, Slug: l.Design.Slug, Name: l.Design.Name, Craft: l.Design.Craft, Audience: l.Design.Audience, Tracks: each(l.Tracks, trackView)}
	if n := l.NextAir; n != nil {
		out.NextAir = &NextAir{n.Title, n.AirOn, n.DaysLeft, string(n.State)}
	}
	if l.Blocks != nil {
		need := needView(*l.Blocks)
		out.Blocks = &need
	}
	return out
}
