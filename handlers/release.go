package handlers

import (
	"context"
	"net/http"
	"time"

	"tenter/models"
)

// Release is what holds a design and each installment of it back, and what goes
// out on which day.
type Release struct {
	Today      models.Date    `json:"today"`
	Design     DesignLine     `json:"design"`
	ReleasedBy string         `json:"released_by,omitempty" doc:"Who marked the text as out."`
	Versions   []Version      `json:"versions" doc:"The first one first."`
	Out        int            `json:"out_version" doc:"The version that goes out: the one named, else the latest."`
	Signed     bool           `json:"signed" doc:"A tech editor's sign-off of that version stands."`
	Gates      []ReleaseGate  `json:"gates" doc:"Of the design as a whole."`
	Run        []ReleaseRun   `json:"installments" doc:"In order, each with what holds it back."`
	Days       []ReleaseDay   `json:"days" doc:"What is still to do by day, then what has no day, then what is done."`
	Before     []GateOverride `json:"taken_back" doc:"Gates that were opened by hand and shut again, the latest first."`
}

// ReleaseGate is a gate with who opened it by hand.
type ReleaseGate struct {
	Gate
	Key               string        `json:"gate"`
	HoldsInstallments bool          `json:"holds_installments" doc:"It holds back each installment as well."`
	Opened            *GateOverride `json:"opened" doc:"By hand; null for not."`
	Again             string        `json:"again,omitempty" doc:"Why it is shut again although it was opened by hand."`
	Seen              string        `json:"seen,omitempty" doc:"Send it along when you open the gate by hand."`
}

// GateOverride is a gate that was opened by hand.
type GateOverride struct {
	ID          string     `json:"id"`
	Gate        string     `json:"gate"`
	Name        string     `json:"name"`
	Installment *string    `json:"installment_id"`
	Reason      string     `json:"reason"`
	Why         string     `json:"why" doc:"What the gate said then."`
	By          string     `json:"by"`
	At          time.Time  `json:"at"`
	TakenBackAt *time.Time `json:"taken_back_at"`
	TakenBackBy string     `json:"taken_back_by,omitempty"`
}

// ReleaseRun is an installment with its gates.
type ReleaseRun struct {
	ID       string        `json:"id"`
	Position int           `json:"position"`
	Title    string        `json:"title"`
	AirOn    *models.Date  `json:"air_on"`
	State    string        `json:"state"`
	Revision int           `json:"revision"`
	Link     string        `json:"link"`
	AiredAt  *time.Time    `json:"aired_at" doc:"When it was marked as out; null while it is not."`
	Gates    []ReleaseGate `json:"gates" doc:"Those of the design that hold it back as well, then its own."`
	Shut     []string      `json:"shut" doc:"Names of all gates that hold it back; empty once it has aired."`
}

// ReleaseDay is an announced day with what goes out on it.
type ReleaseDay struct {
	On       *models.Date  `json:"on"`
	Standing string        `json:"standing" enum:"overdue,today,this_week,later,undated,done"`
	Parts    []ReleasePart `json:"parts"`
}

// ReleasePart is what goes out together.
type ReleasePart struct {
	Installment *string       `json:"installment_id" doc:"Null: the text as a whole."`
	Title       string        `json:"title"`
	Version     int           `json:"version" doc:"Of the text that goes out, or went out, with it."`
	Shut        []string      `json:"shut" doc:"Names of the gates that hold it back."`
	Items       []ReleaseItem `json:"items" doc:"In the order in which they are done."`
}

// ReleaseItem is one thing to do.
type ReleaseItem struct {
	Item    string     `json:"item" enum:"text,released,captions,video,corrections,testers,thanks"`
	Says    string     `json:"says"`
	Done    bool       `json:"done"`
	At      *time.Time `json:"at"`
	By      string     `json:"by,omitempty"`
	Link    string     `json:"link,omitempty"`
	Where   string     `json:"where,omitempty" doc:"Path of the screen on which it is done; absent: here."`
	Version *int       `json:"version,omitempty"`
	Again   string     `json:"again,omitempty" doc:"Why it is to be done again."`
}

func gateView(slug string, g models.Gate) Gate {
	return Gate{g.Name, g.Shut, g.Why, screen(slug, g.Where), g.ByHand()}
}

func releaseGate(slug string) func(models.Gate) ReleaseGate {
	return func(g models.Gate) ReleaseGate {
		out := ReleaseGate{Gate: gateView(slug, g), Key: string(g.Key), HoldsInstallments: g.Key.HoldsInstallments(), Again: g.Again, Seen: g.Seen()}
		if g.Opened != nil {
			o := overrideView(*g.Opened)
			out.Opened = &o
		}
		return out
	}
}

func overrideView(o models.GateOverride) GateOverride {
	return GateOverride{o.ID, string(o.Gate), o.Name(), o.InstallmentID, o.Reason, o.Why, o.Handle, o.OpenedAt, o.TakenBackAt, o.TakenBackHandle}
}

func gateNames(gates []models.Gate) []string {
	return each(gates, func(g models.Gate) string { return g.Name })
}

func releaseView(r *models.Release) *plain[Release] {
	slug := r.Design.Slug
	out := Release{Today: r.Today, Design: designLine(*r.Design), ReleasedBy: r.ReleasedBy, Versions: each(r.Versions, versionView), Out: r.Out.Number, Signed: r.Signed,
		Gates: each(r.Gates.Design, releaseGate(slug)), Before: each(r.Before, overrideView)}
	out.Run = each(r.Run, func(n models.InstallmentNow) ReleaseRun {
		return ReleaseRun{n.ID, n.Position, n.Title, dateView(n.AirOn), string(n.State), n.Revision, n.Link, n.AiredAt,
			each(r.Gates.Installments[n.ID], releaseGate(slug)), gateNames(r.ShutFor(n))}
	})
	out.Days = each(r.Days, func(d models.ReleaseDay) ReleaseDay {
		return ReleaseDay{dateView(d.On), string(d.Standing), each(d.Parts, func(p models.ReleasePart) ReleasePart { return releasePart(r.Design, p) })}
	})
	return &plain[Release]{out}
}

func releasePart(d *models.Design, p models.ReleasePart) ReleasePart {
	out := ReleasePart{Title: d.Name, Version: p.Version, Shut: gateNames(p.Shut)}
	if n := p.Installment; n != nil {
		out.Installment, out.Title = &n.ID, n.Title
	}
	out.Items = each(p.Items, func(i models.ReleaseItem) ReleaseItem {
		view := ReleaseItem{Item: string(i.Key), Says: i.Says, Done: i.Done, At: i.At, By: i.By, Link: i.Link, Version: i.Version, Again: i.Again}
		if i.Where != "" {
			view.Where = screen(d.Slug, i.Where)
		}
		return view
	})
	return out
}

type openGateInput struct {
	DesignPath
	Body struct {
		Gate        string `json:"gate" maxLength:"40" doc:"Which one, as the release page names it in its field gate."`
		Installment string `json:"installment_id,omitempty" maxLength:"36" doc:"Of an installment's own gate; absent for the design's."`
		Reason      string `json:"reason" doc:"Why it may be open as things stand; it is kept and shown."`
		Seen        string `json:"seen" maxLength:"64" doc:"The gate's field seen, as you read it."`
	}
}

// OverridePath names a gate that was opened by hand.
type OverridePath struct {
	Override string `path:"override" maxLength:"36"`
}

type takeBackGateInput struct {
	OverridePath
	Body struct{}
}

type tickReleaseInput struct {
	DesignPath
	Body struct {
		Item         string `json:"item" enum:"text,captions,testers,corrections,thanks" doc:"The video is ticked by marking its installment as aired, the whole text by marking the design as released."`
		Installment  string `json:"installment_id,omitempty" maxLength:"36" doc:"Absent for the design's own day."`
		Version      *int   `json:"version,omitempty" doc:"Of the text that was put up."`
		Done         bool   `json:"done"`
		BeforeItsDay bool   `json:"before_its_day,omitempty" doc:"The text is meant to be put up before the installment's air date; needed then."`
	}
}

func (a *api) releases() {
	add(a, operation("get-release", http.MethodGet, "/designs/{design}/release", "The gates to release, and what goes out on which day", "Release"), a.getRelease)
	add(a, created(operation("open-gate", http.MethodPost, "/designs/{design}/gate-overrides", "Open a gate by hand, with a reason", "Release")), a.postOverride)
	add(a, operation("take-back-gate", http.MethodPost, "/gate-overrides/{override}/take-back", "Shut a gate again that was opened by hand", "Release"), a.postTakeBackGate)
	add(a, operation("tick-release", http.MethodPut, "/designs/{design}/release/ticks", "Tick something off a release day's list, or take the tick away", "Release"), a.putReleaseTick)
}

func (a *api) getRelease(ctx context.Context, _ models.Actor, in *DesignPath) (*plain[Release], error) {
	r, err := a.Store.Release(ctx, in.Design)
	if err != nil {
		return nil, err
	}
	return releaseView(r), nil
}

func (a *api) postOverride(ctx context.Context, actor models.Actor, in *openGateInput) (*plain[GateOverride], error) {
	b := in.Body
	o, err := a.Store.OpenGate(ctx, actor, in.Design, models.NewOverride{Gate: models.GateKey(b.Gate), InstallmentID: b.Installment, Reason: b.Reason, Seen: b.Seen})
	if err != nil {
		return nil, err
	}
	return &plain[GateOverride]{overrideView(*o)}, nil
}

func (a *api) postTakeBackGate(ctx context.Context, actor models.Actor, in *takeBackGateInput) (*plain[GateOverride], error) {
	o, err := a.Store.TakeBackOverride(ctx, actor, in.Override)
	if err != nil {
		return nil, err
	}
	return &plain[GateOverride]{overrideView(*o)}, nil
}

func (a *api) putReleaseTick(ctx context.Context, actor models.Actor, in *tickReleaseInput) (*plain[Release], error) {
	b := in.Body
	err := a.Store.TickRelease(ctx, actor, in.Design, models.TickWish{Item: models.ReleaseItemKey(b.Item), InstallmentID: b.Installment, Version: b.Version, Done: b.Done, BeforeItsDay: b.BeforeItsDay})
	if err != nil {
		return nil, err
	}
	return a.getRelease(ctx, actor, &in.DesignPath)
}
