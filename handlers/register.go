package handlers

import (
	"context"
	"log/slog"
	"net/http"
	"reflect"
	"strings"
	"sync"
	"time"

	"github.com/danielgtaylor/huma/v2"

	"tenter/models"
)

// Deps is what the handlers stand on.
type Deps struct {
	Store   *models.Store
	Log     *slog.Logger
	BaseURL string // of links in invitations, without a slash at the end; "" takes the request's own
	Secure  bool   // cookies only over TLS
	// Issue makes an access token for a person's sign-in.
	Issue  func(personID, familyID string) (token string, expires time.Time, err error)
	Limits // how often
	// Bodies are read by the API that this is mounted on; see Config.
	Bodies *Bodies
	// BodyTimeout is how long a body may take, a little less than the whole
	// request, so that there is time to say so; 0 for the usual.
	BodyTimeout time.Duration
	// WriteTimeout is how long a reader of a live stream may take for a line.
	WriteTimeout time.Duration
	// PlainAllowed tells whether a webhook may go to a host without TLS.
	PlainAllowed models.PlainAddress
	// LettersFrom is whom letters by e-mail are from; "" when none are sent.
	LettersFrom string
}

type api struct {
	huma huma.API
	Deps
	// archiving is held by the one archive that goes out: each holds on to a
	// reader of the database for as long as its client takes.
	archiving sync.Mutex
	spooling  chan struct{} // a place for each table that is being read
}

// add mounts an operation: the policy row decides who gets in before anything
// of the request is read, and whatever the handler returns as an error becomes
// a problem document.
func add[I, O any](a *api, op huma.Operation, handle func(ctx context.Context, actor models.Actor, in *I) (*O, error)) {
	row := policy[op.OperationID] // the zero rule, which lets nobody in, where there is none
	if op.BodyReadTimeout == bodyTimeout && a.BodyTimeout > 0 {
		op.BodyReadTimeout = a.BodyTimeout
	}
	before := huma.Middlewares{a.admit(row)}
	if cost := costOf(op); cost != "" {
		before = append(before, a.paced(cost))
	}
	op.Middlewares = append(before, op.Middlewares...)
	op.Description = strings.TrimSpace(op.Description + "\n\nFor: " + strings.Join(row.names(), ", ") + ownNote(row))
	if !row.public {
		op.Security = []map[string][]string{{"bearer": {}}, {"cookie": {}}}
	}
	nulls := a.Bodies.learn(op, reflect.TypeFor[I]())
	huma.Register(a.huma, op, func(ctx context.Context, in *I) (*O, error) {
		actor, _ := models.ActorFrom(ctx)
		out, err := handle(ctx, actor, in)
		if err != nil {
			return nil, problem(ctx, a.Log, op.OperationID, err)
		}
		return out, nil
	})
	nulls.describe(a.huma, op)
}

func ownNote(r rule) string {
	if r.own {
		return " (a tester for their own only)"
	}
	return ""
}

func (a *api) admit(row rule) func(huma.Context, func(huma.Context)) {
	return func(ctx huma.Context, next func(huma.Context)) {
		actor, signed := models.ActorFrom(ctx.Context())
		switch {
		case row.allows(actor) && actor.SetUpFirst && !row.bare && !row.public:
			huma.WriteErr(a.huma, ctx, http.StatusForbidden, "The studio wants a second step of its people. Set it up on your own page first; until then nothing else is open to you.") //nolint:errcheck // the connection is gone
		case row.allows(actor):
			next(ctx)
		case actor.Unchecked:
			ctx.SetHeader("Retry-After", seconds(uncheckedWait))
			huma.WriteErr(a.huma, ctx, http.StatusServiceUnavailable, "Your sign-in could not be checked just now; you are still signed in and nothing was changed. Try again in a moment.") //nolint:errcheck // the connection is gone
		case !signed:
			ctx.SetHeader("WWW-Authenticate", `Bearer realm="tenter"`)
			huma.WriteErr(a.huma, ctx, http.StatusUnauthorized, "Sign in first.") //nolint:errcheck // the connection is gone
		default:
			huma.WriteErr(a.huma, ctx, http.StatusForbidden, "Your role may not do this; ask the designer.") //nolint:errcheck // the connection is gone
		}
	}
}

// operation shortens the descriptions of the routes.
func operation(id, method, path, summary, tag string) huma.Operation {
	op := huma.Operation{OperationID: id, Method: method, Path: Prefix + path, Summary: summary, Tags: []string{tag},
		MaxBodyBytes: -1, BodyReadTimeout: bodyTimeout} // the server bounds the size of every request alike
	if method == http.MethodPost {
		op.Parameters = append(op.Parameters, &huma.Param{Name: "Idempotency-Key", In: "header",
			Description: "Repeats of a request with the same key are answered from the first one.",
			Schema:      &huma.Schema{Type: "string", MaxLength: new(longestKey)}})
	}
	return op
}

// created marks an operation that answers 201.
func created(op huma.Operation) huma.Operation {
	op.DefaultStatus = http.StatusCreated
	return op
}

const (
	longestKey    = 200
	uncheckedWait = 2 * time.Second  // until it is worth asking the database again (chosen)
	bodyTimeout   = 25 * time.Second // on a phone's weak network; shorter than the request's own (chosen)
)
