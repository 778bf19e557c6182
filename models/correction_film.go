package models

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"gorm.io/gorm"

	"tenter/models/counts"
)

// SpokenTake is an accepted recording in which a number is said that a
// correction changes.
type SpokenTake struct {
	InstallmentID string
	Installment   string // title
	Take          int    // number
	Shot          string // title
	Said          float64
	Now           *float64 // what the mended text says; nil: a draft, or the text no longer has it
}

// Sentence says it as the shoot sheet does.
func (k SpokenTake) Sentence(count string, state CorrectionState) string {
	said := counts.Print([]*float64{&k.Said}, counts.Layout{})
	where := fmt.Sprintf("“%s”, “%s”, take %d", k.Installment, k.Shot, k.Take)
	switch {
	case state == CorrectionDraft:
		return fmt.Sprintf("%s: says %s for %s, which is to be corrected.", where, said, count)
	case k.Now == nil:
		return fmt.Sprintf("%s: said %s for %s, which the text no longer has.", where, said, count)
	}
	return fmt.Sprintf("%s: said %s for %s, the text now says %s.", where, said, count, counts.Print([]*float64{k.Now}, counts.Layout{}))
}

// SpokenTakes finds, for each correction by id, the accepted recordings that
// say the number it changes: another one than the mended text has, or, of a
// draft, the one that is wrong. Numbers are spoken for the filmed size only.
func (s *Store) SpokenTakes(ctx context.Context, designID string, corrections []Correction) (map[string][]SpokenTake, error) {
	out := map[string][]SpokenTake{}
	if !slices.ContainsFunc(corrections, func(c Correction) bool { return c.CountName != "" && c.WithdrawnAt == nil }) {
		return out, nil
	}
	db := s.read(ctx)
	design, err := designIn(db, designID)
	if err != nil {
		return nil, err
	}
	book, err := correctionBookIn(db, design)
	if err != nil {
		return nil, err
	}
	sizes, err := sizesIn(db, []string{designID})
	if err != nil {
		return nil, err
	}
	filmed := filmedSize(sizes)
	if filmed == nil {
		return out, nil
	}
	run, takes, err := spokenRun(db, designID)
	if err != nil {
		return nil, err
	}
	for _, c := range corrections {
		if c.CountName == "" || c.WithdrawnAt != nil || !c.For(filmed.ID) {
			continue
		}
		wrong := book.count(c.SinceVersion, c.CountName, filmed.ID)
		var now *float64
		if c.MendedVersion != nil {
			now = book.count(*c.MendedVersion, c.CountName, filmed.ID)
		}
		for _, k := range spokenIn(run, takes, c.CountName) {
			k.Now = now
			if c.MendedVersion != nil && !sameCount(&k.Said, now) || c.MendedVersion == nil && sameCount(&k.Said, wrong) {
				out[c.ID] = append(out[c.ID], k)
			}
		}
	}
	return out, nil
}

// spokenRun reads a design's installments and, of each, the takes with what was
// said in them.
func spokenRun(db *gorm.DB, designID string) ([]Installment, map[string][]Take, error) {
	run, err := installmentRows(db, designID)
	if err != nil {
		return nil, nil, err
	}
	takes, err := takesWhere(db, "installments.design_id = ?", designID)
	if err != nil {
		return nil, nil, err
	}
	at := make([]*Take, len(takes))
	for i := range takes {
		at[i] = &takes[i]
	}
	err = withSaid(db, at, "take_id IN (SELECT k.id FROM takes k JOIN installments i ON i.id = k.installment_id WHERE i.design_id = ?)", designID)
	if err != nil {
		return nil, nil, err
	}
	of := map[string][]Take{}
	for _, k := range takes {
		of[k.InstallmentID] = append(of[k.InstallmentID], k)
	}
	return run, of, nil
}

// spokenIn lists where a count is said in the recordings that are used.
func spokenIn(run []Installment, takes map[string][]Take, count string) []SpokenTake {
	var out []SpokenTake
	for _, in := range run {
		for _, shot := range in.Shots {
			k, recorded := acceptedShot(shot.ID, takes[in.ID])
			if recorded == nil {
				continue
			}
			for _, n := range recorded.Said {
				if n.CountName == count {
					out = append(out, SpokenTake{InstallmentID: in.ID, Installment: in.Title, Take: k.Number, Shot: shot.Title, Said: n.Said})
				}
			}
		}
	}
	return out
}

// corrected is how a shoot sheet knows what the corrections change.
type corrected struct {
	list     []Correction   // those that name a count and were not withdrawn
	versions map[string]int // number of a version, by id
	sizes    []Size
}

func correctedIn(db *gorm.DB, designID string, sizes []Size) (*corrected, error) {
	all, err := correctionsWhere(db, "corrections.design_id = ?", designID)
	if err != nil || len(all) == 0 {
		return &corrected{}, err
	}
	out := &corrected{versions: map[string]int{}, sizes: sizes}
	for _, c := range all {
		if c.CountName != "" && c.WithdrawnAt == nil {
			out.list = append(out.list, c)
		}
	}
	var versions []Version
	if err := db.Select("id", "number").Where("design_id = ?", designID).Find(&versions).Error; err != nil {
		return nil, fmt.Errorf("versions: %w", err)
	}
	for _, v := range versions {
		out.versions[v.ID] = v.Number
	}
	return out, nil
}

// by names the corrections of a count for a size whose text has them:
// " (correction 3)", or "".
func (c *corrected) by(count, sizeID string) string {
	var numbers []string
	for _, x := range c.list {
		if x.CountName == count && x.For(sizeID) && x.MendedNumber != nil {
			numbers = append(numbers, fmt.Sprint(x.Number))
		}
	}
	switch len(numbers) {
	case 0:
		return ""
	case 1:
		return " (correction " + numbers[0] + ")"
	}
	return " (corrections " + strings.Join(numbers, ", ") + ")"
}

// toCome says of a number that was said that a draft is about it.
func (c *corrected) toCome(count, sizeID string) string {
	for _, x := range c.list {
		if x.CountName == count && x.For(sizeID) && x.MendedNumber == nil {
			return fmt.Sprintf("which correction %d, still a draft, is to change", x.Number)
		}
	}
	return ""
}

// cards says, for a shot that was recorded from an older text, which numbers
// for other sizes than the filmed one a correction has changed since: the line
// for all sizes that is on screen is then an old one.
func (c *corrected) cards(shot SheetShot, readFrom *string, filmed *Size) []string {
	if readFrom == nil {
		return nil
	}
	read, known := c.versions[*readFrom]
	var out []string
	for _, n := range shot.Numbers {
		for _, x := range c.list {
			if !known || x.CountName != n.Name || !x.reaches(read) || n.Line == "" || filmed != nil && x.For(filmed.ID) {
				continue
			}
			out = append(out, fmt.Sprintf("correction %d changes %s for %s: the line on screen is %s now", x.Number, n.Name, c.sayFor(x), n.Line))
		}
	}
	return out
}

// sayFor names the sizes of a correction.
func (c *corrected) sayFor(x Correction) string {
	var names []string
	for _, z := range c.sizes {
		if slices.Contains(x.SizeIDs, z.ID) {
			names = append(names, z.Name)
		}
	}
	if len(names) == 1 {
		return "size " + names[0]
	}
	return "sizes " + strings.Join(names, ", ")
}
