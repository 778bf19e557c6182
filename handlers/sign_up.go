package handlers

import (
	"context"
	"net/http"
	"time"

	"tenter/models"
	"tenter/models/assign"
)

// SignUpPage is the public way into a call, as the designer sees it.
type SignUpPage struct {
	Link         string      `json:"link" doc:"Whoever has it may apply while the page is open; empty until it is opened for the first time."`
	QRSVG        string      `json:"qr_svg"`
	Open         bool        `json:"open"`
	ClosesOn     models.Date `json:"closes_on,omitempty"`
	Introduction string      `json:"introduction"`
	RevokedAt    *time.Time  `json:"revoked_at"`
	Revision     int         `json:"revision"`
}

// SignUpForm is what somebody with the link sees. It tells nothing of the
// counts, nor of others.
type SignUpForm struct {
	Studio              string       `json:"studio"`
	Design              string       `json:"design"`
	Craft               string       `json:"craft" enum:"crochet,knit"`
	Terms               string       `json:"terms" enum:"us,uk" doc:"Of the text."`
	Unit                string       `json:"unit" enum:"cm,in"`
	Yarn                string       `json:"yarn"`
	Title               string       `json:"title"`
	OpensOn             models.Date  `json:"opens_on"`
	DueOn               models.Date  `json:"due_on"`
	ClosesOn            models.Date  `json:"closes_on,omitempty"`
	Introduction        string       `json:"introduction"`
	Confidentiality     string       `json:"confidentiality" doc:"What testers agree to until release."`
	ConfidentialityHash string       `json:"confidentiality_hash" doc:"SHA-256 of that text; sent back to say what was agreed to."`
	Sizes               []SignUpSize `json:"sizes"`
	Dimensions          []string     `json:"dimensions" doc:"Measurements of the body from which a size can be advised."`
}

// SignUpSize is a size that may be offered for.
type SignUpSize struct {
	ID   string `json:"id"`
	Name string `json:"name"`
	Body []Body `json:"body"`
}

// SignedUp is the answer to everybody who has applied.
type SignedUp struct {
	Design string `json:"design"`
	Title  string `json:"title"`
}

// SizeAdvice is the size nearest to a body, and why.
type SizeAdvice struct {
	Size  string        `json:"size"`
	Fits  bool          `json:"fits" doc:"The ease is as the design intends at every point."`
	Why   string        `json:"why"`
	Eases []EaseAtPoint `json:"eases"`
}

// EaseAtPoint is the ease that a size leaves at one point.
type EaseAtPoint struct {
	Point     string  `json:"point"`
	EaseCM    float64 `json:"ease_cm"`
	OutsideCM float64 `json:"outside_cm" doc:"How far outside what is intended; negative when tight."`
}

func adviceView(a *assign.Advice) *SizeAdvice {
	if a == nil {
		return nil
	}
	return &SizeAdvice{Size: a.Size, Fits: a.Fits, Why: a.Message, Eases: each(a.Eases, func(e assign.EaseFit) EaseAtPoint {
		return EaseAtPoint{e.Point, hundredth(e.EaseCM), hundredth(e.OutsideCM)}
	})}
}

// OwnBody is what an applicant told of their body, for them and the designer.
type OwnBody struct {
	ApplicationID string      `json:"application_id"`
	Design        string      `json:"design"`
	Body          []Body      `json:"body"`
	Advice        *SizeAdvice `json:"advice" doc:"Null when nothing told decides."`
}

func ownBodyView(b *models.OwnBody) OwnBody {
	return OwnBody{b.ApplicationID, b.DesignName, each(b.Body, bodyView), adviceView(b.Advice)}
}

// OwnBodyIn is one measurement of somebody's body.
type OwnBodyIn struct {
	Dimension string `json:"dimension" maxLength:"120"`
	LengthIn
}

func (in OwnBodyIn) measurement() models.BodyMeasurement {
	return models.BodyMeasurement{Dimension: in.Dimension, Length: in.length()}
}

type callOriginInput struct {
	CallPath
	Origin
}

type putSignUpInput struct {
	CallPath
	Precondition
	Origin
	Body struct {
		ClosesOn     models.Date `json:"closes_on,omitempty" doc:"The last day; absent: as long as the call is open."`
		Introduction string      `json:"introduction,omitempty"`
		Open         bool        `json:"open"`
	}
}

type renewSignUpInput struct {
	CallPath
	Precondition
	Origin
}

type signUpToken struct {
	Token string `json:"token" maxLength:"200"`
}

type lookSignUpInput struct{ Body signUpToken }

type adviseInput struct {
	Body struct {
		Token string      `json:"token" maxLength:"200"`
		Body  []OwnBodyIn `json:"body" maxItems:"20"`
	}
}

type applyInput struct {
	Body struct {
		Token    string      `json:"token" maxLength:"200"`
		Handle   string      `json:"handle" maxLength:"80"`
		Name     string      `json:"name,omitempty" maxLength:"200"`
		Email    string      `json:"email" maxLength:"254"`
		Unit     string      `json:"unit" enum:"cm,in"`
		Terms    string      `json:"terms" enum:"us,uk"`
		Sizes    []string    `json:"sizes" maxItems:"40" doc:"Ids, the best first."`
		Accepted int         `json:"accepted,omitempty" doc:"Tests taken on elsewhere."`
		Finished int         `json:"finished,omitempty" doc:"Of those, finished in time."`
		Yarn     string      `json:"yarn,omitempty" doc:"What it would be made in."`
		Remarks  string      `json:"remarks,omitempty"`
		Agreed   string      `json:"agreed,omitempty" maxLength:"64" doc:"The confidentiality_hash of the text that was read and agreed to."`
		Body     []OwnBodyIn `json:"body,omitempty" maxItems:"20" doc:"For advice about the size; seen by the designer and the applicant only."`
	}
}

func (a *api) signUps() {
	add(a, operation("get-sign-up", http.MethodGet, "/calls/{call}/sign-up", "The public way into a call", "Testing"), a.getSignUp)
	add(a, operation("put-sign-up", http.MethodPut, "/calls/{call}/sign-up", "Open, change or close the public way into a call", "Testing"), a.putSignUp)
	add(a, operation("renew-sign-up", http.MethodPost, "/calls/{call}/sign-up/link", "Replace the link; the one before stops working", "Testing"), a.postSignUpLink)
	add(a, operation("look-sign-up", http.MethodPost, "/sign-up/look", "What somebody with the link sees", "Testing"), a.postLookSignUp)
	add(a, operation("apply-sign-up", http.MethodPost, "/sign-up/apply", "Offer to test, by the link", "Testing"), a.postApply)
	add(a, operation("advise-size", http.MethodPost, "/sign-up/advice", "The size nearest to a body; nothing of it is kept", "Testing"), a.postAdvice)
	add(a, operation("get-applicant-body", http.MethodGet, "/applications/{application}/body", "What an applicant told of their body", "Testing"), a.getApplicantBody)
	add(a, operation("remove-applicant-body", http.MethodDelete, "/applications/{application}/body", "Remove what an applicant told of their body", "Testing"), a.deleteApplicantBody)
	add(a, operation("list-my-bodies", http.MethodGet, "/me/body", "What I told of my body, and where", "Testing"), a.getMyBodies)
}

func (a *api) signUpView(f *models.SignUp, err error, from Origin) (*one[SignUpPage], error) {
	if err != nil {
		return nil, err
	}
	base := a.BaseURL
	if base == "" {
		base = from.base
	}
	// After the #, so that no server or proxy ever sees or logs it.
	link := base + "/apply#" + f.Token
	svg, err := qrSVG(link)
	if err != nil {
		return nil, err
	}
	return &one[SignUpPage]{etag(f.Revision), SignUpPage{Link: link, QRSVG: svg, Open: f.RevokedAt == nil, ClosesOn: f.ClosesOn,
		Introduction: f.Introduction, RevokedAt: f.RevokedAt, Revision: f.Revision}}, nil
}

// getSignUp answers with a blank page where none was opened yet: that is no
// error, and browsers would log it as one.
func (a *api) getSignUp(ctx context.Context, _ models.Actor, in *callOriginInput) (*one[SignUpPage], error) {
	if _, err := a.Store.TestCall(ctx, in.Call); err != nil {
		return nil, err
	}
	f, err := a.Store.SignUp(ctx, in.Call)
	if models.KindOf(err) == models.NotFound {
		return &one[SignUpPage]{etag(0), SignUpPage{}}, nil
	}
	return a.signUpView(f, err, in.Origin)
}

func (a *api) signUpRevision(ctx context.Context, call string) func() (int, error) {
	return func() (int, error) {
		f, err := a.Store.SignUp(ctx, call)
		if err != nil {
			return 0, err
		}
		return f.Revision, nil
	}
}

func (a *api) putSignUp(ctx context.Context, actor models.Actor, in *putSignUpInput) (*one[SignUpPage], error) {
	revision, err := in.revision(a.signUpRevision(ctx, in.Call))
	if err != nil {
		return nil, err
	}
	f, err := a.Store.PutSignUp(ctx, actor, in.Call, revision, models.NewSignUp{ClosesOn: in.Body.ClosesOn, Introduction: in.Body.Introduction, Open: in.Body.Open})
	return a.signUpView(f, err, in.Origin)
}

func (a *api) postSignUpLink(ctx context.Context, actor models.Actor, in *renewSignUpInput) (*one[SignUpPage], error) {
	revision, err := in.revision(a.signUpRevision(ctx, in.Call))
	if err != nil {
		return nil, err
	}
	f, err := a.Store.RenewSignUp(ctx, actor, in.Call, revision)
	return a.signUpView(f, err, in.Origin)
}

func (a *api) postLookSignUp(ctx context.Context, _ models.Actor, in *lookSignUpInput) (*plain[SignUpForm], error) {
	l, err := a.Store.LookAtSignUp(ctx, in.Body.Token)
	if err != nil {
		return nil, err
	}
	d, c := l.Design, l.Call
	return &plain[SignUpForm]{SignUpForm{Studio: l.Studio, Design: d.Name, Craft: d.Craft, Terms: d.Terms, Unit: d.Unit, Yarn: d.Yarn, Title: c.Title,
		OpensOn: c.OpensOn, DueOn: c.DueOn, ClosesOn: l.Form.ClosesOn, Introduction: l.Form.Introduction,
		Confidentiality: c.Confidentiality, ConfidentialityHash: c.ConfidentialityHash(), Dimensions: append([]string{}, l.Dimensions...),
		Sizes: each(l.Sizes, func(z models.Size) SignUpSize { return SignUpSize{z.ID, z.Name, each(z.Body, bodyView)} })}}, nil
}

func (a *api) postApply(ctx context.Context, actor models.Actor, in *applyInput) (*plain[SignedUp], error) {
	b := in.Body
	call, err := a.Store.Apply(ctx, models.Actor{RequestID: actor.RequestID}, b.Token, models.SignUpAnswers{Handle: b.Handle, Name: b.Name, Email: b.Email,
		Unit: b.Unit, Terms: b.Terms, Sizes: b.Sizes, Accepted: b.Accepted, Finished: b.Finished, Yarn: b.Yarn, Remarks: b.Remarks, Agreed: b.Agreed,
		Body: each(b.Body, OwnBodyIn.measurement)})
	if err != nil {
		return nil, err
	}
	d, err := a.Store.Design(ctx, call.DesignID)
	if err != nil {
		return nil, err
	}
	return &plain[SignedUp]{SignedUp{d.Name, call.Title}}, nil
}

type advised struct {
	Advice *SizeAdvice `json:"advice" doc:"Null when nothing told decides."`
}

func (a *api) postAdvice(ctx context.Context, _ models.Actor, in *adviseInput) (*plain[advised], error) {
	advice, err := a.Store.AdviseSize(ctx, in.Body.Token, each(in.Body.Body, OwnBodyIn.measurement))
	if err != nil {
		return nil, err
	}
	return &plain[advised]{advised{adviceView(advice)}}, nil
}

func (a *api) getApplicantBody(ctx context.Context, actor models.Actor, in *ApplicationPath) (*plain[OwnBody], error) {
	b, err := a.Store.ApplicationBody(ctx, actor, in.Application)
	if err != nil {
		return nil, err
	}
	return &plain[OwnBody]{ownBodyView(b)}, nil
}

func (a *api) deleteApplicantBody(ctx context.Context, actor models.Actor, in *ApplicationPath) (*struct{}, error) {
	return nil, a.Store.ForgetBody(ctx, actor, in.Application)
}

func (a *api) getMyBodies(ctx context.Context, actor models.Actor, _ *struct{}) (*listOf[OwnBody], error) {
	rows, err := a.Store.MyBodies(ctx, actor)
	if err != nil {
		return nil, err
	}
	return list(rows, "", ownBodyView), nil
}

func bodyView(b models.BodyMeasurement) Body { return Body{b.Dimension, lengthView(b.Length)} }
