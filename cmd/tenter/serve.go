package main

import (
	"context"
	"errors"
	"fmt"
	"net"

	"tenter/models"
	"tenter/server"
)

type serveCommand struct {
	server.Config
}

func (c *serveCommand) Run(ctx context.Context, io streams) error {
	if err := c.Check(); err != nil { // before a database is made
		return err
	}
	log := server.Logger(io.err, c.LogFormat)
	photos, err := c.PhotoSettings.Open(c.Database)
	if err != nil {
		return err
	}
	store, err := server.Open(ctx, c.Database, models.Options{Log: log, Photos: photos})
	if err != nil {
		return err
	}
	err = serve(ctx, c.Config, store, io)
	return errors.Join(err, store.Close())
}

func serve(ctx context.Context, config server.Config, store *models.Store, io streams) error {
	s, err := server.New(ctx, config, store, server.Logger(io.err, config.LogFormat), buildVersion())
	if err != nil {
		return err
	}
	known, err := store.HasDesigner(ctx)
	if err != nil {
		return err
	}
	return s.Run(ctx, func(addr string) {
		fmt.Fprintf(io.out, "Tenter serves at %s\n", address(addr))
		if !known {
			fmt.Fprintf(io.out, "Nobody can sign in yet. In another terminal, with the same database, add the designer:\n  tenter person add HANDLE --role designer --database %s\n", config.Database)
		}
	})
}

// address turns a listener's address into one that a browser takes.
func address(addr string) string {
	host, port, err := net.SplitHostPort(addr)
	if err != nil {
		return "http://" + addr
	}
	if ip := net.ParseIP(host); ip != nil && ip.IsUnspecified() {
		host = "localhost"
	}
	return "http://" + net.JoinHostPort(host, port)
}

type migrateCommand struct {
	Database string `default:"data/tenter.db" env:"TENTER_DATABASE" help:"A file (SQLite) or a postgres:// address."`
}

func (c *migrateCommand) Run(ctx context.Context, io streams) error {
	store, err := server.Open(ctx, c.Database, models.Options{})
	if err != nil {
		return err
	}
	fmt.Fprintln(io.out, "The schema is up to date.")
	return store.Close()
}
