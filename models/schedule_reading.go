package models

import (
	"cmp"
	"context"
	"database/sql"
	"fmt"
	"slices"

	"gorm.io/gorm"

	"tenter/models/schedule"
	"tenter/models/together"
)

// scheduleRows is what the schedule of one design is made of.
type scheduleRows struct {
	*filmingRows
	estimates map[string]Estimate
	studio    *studioRows
	calls     []callRow
	signed    bool // a sign-off of the latest version stands
	remarks   int  // not settled
}

// studioRows is what the schedules of several designs are made of, read in the
// same statements however many there are.
type studioRows struct {
	today   Date
	zone    *Studio
	people  []*Person             // the studio's own, by id
	hours   map[string]PersonWork // by person
	unsaid  map[string]bool       // who has not said when they work
	designs []*scheduleRows       // the one with the next announced day first
	left    []string              // names of designs for which there was no room
}

// callRow is a test call that is still open. Awaited are its testers who have
// not reported, Given all of them; LastDue is the last day of those awaited.
type callRow struct {
	ID, DesignID, Title string
	DueOn               Date
	Given, Awaited      int
	LastDue             *Date
}

// until is the day until which reports may come; "" when all are there.
func (c callRow) until() Date {
	switch {
	case c.Given > 0 && c.Awaited == 0:
		return ""
	case c.LastDue != nil && *c.LastDue > c.DueOn:
		return *c.LastDue
	}
	return c.DueOn
}

// mostDesignsTogether bounds what one look at a schedule reads (chosen); those
// whose announced days come later are left out.
const mostDesignsTogether = 40

// scheduleReading fills the rows, one subject after the other.
type scheduleReading struct {
	db   *gorm.DB
	ids  []string
	of   map[string]*scheduleRows
	into *studioRows
}

// readSchedules reads every running design, and the one that is asked for even
// when it was put away; nil asks for none.
func (s *Store) readSchedules(ctx context.Context, asked *Design) (*studioRows, error) {
	db := s.read(ctx)
	out := &studioRows{}
	var err error
	if out.zone, err = studioIn(db); err != nil {
		return nil, err
	}
	out.today = DateOf(s.Now(), out.zone.Location())
	r := scheduleReading{db: db, of: map[string]*scheduleRows{}, into: out}
	for _, read := range []func() error{func() error { return r.choose(asked) }, r.staff, r.samplesAndRuns, r.sheets, r.speeds, r.estimated, r.testing} {
		if err := read(); err != nil {
			return nil, fmt.Errorf("schedules: %w", err)
		}
	}
	return out, nil
}

// choose takes the designs of which something is still to be done.
func (r *scheduleReading) choose(asked *Design) error {
	type line struct {
		Design
		NextAir *Date
	}
	var rows []line
	err := r.db.Raw(`SELECT d.*, i.next_air FROM designs d LEFT JOIN (SELECT design_id, min(nullif(air_on, '')) AS next_air FROM installments WHERE aired_at IS NULL GROUP BY design_id) i ON i.design_id = d.id
		WHERE d.archived_at IS NULL AND (d.released_at IS NULL OR i.design_id IS NOT NULL)`).Scan(&rows).Error
	if err != nil {
		return fmt.Errorf("running designs: %w", err)
	}
	if asked != nil && !slices.ContainsFunc(rows, func(l line) bool { return l.ID == asked.ID }) {
		rows = append(rows, line{Design: *asked})
	}
	next := func(l line) string {
		day := "9999"
		if l.NextAir != nil {
			day = string(*l.NextAir)
		}
		if !l.IsOut() && l.ReleasedOn != "" {
			day = min(day, string(l.ReleasedOn))
		}
		return day
	}
	slices.SortFunc(rows, func(a, b line) int { return cmp.Or(cmp.Compare(next(a), next(b)), cmp.Compare(a.ID, b.ID)) })
	for i := range rows {
		if len(r.ids) >= mostDesignsTogether && (asked == nil || rows[i].ID != asked.ID) {
			r.into.left = append(r.into.left, rows[i].Name)
			continue
		}
		one := &scheduleRows{filmingRows: &filmingRows{today: r.into.today, design: &rows[i].Design}, studio: r.into}
		r.ids, r.of[rows[i].ID] = append(r.ids, rows[i].ID), one
		r.into.designs = append(r.into.designs, one)
	}
	return nil
}

// staff reads the studio's own people and when they work.
func (r *scheduleReading) staff() error {
	s := r.into
	err := r.db.Where(`disabled_at IS NULL AND EXISTS (SELECT 1 FROM person_roles r WHERE r.person_id = people.id AND r.role <> ?)`, Tester).
		Order("id").Limit(schedule.MaxPeople).Find(&s.people).Error
	if err != nil {
		return fmt.Errorf("people: %w", err)
	}
	if err := withRoles(r.db, s.people); err != nil {
		return err
	}
	var ids, makers []string
	for _, p := range s.people {
		ids = append(ids, p.ID)
		if slices.Contains(p.Roles, Maker) {
			makers = append(makers, p.ID)
		}
	}
	for _, one := range s.designs {
		one.makers = makers
	}
	if s.hours, err = workIn(r.db, ids); err != nil {
		return err
	}
	s.unsaid = map[string]bool{}
	for _, w := range s.hours {
		s.unsaid[w.PersonID] = true
	}
	var said []string
	if err := r.db.Model(&PersonWork{}).Where("person_id IN ?", ids).Pluck("person_id", &said).Error; err != nil {
		return fmt.Errorf("who said when they work: %w", err)
	}
	for _, id := range said {
		delete(s.unsaid, id)
	}
	return nil
}

func (r *scheduleReading) samplesAndRuns() error {
	all, err := heldSamples(r.db, "samples.design_id IN ?", r.ids)
	if err != nil {
		return err
	}
	samples, holders := map[string][]Sample{}, map[string]bool{}
	for _, z := range all {
		samples[z.DesignID] = append(samples[z.DesignID], z)
		if z.HeldBy != nil {
			holders[*z.HeldBy] = true
		}
	}
	work, err := workIn(r.db, keysOf(holders))
	if err != nil {
		return err
	}
	for id, w := range r.into.hours {
		work[id] = w
	}
	runs, err := runsOf(r.db, r.into.today, r.into.zone.LeadDays, r.ids, samples)
	if err != nil {
		return err
	}
	for id, one := range r.of {
		one.samples, one.run, one.work = samples[id], runs[id], work
	}
	return nil
}

// sheets reads the latest version of each design with its counts.
func (r *scheduleReading) sheets() error {
	var versions []Version
	err := r.db.Where("design_id IN ? AND number = (SELECT max(v.number) FROM versions v WHERE v.design_id = versions.design_id)", r.ids).Find(&versions).Error
	if err != nil {
		return fmt.Errorf("latest versions: %w", err)
	}
	sheets, err := sheetsIn(r.db, versions)
	for i := range sheets {
		r.of[sheets[i].Version.DesignID].sheet = &sheets[i]
	}
	return err
}

func (r *scheduleReading) speeds() error {
	all, err := speedsByCraft(r.db)
	for _, one := range r.of {
		one.speeds = all(one.design.Craft)
	}
	return err
}

func (r *scheduleReading) estimated() error {
	all, err := estimatesOf(r.db, r.ids)
	for id, e := range all {
		r.of[id].estimates = e
	}
	return err
}

// testing reads what the text still waits for.
func (r *scheduleReading) testing() error {
	const awaited = `a.test_call_id = c.id AND a.withdrawn_at IS NULL AND NOT EXISTS (SELECT 1 FROM reports p WHERE p.assignment_id = a.id)`
	var calls []callRow
	err := r.db.Raw(`SELECT c.id, c.design_id, c.title, c.due_on, (SELECT count(*) FROM assignments a WHERE a.test_call_id = c.id AND a.withdrawn_at IS NULL) AS given,
			(SELECT count(*) FROM assignments a WHERE `+awaited+`) AS awaited, (SELECT max(a.due_on) FROM assignments a WHERE `+awaited+`) AS last_due
		FROM test_calls c WHERE c.design_id IN ? AND c.closed_at IS NULL ORDER BY c.id`, r.ids).Scan(&calls).Error
	if err != nil {
		return fmt.Errorf("calls: %w", err)
	}
	for _, c := range calls {
		r.of[c.DesignID].calls = append(r.of[c.DesignID].calls, c)
	}
	return query(r.db, func(rows *sql.Rows) error {
		var design string
		var signed, remarks int
		if err := rows.Scan(&design, &signed, &remarks); err != nil {
			return err
		}
		r.of[design].signed, r.of[design].remarks = signed > 0, remarks
		return nil
	}, `SELECT d.id, (SELECT count(*) FROM sign_offs o JOIN versions v ON v.id = o.version_id WHERE v.design_id = d.id AND o.withdrawn_at IS NULL AND v.number = (SELECT max(n.number) FROM versions n WHERE n.design_id = d.id)),
			(SELECT count(*) FROM remarks m WHERE m.design_id = d.id AND m.settled_at IS NULL) FROM designs d WHERE d.id IN ?`, r.ids)
}

// tasksOf gives the studio's work to the calculation, and the tasks of each
// design in the same order. Designs whose days come last are left out when
// there are more tasks than it takes; the one that is asked for never is.
func (s *Store) tasksOf(all *studioRows, askedID string) (in together.Input, lists []*taskList, left []string, err error) {
	in = together.Input{Today: string(all.today), Seed: scheduleSeed}
	for _, p := range all.people {
		in.People = append(in.People, all.hours[p.ID].asPerson(p.Handle, all.today))
	}
	listed, room := map[string]*taskList{}, schedule.MaxTasks
	for _, r := range all.designs {
		b := newTaskList(r)
		if err := s.listTasks(b, r); err != nil {
			return in, nil, nil, err
		}
		if listed[r.design.ID] = b; r.design.ID == askedID {
			room -= len(b.tasks)
		}
	}
	left = slices.Clone(all.left)
	for _, r := range all.designs {
		b := listed[r.design.ID]
		if r.design.ID != askedID {
			if len(b.tasks) > room {
				left = append(left, r.design.Name)
				continue
			}
			room -= len(b.tasks)
		}
		in.Designs, lists = append(in.Designs, b.lasts), append(lists, b)
	}
	return in, lists, left, nil
}
