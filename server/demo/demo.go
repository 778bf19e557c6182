// Package demo fills a fresh database with an invented studio.
//
// Everything is written through the Store, by the people who would write it
// and on the day on which they would: a diary of deeds is walked through with
// a clock that is moved along, so that the history reads as it would in a
// studio that has been at work for three months. The days are counted from
// today.
//
// One file tells one design: its counts in pullover.go, who tests it in
// pullover_testing.go, and so on. finish.go makes the measurements up, by a
// small model of how people work, seeded by their handles.
package demo

import (
	"context"
	"errors"
	"fmt"

	"tenter/models"
)

// Password opens every sign-in of the demo.
const Password = "measure twice"

// StudioName says that it is nobody's.
const StudioName = "Quillet & Burr Workroom (invented)"

// SignIn is somebody whom a visitor can be.
type SignIn struct{ Handle, ComesFor string }

// Fill writes the invented studio into an empty store and returns its
// sign-ins. The store has to run on the given clock, which stands for the
// studio's past while Fill walks through it, and is the real one afterwards.
// zone is the IANA name of the studio's zone.
func Fill(ctx context.Context, store *models.Store, clock *Clock, zone string) ([]SignIn, error) {
	now := clock.Now()
	defer clock.release()
	hash, err := models.HashPassword(Password)
	if err != nil {
		return nil, err
	}
	d, err := newDiary(now, zone)
	if err != nil {
		return nil, err
	}
	d.on(-100, "09:00", "", "opens the studio", func(ctx context.Context, as models.Actor) error {
		if err := store.EnsureStudio(ctx, StudioName, zone, true); err != nil {
			return err
		}
		return addPeople(ctx, store, as, hash)
	})
	tellSock(d, store)
	tellBonnet(d, store)
	tellPullover(d, store)
	tellTote(d, store)
	if err := d.walk(ctx, store, clock); err != nil {
		return nil, fmt.Errorf("the demo's diary: %w", err)
	}
	return signIns(), nil
}

// errOtherClock is a mistake of the caller: what is written now would carry
// today's date.
var errOtherClock = errors.New("the store does not run on the demo's clock; open it with Options{Now: clock.Now}")
