package models

import (
	"context"
	"encoding/json"
	"fmt"
	"time"

	"gorm.io/gorm"
)

// Decision is what the designer made of a finding: accepted, rejected with a
// reason, or left for later. There is one for each finding; deciding again
// takes its place, and the history keeps what it was. It remembers the numbers
// it was made on, and counts only while they have not changed materially (see
// FindingNumbers.Changed): then the finding is open again.
type Decision struct {
	ID        string `gorm:"primaryKey"`
	DesignID  string
	Key       string // of the finding
	Kind      string
	Choice    string // FindingAccepted, FindingRejected or FindingLeft
	Reason    string
	Message   string // the finding as it was read
	Numbers   string // FindingNumbers as JSON
	DecidedBy *string
	DecidedAt time.Time
	Revision  int
	CreatedAt time.Time
	UpdatedAt time.Time

	Handle string `gorm:"->;-:migration"` // of DecidedBy
}

// TableName is where decisions are kept.
func (Decision) TableName() string { return "finding_decisions" }

// What can be made of a finding.
const (
	FindingAccepted = "accepted" // it is so
	FindingRejected = "rejected" // it is not, for the reason given
	FindingLeft     = "left"     // seen, and still open
)

// NewDecision is what is decided, and the numbers that the decider saw.
type NewDecision struct {
	Key    string
	Choice string
	Reason string
	Seen   FindingNumbers
}

func (n NewDecision) validate() error {
	var p problems
	p.text("key", n.Key, true, shortText)
	p.oneOf("choice", n.Choice, FindingAccepted, FindingRejected, FindingLeft)
	p.text("reason", n.Reason, n.Choice == FindingRejected, longText)
	return p.err()
}

// numbers reads back what the decision was made on.
func (d Decision) numbers() FindingNumbers {
	var n FindingNumbers
	if json.Unmarshal([]byte(d.Numbers), &n) != nil {
		return FindingNumbers{} // written by us; what can't be read opens the finding
	}
	return n
}

// DecideFinding keeps what was made of a finding. It is refused when the
// numbers have changed materially from those that the decider saw.
func (s *Store) DecideFinding(ctx context.Context, actor Actor, idOrSlug string, in NewDecision) (*Decision, error) {
	if err := in.validate(); err != nil {
		return nil, err
	}
	said, err := s.Diagnosis(ctx, idOrSlug)
	if err != nil {
		return nil, err
	}
	f := said.find(in.Key)
	if f == nil {
		return nil, &Error{Kind: Invalid, Message: "Nothing was decided.", Fields: []FieldProblem{{"key", "is not a finding of this design as things stand; read the findings again"}}}
	}
	if why := in.Seen.Changed(f.Numbers); why != "" {
		return nil, failf(Stale, "This finding has changed since you read it: %s. Read it again and decide then.", why)
	}
	numbers, err := json.Marshal(f.Numbers)
	if err != nil {
		return nil, fmt.Errorf("numbers of finding: %w", err)
	}
	var out Decision
	err = s.change(ctx, actor, func(t *tx) error {
		design, err := designIn(t.DB, idOrSlug)
		if err != nil {
			return err
		}
		out = Decision{ID: NewID(), DesignID: design.ID, Key: f.Key, Kind: f.Kind, Choice: in.Choice, Reason: in.Reason, Message: f.Message,
			Numbers: string(numbers), DecidedAt: t.now, Revision: 1, CreatedAt: t.now, UpdatedAt: t.now}
		if t.actor.PersonID != "" {
			out.DecidedBy = &t.actor.PersonID
		}
		return t.keepDecision(&out)
	})
	return &out, err
}

// keepDecision writes a decision, in the place of an earlier one.
func (t *tx) keepDecision(d *Decision) error {
	before, err := first[Decision](t.DB, "decision", "design_id = ? AND key = ?", d.DesignID, d.Key)
	if KindOf(err) == NotFound {
		if err := t.Omit("Handle").Create(d).Error; err != nil {
			return fmt.Errorf("decide: %w", err)
		}
		return t.record(d.DesignID, "finding", d.ID, d.Choice, nil, d)
	}
	if err != nil {
		return err
	}
	d.ID, d.Revision, d.CreatedAt = before.ID, before.Revision+1, before.CreatedAt
	err = t.bump("decision", &Decision{}, before.ID, before.Revision, map[string]any{"choice": d.Choice, "reason": d.Reason, "message": d.Message,
		"numbers": d.Numbers, "decided_by": d.DecidedBy, "decided_at": d.DecidedAt})
	if err != nil {
		return err
	}
	return t.record(d.DesignID, "finding", d.ID, d.Choice, before, d)
}

// correctedFrom is when a count was accepted as wrong: versions that were made
// after that are taken to have it mended.
func (d Decision) correctedFrom() (at time.Time, accepted bool) {
	return d.DecidedAt, d.Kind == "cell" && d.Choice == FindingAccepted
}

// find returns the finding with a key, nil for none.
func (d *Diagnosis) find(key string) *Finding {
	for i := range d.Findings {
		if d.Findings[i].Key == key {
			return &d.Findings[i]
		}
	}
	return nil
}

func decisionsIn(db *gorm.DB, designID string) (map[string]*Decision, error) {
	var rows []*Decision
	err := db.Table("finding_decisions").Select("finding_decisions.*, people.handle AS handle").
		Joins("LEFT JOIN people ON people.id = finding_decisions.decided_by").
		Where("finding_decisions.design_id = ?", designID).Order("finding_decisions.id").Scan(&rows).Error
	if err != nil {
		return nil, fmt.Errorf("decisions: %w", err)
	}
	out := make(map[string]*Decision, len(rows))
	for _, d := range rows {
		out[d.Key] = d
	}
	return out, nil
}

// standing tells whether a finding is decided as things stand, and what opened
// it again if it was decided before.
func (f *Finding) standing(d *Decision) (decided bool, reopened string) {
	if d == nil {
		return false, ""
	}
	if why := d.numbers().Changed(f.Numbers); why != "" {
		return false, why
	}
	return d.Choice != FindingLeft, ""
}
