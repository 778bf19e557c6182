package models

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"gorm.io/gorm"

	"tenter/models/letters"
)

// Person is somebody the studio works with: its own people and its testers.
// A handle is how everybody else sees a tester. Only the designer adds people
// and changes roles; a person changes their own name, unit and terms.
type Person struct {
	ID           string `gorm:"primaryKey"`
	Handle       string
	Name         string
	Email        *string
	Unit         string  // "cm" or "in": how this person measures
	Terms        string  // "us" or "uk": the stitch names this person reads
	PasswordHash *string `json:"-"` // nil: has never signed in
	DisabledAt   *time.Time
	// EmailDoubtfulAt is since when a mail server says that there is no such
	// address; another address is not doubted.
	EmailDoubtfulAt *time.Time
	ForgottenAt     *time.Time // nothing here names anybody any more; see forget.go
	Revision        int
	CreatedAt       time.Time
	UpdatedAt       time.Time

	Roles []Role `gorm:"-"`
}

// PersonRole is one role of one person.
type PersonRole struct {
	PersonID string `gorm:"primaryKey"`
	Role     Role   `gorm:"primaryKey"`
}

const longestHandle = 40

func (p Person) validate() error {
	var bad problems
	bad.line("handle", p.Handle, true, longestHandle)
	if strings.ContainsAny(p.Handle, "@ \t\r\n") {
		bad.addf("handle", "may not contain spaces or @; it is the name that others see")
	}
	bad.line("name", p.Name, true, shortText)
	if p.Email != nil {
		if letters.Address(*p.Email) != nil {
			bad.addf("email", "is not an e-mail address; write it as name@host, or leave it out")
		}
	}
	bad.oneOf("unit", p.Unit, "cm", "in")
	bad.oneOf("terms", p.Terms, "us", "uk")
	if len(p.Roles) == 0 {
		bad.addf("roles", "is empty; give at least one of %s", roleNames())
	}
	for i, r := range p.Roles {
		if !slices.Contains(Roles(), r) {
			bad.addf(fmt.Sprintf("roles[%d]", i), "is not one of %s", roleNames())
		}
	}
	return bad.err()
}

// eachOnce puts roles in order, each of them once.
func eachOnce(roles []Role) []Role {
	roles = slices.Clone(roles)
	slices.Sort(roles)
	return slices.Compact(roles)
}

func roleNames() string {
	names := make([]string, len(Roles()))
	for i, r := range Roles() {
		names[i] = string(r)
	}
	return strings.Join(names, ", ")
}

// NewPerson is what it takes to add somebody.
type NewPerson struct {
	Handle string
	Name   string
	Email  *string
	Unit   string // "" = cm
	Terms  string // "" = us
	Roles  []Role
	// PasswordHash is set when the person is added with a password, on the
	// command line or in the demo; otherwise an invitation lets them choose one.
	PasswordHash *string
}

// AddPerson adds somebody.
func (s *Store) AddPerson(ctx context.Context, actor Actor, in NewPerson) (*Person, error) {
	var out *Person
	err := s.change(ctx, actor, func(t *tx) (err error) {
		out, err = t.addPerson(in)
		return err
	})
	return out, err
}

func (t *tx) addPerson(in NewPerson) (*Person, error) {
	p := Person{ID: NewID(), Handle: strings.TrimSpace(in.Handle), Name: strings.TrimSpace(in.Name), Email: in.Email,
		Unit: orElse(in.Unit, "cm"), Terms: orElse(in.Terms, "us"), PasswordHash: in.PasswordHash,
		Roles: in.Roles, Revision: 1, CreatedAt: t.now, UpdatedAt: t.now}
	if p.Name == "" {
		p.Name = p.Handle
	}
	if err := p.validate(); err != nil {
		return nil, err
	}
	p.Roles = eachOnce(p.Roles)
	if err := t.personFree(p, ""); err != nil {
		return nil, err
	}
	if err := t.Create(&p).Error; err != nil {
		return nil, fmt.Errorf("add person: %w", err)
	}
	if err := t.writeRoles(p.ID, p.Roles); err != nil {
		return nil, err
	}
	return &p, t.record("", "person", p.ID, "added", nil, p)
}

// personFree refuses a handle or e-mail address that somebody else has.
func (t *tx) personFree(p Person, self string) error {
	var bad problems
	var n int64
	if err := t.Model(&Person{}).Where("lower(handle) = lower(?) AND id <> ?", p.Handle, self).Count(&n).Error; err != nil {
		return fmt.Errorf("look for handle: %w", err)
	}
	if n > 0 {
		bad.addf("handle", "is taken; choose another")
	}
	if p.Email != nil {
		if err := t.Model(&Person{}).Where("lower(email) = lower(?) AND id <> ?", *p.Email, self).Count(&n).Error; err != nil {
			return fmt.Errorf("look for e-mail: %w", err)
		}
		if n > 0 {
			bad.addf("email", "belongs to somebody else here; use that person or another address")
		}
	}
	if err := bad.err(); err != nil {
		return &Error{Kind: Conflict, Message: "Somebody is on file with that already.", Fields: bad.fields}
	}
	return nil
}

func (t *tx) writeRoles(personID string, roles []Role) error {
	if err := t.Where("person_id = ?", personID).Delete(&PersonRole{}).Error; err != nil {
		return fmt.Errorf("roles: %w", err)
	}
	rows := make([]PersonRole, len(roles))
	for i, r := range roles {
		rows[i] = PersonRole{personID, r}
	}
	if err := t.Create(&rows).Error; err != nil {
		return fmt.Errorf("roles: %w", err)
	}
	return nil
}

// PersonChange says what to change; nil leaves a field as it is.
type PersonChange struct {
	Name     *string
	Email    **string // points to nil: take the address away
	Unit     *string
	Terms    *string
	Roles    *[]Role
	Disabled *bool
	// Password is the own one of who changes, for another address.
	Password string
}

// ChangePerson changes somebody. Disabling ends every sign-in of theirs and
// every link that they have not used. Another e-mail address takes the actor's
// own password: letters there may bring a link that sets a new one.
func (s *Store) ChangePerson(ctx context.Context, actor Actor, id string, revision *int, c PersonChange) (*Person, error) {
	// Comparing is slow on purpose, so it happens before the one writer is taken.
	unproven := s.provenForAddress(ctx, actor, c)
	var after Person
	err := s.change(ctx, actor, func(t *tx) error {
		before, err := personIn(t.DB, id)
		if err != nil {
			return err
		}
		if err := checkRevision("person", before.Revision, revision); err != nil {
			return err
		}
		if before.ForgottenAt != nil {
			return failf(Conflict, "This person was forgotten; nothing of theirs can be changed any more. If they come back, add them anew.")
		}
		after = *before
		set(&after.Name, c.Name)
		set(&after.Email, c.Email)
		moved := addressOf(before) != addressOf(&after)
		if moved {
			after.EmailDoubtfulAt = nil
		}
		set(&after.Unit, c.Unit)
		set(&after.Terms, c.Terms)
		set(&after.Roles, c.Roles)
		if c.Disabled != nil {
			after.DisabledAt = stamp(*c.Disabled, before.DisabledAt, t.now)
		}
		if err := after.validate(); err != nil {
			return err
		}
		if moved && unproven != nil {
			return unproven
		}
		after.Roles = eachOnce(after.Roles)
		if unchanged(before, &after) {
			return nil
		}
		return t.savePerson(before, &after)
	})
	return &after, err
}

// provenForAddress tells why a change may not give somebody another address.
func (s *Store) provenForAddress(ctx context.Context, actor Actor, c PersonChange) error {
	switch {
	case c.Email == nil:
		return nil
	case c.Password == "":
		return &Error{Kind: Invalid, Message: "Nothing was changed.", Fields: []FieldProblem{{"password", "has to be your own, once more, for another e-mail address"}}}
	}
	_, err := s.ownPassword(ctx, actor, "password", c.Password)
	return err
}

func (t *tx) savePerson(before, after *Person) error {
	if err := t.keepsADesigner(before, after); err != nil {
		return err
	}
	if err := t.personFree(*after, after.ID); err != nil {
		return err
	}
	err := t.bump("person", &Person{}, before.ID, before.Revision, map[string]any{"name": after.Name, "email": after.Email, "email_doubtful_at": after.EmailDoubtfulAt,
		"unit": after.Unit, "terms": after.Terms, "disabled_at": after.DisabledAt})
	if err != nil {
		return err
	}
	after.Revision, after.UpdatedAt = before.Revision+1, t.now
	if !slices.Equal(before.Roles, after.Roles) {
		if err := t.writeRoles(after.ID, after.Roles); err != nil {
			return err
		}
	}
	if after.DisabledAt != nil && before.DisabledAt == nil {
		if err := t.endSignInsBut(after.ID, ""); err != nil {
			return err
		}
		if err := t.endInvitations(after.ID); err != nil {
			return err
		}
	}
	if orNone(before.Email) != orNone(after.Email) {
		if err := t.record("", "person", after.ID, "e-mail changed", nil, nil); err != nil {
			return err
		}
	}
	return t.record("", "person", after.ID, "changed", before, after)
}

func orNone(text *string) string {
	if text == nil {
		return ""
	}
	return *text
}

// keepsADesigner refuses to leave the studio with nobody who can run it.
func (t *tx) keepsADesigner(before, after *Person) error {
	runs := func(p *Person) bool { return p.DisabledAt == nil && slices.Contains(p.Roles, Designer) }
	if !runs(before) || runs(after) {
		return nil
	}
	var others int64
	err := t.Table("people").Joins("JOIN person_roles r ON r.person_id = people.id").
		Where("r.role = ? AND people.disabled_at IS NULL AND people.id <> ?", Designer, before.ID).Count(&others).Error
	if err != nil {
		return fmt.Errorf("count designers: %w", err)
	}
	if others == 0 {
		return failf(Conflict, "This is the only designer; give somebody else the role first.")
	}
	return nil
}

// Person returns somebody by id.
func (s *Store) Person(ctx context.Context, id string) (*Person, error) {
	return personIn(s.read(ctx), id)
}

func personIn(db *gorm.DB, id string) (*Person, error) {
	p, err := first[Person](db, "person", "id = ?", id)
	if err != nil {
		return nil, err
	}
	return p, withRoles(db, []*Person{p})
}

// PersonByLogin returns somebody by handle or e-mail address, in any case.
func (s *Store) PersonByLogin(ctx context.Context, login string) (*Person, error) {
	db := s.read(ctx)
	p, err := first[Person](db, "person", "lower(handle) = lower(?) OR lower(email) = lower(?)", login, login)
	if err != nil {
		return nil, err
	}
	return p, withRoles(db, []*Person{p})
}

// People lists people, but for those who were forgotten; role narrows it when not empty.
func (s *Store) People(ctx context.Context, role Role, page Page) ([]*Person, string, error) {
	db := s.read(ctx)
	q := db.Model(&Person{}).Where("forgotten_at IS NULL")
	if role != "" {
		q = q.Where("EXISTS (SELECT 1 FROM person_roles r WHERE r.person_id = people.id AND r.role = ?)", role)
	}
	if page.After != "" {
		q = q.Where("id > ?", page.After)
	}
	var rows []*Person
	if err := q.Order("id").Limit(page.limit() + 1).Find(&rows).Error; err != nil {
		return nil, "", fmt.Errorf("list people: %w", err)
	}
	rows, next := cut(rows, page, func(p *Person) string { return p.ID })
	return rows, next, withRoles(db, rows)
}

// withRoles fills the roles of people in one query.
func withRoles(db *gorm.DB, people []*Person) error {
	if len(people) == 0 {
		return nil
	}
	byID := make(map[string]*Person, len(people))
	ids := make([]string, len(people))
	for i, p := range people {
		byID[p.ID], ids[i] = p, p.ID
		p.Roles = nil
	}
	var rows []PersonRole
	if err := db.Where("person_id IN ?", ids).Order("person_id, role").Find(&rows).Error; err != nil {
		return fmt.Errorf("roles: %w", err)
	}
	for _, r := range rows {
		byID[r.PersonID].Roles = append(byID[r.PersonID].Roles, r.Role)
	}
	return nil
}

// HasDesigner tells whether anybody can run the studio yet.
func (s *Store) HasDesigner(ctx context.Context) (bool, error) {
	_, err := first[PersonRole](s.read(ctx), "designer", "role = ?", Designer)
	if KindOf(err) == NotFound {
		return false, nil
	}
	return err == nil, err
}

func orElse(value, otherwise string) string {
	if value == "" {
		return otherwise
	}
	return value
}

// stamp returns the moment at which something is true: kept when it was so
// already, now when it has just become so, nil when it is not so.
func stamp(isSo bool, was *time.Time, now time.Time) *time.Time {
	switch {
	case !isSo:
		return nil
	case was != nil:
		return was
	}
	return &now
}

func addressOf(p *Person) string {
	address := ""
	set(&address, p.Email)
	return address
}
