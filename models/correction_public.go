package models

import (
	"context"
	"time"
)

// PublicCorrections is what everybody may read of a released design: what was
// announced, and nothing about who found it or who tested.
type PublicCorrections struct {
	Studio     string
	Design     Design
	ReleasedOn Date
	Sizes      []Size
	List       []Correction // the first one first; those withdrawn after they were announced among them
	Updated    time.Time    // when something was last announced or taken back; the release when nothing was
	Changed    time.Time    // when anything that is shown last changed
}

// PublicCorrections returns the announced corrections of a released design, by
// its slug. A design that is not released is as unknown as one that is not there.
func (s *Store) PublicCorrections(ctx context.Context, slug string) (*PublicCorrections, error) {
	db := s.read(ctx)
	studio, err := studioIn(db)
	if err != nil {
		return nil, err
	}
	design, err := first[Design](db, "page of corrections", "slug = ?", slug)
	if err != nil {
		return nil, err
	}
	if !design.IsOut() {
		return nil, notFound("page of corrections")
	}
	out := &PublicCorrections{Studio: studio.Name, Design: *design, ReleasedOn: DateOf(*design.ReleasedAt, studio.Location()), Updated: design.ReleasedAt.UTC()}
	if out.Sizes, err = sizesIn(db, []string{design.ID}); err != nil {
		return nil, err
	}
	all, err := correctionsWhere(db, "corrections.design_id = ?", design.ID)
	if err != nil {
		return nil, err
	}
	out.Changed = latest(out.Updated, design.UpdatedAt, studio.UpdatedAt)
	for _, c := range all {
		if c.AnnouncedAt == nil {
			continue
		}
		out.List = append(out.List, c)
		out.Updated = latest(out.Updated, c.PublishedChange())
		out.Changed = latest(out.Changed, c.UpdatedAt, c.PublishedChange())
	}
	return out, nil
}

// PublishedChange is when what everybody reads of an announced correction last
// changed: when it was announced, or taken back.
func (c Correction) PublishedChange() time.Time {
	if c.WithdrawnAt != nil {
		return *c.WithdrawnAt
	}
	return *c.AnnouncedAt
}

func latest(moments ...time.Time) time.Time {
	var out time.Time
	for _, m := range moments {
		if m.After(out) {
			out = m
		}
	}
	return out
}
