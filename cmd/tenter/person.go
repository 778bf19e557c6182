package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"strings"

	"tenter/models"
	"tenter/server"
)

type personCommand struct {
	Add personAddCommand `cmd:"" help:"Add somebody, with a password or an invitation link."`

	Unlock personUnlockCommand `cmd:"" help:"Take the second step away from somebody who has lost device and recovery codes, and end their sign-ins."`
}

type personAddCommand struct {
	Handle        string        `arg:"" help:"The name that others see."`
	Name          string        `help:"Full name; the handle when absent."`
	Email         string        `help:"E-mail address."`
	Role          []models.Role `required:"" help:"designer, tech_editor, maker, filmer or tester; several are fine."`
	PasswordStdin bool          `help:"Read a password from standard input. Without it an invitation link is printed."`
	Database      string        `default:"data/tenter.db" env:"TENTER_DATABASE" help:"A file (SQLite) or a postgres:// address."`
	BaseURL       string        `env:"TENTER_BASE_URL" default:"http://127.0.0.1:8080" help:"Address at which the studio is reached, for the link."`
}

func (c *personAddCommand) Run(ctx context.Context, io streams) (err error) {
	store, err := server.Open(ctx, c.Database, models.Options{})
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, store.Close()) }()
	person := models.NewPerson{Handle: c.Handle, Name: c.Name, Roles: c.Role}
	if c.Email != "" {
		person.Email = &c.Email
	}
	if c.PasswordStdin {
		line, err := bufio.NewReader(io.in).ReadString('\n')
		if err != nil && line == "" {
			return invalid("password", "is missing; write it to standard input (%v)", err)
		}
		hash, err := models.HashPassword(strings.TrimRight(line, "\r\n"), c.Handle, c.Name)
		if err != nil {
			return err
		}
		person.PasswordHash = &hash
	}
	actor := models.System("tenter person add")
	added, err := store.AddPerson(ctx, actor, person)
	if err != nil {
		return err
	}
	fmt.Fprintf(io.out, "Added %s.\n", added.Handle)
	if c.PasswordStdin {
		return nil
	}
	_, secret, err := store.Invite(ctx, actor, added.ID)
	if err != nil {
		return err
	}
	fmt.Fprintf(io.out, "Open this link to choose a password; it works once:\n  %s/join#%s\n", c.BaseURL, secret)
	return nil
}

type personUnlockCommand struct {
	Handle   string `arg:"" help:"Whose it is."`
	Database string `default:"data/tenter.db" env:"TENTER_DATABASE" help:"A file (SQLite) or a postgres:// address."`
}

func (c *personUnlockCommand) Run(ctx context.Context, io streams) (err error) {
	store, err := server.Open(ctx, c.Database, models.Options{})
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, store.Close()) }()
	person, err := store.PersonByLogin(ctx, c.Handle)
	if err != nil {
		return err
	}
	if err := store.ForceSecondFactorOff(ctx, models.System("tenter person unlock"), person.ID); err != nil {
		return err
	}
	fmt.Fprintf(io.out, "%s signs in with the password alone now, and everywhere anew.\n", person.Handle)
	return nil
}
