// Package server is the process: what is true of every request, from the
// address it comes in by to the database it ends in.
package server

import (
	"context"
	"fmt"
	"log/slog"
	"math/rand/v2"
	"net/http"
	"net/netip"
	"strings"

	"github.com/danielgtaylor/huma/v2"
	"github.com/danielgtaylor/huma/v2/adapters/humagin"
	"github.com/gin-gonic/gin"

	"tenter/handlers"
	"tenter/models"
)

// Server answers requests over one store.
type Server struct {
	config  Config
	store   *models.Store
	photos  models.PhotoFiles
	log     *slog.Logger
	tokens  *tokens
	limits  *limits
	proxies proxies
	metrics *metrics
	post    *post // nil: no mail server is set, and nothing is sent
	engine  *gin.Engine
	shell   asset
	api     huma.API
	teller  *http.Client   // of notices to other programs
	mayTell []netip.Prefix // beside the internet
}

// New builds a server over a store whose schema is up to date.
func New(ctx context.Context, config Config, store *models.Store, log *slog.Logger, version string) (*Server, error) {
	if err := config.Check(); err != nil {
		return nil, err
	}
	s := &Server{config: config, store: store, log: log, limits: newLimits(config, store.Now), metrics: newMetrics()}
	var err error
	if s.photos, err = config.PhotoSettings.Open(config.Database); err != nil {
		return nil, err
	}
	if err := s.prepare(ctx); err != nil {
		return nil, err
	}
	if s.mayTell, err = config.tellNetworks(); err != nil {
		return nil, err
	}
	s.teller = newTeller(s.mayTell)
	if config.Mail.on() {
		if s.post, err = newPost(s, rand.Float64); err != nil {
			return nil, err
		}
	}
	s.metrics.countLetters(store)
	gin.SetMode(gin.ReleaseMode)
	s.engine = gin.New()
	s.engine.HandleMethodNotAllowed = true
	s.engine.RedirectTrailingSlash = false
	s.engine.RemoteIPHeaders = []string{"X-Forwarded-For"}
	if err := s.engine.SetTrustedProxies(config.Proxies); err != nil {
		return nil, fmt.Errorf("TENTER_TRUSTED_PROXIES: %w", err)
	}
	if s.proxies, err = readProxies(config.Proxies); err != nil {
		return nil, err
	}
	protection := http.NewCrossOriginProtection()
	if config.BaseURL != "" {
		if err := protection.AddTrustedOrigin(config.BaseURL); err != nil {
			return nil, fmt.Errorf("TENTER_BASE_URL: %w", err)
		}
	}
	// The order matters: everything below stands before any route.
	s.engine.Use(identify, s.located, s.note, s.recovered, s.secured, legible, bounded, sameOrigin(protection), s.throttled)
	s.engine.NoMethod(func(c *gin.Context) {
		writeProblem(c, http.StatusMethodNotAllowed, "This address doesn't take that method; the API's pages at /docs say what it takes.")
	})
	s.operate()
	if err := s.pages(); err != nil {
		return nil, err
	}
	s.resources(version)
	return s, nil
}

// prepare makes what the first start needs.
func (s *Server) prepare(ctx context.Context) error {
	if err := s.store.EnsureStudio(ctx, "Our studio", s.config.Zone, false); err != nil {
		return err
	}
	keys, err := s.store.SigningKeys(ctx)
	if err != nil {
		return err
	}
	if s.tokens, err = newTokens(s.store.Now, s.config.SigningKey, keys); err != nil {
		return err
	}
	return s.store.SealWith(sealing(s.config.SigningKey, keys))
}

// operate mounts what operators ask for.
func (s *Server) operate() {
	s.engine.GET("/healthz", func(c *gin.Context) { c.String(http.StatusOK, "alive\n") })
	s.engine.GET("/readyz", func(c *gin.Context) {
		if err := s.store.Ping(c.Request.Context()); err != nil {
			s.log.ErrorContext(c.Request.Context(), "not ready", "error", err)
			writeProblem(c, http.StatusServiceUnavailable, "The database does not answer.")
			return
		}
		c.String(http.StatusOK, "ready\n")
	})
	s.engine.GET("/metrics", gin.WrapH(s.metrics.handler()))
}

// resources mounts the API.
func (s *Server) resources(version string) {
	bodies := handlers.NewBodies()
	group := s.engine.Group("/", s.authenticate, s.idempotent)
	s.api = humagin.NewWithGroup(s.engine, group, handlers.Config(version, s.config.secure(), bodies))
	handlers.Register(s.api, handlers.Deps{
		Bodies: bodies, Store: s.store, Log: s.log, BaseURL: s.config.BaseURL, Secure: s.config.secure(),
		Issue: s.tokens.issue, Limits: s.limits, BodyTimeout: s.config.ReadTimeout * 5 / 6, WriteTimeout: s.config.WriteTimeout, PlainAllowed: s.plainAllowed, LettersFrom: s.config.Mail.From,
	})
	s.engine.NoRoute(func(c *gin.Context) {
		if strings.HasPrefix(c.Request.URL.Path, handlers.Prefix) {
			writeProblem(c, http.StatusNotFound, "There is nothing at this address; the API's pages at /docs say what there is.")
			return
		}
		s.page(c)
	})
}

// Handler returns the whole server as one handler.
func (s *Server) Handler() http.Handler { return s.engine }

// API returns the description of the API.
func (s *Server) API() *huma.OpenAPI { return s.api.OpenAPI() }
