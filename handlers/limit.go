package handlers

import (
	"context"
	"math"
	"net/http"
	"strconv"
	"time"

	"github.com/danielgtaylor/huma/v2"

	"tenter/models"
)

// Cost is what an operation asks of the server; how much of each a person or
// an address may have in a minute is a setting.
type Cost string

// The costs. What only reads, and quickly, has none.
const (
	Writing     Cost = "write"
	Calculating Cost = "calculation"
)

// calculating are the operations that work longer than it takes to read or
// write a few rows. Whatever else is no GET writes.
var calculating = map[string]bool{
	"calculate": true, "read-count-line": true, "propose-counts": true, "compare-versions": true, "check-entry": true, "advise-size": true,
	"preview-applicants": true, "preview-reports": true, "plan-call": true, "compare-design": true, "get-fit": true, "get-fit-numbers": true, "get-yarn": true,
	"plan-filming": true, "look-ahead": true, "get-schedule": true, "try-schedule": true, "get-studio-week": true, "cover-sizes": true, "rewrite-terms": true,
	"hint-gauge": true, "select-cautions": true, "get-my-data": true, "get-person-data": true, "list-idle-testers": true,
}

// tried are bounded as tries at a secret, by the server, before they come here.
var tried = map[string]bool{"sign-in": true, "second-step": true, "refresh-sign-in": true}

func costOf(op huma.Operation) Cost {
	switch {
	case tried[op.OperationID]:
		return ""
	case calculating[op.OperationID]:
		return Calculating
	case op.Method != http.MethodGet:
		return Writing
	}
	return ""
}

// paced counts a request that was let in against what its person and its
// address may have, before anything of it is read.
func (a *api) paced(cost Cost) func(huma.Context, func(huma.Context)) {
	return func(ctx huma.Context, next func(huma.Context)) {
		if wait := a.Pace(ctx.Context(), cost); wait > 0 {
			ctx.SetHeader("Retry-After", seconds(wait))
			huma.WriteErr(a.huma, ctx, http.StatusTooManyRequests, "That is more than this server takes from one person or one place in a minute. Wait a moment, then send it again; nothing was changed.") //nolint:errcheck // the connection is gone
			return
		}
		next(ctx)
	}
}

// within counts a try at a secret under a key.
func (a *api) within(key string) error {
	if wait := a.Try(key); wait > 0 {
		return &models.Error{Kind: models.TooMany, Message: "Too many tries. Wait a minute, then try again.", Wait: wait}
	}
	return nil
}

// ownPassword counts a try at the password of the person who acts.
func (a *api) ownPassword(actor models.Actor) error { return a.within("password:" + actor.PersonID) }

// seconds writes a wait as Retry-After has it, RFC 9110, section 10.2.3.
func seconds(wait time.Duration) string { return strconv.Itoa(int(math.Ceil(wait.Seconds()))) }

// Limits are what the handlers ask before they go on; each answers with how
// long to wait, 0 for not at all.
type Limits interface {
	// Try counts a try at a secret under a key: a name, a person.
	Try(key string) time.Duration
	// Pace counts a request against what its person and address may have.
	Pace(ctx context.Context, cost Cost) time.Duration
}
