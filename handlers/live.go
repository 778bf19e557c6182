package handlers

import (
	"context"
	"encoding/json"
	"fmt"
	"net/http"
	"time"

	"github.com/danielgtaylor/huma/v2"

	"tenter/models"
)

// LiveChange is what a live stream says: something changed, read again.
type LiveChange struct {
	DesignID string    `json:"design_id,omitempty"`
	Entity   string    `json:"entity"`
	EntityID string    `json:"entity_id"`
	Action   string    `json:"action"`
	At       time.Time `json:"at"`
}

// heartbeat keeps proxies from closing a quiet stream (chosen).
const heartbeat = 20 * time.Second

type DesignPath struct {
	Design string `path:"design" maxLength:"60" doc:"The design's id or slug."`
}

func (a *api) live() {
	describe := func(op huma.Operation) huma.Operation {
		op.Responses = map[string]*huma.Response{"200": {Description: "Server-sent events named changed, each a LiveChange.",
			Content: map[string]*huma.MediaType{"text/event-stream": {Schema: &huma.Schema{Type: "string"}}}}}
		return op
	}
	add(a, describe(operation("watch-design", http.MethodGet, "/designs/{design}/live", "Live changes of a design", "Studio")), a.watchDesign)
	add(a, describe(operation("watch-studio", http.MethodGet, "/studio/live", "Live changes of every design", "Studio")), a.watchStudio)
}

func (a *api) watchDesign(ctx context.Context, actor models.Actor, in *DesignPath) (*huma.StreamResponse, error) {
	design, err := a.Store.Design(ctx, in.Design)
	if err != nil {
		return nil, err
	}
	return a.stream(actor, func(c models.Change) bool { return c.DesignID == design.ID }), nil
}

func (a *api) watchStudio(_ context.Context, actor models.Actor, _ *struct{}) (*huma.StreamResponse, error) {
	return a.stream(actor, func(models.Change) bool { return true }), nil
}

// mayWatch tells whether somebody whose stream is open is still signed in and
// one of the studio's own. When the database does not answer, they are: the
// next beat asks again.
func (a *api) mayWatch(ctx context.Context, actor models.Actor) bool {
	standing, err := a.Store.SignedIn(ctx, actor.PersonID, actor.FamilyID)
	if err != nil {
		return models.KindOf(err) != models.Unsigned
	}
	return models.Actor{Roles: standing.Roles}.IsStaff() && !standing.SetUpFirst
}

// stream sends the changes that wanted picks until the client or the server
// goes away, or the sign-in ends: that is asked at each beat, and at once when
// something happened to the person. The first line goes out at once, so that
// the browser knows that it is connected.
func (a *api) stream(actor models.Actor, wanted func(models.Change) bool) *huma.StreamResponse {
	return &huma.StreamResponse{Body: func(ctx huma.Context) {
		changes, stop := a.Store.Feed().Listen()
		defer stop()
		ctx.SetHeader("Content-Type", "text/event-stream")
		ctx.SetHeader("Cache-Control", "no-store")
		ctx.SetHeader("X-Accel-Buffering", "no")
		w := ctx.BodyWriter()
		rw, ok := w.(http.ResponseWriter)
		if !ok {
			a.Log.ErrorContext(ctx.Context(), "live stream without a response writer")
			return
		}
		control := http.NewResponseController(rw)
		send := func(format string, args ...any) bool {
			// The server's write timeout is for whole answers: in a stream
			// each line has it, and between lines there is none.
			if err := control.SetWriteDeadline(time.Now().Add(a.WriteTimeout)); err != nil {
				return false
			}
			if _, err := fmt.Fprintf(w, format, args...); err != nil {
				return false
			}
			return control.Flush() == nil && control.SetWriteDeadline(time.Time{}) == nil
		}
		if !send("retry: 2000\n: here\n\n") {
			return
		}
		pulse := time.NewTicker(heartbeat)
		defer pulse.Stop()
		for {
			select {
			case <-ctx.Context().Done():
				return
			case <-pulse.C:
				if !a.mayWatch(ctx.Context(), actor) || !send(": still here\n\n") {
					return
				}
			case c, open := <-changes:
				if !open {
					return
				}
				if c.Entity == "person" && c.EntityID == actor.PersonID && !a.mayWatch(ctx.Context(), actor) {
					return
				}
				if !wanted(c) {
					continue
				}
				data, err := json.Marshal(LiveChange(c))
				if err != nil || !send("event: changed\ndata: %s\n\n", data) {
					return
				}
			}
		}
	}}
}
