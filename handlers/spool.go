package handlers

import (
	"context"
	"errors"
	"fmt"
	"io"
	"syscall"

	"tenter/models"
)

// tablesAtOnce is how many tables are read from the database at the same moment
// (chosen): fewer than an SQLite database has readers.
const tablesAtOnce = 2

// spool is a file without a name that an answer is written to before any of it
// goes out. So the database is read as fast as the disk takes it, whoever waits
// for it, and what fails on the way is told instead of broken off.
type spool struct {
	models.NamelessFile
	bytes int64
}

// spooled writes an answer to a spool when one of the places is free; until
// then it waits, for as long as the request may.
func (a *api) spooled(ctx context.Context, write func(io.Writer) error) (*spool, error) {
	select {
	case a.spooling <- struct{}{}:
		defer func() { <-a.spooling }()
	case <-ctx.Done():
		return nil, ctx.Err()
	}
	file, err := models.NewNamelessFile("table")
	if err != nil {
		return nil, roomFor(err)
	}
	out := &spool{NamelessFile: file}
	if err = write(file); err == nil {
		out.bytes, err = file.Seek(0, io.SeekCurrent)
	}
	if err == nil {
		_, err = file.Seek(0, io.SeekStart)
	}
	if err != nil {
		out.Discard()
		return nil, roomFor(err)
	}
	return out, nil
}

func roomFor(err error) error {
	if errors.Is(err, syscall.ENOSPC) {
		return &models.Error{Kind: models.Full, Message: "The server's disk is full, so this table can't be put together now. Tell whoever runs the server; nothing was changed."}
	}
	return fmt.Errorf("put a table together: %w", err)
}
