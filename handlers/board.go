package handlers

import (
	"context"
	"math"
	"net/http"

	"tenter/models"
)

// Board is everything about one design at a glance.
type Board struct {
	Today        models.Date        `json:"today"`
	Design       DesignLine         `json:"design"`
	Version      Version            `json:"version" doc:"The latest."`
	Call         *BoardCall         `json:"call" doc:"The test call that runs, or the last one."`
	Points       []BoardPoint       `json:"points"`
	Sizes        []BoardSize        `json:"sizes"`
	Installments []BoardInstallment `json:"installments"`
	Holds        []Hold             `json:"holds" doc:"Samples that must not be worked on before a shot is recorded."`
	Unlogged     []Unlogged         `json:"unlogged" doc:"Samples whose state is older than their last accepted shot."`
	Gauge        BoardGauge         `json:"gauge"`
	Gates        []Gate             `json:"gates"`
	Tracks       []Track            `json:"tracks"`
	RemarksOpen  int                `json:"remarks_open"`
}

// BoardCall is the test call as the board shows it.
type BoardCall struct {
	ID       string      `json:"id"`
	Title    string      `json:"title"`
	DueOn    models.Date `json:"due_on"`
	DaysLeft int         `json:"days_left"`
	Closed   bool        `json:"closed"`
	Version  int         `json:"version_number"`
}

// BoardPoint is a column of the board.
type BoardPoint struct {
	ID          string  `json:"id"`
	Name        string  `json:"name"`
	Axis        string  `json:"axis"`
	ToleranceCM float64 `json:"tolerance_cm"`
	Outside     int     `json:"outside" doc:"Marks outside the band, over all sizes."`
}

// BoardSize is a row of the board.
type BoardSize struct {
	ID      string        `json:"id"`
	Name    string        `json:"name"`
	Filmed  bool          `json:"filmed"`
	Samples []BoardSample `json:"samples"`
	Testers BoardTesters  `json:"testers"`
	Strips  []BoardStrip  `json:"strips" doc:"In the order of the points."`
	Before  []string      `json:"made_before,omitempty" doc:"Testers who make an earlier version, and which counts of this size the latest has otherwise."`
}

// BoardSample is a piece made in the studio.
type BoardSample struct {
	ID            string  `json:"id"`
	Label         string  `json:"label"`
	Purpose       string  `json:"purpose"`
	WorkedThrough *string `json:"worked_through" doc:"An installment."`
	Worked        string  `json:"worked,omitempty" doc:"The state that it is in, in words; absent before the first."`
	WorkedNote    string  `json:"worked_note,omitempty"`
	HeldBy        string  `json:"held_by"`
}

// BoardTesters counts a size's testers.
type BoardTesters struct {
	Fewest   int      `json:"fewest"`
	Wanted   int      `json:"wanted"`
	Assigned int      `json:"assigned"`
	Accepted int      `json:"accepted"`
	Reported int      `json:"reported"`
	Approved int      `json:"approved"`
	Quiet    int      `json:"quiet,omitempty" doc:"Asked too long ago without an answer, or without a sign of life for a fortnight."`
	Covered  *float64 `json:"covered,omitempty" doc:"Probability that the fewest reports come, each by its own day, as things stand."`
}

// BoardStrip is the tape strip of one size and point, all in cm.
type BoardStrip struct {
	PointID     string        `json:"point_id"`
	IntendedCM  *float64      `json:"intended_cm"`
	ExpectedCM  *float64      `json:"expected_cm" doc:"By the latest version's counts, at the design's gauge."`
	ToleranceCM float64       `json:"tolerance_cm"`
	LowCM       float64       `json:"low_cm"`
	HighCM      float64       `json:"high_cm"`
	GrowthCM    *float64      `json:"growth_cm" doc:"How far the fabric's growth moves where pieces should lie; null while it isn't known."`
	Finding     *BoardFinding `json:"finding,omitempty" doc:"What the reports together say of this count, when it is or may be wrong."`
	Marks       []BoardMark   `json:"marks"`
}

// BoardFinding is a count that is at fault, or may be.
type BoardFinding struct {
	Key     string `json:"key"`
	Verdict string `json:"verdict" enum:"fault,suspect"`
	Decided bool   `json:"decided"`
}

// BoardMark is one measured piece. At is where it would be, had its maker kept
// the design's gauge.
type BoardMark struct {
	ReportID   string  `json:"report_id,omitempty"`
	SampleID   string  `json:"sample_id,omitempty"`
	Who        string  `json:"who"`
	AtCM       float64 `json:"at_cm"`
	MeasuredCM float64 `json:"measured_cm"`
	State      string  `json:"state" enum:"within,outside,slip"`
	Sentence   string  `json:"sentence,omitempty" doc:"What the diagnosis of all reports says of it."`
}

// BoardInstallment is one part of the run.
type BoardInstallment struct {
	ID        string      `json:"id"`
	Position  int         `json:"position"`
	Title     string      `json:"title"`
	AirOn     models.Date `json:"air_on,omitempty"`
	RecordBy  models.Date `json:"record_by,omitempty"`
	DaysLeft  *int        `json:"days_left"`
	State     string      `json:"state" enum:"unrecorded,recorded,edited,captioned,scheduled,aired"`
	Late      bool        `json:"late"`
	OpenSlips int         `json:"open_slips"`
	Needs     string      `json:"needs"`
	Sample    *SampleRef  `json:"sample" doc:"With which it can be recorded as it is."`
}

// SampleRef names a sample and where it is.
type SampleRef struct {
	ID     string `json:"id"`
	Label  string `json:"label"`
	HeldBy string `json:"held_by"`
}

// BoardGauge is whether the samples bear out the design's gauge.
type BoardGauge struct {
	State    string `json:"state" enum:"borne_out,not_borne_out,untold"`
	Sentence string `json:"sentence"`
}

// Gate is a condition for release.
type Gate struct {
	Name  string `json:"name"`
	Shut  bool   `json:"shut"`
	Why   string `json:"why,omitempty"`
	Where string `json:"where" doc:"Path of the screen where it is opened."`
	// ByHand is told only where it is so.
	ByHand bool `json:"by_hand,omitempty" doc:"It is open only because the designer opened it by hand; the release page says why."`
}

// Track is one of a design's four tracks.
type Track struct {
	Name     string `json:"name" enum:"samples,testing,filming,release"`
	Done     int    `json:"done"`
	Of       int    `json:"of"`
	Sentence string `json:"sentence"`
}

func (a *api) boards() {
	add(a, operation("get-board", http.MethodGet, "/designs/{design}/board", "Everything about a design at a glance", "Studio"), a.getBoard)
	add(a, operation("get-studio", http.MethodGet, "/studio", "Every design at a glance", "Studio"), a.getStudio)
}

func (a *api) getBoard(ctx context.Context, _ models.Actor, in *DesignPath) (*plain[Board], error) {
	b, err := a.Store.Board(ctx, in.Design)
	if err != nil {
		return nil, err
	}
	return &plain[Board]{boardView(b)}, nil
}

func boardView(b *models.Board) Board {
	out := Board{Today: b.Today, Design: designLine(*b.Design), Version: versionView(b.Version), RemarksOpen: b.RemarksOpen,
		Gauge: BoardGauge{string(b.Bearing.State), b.Bearing.Sentence}}
	if c := b.Call; c != nil {
		out.Call = &BoardCall{c.ID, c.Title, c.DueOn, b.Today.DaysUntil(c.DueOn), c.Closed, c.VersionNumber}
	}
	out.Points = each(b.Points, func(q models.BoardPoint) BoardPoint {
		return BoardPoint{q.ID, q.Name, q.Axis, q.Tolerance.CM, q.Outside}
	})
	out.Sizes = each(b.Sizes, boardSize)
	out.Installments = each(b.Installments, boardInstallment)
	out.Holds = each(b.Holds, holdView)
	out.Unlogged = each(b.Unlogged, unloggedView)
	out.Gates = each(b.Gates, func(g models.Gate) Gate { return gateView(b.Design.Slug, g) })
	out.Tracks = each(b.Tracks, trackView)
	return out
}

func trackView(t models.Track) Track { return Track{t.Name, t.Done, t.Of, t.Sentence} }

// screen is the path of a design's screen.
func screen(slug, where string) string { return "/d/" + slug + "/" + where }

func boardSize(z models.BoardSize) BoardSize {
	return BoardSize{ID: z.ID, Name: z.Name, Filmed: z.Filmed,
		Testers: boardTesters(z),
		Samples: each(z.Samples, func(s models.BoardSample) BoardSample {
			return BoardSample{s.ID, s.Label, s.Purpose, s.WorkedThrough, s.Worked, s.WorkedNote, heldBy(s.Sample)}
		}),
		Strips: each(z.Strips, boardStrip), Before: each(z.Before, models.MadeBefore.Sentence)}
}

// boardTesters counts a size's testers and says how likely its reports are.
func boardTesters(z models.BoardSize) BoardTesters {
	t := z.Testers
	out := BoardTesters{Fewest: t.Fewest, Wanted: t.Wanted, Assigned: t.Assigned, Accepted: t.Accepted, Reported: t.Reported, Approved: t.Approved}
	if c := z.Coverage; c != nil {
		covered := thousandth(c.Probability)
		out.Quiet, out.Covered = c.Quiet, &covered
	}
	return out
}

// heldBy says who has a sample, or where it is.
func heldBy(s models.Sample) string {
	if s.Holder != "" {
		return s.Holder
	}
	return s.HeldNote
}

func boardStrip(s models.BoardStrip) BoardStrip {
	out := BoardStrip{PointID: s.PointID, IntendedCM: s.IntendedCM, ExpectedCM: hundredthOf(s.ExpectedCM), ToleranceCM: s.ToleranceCM,
		LowCM: s.LowCM, HighCM: s.HighCM, GrowthCM: hundredthOf(s.GrowthCM), Marks: each(s.Marks, boardMark)}
	if f := s.Finding; f != nil {
		out.Finding = &BoardFinding{f.Key, string(f.Verdict), s.Decided}
	}
	return out
}

func boardMark(m models.BoardMark) BoardMark {
	out := BoardMark{Who: m.Who, AtCM: hundredth(m.AtCM), MeasuredCM: hundredth(m.MeasuredCM), State: m.State, Sentence: m.Sentence}
	if m.Kind == models.MarkOfSample {
		out.SampleID = m.ID
	} else {
		out.ReportID = m.ID
	}
	return out
}

func boardInstallment(in models.InstallmentNow) BoardInstallment {
	out := BoardInstallment{ID: in.ID, Position: in.Position, Title: in.Title, AirOn: in.AirOn, RecordBy: in.RecordDue, DaysLeft: in.DaysLeft,
		State: string(in.State), Late: in.Late, OpenSlips: in.OpenSlips, Needs: in.Needs}
	if s := in.Sample; s != nil {
		out.Sample = &SampleRef{s.ID, s.Label, heldBy(*s)}
	}
	return out
}

// hundredth rounds a length for show: a tape is not read finer.
func hundredth(cm float64) float64 { return math.Round(cm*100) / 100 }

func hundredthOf(cm *float64) *float64 {
	if cm == nil {
		return nil
	}
	rounded := hundredth(*cm)
	return &rounded
}
