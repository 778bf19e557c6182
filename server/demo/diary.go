package demo

import (
	"context"
	"fmt"
	"slices"
	"time"

	"tenter/models"
)

// diary is what happened in the studio, day by day.
type diary struct {
	now     time.Time
	zone    *time.Location
	today   models.Date
	entries []entry
}

// entry is one thing that somebody did.
type entry struct {
	at   time.Time
	who  string // handle; "" for the server itself
	what string
	do   deed
}

// deed does something in the name of a person.
type deed func(ctx context.Context, as models.Actor) error

func newDiary(now time.Time, zone string) (*diary, error) {
	where, err := time.LoadLocation(zone)
	if err != nil {
		return nil, fmt.Errorf("zone: %w", err)
	}
	return &diary{now: now, zone: where, today: models.DateOf(now, where)}, nil
}

// day returns the date some days from today; earlier ones are below zero.
func (d *diary) day(n int) models.Date { return d.today.Add(n) }

// on enters what somebody did on an earlier day (below zero) at a time of day,
// in the studio's zone.
func (d *diary) on(day int, clock, who, what string, do deed) {
	d.entries = append(d.entries, entry{d.moment(day, clock), who, what, do})
}

// ago enters what somebody did earlier today. That may be late yesterday when
// today is young; nothing else is entered that late.
func (d *diary) ago(before time.Duration, who, what string, do deed) {
	d.entries = append(d.entries, entry{d.now.Add(-before), who, what, do})
}

// moment is a time of day some days from today. Times of day are written in
// this package only, so one that can't be read is a slip in it.
func (d *diary) moment(day int, clock string) time.Time {
	at, err := time.ParseInLocation("2006-01-02 15:04", string(d.day(day))+" "+clock, d.zone)
	if err != nil {
		panic("demo: " + err.Error())
	}
	return at
}

// walk does everything in the order in which it happened.
func (d *diary) walk(ctx context.Context, store *models.Store, clock *Clock) error {
	slices.SortStableFunc(d.entries, func(a, b entry) int { return a.at.Compare(b.at) })
	actors := map[string]models.Actor{"": models.System("demo")}
	for _, e := range d.entries {
		clock.set(e.at, d.now)
		if late := store.Now().Sub(e.at); late < 0 || late > time.Hour {
			return errOtherClock
		}
		as, known := actors[e.who]
		if !known {
			person, err := store.PersonByLogin(ctx, e.who)
			if err != nil {
				return fmt.Errorf("%s on %s: %w", e.who, models.DateOf(e.at, d.zone), err)
			}
			as = models.Actor{PersonID: person.ID, Roles: person.Roles, RequestID: "demo"}
			actors[e.who] = as
		}
		if err := e.do(ctx, as); err != nil {
			return fmt.Errorf("%s %s on %s: %w", e.who, e.what, models.DateOf(e.at, d.zone), err)
		}
	}
	return nil
}

// clockAt writes a time of day.
func clockAt(hour, minute int) string { return fmt.Sprintf("%02d:%02d", hour, minute) }
