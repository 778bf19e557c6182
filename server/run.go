package server

import (
	"context"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"net"
	"net/http"
	"sync"
)

// largestHeader bounds the request line and headers together, in bytes.
const largestHeader = 32 << 10

// Logger returns the log in the wanted format.
func Logger(w io.Writer, format string) *slog.Logger {
	if format == "json" {
		return slog.New(slog.NewJSONHandler(w, nil))
	}
	return slog.New(slog.NewTextHandler(w, nil))
}

// Run serves until ctx ends, then lets what is in flight finish. ready, when
// not nil, is called with the address once the listener is open.
func (s *Server) Run(ctx context.Context, ready func(addr string)) error {
	listener, err := net.Listen("tcp", s.config.Addr)
	if err != nil {
		return fmt.Errorf("listen on %s: %w", s.config.Addr, err)
	}
	web := &http.Server{
		Handler: s.engine, ReadHeaderTimeout: s.config.HeaderTimeout, ReadTimeout: s.config.ReadTimeout, WriteTimeout: s.config.WriteTimeout,
		IdleTimeout: s.config.IdleTimeout, MaxHeaderBytes: largestHeader, ErrorLog: slog.NewLogLogger(s.log.Handler(), slog.LevelWarn),
	}
	// Screens keep their live stream open all day; they let go first.
	web.RegisterOnShutdown(s.store.Feed().Close)
	served := make(chan error, 1)
	go func() { served <- web.Serve(listener) }()
	s.log.InfoContext(ctx, "serving", "address", listener.Addr().String(), "database", s.store.Dialect())
	if ready != nil {
		ready(listener.Addr().String())
	}
	var chores sync.WaitGroup
	defer chores.Wait()
	atWork, stop := context.WithCancel(ctx)
	defer stop()
	chores.Go(func() { s.store.Follow(atWork) })
	chores.Go(func() { s.backUp(atWork) })
	chores.Go(func() { s.forgetIdle(atWork) })
	chores.Go(func() { s.sweepPhotos(atWork) })
	chores.Go(func() { s.tellPrograms(atWork) })
	if s.post != nil {
		chores.Go(func() { s.post.run(atWork) })
	}
	chores.Go(func() { s.dropOldSignIns(atWork) })
	select {
	case err := <-served:
		return fmt.Errorf("serve: %w", err)
	case <-ctx.Done():
	}
	s.log.Info("stopping")
	// ctx is over; the drain has a deadline of its own.
	drain, cancel := context.WithTimeout(context.WithoutCancel(ctx), s.config.Drain)
	defer cancel()
	if err := web.Shutdown(drain); err != nil {
		return errors.Join(fmt.Errorf("stop: %w", err), web.Close())
	}
	s.log.Info("stopped")
	return nil
}
