package models

import (
	"fmt"
	"sort"

	"gorm.io/gorm"
)

// mailroom is what reminders are written from.
type mailroom struct {
	studio    *Studio
	call      *TestCall
	design    *Design
	today     Date
	testers   []remindable
	declined  []ApplicationLine
	extension map[string]Extension        // the last that was answered, by assignment
	measure   map[string][]MeasureRequest // that wait for an answer, by assignment

	corrections *correctionBook
}

// mailrooms reads what the reminders of some calls are written from, by call, in
// a constant number of statements. There has to be a call.
func (s *Store) mailrooms(db *gorm.DB, calls []TestCall) (map[string]*mailroom, error) {
	studio, err := studioIn(db)
	if err != nil {
		return nil, err
	}
	rooms := make(map[string]*mailroom, len(calls))
	ids, designs := make([]string, len(calls)), make([]string, len(calls))
	for i := range calls {
		c := &calls[i]
		ids[i], designs[i] = c.ID, c.DesignID
		rooms[c.ID] = &mailroom{studio: studio, call: c, today: DateOf(s.Now(), studio.Location()), extension: map[string]Extension{}, measure: map[string][]MeasureRequest{}}
	}
	fill := mailroomFilling{db: db, store: s, ids: ids, rooms: rooms, byAssignment: map[string]*mailroom{}}
	if err := fill.designs(designs); err != nil {
		return nil, err
	}
	for _, read := range []func() error{fill.testers, fill.extensions, fill.measure, fill.declined} {
		if err := read(); err != nil {
			return nil, err
		}
	}
	return rooms, nil
}

// mailroomFilling reads the rows of several calls, each kind in one statement or few.
type mailroomFilling struct {
	db           *gorm.DB
	store        *Store
	ids          []string // of the calls
	rooms        map[string]*mailroom
	byAssignment map[string]*mailroom
}

func (f mailroomFilling) designs(ids []string) error {
	var rows []*Design
	if err := f.db.Where("id IN ?", ids).Find(&rows).Error; err != nil {
		return fmt.Errorf("designs: %w", err)
	}
	books, err := correctionBooksIn(f.db, rows)
	if err != nil {
		return err
	}
	for _, m := range f.rooms {
		m.corrections = books[m.call.DesignID]
		m.design = m.corrections.design
	}
	return nil
}

func (f mailroomFilling) testers() error {
	lines, err := assignmentLines(f.db, f.store.Now(), f.db.Where("assignments.test_call_id IN ? AND assignments.withdrawn_at IS NULL", f.ids))
	if err != nil {
		return err
	}
	var people []Person
	if err := f.db.Omit("password_hash").Where("id IN (SELECT person_id FROM assignments WHERE test_call_id IN ?)", f.ids).Find(&people).Error; err != nil {
		return fmt.Errorf("testers: %w", err)
	}
	byID := make(map[string]Person, len(people))
	for _, p := range people {
		byID[p.ID] = p
	}
	for _, l := range lines {
		m, p := f.rooms[l.TestCallID], byID[l.PersonID]
		f.byAssignment[l.ID] = m
		if p.ForgottenAt != nil {
			continue // there is nobody left to tell
		}
		m.testers = append(m.testers, remindable{l, p.Name, p.Email, p.Terms})
	}
	return nil
}

func (f mailroomFilling) extensions() error {
	var rows []Extension
	err := f.db.Where("answered_at IS NOT NULL AND assignment_id IN (SELECT id FROM assignments WHERE test_call_id IN ?)", f.ids).Order("answered_at").Find(&rows).Error
	if err != nil {
		return fmt.Errorf("answers about time: %w", err)
	}
	for _, e := range rows {
		if m := f.byAssignment[e.AssignmentID]; m != nil {
			m.extension[e.AssignmentID] = e
		}
	}
	return nil
}

func (f mailroomFilling) measure() error {
	rows, err := measureRequestsIn(f.db, "a.test_call_id IN ? AND r.answered_at IS NULL AND r.withdrawn_at IS NULL", f.ids)
	if err != nil {
		return err
	}
	for _, r := range rows {
		if m := f.byAssignment[r.AssignmentID]; m != nil {
			m.measure[r.AssignmentID] = append(m.measure[r.AssignmentID], r)
		}
	}
	return nil
}

func (f mailroomFilling) declined() error {
	rows, err := bareApplications(f.db.Where("applications.test_call_id IN ? AND applications.declined_at IS NOT NULL", f.ids))
	for _, a := range rows {
		m := f.rooms[a.TestCallID]
		m.declined = append(m.declined, a)
	}
	return err
}

// due is what of some calls is due, by call: not told, and not in a letter on
// its way; the longest due first. The statements are as many for one as for all.
func (s *Store) due(db *gorm.DB, calls []TestCall) (map[string][]Reminder, error) {
	if len(calls) == 0 {
		return nil, nil
	}
	rooms, err := s.mailrooms(db, calls)
	if err != nil {
		return nil, err
	}
	ids := make([]string, len(calls))
	for i, c := range calls {
		ids[i] = c.ID
	}
	done, err := toldIn(db, ids)
	if err != nil {
		return nil, err
	}
	written, err := lettersOf(db, ids)
	if err != nil {
		return nil, err
	}
	var all []Reminder
	ends := make([]int, len(calls))
	for i, id := range ids {
		all = append(all, rooms[id].untold(done[id], written[id])...)
		ends[i] = len(all)
	}
	if err := withMail(db, all); err != nil {
		return nil, err
	}
	out := make(map[string][]Reminder, len(calls))
	from := 0
	for i, id := range ids {
		out[id] = append([]Reminder{}, all[from:ends[i]]...)
		from = ends[i]
	}
	return out, nil
}

// dueIn is what is due in one call.
func (s *Store) dueIn(db *gorm.DB, call *TestCall) ([]Reminder, error) {
	due, err := s.due(db, []TestCall{*call})
	return due[call.ID], err
}

// untold leaves out what was told, and what is in a letter that is on its way
// or has gone.
func (m *mailroom) untold(done map[ReminderKey]bool, written map[ReminderKey]Letter) []Reminder {
	var out []Reminder
	for _, r := range m.all() {
		letter := written[r.key()]
		if done[r.key()] || letter.State == LetterWaiting || letter.State == LetterSent {
			continue
		}
		if letter.State != "" {
			r.NotSent = orElse(letter.Said, string(letter.State))
		}
		out = append(out, r)
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].DueOn < out[j].DueOn })
	return out
}

// toldIn is what was told in each call.
func toldIn(db *gorm.DB, callIDs []string) (map[string]map[ReminderKey]bool, error) {
	var told []Told
	if err := db.Where("test_call_id IN ?", callIDs).Find(&told).Error; err != nil {
		return nil, fmt.Errorf("what was told: %w", err)
	}
	out := map[string]map[ReminderKey]bool{}
	for _, id := range callIDs {
		out[id] = map[ReminderKey]bool{}
	}
	for _, t := range told {
		out[t.TestCallID][ReminderKey{t.PersonID, t.Kind, t.About}] = true
	}
	return out, nil
}
