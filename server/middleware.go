package server

import (
	"context"
	"encoding/json"
	"fmt"
	"log/slog"
	"math"
	"net/http"
	"runtime"
	"runtime/debug"
	"strconv"
	"strings"
	"time"

	"github.com/danielgtaylor/huma/v2"
	"github.com/gin-gonic/gin"
	"github.com/google/uuid"

	"tenter/handlers"
	"tenter/models"
)

// Bounds of every request.
const (
	largestBody    = 2 << 20 // bytes
	requestTimeout = 30 * time.Second
	requestHeader  = "X-Request-Id"
)

type requestKey struct{}

// identify gives each request an id that is in the log and in the answer.
func identify(c *gin.Context) {
	id := uuid.Must(uuid.NewV7()).String()
	c.Header(requestHeader, id)
	c.Request = c.Request.WithContext(context.WithValue(c.Request.Context(), requestKey{}, id))
	c.Next()
}

func requestID(c *gin.Context) string {
	id, _ := c.Request.Context().Value(requestKey{}).(string)
	return id
}

// note writes one line for each request: no query, no body, nothing personal.
func (s *Server) note(c *gin.Context) {
	begin := time.Now()
	c.Next()
	route := c.FullPath()
	if route == "" {
		route = "unknown"
	}
	elapsed := time.Since(begin)
	s.metrics.observe(c.Request.Method, route, c.Writer.Status(), elapsed)
	level := slog.LevelInfo
	if route == "/healthz" || route == "/readyz" || route == "/metrics" {
		level = slog.LevelDebug
	}
	s.log.LogAttrs(c.Request.Context(), level, "request", slog.String("id", requestID(c)), slog.String("method", c.Request.Method),
		slog.String("route", route), slog.Int("status", c.Writer.Status()), slog.Int("bytes", c.Writer.Size()), slog.Duration("took", elapsed))
}

// recovered turns a panic into a problem document and a line in the log.
func (s *Server) recovered(c *gin.Context) {
	defer func() {
		if what := recover(); what == http.ErrAbortHandler { //nolint:errorlint // net/http compares it so too
			panic(what) // an answer that broke off has to look like one
		} else if what != nil {
			s.log.ErrorContext(c.Request.Context(), "panic", "id", requestID(c), "what", panicWords(what), "stack", string(debug.Stack()))
			if !c.Writer.Written() {
				writeProblem(c, http.StatusInternalServerError, "Something went wrong here. It was noted.")
			}
			c.Abort()
		}
	}()
	c.Next()
}

// panicWords tells what went wrong without the values that it went wrong with,
// which may be anybody's: the runtime's own words, or else a type. The stack
// says where.
func panicWords(what any) string {
	if err, ok := what.(runtime.Error); ok {
		return err.Error()
	}
	return fmt.Sprintf("%T", what)
}

// contentPolicy allows nothing but what this server itself serves.
const contentPolicy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; font-src 'self'; connect-src 'self'; frame-src 'self'; " +
	"manifest-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'; require-trusted-types-for 'script'"

// keeping is what a cache is told of an answer: what one person may see stays
// on no disk. Pictures and feeds, which say themselves whether they changed,
// say something else. A change's answer may be repeated (idempotent).
func keeping(method string) string {
	if method == http.MethodGet || method == http.MethodHead {
		return "no-store"
	}
	return "private, no-cache"
}

func (s *Server) secured(c *gin.Context) {
	h := c.Writer.Header()
	h.Set("Content-Security-Policy", contentPolicy)
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Referrer-Policy", "no-referrer")
	h.Set("Cross-Origin-Opener-Policy", "same-origin")
	h.Set("Cross-Origin-Resource-Policy", "same-origin")
	h.Set("Permissions-Policy", "camera=(), microphone=(), geolocation=()")
	if strings.HasPrefix(c.Request.URL.Path, handlers.Prefix) {
		h.Set("Cache-Control", keeping(c.Request.Method))
	}
	if s.config.secure() {
		h.Set("Strict-Transport-Security", "max-age=31536000; includeSubDomains")
	}
	c.Next()
}

// untimed are the ends of paths whose answers take as long as they take:
// streams, and the whole studio as a file. Each of their writes is bounded.
func untimed(path string) bool {
	return strings.HasSuffix(path, "/live") || path == handlers.Prefix+"/studio/archive"
}

// bounded limits the body's size and the request's time.
func bounded(c *gin.Context) {
	largest, longest, says := int64(largestBody), requestTimeout, "The request is larger than 2 MiB; send less at once."
	if takesPhoto(c.Request) { // one byte more, so that whoever reads it can name the bound
		largest, says = models.MostPhotoBytes+1, fmt.Sprintf("A photo may have %d MiB at most; make this one smaller and send that.", models.MostPhotoBytes>>20)
	}
	if isLong(c.Request) {
		longest = longTimeout
		giveTime(c)
	}
	if c.Request.ContentLength > largest {
		writeProblem(c, http.StatusRequestEntityTooLarge, says)
		c.Header("Connection", "close")
		c.Abort()
		return
	}
	if c.Request.Body != nil {
		c.Request.Body = http.MaxBytesReader(c.Writer, c.Request.Body, largest)
	}
	if !untimed(c.Request.URL.Path) {
		ctx, cancel := context.WithTimeout(c.Request.Context(), longest)
		defer cancel()
		c.Request = c.Request.WithContext(ctx)
	}
	c.Next()
}

// sameOrigin refuses writes that another site's page sends with the visitor's
// cookies, by the browser's own account of where they come from.
func sameOrigin(protection *http.CrossOriginProtection) gin.HandlerFunc {
	return func(c *gin.Context) {
		if err := protection.Check(c.Request); err != nil {
			writeProblem(c, http.StatusForbidden, "This request comes from another site's page and was refused.")
			c.Abort()
			return
		}
		c.Next()
	}
}

// throttled bounds how often one address may try to sign in or use a link.
func (s *Server) throttled(c *gin.Context) {
	secret := guessable[c.Request.URL.Path] || strings.HasPrefix(c.Request.URL.Path, handlers.Prefix+"/letters/stop/")
	if c.Request.Method == http.MethodPost && secret {
		if wait := s.limits.Try("address:" + addressIn(c.Request.Context())); wait > 0 {
			c.Header("Retry-After", strconv.Itoa(int(math.Ceil(wait.Seconds()))))
			refuse(c, http.StatusTooManyRequests, "Too many tries from here. Wait a minute, then try again.")
			return
		}
	}
	c.Next()
}

// guessable are the paths at which somebody could guess a secret.
var guessable = map[string]bool{
	handlers.Prefix + "/auth/sign-in":       true,
	handlers.Prefix + "/auth/second-step":   true,
	handlers.Prefix + "/auth/refresh":       true,
	handlers.Prefix + "/invitations/look":   true,
	handlers.Prefix + "/invitations/accept": true,
	handlers.Prefix + "/sign-up/look":       true,
	handlers.Prefix + "/sign-up/apply":      true,
	handlers.Prefix + "/sign-up/advice":     true,
}

func writeProblem(c *gin.Context, status int, detail string) {
	body, err := json.Marshal(huma.ErrorModel{Status: status, Title: http.StatusText(status), Detail: detail})
	if err != nil {
		c.Status(status)
		return
	}
	c.Data(status, "application/problem+json", body)
}
