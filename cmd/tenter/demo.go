package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"tenter/models"
	"tenter/server"
	"tenter/server/demo"
)

type demoCommand struct {
	Addr      string `default:"127.0.0.1:8080" env:"TENTER_ADDR" help:"Address to listen on."`
	Zone      string `default:"UTC" env:"TENTER_ZONE" help:"The studio's time zone, an IANA name."`
	LogFormat string `default:"text" enum:"text,json" env:"TENTER_LOG_FORMAT" help:"text or json."`
}

func (c *demoCommand) Run(ctx context.Context, io streams) (err error) {
	folder, err := os.MkdirTemp("", "tenter-demo-")
	if err != nil {
		return fmt.Errorf("throwaway folder: %w", err)
	}
	defer func() { err = errors.Join(err, os.RemoveAll(folder)) }()
	config, err := server.DefaultConfig()
	if err != nil {
		return err
	}
	config.Addr, config.Zone, config.LogFormat = c.Addr, c.Zone, c.LogFormat
	config.Database = filepath.Join(folder, "demo.db")
	clock := demo.NewClock(time.Now)
	photos, err := config.PhotoSettings.Open(config.Database)
	if err != nil {
		return err
	}
	store, err := server.Open(ctx, config.Database, models.Options{Now: clock.Now, Photos: photos})
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, store.Close()) }()
	people, err := demo.Fill(ctx, store, clock, c.Zone)
	if err != nil {
		return fmt.Errorf("fill the demo: %w", err)
	}
	fmt.Fprintln(io.out, "Everything in this studio is invented. It lives in a throwaway database and is gone when you stop it.")
	fmt.Fprintf(io.out, "Sign in with the password %q as:\n", demo.Password)
	for _, p := range people {
		fmt.Fprintf(io.out, "  %-8s %s\n", p.Handle, p.ComesFor)
	}
	return serve(ctx, config, store, io)
}
