package handlers

import (
	"context"
	"net/http"
	"time"

	"tenter/models"
)

// Correction is a change to a text that went out.
type Correction struct {
	ID            string       `json:"id"`
	Number        int          `json:"number" doc:"Within the design."`
	State         string       `json:"state" enum:"draft,in_text,announced,withdrawn"`
	Next          []string     `json:"next" doc:"States that may follow."`
	Place         string       `json:"place"`
	Was           string       `json:"was"`
	IsNow         string       `json:"is_now"`
	Why           string       `json:"why" doc:"For the studio; never published."`
	Count         string       `json:"count" doc:"In the count sheet; empty when it is about no count."`
	Sizes         []string     `json:"sizes" doc:"Ids; none: all sizes."`
	SinceVersion  string       `json:"since_version_id"`
	Since         int          `json:"since" doc:"The first version at fault."`
	MendedVersion *string      `json:"mended_version_id"`
	Mended        *int         `json:"mended" doc:"The version in which the text is mended."`
	FoundBy       *string      `json:"found_by" doc:"A person; null when it is not told, said in words, or somebody who was forgotten."`
	FoundHandle   string       `json:"found_handle"`
	FoundWords    string       `json:"found_words"`
	FindingKey    string       `json:"finding_key"`
	RemarkID      *string      `json:"remark_id"`
	InTextAt      *time.Time   `json:"in_text_at"`
	AnnouncedAt   *time.Time   `json:"announced_at"`
	WithdrawnAt   *time.Time   `json:"withdrawn_at"`
	WithdrawnWhy  string       `json:"withdrawn_why" doc:"Published when the correction had been announced."`
	CreatedAt     time.Time    `json:"created_at"`
	Revision      int          `json:"revision"`
	Spoken        []SpokenTake `json:"spoken" doc:"Accepted takes that say the old number. In lists only."`
}

// SpokenTake is an accepted recording that says a number which a correction changes.
type SpokenTake struct {
	InstallmentID string `json:"installment_id"`
	Take          int    `json:"take"`
	Sentence      string `json:"sentence"`
}

func correctionView(c models.Correction) Correction {
	return Correction{ID: c.ID, Number: c.Number, State: string(c.State()), Next: each(c.Next(), func(s models.CorrectionState) string { return string(s) }),
		Place: c.Place, Was: c.Was, IsNow: c.IsNow, Why: c.Why, Count: c.CountName, Sizes: texts(c.SizeIDs), SinceVersion: c.SinceVersion, Since: c.SinceNumber,
		MendedVersion: c.MendedVersion, Mended: c.MendedNumber, FoundBy: c.FoundBy, FoundHandle: c.Handle, FoundWords: c.FoundWords, FindingKey: c.FindingKey, RemarkID: c.RemarkID,
		InTextAt: c.InTextAt, AnnouncedAt: c.AnnouncedAt, WithdrawnAt: c.WithdrawnAt, WithdrawnWhy: c.WithdrawnWhy, CreatedAt: c.CreatedAt, Revision: c.Revision, Spoken: []SpokenTake{}}
}

// Corrections are all corrections of a design, and who is to be told of them.
type Corrections struct {
	Design     DesignLine        `json:"design"`
	Items      []Correction      `json:"items" doc:"By number."`
	Makers     []CorrectionMaker `json:"makers" doc:"Who has begun a piece, by size; nobody while there are no corrections."`
	Shut       string            `json:"shut" doc:"What keeps the gate shut for the version that goes out; empty when nothing does."`
	PublicPage string            `json:"public_page,omitempty" doc:"Path of the page for everybody, once the design is released."`
	PublicFeed string            `json:"public_feed,omitempty" doc:"Path of the Atom feed."`
}

// CorrectionMaker is a tester, and which corrections they were and are to be told.
type CorrectionMaker struct {
	AssignmentID string `json:"assignment_id"`
	CallID       string `json:"call_id"`
	Handle       string `json:"handle"`
	SizeID       string `json:"size_id"`
	Size         string `json:"size"`
	Version      int    `json:"version"`
	Due          []int  `json:"due" doc:"Numbers of corrections that they are still to be told, or told are taken back."`
	Told         []int  `json:"told"`
}

// CorrectionIn is what a correction says.
type CorrectionIn struct {
	Place        string   `json:"place" doc:"Where in the text."`
	Was          string   `json:"was,omitempty" doc:"Empty only for a count: then it is taken from the count sheet."`
	IsNow        string   `json:"is_now,omitempty" doc:"May wait until the text is mended."`
	Why          string   `json:"why,omitempty" doc:"For the studio."`
	Count        string   `json:"count,omitempty" doc:"A line of the count sheet that it is about."`
	Sizes        []string `json:"sizes,omitempty" maxItems:"40" doc:"Ids; none: all sizes."`
	SinceVersion string   `json:"since_version_id,omitempty" maxLength:"36" doc:"The first version at fault; absent: the remark's, or the latest."`
	FoundBy      *string  `json:"found_by,omitempty" maxLength:"36" doc:"A person."`
	FoundWords   string   `json:"found_words,omitempty" doc:"Somebody who is no person here."`
}

func (in CorrectionIn) text() models.CorrectionText {
	return models.CorrectionText{Place: in.Place, Was: in.Was, IsNow: in.IsNow, Why: in.Why, CountName: in.Count, SinceVersion: in.SinceVersion,
		SizeIDs: in.Sizes, FoundBy: in.FoundBy, FoundWords: in.FoundWords}
}

// CorrectionPath names a correction.
type CorrectionPath struct {
	Correction string `path:"correction" maxLength:"36"`
}

type newCorrectionInput struct {
	DesignPath
	Body struct {
		CorrectionIn
		FindingKey string  `json:"finding_key,omitempty" maxLength:"120" doc:"A decided finding that it comes from."`
		RemarkID   *string `json:"remark_id,omitempty" maxLength:"36" doc:"A remark that it comes from."`
	}
}

type putCorrectionInput struct {
	CorrectionPath
	Precondition
	Body CorrectionIn
}

type moveCorrectionInput struct {
	CorrectionPath
	Precondition
	Body struct {
		State     string `json:"state" enum:"draft,in_text,announced,withdrawn"`
		VersionID string `json:"version_id,omitempty" maxLength:"36" doc:"For in_text: the version in which the text is mended; absent: the latest."`
		Why       string `json:"why,omitempty" doc:"For withdrawn; everybody reads it when the correction had been announced."`
	}
}

type changedCountInput struct {
	DesignPath
	Count   string `query:"count" required:"true" maxLength:"120" doc:"A line of the count sheet."`
	Since   string `query:"since" maxLength:"36" doc:"The first version at fault; the one before when absent."`
	Version string `query:"version" maxLength:"36" doc:"The version in which the text is mended; the latest when absent."`
}

// ChangedCount is a count in two versions, as the text prints it.
type ChangedCount struct {
	Count string   `json:"count"`
	Since int      `json:"since"`
	Now   int      `json:"now"`
	Was   string   `json:"was"`
	IsNow string   `json:"is_now"`
	Sizes []string `json:"sizes" doc:"Ids of those that differ; none where every size does, as in a correction."`
	Same  bool     `json:"same" doc:"No size differs."`
}

func (a *api) corrections() {
	add(a, operation("list-corrections", http.MethodGet, "/designs/{design}/corrections", "A design's corrections, how far each is, and who is to be told", "Corrections"), a.getCorrections)
	add(a, created(operation("add-correction", http.MethodPost, "/designs/{design}/corrections", "Draft a correction", "Corrections")), a.postCorrection)
	add(a, operation("get-changed-count", http.MethodGet, "/designs/{design}/corrections/count", "What two versions say for one count, to fill a correction in", "Corrections"), a.getChangedCount)
	add(a, operation("get-correction", http.MethodGet, "/corrections/{correction}", "One correction", "Corrections"), a.getCorrection)
	add(a, operation("put-correction", http.MethodPut, "/corrections/{correction}", "Change what a correction says, until somebody was told of it", "Corrections"), a.putCorrection)
	add(a, operation("move-correction", http.MethodPost, "/corrections/{correction}/state", "Move a correction on: into the text of a version, to its announcement, back, or withdraw it", "Corrections"), a.postCorrectionState)
	a.publicCorrections()
}

func (a *api) getCorrections(ctx context.Context, _ models.Actor, in *DesignPath) (*plain[Corrections], error) {
	d, err := a.Store.Design(ctx, in.Design)
	if err != nil {
		return nil, err
	}
	standing, err := a.Store.Corrections(ctx, d.ID)
	if err != nil {
		return nil, err
	}
	spoken, err := a.Store.SpokenTakes(ctx, d.ID, standing.Corrections)
	if err != nil {
		return nil, err
	}
	versions, err := a.Store.Versions(ctx, d.ID)
	if err != nil {
		return nil, err
	}
	goingOut := versions[len(versions)-1].Number
	if d.OutVersion != nil {
		goingOut = *d.OutVersion
	}
	out := Corrections{Design: designLine(*d), Items: each(standing.Corrections, correctionView), Shut: standing.Why(goingOut),
		Makers: each(standing.Makers, func(m models.CorrectionMaker) CorrectionMaker {
			return CorrectionMaker{m.AssignmentID, m.CallID, m.Handle, m.SizeID, m.Size, m.Version, each(m.Due, same), each(m.Told, same)}
		})}
	for i, c := range standing.Corrections {
		out.Items[i].Spoken = each(spoken[c.ID], func(k models.SpokenTake) SpokenTake {
			return SpokenTake{k.InstallmentID, k.Take, k.Sentence(c.CountName, c.State())}
		})
	}
	if d.IsOut() {
		out.PublicPage, out.PublicFeed = publicPage(d.Slug), publicFeed(d.Slug)
	}
	return &plain[Corrections]{out}, nil
}

func madeCorrection(c *models.Correction, err error) (*one[Correction], error) {
	if err != nil {
		return nil, err
	}
	return &one[Correction]{etag(c.Revision), correctionView(*c)}, nil
}

func (a *api) postCorrection(ctx context.Context, actor models.Actor, in *newCorrectionInput) (*made[Correction], error) {
	c, err := a.Store.AddCorrection(ctx, actor, in.Design, models.NewCorrection{CorrectionText: in.Body.text(), FindingKey: in.Body.FindingKey, RemarkID: in.Body.RemarkID})
	if err != nil {
		return nil, err
	}
	return &made[Correction]{etag(c.Revision), Prefix + "/corrections/" + c.ID, correctionView(*c)}, nil
}

func (a *api) getChangedCount(ctx context.Context, _ models.Actor, in *changedCountInput) (*plain[ChangedCount], error) {
	c, err := a.Store.ChangedCount(ctx, in.Design, in.Count, in.Since, in.Version)
	if err != nil {
		return nil, err
	}
	out := ChangedCount{Count: c.Count, Since: c.Since.Number, Now: c.Now.Number, Was: c.Was, IsNow: c.IsNow, Sizes: []string{}, Same: len(c.SizeIDs) == 0}
	if !c.EverySizeIs {
		out.Sizes = texts(c.SizeIDs)
	}
	return &plain[ChangedCount]{out}, nil
}

func (a *api) getCorrection(ctx context.Context, _ models.Actor, in *CorrectionPath) (*one[Correction], error) {
	return madeCorrection(a.Store.Correction(ctx, in.Correction))
}

func (a *api) putCorrection(ctx context.Context, actor models.Actor, in *putCorrectionInput) (*one[Correction], error) {
	revision, err := in.revision(func() (int, error) { return a.Store.CorrectionRevision(ctx, in.Correction) })
	if err != nil {
		return nil, err
	}
	return madeCorrection(a.Store.ChangeCorrection(ctx, actor, in.Correction, revision, in.Body.text()))
}

func (a *api) postCorrectionState(ctx context.Context, actor models.Actor, in *moveCorrectionInput) (*one[Correction], error) {
	revision, err := in.revision(func() (int, error) { return a.Store.CorrectionRevision(ctx, in.Correction) })
	if err != nil {
		return nil, err
	}
	move := models.CorrectionMove{To: models.CorrectionState(in.Body.State), VersionID: in.Body.VersionID, Why: in.Body.Why}
	return madeCorrection(a.Store.MoveCorrection(ctx, actor, in.Correction, revision, move))
}

// PieceCorrection is a correction as a tester sees it whose piece it changes.
type PieceCorrection struct {
	Number int      `json:"number"`
	Place  string   `json:"place"`
	Was    string   `json:"was,omitempty" doc:"Left out where it is a count: that is said for the tester's size alone."`
	IsNow  string   `json:"is_now,omitempty"`
	Count  string   `json:"count,omitempty"`
	Before *float64 `json:"before" doc:"The count in this size; null when it skips the line, or when it is no count."`
	After  *float64 `json:"after"`
	Mended int      `json:"mended" doc:"The version in which it is mended."`
}

func pieceCorrection(c models.PieceCorrection) PieceCorrection {
	out := PieceCorrection{Number: c.Number, Place: c.Place, Was: c.Was, IsNow: c.IsNow, Count: c.CountName, Before: c.Before, After: c.After, Mended: *c.MendedNumber}
	if c.Before != nil || c.After != nil {
		out.Was, out.IsNow = "", ""
	}
	return out
}
