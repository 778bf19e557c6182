package handlers

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net/http"
	"regexp"
	"strings"
	"sync"

	"github.com/danielgtaylor/huma/v2"

	"tenter/models"
)

// statusOf is the one table from a kind of failure to an HTTP status.
var statusOf = map[models.Kind]int{
	models.Invalid:      http.StatusUnprocessableEntity,
	models.Conflict:     http.StatusConflict,
	models.Stale:        http.StatusPreconditionFailed,
	models.NeedRevision: http.StatusPreconditionRequired,
	models.NotFound:     http.StatusNotFound,
	models.Forbidden:    http.StatusForbidden,
	models.Unsigned:     http.StatusUnauthorized,
	models.TooMany:      http.StatusTooManyRequests,
	models.TooLarge:     http.StatusRequestEntityTooLarge,
	models.Unavailable:  http.StatusServiceUnavailable,
	models.Full:         http.StatusInsufficientStorage,
}

const internalSentence = "Something went wrong here. It was noted; nothing of your request was kept. Try again, and tell the designer the request id if it happens twice."

// problem turns any error into a problem document (RFC 9457). An error that
// is not one of ours is internal: it goes to the log and not to the person.
func problem(ctx context.Context, log *slog.Logger, operation string, err error) error {
	var own *models.Error
	if errors.As(err, &own) {
		if own.Wait > 0 {
			return huma.ErrorWithHeaders(Problem(own), http.Header{"Retry-After": {seconds(own.Wait)}})
		}
		return Problem(own)
	}
	var status huma.StatusError
	if errors.As(err, &status) {
		return status
	}
	if errors.Is(err, context.Canceled) {
		return huma.NewError(499, "The request was given up by its sender.")
	}
	if errors.Is(err, context.DeadlineExceeded) {
		return huma.NewError(http.StatusServiceUnavailable, "This took too long and was given up; nothing was changed. Try again.")
	}
	log.ErrorContext(ctx, "internal error", "operation", operation, "error", err)
	return huma.NewError(http.StatusInternalServerError, internalSentence)
}

// Problem returns the problem document of one of our own errors.
func Problem(e *models.Error) *huma.ErrorModel {
	status := statusOf[e.Kind]
	if status == 0 {
		status = http.StatusInternalServerError
	}
	doc := &huma.ErrorModel{Status: status, Title: http.StatusText(status), Detail: e.Message}
	for _, f := range e.Fields {
		doc.Errors = append(doc.Errors, &huma.ErrorDetail{Message: f.Problem, Location: "body." + f.Field})
	}
	return doc
}

var quietOnce sync.Once

// quietErrors replaces huma's error constructor by one that never repeats the
// value at fault: it may be a password, and an unknown field would send back
// the whole body. huma keeps the constructor in a package variable, so it is
// replaced once for the process.
func quietErrors() {
	quietOnce.Do(func() {
		huma.NewError = func(status int, message string, errs ...error) huma.StatusError {
			return quiet(status, message, errs)
		}
	})
}

func quiet(status int, message string, errs []error) *huma.ErrorModel {
	status, message = unread(status, message, errs)
	doc := &huma.ErrorModel{Detail: message}
	for _, err := range errs {
		if detailer, ok := err.(huma.ErrorDetailer); ok {
			d := detailer.ErrorDetail()
			out := &huma.ErrorDetail{Message: d.Message, Location: d.Location}
			if place(out) {
				status = http.StatusUnprocessableEntity // it is JSON; one value in it is at fault
			}
			doc.Errors = append(doc.Errors, out)
		} else if status < http.StatusInternalServerError && err != nil {
			doc.Errors = append(doc.Errors, &huma.ErrorDetail{Message: err.Error()})
		}
	}
	doc.Status, doc.Title = status, http.StatusText(status)
	return doc
}

// unreadBody is what huma calls it.
const unreadBody = "cannot read request body"

// unread tells a request that was too large or broke off, which huma calls an
// internal error, from a failure of ours.
func unread(status int, message string, errs []error) (int, string) {
	if status != http.StatusInternalServerError || message != unreadBody {
		return status, message
	}
	var large *http.MaxBytesError
	for _, err := range errs {
		if errors.As(err, &large) {
			return http.StatusRequestEntityTooLarge, fmt.Sprintf("The request is larger than %d MiB; send less at once.", large.Limit>>20)
		}
	}
	return http.StatusBadRequest, "The request broke off before its end."
}

// field is how readJSON begins an error that is about one field.
var field = regexp.MustCompile(`^[A-Za-z0-9_.\[\]]+: `)

// place moves the field that readJSON names from the message, which is all that
// huma keeps of an error, to where it belongs, and tells whether there was one.
func place(d *huma.ErrorDetail) bool {
	at := field.FindString(d.Message)
	if at == "" || d.Location != "body" {
		return false
	}
	d.Location, d.Message = "body."+strings.TrimSuffix(at, ": "), strings.TrimPrefix(d.Message, at)
	return true
}
