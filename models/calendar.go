package models

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"gorm.io/gorm"

	"tenter/models/ical"
)

// Calendar is what a person has to know by the day: for the studio's own
// people the days of every design, for testers the days of their own tests and
// nothing else.
type Calendar struct {
	Person *Person
	Name   string
	Events []ical.Event
}

// Kinds of days, as a reader's categories.
const (
	dayAir    = "air date"
	dayRecord = "record by"
	dayShoot  = "shoot"
	dayMake   = "start making"
	dayDue    = "due"
)

// Calendar returns the calendar that a secret link opens.
func (s *Store) Calendar(ctx context.Context, secret string) (*Calendar, error) {
	person, err := s.personOfLink(ctx, secret)
	if err != nil {
		return nil, err
	}
	studio, err := s.Studio(ctx)
	if err != nil {
		return nil, err
	}
	c := &Calendar{Person: person, Name: studio.Name}
	db := s.read(ctx)
	if slices.ContainsFunc(person.Roles, func(r Role) bool { return r != Tester }) {
		if err := s.studioDays(ctx, c, studio); err != nil {
			return nil, err
		}
		if err := c.callDays(db); err != nil {
			return nil, err
		}
	}
	if err := c.testDays(db); err != nil {
		return nil, err
	}
	slices.SortStableFunc(c.Events, func(a, b ical.Event) int {
		if d := strings.Compare(a.On, b.On); d != 0 {
			return d
		}
		return strings.Compare(a.UID, b.UID)
	})
	return c, nil
}

func (c *Calendar) add(kind, id string, on Date, changed time.Time, tentative bool, summary, about string) {
	if on == "" {
		return
	}
	c.Events = append(c.Events, ical.Event{UID: strings.ReplaceAll(kind, " ", "-") + "-" + id + "@tenter", Changed: changed, On: string(on),
		Summary: summary, Description: about, Category: kind, Tentative: tentative})
}

// studioDays adds the days of every design in work: air dates, days to record,
// planned shoots, and for a maker the days by which making has to be begun.
func (s *Store) studioDays(ctx context.Context, c *Calendar, studio *Studio) error {
	designs, _, err := s.Designs(ctx, false, Page{Limit: 500})
	if err != nil {
		return err
	}
	today := DateOf(s.Now(), studio.Location())
	ids := []string{""}
	for _, d := range designs {
		ids = append(ids, d.ID)
	}
	held, err := heldSamples(s.read(ctx), "samples.design_id IN ? AND samples.retired_at IS NULL", ids)
	if err != nil {
		return fmt.Errorf("calendar: %w", err)
	}
	samples := map[string][]Sample{}
	for _, x := range held {
		samples[x.DesignID] = append(samples[x.DesignID], x)
	}
	runs, err := runsOf(s.read(ctx), today, studio.LeadDays, ids, samples)
	if err != nil {
		return fmt.Errorf("calendar: %w", err)
	}
	for _, d := range designs {
		open := false
		for _, n := range runs[d.ID] {
			title := d.Name + ": " + n.Title
			c.add(dayAir, n.ID, n.AirOn, n.UpdatedAt, n.ScheduledAt == nil && n.AiredAt == nil, "Airs: "+title, n.NeedsAlone(today))
			if n.State != Unrecorded {
				continue
			}
			open = open || n.shootDue() != ""
			c.add(dayRecord, n.ID, n.RecordDue, n.UpdatedAt, false, "Record by today: "+title, n.NeedsAlone(today))
			c.add(dayShoot, n.ID, n.ShootOn, n.UpdatedAt, false, "Shoot: "+title, n.NeedsAlone(today))
		}
		if d.ReleasedOn != "" {
			c.add("release", d.ID, d.ReleasedOn, d.UpdatedAt, !d.IsOut(), "Release: "+d.Name, "")
		}
		if open && slices.Contains(c.Person.Roles, Maker) {
			if err := s.makingDays(ctx, c, d); err != nil {
				return err
			}
		}
	}
	return nil
}

// makingDays adds the days by which the person has to begin making.
func (s *Store) makingDays(ctx context.Context, c *Calendar, d Design) error {
	plan, err := s.PlanFilming(ctx, d.ID, 0)
	if err != nil {
		return err
	}
	for _, x := range plan.Shots {
		if x.StartBy == "" || x.Message != "" || x.Holder != "" && x.Holder != c.Person.Handle {
			continue
		}
		id := orElse(x.Shot.ID, x.Installment)
		c.add(dayMake, id, x.StartBy, s.Now().Truncate(24*time.Hour), true, fmt.Sprintf("Start making for %s: %s", d.Name, x.Label),
			fmt.Sprintf("%.1f hours on %s, to %s by %s.", x.WorkHours, x.Sample, plan.States.Name(x.From), x.On))
	}
	return nil
}

// callDays adds the last days of test calls that run.
func (c *Calendar) callDays(db *gorm.DB) error {
	var rows []struct {
		ID, Title, Name string
		DueOn           Date
		UpdatedAt       time.Time
	}
	err := db.Raw(`SELECT c.id, c.title, d.name, c.due_on, c.updated_at FROM test_calls c JOIN designs d ON d.id = c.design_id
		WHERE c.closed_at IS NULL AND d.archived_at IS NULL ORDER BY c.id LIMIT 500`).Scan(&rows).Error
	if err != nil {
		return fmt.Errorf("calls of calendar: %w", err)
	}
	for _, r := range rows {
		c.add(dayDue, r.ID, r.DueOn, r.UpdatedAt, false, "Test reports due: "+r.Name, r.Title)
	}
	return nil
}

// testDays adds the person's own tests, as far as they are still to be reported.
func (c *Calendar) testDays(db *gorm.DB) error {
	var rows []struct {
		ID, Name, Size string
		DueOn          Date
		UpdatedAt      time.Time
	}
	err := db.Raw(`SELECT a.id, d.name, z.name AS size, a.due_on, a.updated_at FROM assignments a JOIN designs d ON d.id = a.design_id JOIN sizes z ON z.id = a.size_id
		WHERE a.person_id = ? AND a.withdrawn_at IS NULL AND NOT EXISTS (SELECT 1 FROM reports p WHERE p.assignment_id = a.id)
		ORDER BY a.id LIMIT 500`, c.Person.ID).Scan(&rows).Error
	if err != nil {
		return fmt.Errorf("tests of calendar: %w", err)
	}
	for _, r := range rows {
		c.add(dayDue, r.ID, r.DueOn, r.UpdatedAt, false, "My report is due: "+r.Name, "Size "+r.Size)
	}
	return nil
}
