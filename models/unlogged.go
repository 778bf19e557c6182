package models

import (
	"fmt"
	"time"

	"gorm.io/gorm"
)

// Unlogged is a sample whose state is older than what it was worked to on
// camera: a shot in which it moved on was accepted, and nobody has said since
// how far it is. It is only told; that it is there is said by a person.
type Unlogged struct {
	SampleID string
	Label    string
	Holder   string
	StateID  *string // where the accepted shot left it
	State    string  // in words
	ShotID   string
	Shot     string
	Take     int // number
	Sentence string
}

// rippedIn reads when each sample of a design was last ripped back.
func rippedIn(db *gorm.DB, designID string) (map[string]time.Time, error) {
	var rows []SampleMove
	err := db.Table("sample_moves").Select("sample_moves.*").Joins("JOIN samples ON samples.id = sample_moves.sample_id").
		Where("samples.design_id = ? AND sample_moves.ripped_back", designID).Order("sample_moves.at").Find(&rows).Error
	if err != nil {
		return nil, fmt.Errorf("what was ripped back: %w", err)
	}
	out := make(map[string]time.Time, len(rows))
	for _, m := range rows {
		out[m.SampleID] = m.At
	}
	return out, nil
}

// UnloggedOf compares each camera sample in use with the accepted shots that
// were taken with it. A sample that was ripped back after a take was noted is
// where it is on purpose, and that take says nothing of it any more.
func UnloggedOf(run []InstallmentNow, samples []Sample, ripped map[string]time.Time) []Unlogged {
	states := statesOf(installmentsOf(run))
	var out []Unlogged
	for _, z := range samples {
		if !z.onCamera() {
			continue
		}
		here, best := states.of(z), Unlogged{}
		for _, n := range run {
			for _, k := range n.Takes {
				if k.SampleID == nil || *k.SampleID != z.ID || k.SetAsideAt != nil || !ripped[z.ID].Before(k.CreatedAt) {
					continue
				}
				for _, shot := range n.Shots {
					to, known := states.Rank(shot.ToState)
					if from, _ := states.Rank(shot.FromState); !known || to <= here || to <= from || !k.accepts(shot.ID) {
						continue
					}
					here = to
					best = Unlogged{SampleID: z.ID, Label: z.Label, Holder: z.Holder, StateID: states.at(to), State: states.Name(to), ShotID: shot.ID, Shot: shot.Title, Take: k.Number}
				}
			}
		}
		if best.SampleID == "" {
			continue
		}
		best.Sentence = fmt.Sprintf("“%s”%s is noted at %s, which is older than its last accepted shot: “%s” in take %d has worked it to %s.",
			z.Label, aside(z), states.Name(states.of(z)), best.Shot, best.Take, best.State)
		out = append(out, best)
	}
	return out
}

// accepts tells whether a shot was accepted in the take.
func (k Take) accepts(shotID string) bool {
	for _, s := range k.Shots {
		if s.ShotID == shotID && s.AcceptedAt != nil {
			return true
		}
	}
	return false
}
