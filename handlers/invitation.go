package handlers

import (
	"context"
	"fmt"
	"net/http"
	"strings"
	"time"

	"github.com/danielgtaylor/huma/v2"
	"github.com/skip2/go-qrcode"

	"tenter/models"
)

// Invitation is a new single-use link. It is shown once.
type Invitation struct {
	Link      string    `json:"link"`
	Token     string    `json:"token"`
	QRSVG     string    `json:"qr_svg" doc:"The link as a QR code, an SVG document."`
	ExpiresAt time.Time `json:"expires_at"`
}

// InvitationLook is what the bearer of a link sees before using it.
type InvitationLook struct {
	Handle      string    `json:"handle"`
	Name        string    `json:"name"`
	Unit        string    `json:"unit" enum:"cm,in"`
	Terms       string    `json:"terms" enum:"us,uk"`
	DesignName  string    `json:"design_name,omitempty"`
	SizeName    string    `json:"size_name,omitempty"`
	HasPassword bool      `json:"has_password" doc:"A password is chosen already; using the link sets a new one."`
	ExpiresAt   time.Time `json:"expires_at"`
}

type lookInput struct {
	Body struct {
		Token string `json:"token" maxLength:"200"`
	}
}

type acceptInput struct {
	Agent string `header:"User-Agent"`
	Body  struct {
		Token    string `json:"token" maxLength:"200"`
		Password string `json:"password" maxLength:"1000"`
		Unit     string `json:"unit,omitempty" enum:"cm,in"`
		Terms    string `json:"terms,omitempty" enum:"us,uk"`
	}
}

type invitePersonInput struct {
	PersonPath
	Origin
}

// Origin is how the client reached us, for links when no base address is set.
type Origin struct {
	base string
}

// Resolve reads the address from the request; huma calls it before the handler.
func (o *Origin) Resolve(ctx huma.Context) []error {
	scheme := "http"
	if ctx.TLS() != nil || ctx.Header("X-Forwarded-Proto") == "https" {
		scheme = "https"
	}
	o.base = scheme + "://" + ctx.Host()
	return nil
}

func (a *api) invitations() {
	add(a, operation("look-invitation", http.MethodPost, "/invitations/look", "Look at an invitation", "Sign-in"), a.postLook)
	add(a, operation("accept-invitation", http.MethodPost, "/invitations/accept", "Use an invitation: choose a password and sign in", "Sign-in"), a.postAccept)
	add(a, created(operation("invite-person", http.MethodPost, "/people/{person}/invitation", "Make an invitation link for somebody", "People")), a.postInvite)
}

// The token comes in the body, never in an address: addresses are logged.
func (a *api) postLook(ctx context.Context, _ models.Actor, in *lookInput) (*plain[InvitationLook], error) {
	look, err := a.Store.LookAtInvitation(ctx, in.Body.Token)
	if err != nil {
		return nil, err
	}
	p := look.Person
	return &plain[InvitationLook]{InvitationLook{Handle: p.Handle, Name: p.Name, Unit: p.Unit, Terms: p.Terms, DesignName: look.DesignName,
		SizeName: look.SizeName, HasPassword: p.PasswordHash != nil, ExpiresAt: look.ExpiresAt}}, nil
}

func (a *api) postAccept(ctx context.Context, actor models.Actor, in *acceptInput) (*signInAnswer, error) {
	b := in.Body
	person, begun, err := a.Store.AcceptInvitation(ctx, actor, b.Token, b.Password, b.Unit, b.Terms, in.Agent)
	if err != nil {
		return nil, err
	}
	return a.answerBegun(person, begun)
}

// invitationAnswer shows a link's secret once: nobody on the way may keep it.
type invitationAnswer struct {
	CacheControl string `header:"Cache-Control"`
	Body         Invitation
}

func (a *api) postInvite(ctx context.Context, actor models.Actor, in *invitePersonInput) (*invitationAnswer, error) {
	row, secret, err := a.Store.Invite(ctx, actor, in.Person)
	if err != nil {
		return nil, err
	}
	return a.invitationView(row, secret, in.Origin)
}

func (a *api) invitationView(row *models.Invitation, secret string, from Origin) (*invitationAnswer, error) {
	link := a.baseFor(from) + joinPath + secret
	svg, err := qrSVG(link)
	if err != nil {
		return nil, err
	}
	return &invitationAnswer{"no-store", Invitation{Link: link, Token: secret, QRSVG: svg, ExpiresAt: row.ExpiresAt}}, nil
}

// qrSVG draws a link as a QR code (ISO/IEC 18004), dark squares on white.
func qrSVG(link string) (string, error) {
	code, err := qrcode.New(link, qrcode.Medium)
	if err != nil {
		return "", fmt.Errorf("QR code: %w", err)
	}
	bits := code.Bitmap() // with the quiet zone that the standard asks for
	var b strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %d %d" shape-rendering="crispEdges"><rect width="100%%" height="100%%" fill="#fff"/><path fill="#000" d="`, len(bits), len(bits))
	for y, row := range bits {
		for x, dark := range row {
			if dark {
				fmt.Fprintf(&b, "M%d %dh1v1h-1z", x, y)
			}
		}
	}
	b.WriteString(`"/></svg>`)
	return b.String(), nil
}
