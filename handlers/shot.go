package handlers

import (
	"context"
	"net/http"

	"tenter/models"
)

// Shot is one thing to be shown in an installment.
type Shot struct {
	ID            string       `json:"id"`
	InstallmentID string       `json:"installment_id"`
	Position      int          `json:"position"`
	Title         string       `json:"title"`
	FromState     *string      `json:"from_state" doc:"The state that its sample has to be in; null for the beginning."`
	ToState       *string      `json:"to_state" doc:"The state that it leaves the sample in."`
	Attached      string       `json:"attached" doc:"Yarn that stays attached."`
	Marked        string       `json:"marked" doc:"Stitches that are marked."`
	Live          string       `json:"live" doc:"Stitches left live."`
	Differs       string       `json:"differs" doc:"Where groups of sizes differ."`
	Note          string       `json:"note"`
	Chapter       *string      `json:"chapter" doc:"Its place in the finished video, a time code; null: reckoned from the takes."`
	Numbers       []ShotNumber `json:"numbers"`
	Tails         []ShotTail   `json:"tails"`
	Revision      int          `json:"revision"`
}

// ShotNumber is a count that is said.
type ShotNumber struct {
	Count string `json:"count" doc:"Its name in the count sheet."`
	Words string `json:"words,omitempty" doc:"What is said around it."`
}

// ShotTail is a tail left long, by the rule of thumb of three to four times the
// seam and a bit (common practice).
type ShotTail struct {
	Seam   string  `json:"seam"`
	Length Length  `json:"length" doc:"Of the seam in the filmed size."`
	LowCM  float64 `json:"low_cm"`
	HighCM float64 `json:"high_cm"`
}

func shotView(s models.Shot) Shot {
	return Shot{ID: s.ID, InstallmentID: s.InstallmentID, Position: s.Position, Title: s.Title, FromState: s.FromState, ToState: s.ToState,
		Attached: s.Attached, Marked: s.Marked, Live: s.Live, Differs: s.Differs, Note: s.Note, Chapter: codeView(s.ChapterMS), Revision: s.Revision,
		Numbers: each(s.Numbers, func(n models.ShotNumber) ShotNumber { return ShotNumber{n.CountName, n.Words} }), Tails: each(s.Tails, tailView)}
}

func tailView(t models.ShotTail) ShotTail {
	low, high := t.TailCM()
	return ShotTail{t.Seam, lengthView(t.Length), hundredth(low), hundredth(high)}
}

func codeView(c *models.TimeCode) *string {
	if c == nil {
		return nil
	}
	text := c.String()
	return &text
}

// readCode reads an optional time code; at names its field.
func readCode(at string, text *string) (*models.TimeCode, error) {
	if text == nil {
		return nil, nil
	}
	c, err := models.ParseTimeCode(*text)
	if err != nil {
		return nil, &models.Error{Kind: models.Invalid, Message: "The time code can't be read; nothing was changed.", Fields: []models.FieldProblem{{Field: at, Problem: err.Error()}}}
	}
	return &c, nil
}

// ShotTailIn is a tail as it is set.
type ShotTailIn struct {
	Seam string `json:"seam"`
	LengthIn
}

func numbersFrom(in []ShotNumber) []models.ShotNumber {
	return each(in, func(n ShotNumber) models.ShotNumber { return models.ShotNumber{CountName: n.Count, Words: n.Words} })
}

func tailsFrom(in []ShotTailIn) []models.ShotTail {
	return each(in, func(t ShotTailIn) models.ShotTail { return models.ShotTail{Seam: t.Seam, Length: t.length()} })
}

type ShotPath struct {
	Shot string `path:"shot" maxLength:"36"`
}

type newShotInput struct {
	InstallmentPath
	Body struct {
		Position  int          `json:"position,omitempty" minimum:"1" doc:"Its place; the end when absent."`
		Title     string       `json:"title"`
		FromState *string      `json:"from_state,omitempty" maxLength:"36"`
		ToState   *string      `json:"to_state,omitempty" maxLength:"36"`
		Attached  string       `json:"attached,omitempty"`
		Marked    string       `json:"marked,omitempty"`
		Live      string       `json:"live,omitempty"`
		Differs   string       `json:"differs,omitempty"`
		Note      string       `json:"note,omitempty"`
		Numbers   []ShotNumber `json:"numbers,omitempty" maxItems:"30"`
		Tails     []ShotTailIn `json:"tails,omitempty" maxItems:"10"`
	}
}

type changeShotInput struct {
	ShotPath
	Precondition
	Body struct {
		Position  *int             `json:"position,omitempty"`
		Title     *string          `json:"title,omitempty"`
		FromState Optional[string] `json:"from_state,omitempty"`
		ToState   Optional[string] `json:"to_state,omitempty"`
		Attached  *string          `json:"attached,omitempty"`
		Marked    *string          `json:"marked,omitempty"`
		Live      *string          `json:"live,omitempty"`
		Differs   *string          `json:"differs,omitempty"`
		Note      *string          `json:"note,omitempty"`
		Chapter   Optional[string] `json:"chapter,omitempty" doc:"A time code, like 12:04; null goes back to what the takes give."`
		Numbers   *[]ShotNumber    `json:"numbers,omitempty" maxItems:"30"`
		Tails     *[]ShotTailIn    `json:"tails,omitempty" maxItems:"10"`
	}
}

type removeShotInput struct {
	ShotPath
	Precondition
}

func (a *api) shots() {
	add(a, created(operation("add-shot", http.MethodPost, "/installments/{installment}/shots", "Add a shot", "Filming")), a.postShot)
	add(a, operation("get-shot", http.MethodGet, "/shots/{shot}", "A shot with its numbers and tails", "Filming"), a.getShot)
	add(a, operation("change-shot", http.MethodPatch, "/shots/{shot}", "Change or move a shot", "Filming"), a.patchShot)
	add(a, operation("remove-shot", http.MethodDelete, "/shots/{shot}", "Take a shot away that no take holds", "Filming"), a.deleteShot)
	add(a, operation("put-take-shots", http.MethodPut, "/takes/{take}/shots", "Say which shots a take holds, where, and which are accepted", "Filming"), a.putTakeShots)
}

func (a *api) postShot(ctx context.Context, actor models.Actor, in *newShotInput) (*made[Shot], error) {
	b := in.Body
	s, err := a.Store.AddShot(ctx, actor, in.Installment, models.Shot{Position: b.Position, Title: b.Title, FromState: b.FromState, ToState: b.ToState,
		Attached: b.Attached, Marked: b.Marked, Live: b.Live, Differs: b.Differs, Note: b.Note, Numbers: numbersFrom(b.Numbers), Tails: tailsFrom(b.Tails)})
	if err != nil {
		return nil, err
	}
	return &made[Shot]{etag(s.Revision), Prefix + "/shots/" + s.ID, shotView(*s)}, nil
}

func (a *api) getShot(ctx context.Context, _ models.Actor, in *ShotPath) (*one[Shot], error) {
	return a.oneShot(a.Store.Shot(ctx, in.Shot))
}

func (a *api) oneShot(s *models.Shot, err error) (*one[Shot], error) {
	if err != nil {
		return nil, err
	}
	return &one[Shot]{etag(s.Revision), shotView(*s)}, nil
}

func (a *api) shotRevision(ctx context.Context, id string) func() (int, error) {
	return func() (int, error) {
		s, err := a.Store.Shot(ctx, id)
		if err != nil {
			return 0, err
		}
		return s.Revision, nil
	}
}

func (a *api) patchShot(ctx context.Context, actor models.Actor, in *changeShotInput) (*one[Shot], error) {
	revision, err := in.revision(a.shotRevision(ctx, in.Shot))
	if err != nil {
		return nil, err
	}
	b := in.Body
	change := models.ShotChange{Position: b.Position, Title: b.Title, Attached: b.Attached, Marked: b.Marked, Live: b.Live, Differs: b.Differs, Notes: b.Note,
		FromState: b.FromState.change(), ToState: b.ToState.change()}
	if typed := b.Chapter.change(); typed != nil {
		code, err := readCode("chapter", *typed)
		if err != nil {
			return nil, err
		}
		change.Chapter = &code
	}
	if b.Numbers != nil {
		numbers := numbersFrom(*b.Numbers)
		change.Numbers = &numbers
	}
	if b.Tails != nil {
		tails := tailsFrom(*b.Tails)
		change.Tails = &tails
	}
	return a.oneShot(a.Store.ChangeShot(ctx, actor, in.Shot, revision, change))
}

func (a *api) deleteShot(ctx context.Context, actor models.Actor, in *removeShotInput) (*struct{}, error) {
	revision, err := in.revision(a.shotRevision(ctx, in.Shot))
	if err != nil {
		return nil, err
	}
	return nil, a.Store.RemoveShot(ctx, actor, in.Shot, revision)
}
