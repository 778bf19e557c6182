package handlers

import (
	"context"
	"net/http"

	"github.com/danielgtaylor/huma/v2"

	"tenter/models"
)

// ShootSheet is all that is at hand when an installment is recorded and edited.
type ShootSheet struct {
	Today       models.Date    `json:"today"`
	Design      DesignLine     `json:"design"`
	Installment Installment    `json:"installment"`
	Version     Version        `json:"version" doc:"The one being released: the latest."`
	SizeID      *string        `json:"size_id" doc:"The filmed size; null when none is marked."`
	SizeName    string         `json:"size_name"`
	Sizes       []string       `json:"sizes"`
	Shots       []SheetShot    `json:"shots"`
	Notes       []EditNote     `json:"notes" doc:"For whoever edits."`
	Chapters    []SheetChapter `json:"chapters"`
	Trouble     []string       `json:"trouble" doc:"What keeps the chapters from being complete."`
	Cards       string         `json:"cards" doc:"On-screen number cards, as text."`
	Unlogged    []Unlogged     `json:"unlogged" doc:"Samples whose state is older than their last accepted shot."`
}

// SheetShot is a shot with everything that it needs.
type SheetShot struct {
	Shot
	FromWords string        `json:"from_words"`
	ToWords   string        `json:"to_words"`
	Plan      *PlannedShot  `json:"plan" doc:"The sample for it; null once it is recorded, or without a day."`
	Here      string        `json:"here" doc:"Where its sample is now."`
	Said      []SheetNumber `json:"said"`
	Skips     []string      `json:"skips"`
	Takes     []ShotTake    `json:"takes"`
	Recorded  *ShotTake     `json:"recorded" doc:"The accepted recording that is used."`
	Flags     []string      `json:"flags" doc:"Numbers that the text has changed since they were said."`
}

// SheetNumber is a count as it is said and shown.
type SheetNumber struct {
	Count string   `json:"count"`
	Words string   `json:"words"`
	Unit  string   `json:"unit"`
	Demo  *float64 `json:"demo" doc:"For the filmed size; null when it skips the line."`
	Line  string   `json:"line" doc:"For all sizes; empty when the text no longer has it."`
}

// ShotTake is a shot in a take.
type ShotTake struct {
	TakeID   string       `json:"take_id"`
	Number   int          `json:"number"`
	At       *string      `json:"at"`
	Until    *string      `json:"until"`
	Accepted bool         `json:"accepted"`
	SetAside bool         `json:"set_aside"`
	Again    bool         `json:"again" doc:"A slip in it waits to be recorded again."`
	Said     []SaidNumber `json:"said"`
	Flags    []string     `json:"flags"`
}

func shotTakeView(k models.ShotTake) ShotTake {
	return ShotTake{k.TakeID, k.Number, codeView(k.At), codeView(k.Until), k.Accepted, k.SetAside, k.Again, each(k.Said, saidView), texts(k.Flags)}
}

// EditNote is one line for whoever edits.
type EditNote struct {
	Take  int     `json:"take,omitempty"`
	At    *string `json:"at"`
	Until *string `json:"until"`
	Kind  string  `json:"kind" enum:"use,cut,on_screen_note,record_again,number_changed"`
	Shot  string  `json:"shot"`
	Words string  `json:"words"`
	Done  bool    `json:"done"`
	Waits string  `json:"waits,omitempty" doc:"Why it may not be needed in the end: its take, or its shot there, is not accepted yet."`
}

// SheetChapter is where a shot begins in the finished video.
type SheetChapter struct {
	ShotID   string `json:"shot_id"`
	Title    string `json:"title"`
	At       string `json:"at"`
	Reckoned bool   `json:"reckoned" doc:"From the lengths of the takes, not typed."`
}

func texts(in []string) []string { return each(in, func(s string) string { return s }) }

// textFile is an answer that is a file of text.
type textFile struct {
	ContentType string `header:"Content-Type"`
	Disposition string `header:"Content-Disposition"`
	Body        []byte
}

func (a *api) shootSheets() {
	add(a, operation("get-shoot-sheet", http.MethodGet, "/installments/{installment}/sheet", "Everything at hand when an installment is recorded and edited", "Filming"), a.getShootSheet)
	for id, f := range map[string]struct {
		path, summary, kind string
		write               func(*models.ShootSheet) (string, error)
	}{
		"get-chapters-vtt":  {"chapters.vtt", "Chapters as a WebVTT file", "text/vtt; charset=utf-8", (*models.ShootSheet).ChaptersVTT},
		"get-chapters-text": {"chapters.txt", "Chapters as lines for a description", "text/plain; charset=utf-8", plainly((*models.ShootSheet).ChapterList)},
		"get-cards":         {"cards.txt", "On-screen number cards as text", "text/plain; charset=utf-8", plainly((*models.ShootSheet).CardsText)},
		"get-edit-notes":    {"edit-notes.txt", "Notes for whoever edits", "text/plain; charset=utf-8", plainly((*models.ShootSheet).NotesText)},
	} {
		op := operation(id, http.MethodGet, "/installments/{installment}/"+f.path, f.summary, "Filming")
		op.Responses = map[string]*huma.Response{"200": {Description: f.summary, Content: map[string]*huma.MediaType{f.kind: {Schema: &huma.Schema{Type: "string"}}}}}
		add(a, op, func(ctx context.Context, _ models.Actor, in *InstallmentPath) (*textFile, error) {
			sheet, err := a.Store.ShootSheet(ctx, in.Installment)
			if err != nil {
				return nil, err
			}
			text, err := f.write(sheet)
			if err != nil {
				return nil, err
			}
			return &textFile{f.kind, `attachment; filename="` + sheet.Design.Slug + "-" + f.path + `"`, []byte(text)}, nil
		})
	}
}

func plainly(f func(*models.ShootSheet) string) func(*models.ShootSheet) (string, error) {
	return func(s *models.ShootSheet) (string, error) { return f(s), nil }
}

func (a *api) getShootSheet(ctx context.Context, _ models.Actor, in *InstallmentPath) (*plain[ShootSheet], error) {
	s, err := a.Store.ShootSheet(ctx, in.Installment)
	if err != nil {
		return nil, err
	}
	out := ShootSheet{Today: s.Today, Design: designLine(*s.Design), Installment: installmentView(s.Installment), Version: versionView(s.Version),
		Sizes: each(s.Sizes, func(z models.Size) string { return z.Name }), Shots: each(s.Shots, sheetShotView), Trouble: texts(s.Trouble), Cards: s.CardsText(), Unlogged: each(s.Unlogged, unloggedView),
		Notes: each(s.Notes, func(n models.EditNote) EditNote {
			return EditNote{n.Take, codeView(n.At), codeView(n.Until), n.Kind, n.Shot, n.Words, n.Done, n.Waits}
		}),
		Chapters: each(s.Chapters, func(c models.SheetChapter) SheetChapter {
			return SheetChapter{c.ShotID, c.Title, c.At.String(), c.Reckoned}
		})}
	if s.Size != nil {
		out.SizeID, out.SizeName = &s.Size.ID, s.Size.Name
	}
	return &plain[ShootSheet]{out}, nil
}

func sheetShotView(s models.SheetShot) SheetShot {
	out := SheetShot{Shot: shotView(s.Shot), FromWords: s.From, ToWords: s.To, Here: s.Here, Skips: texts(s.Skips), Flags: texts(s.Flags),
		Said: each(s.Numbers, func(n models.SheetNumber) SheetNumber {
			return SheetNumber{n.Name, n.Words, n.Unit, n.Demo, n.Line}
		}), Takes: each(s.Takes, shotTakeView)}
	if s.Plan != nil {
		plan := plannedShotView(*s.Plan)
		out.Plan = &plan
	}
	if s.Recorded != nil {
		used := shotTakeView(*s.Recorded)
		out.Recorded = &used
	}
	return out
}
