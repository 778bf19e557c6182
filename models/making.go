package models

import (
	"context"
	"fmt"
	"math"

	"gorm.io/gorm"
)

// MakingSpeed is how many stitches an hour somebody makes in a craft.
type MakingSpeed struct {
	StitchesPerHour float64
	Hours           float64 // logged, that it rests on
	Source          string  // "stated", "logged", "studio" (what others logged) or "usual"
}

// usualSpeed is where the learning starts: a steady hand at simple fabric
// (chosen; not a published figure). It weighs like usualHours logged hours.
const (
	usualSpeed = 900.0
	usualHours = 4.0
)

// speeds knows how fast everybody makes.
type speeds struct {
	logged map[string][2]float64 // person → stitches, hours
	all    [2]float64
	stated map[string]float64
}

// speedsIn reads what was logged in a craft, in two queries.
func speedsIn(db *gorm.DB, craft string) (*speeds, error) {
	of, err := speedsByCraft(db)
	if err != nil {
		return nil, err
	}
	return of(craft), nil
}

// speedsByCraft reads what was logged in each craft, in two queries. Only hours
// whose stitches are known count.
func speedsByCraft(db *gorm.DB) (of func(craft string) *speeds, err error) {
	var work []PersonWork
	if err := db.Where("stitches_per_hour IS NOT NULL").Find(&work).Error; err != nil {
		return nil, fmt.Errorf("stated speeds: %w", err)
	}
	stated := map[string]float64{}
	for _, w := range work {
		stated[w.PersonID] = *w.StitchesPerHour
	}
	all := map[string]*speeds{}
	of = func(craft string) *speeds {
		if all[craft] == nil {
			all[craft] = &speeds{logged: map[string][2]float64{}, stated: stated}
		}
		return all[craft]
	}
	var rows []struct {
		Craft           string
		ByPerson        *string
		Stitches, Hours float64
	}
	err = db.Raw(`SELECT d.craft, m.by_person, sum(m.stitches) AS stitches, sum(m.hours) AS hours FROM sample_moves m
		JOIN samples s ON s.id = m.sample_id JOIN designs d ON d.id = s.design_id
		WHERE m.hours > 0 AND m.stitches > 0 GROUP BY d.craft, m.by_person ORDER BY d.craft, m.by_person`).Scan(&rows).Error
	if err != nil {
		return nil, fmt.Errorf("logged hours: %w", err)
	}
	for _, r := range rows {
		out := of(r.Craft)
		out.all[0] += r.Stitches
		out.all[1] += r.Hours
		if r.ByPerson != nil {
			out.logged[*r.ByPerson] = [2]float64{r.Stitches, r.Hours}
		}
	}
	return of, nil
}

// of returns a person's speed: as stated, or what they logged drawn towards
// what the whole studio logged, and that towards the usual. With the weight w
// of usualHours, (stitches + w·prior) / (hours + w): a ratio estimate that a
// single short log can't throw far off.
func (s *speeds) of(person *string) MakingSpeed {
	studio := (s.all[0] + usualHours*usualSpeed) / (s.all[1] + usualHours)
	if person != nil {
		if v, ok := s.stated[*person]; ok {
			return MakingSpeed{StitchesPerHour: v, Source: "stated"}
		}
		if own, ok := s.logged[*person]; ok {
			return MakingSpeed{(own[0] + usualHours*studio) / (own[1] + usualHours), own[1], "logged"}
		}
	}
	if s.all[1] > 0 {
		return MakingSpeed{studio, s.all[1], "studio"}
	}
	return MakingSpeed{StitchesPerHour: usualSpeed, Source: "usual"}
}

// Stretch is the making of one state from the one before it, in one size.
type Stretch struct {
	State    DesignState
	Stitches *float64 // nil: not known
	Hours    float64
	Known    bool   // false: neither stitches nor hours are said, and Hours is 0
	Trouble  string // why the stitches can't be told by the latest sheet
}

// stretches estimates every stretch in a size at a speed.
func (s *Store) stretches(states States, sheet *Sheet, sizeID string, speed MakingSpeed) []Stretch {
	out := make([]Stretch, len(states))
	for i, d := range states {
		x := Stretch{State: d}
		if d.Stitches != "" {
			n, ok, err := s.stretchStitches(sheet, sizeID, d.Stitches)
			switch {
			case err != nil:
				x.Trouble = calculationProblem(err)
			case !ok:
				x.Stitches, x.Known = new(float64), true // the size skips it
			default:
				x.Stitches, x.Known, x.Hours = &n, true, n/speed.StitchesPerHour
			}
		}
		if !x.Known && d.Hours != nil {
			x.Hours, x.Known = *d.Hours, true
		}
		x.Hours = math.Round(x.Hours*100) / 100
		out[i] = x
	}
	return out
}

// hoursBetween adds up the making from one rank to a later one.
func hoursBetween(all []Stretch, from, to int) float64 {
	var sum float64
	for i := from; i < to && i < len(all); i++ {
		sum += all[i].Hours
	}
	return math.Round(sum*100) / 100
}

// stitchesMade is what was made between two places of a sample, by the version
// it is made from or the latest; nil when it can't be told.
func (t *tx) stitchesMade(before, after *Sample, run []Installment) (*float64, error) {
	states := statesOf(run)
	from, to := states.of(*before), states.of(*after)
	if to <= from {
		return nil, nil
	}
	var named string
	set(&named, after.VersionID)
	v, err := versionOf(t.DB, after.DesignID, named, "version_id")
	if err != nil {
		return nil, err
	}
	sheet, err := sheetIn(t.DB, *v)
	if err != nil {
		return nil, err
	}
	var sum float64
	for _, x := range t.store.stretches(states, sheet, after.SizeID, MakingSpeed{StitchesPerHour: usualSpeed})[from:to] {
		if x.Stitches == nil {
			return nil, nil
		}
		sum += *x.Stitches
	}
	return &sum, nil
}

// Making is how long each stretch of a design takes, for each size.
type Making struct {
	Design *Design
	States States
	Sizes  []Size
	Speed  MakingSpeed // of the person asked about, or the studio's
	BySize [][]Stretch // in the order of the sizes
}

// ground is what the estimates of a design's making stand on.
type ground struct {
	run    []Installment
	sheet  *Sheet // of the latest version
	speeds *speeds
}

func makingGround(db *gorm.DB, design *Design) (*ground, error) {
	var g ground
	var err error
	if g.run, err = installmentRows(db, design.ID); err != nil {
		return nil, err
	}
	latest, err := latestVersion(db, design.ID)
	if err != nil {
		return nil, err
	}
	if g.sheet, err = sheetIn(db, *latest); err != nil {
		return nil, err
	}
	if g.speeds, err = speedsIn(db, design.Craft); err != nil {
		return nil, err
	}
	return &g, nil
}

// Making estimates a design's stretches at somebody's speed, the studio's when
// personID is nil.
func (s *Store) Making(ctx context.Context, idOrSlug string, personID *string) (*Making, error) {
	db := s.read(ctx)
	design, err := designIn(db, idOrSlug)
	if err != nil {
		return nil, err
	}
	ground, err := makingGround(db, design)
	if err != nil {
		return nil, err
	}
	m := &Making{Design: design, States: statesOf(ground.run), Sizes: ground.sheet.Sizes, Speed: ground.speeds.of(personID)}
	for _, z := range m.Sizes {
		m.BySize = append(m.BySize, s.stretches(m.States, ground.sheet, z.ID, m.Speed))
	}
	return m, nil
}

// Ahead is what working a sample to a state would mean.
type Ahead struct {
	State    DesignState // the zero state for the beginning
	Name     string
	Here     bool
	Back     bool    // it would have to be ripped back
	Hours    float64 // of making to get there, or that are lost by ripping back
	Warnings []string
}

// Ahead looks from where a sample is to each state of its design, so that a
// warning comes before the work and not after it.
func (s *Store) Ahead(ctx context.Context, sampleID string) ([]Ahead, error) {
	db := s.read(ctx)
	sample, err := first[Sample](db, "sample", "id = ?", sampleID)
	if err != nil {
		return nil, err
	}
	design, err := designIn(db, sample.DesignID)
	if err != nil {
		return nil, err
	}
	ground, err := makingGround(db, design)
	if err != nil {
		return nil, err
	}
	takes, err := takesWhere(db, "installments.design_id = ?", design.ID)
	if err != nil {
		return nil, err
	}
	var others []Sample
	if err := db.Where("design_id = ? AND id <> ?", design.ID, sample.ID).Order("id").Find(&others).Error; err != nil {
		return nil, fmt.Errorf("other samples: %w", err)
	}
	states := statesOf(ground.run)
	making := s.stretches(states, ground.sheet, sample.SizeID, ground.speeds.of(sample.HeldBy))
	here := states.of(*sample)
	out := make([]Ahead, 0, len(states)+1)
	for rank := 0; rank <= len(states); rank++ {
		a := Ahead{Name: states.Name(rank), Here: rank == here, Back: rank < here}
		if rank > 0 {
			a.State = states[rank-1]
		}
		if a.Back {
			a.Hours = hoursBetween(making, rank, here)
		} else {
			a.Hours = hoursBetween(making, here, rank)
		}
		moved := *sample
		moved.WorkedThrough, moved.StateID = states.placed(rank)
		if rank > here {
			a.Warnings = outOfReach("would be", *sample, moved, ground.run, takes, others)
		}
		out = append(out, a)
	}
	return out, nil
}
