package models

import (
	"context"
	"fmt"

	"gorm.io/gorm"
)

// Slot is how many testers a call wants for one size: fewest <= wanted <= most.
// Nobody is assigned to a size without a slot, nor beyond its most.
type Slot struct {
	TestCallID string `gorm:"primaryKey"`
	SizeID     string `gorm:"primaryKey"`
	Fewest     int
	Wanted     int
	Most       int
}

// SlotCount is a slot and how far its testers are. Each number contains the
// next: who has reported has accepted. Withdrawn assignments don't count.
type SlotCount struct {
	Slot
	Applied  int // would make this size, in whatever place of their list
	Assigned int
	Accepted int
	Reported int
	Approved int
}

// mostTesters bounds a slot (chosen): more testers of one size tell nothing new.
const mostTesters = 100

// checkSlots checks a call's slots against its design's sizes and against who
// is assigned already.
func checkSlots(p *problems, slots []Slot, sizes []Size, assigned map[string]int) {
	if len(slots) == 0 || len(slots) > mostPerDesign {
		p.addf("slots", "has to hold 1 to %d sizes with the testers wanted for each", mostPerDesign)
	}
	ofDesign, given := map[string]bool{}, map[string]bool{}
	for _, z := range sizes {
		ofDesign[z.ID] = true
	}
	for i, s := range slots {
		at := fmt.Sprintf("slots[%d]", i)
		switch {
		case !ofDesign[s.SizeID]:
			p.addf(at+".size_id", "is not a size of this design; choose one of its sizes")
		case given[s.SizeID]:
			p.addf(at+".size_id", "is given twice; keep one")
		}
		given[s.SizeID] = true
		switch {
		case s.Fewest < 0:
			p.addf(at+".fewest", "is below zero")
		case s.Wanted < s.Fewest:
			p.addf(at+".wanted", "is %d, less than the fewest, %d", s.Wanted, s.Fewest)
		case s.Most < s.Wanted:
			p.addf(at+".most", "is %d, less than the wanted, %d", s.Most, s.Wanted)
		case s.Most > mostTesters:
			p.addf(at+".most", "is %d; at most %d testers can make one size", s.Most, mostTesters)
		case s.Most < assigned[s.SizeID]:
			p.addf(at+".most", "is %d, but %d testers have this size already; withdraw some or leave room for them", s.Most, assigned[s.SizeID])
		}
	}
	for _, z := range sizes {
		if n := assigned[z.ID]; n > 0 && !given[z.ID] {
			p.addf("slots", "leaves out size %s, which %d testers have; withdraw them first", z.Name, n)
		}
	}
}

// sameSlots tells whether a call has these slots already; their order is that of
// the sizes, whichever way they are given.
func sameSlots(have []SlotCount, want []Slot) bool {
	of := make(map[string]Slot, len(have))
	for _, c := range have {
		of[c.SizeID] = c.Slot
	}
	for _, w := range want {
		w.TestCallID = of[w.SizeID].TestCallID
		if of[w.SizeID] != w {
			return false
		}
	}
	return len(have) == len(want)
}

func (t *tx) replaceSlots(callID string, slots []Slot) error {
	if err := t.Where("test_call_id = ?", callID).Delete(&Slot{}).Error; err != nil {
		return fmt.Errorf("clear slots: %w", err)
	}
	for i := range slots {
		slots[i].TestCallID = callID
	}
	if err := createAll(t.DB, slots); err != nil {
		return fmt.Errorf("write slots: %w", err)
	}
	return nil
}

// assignedBySize counts a call's assignments that were not withdrawn.
func assignedBySize(db *gorm.DB, callID string) (map[string]int, error) {
	var rows []struct {
		SizeID string
		N      int
	}
	err := db.Table("assignments").Select("size_id, count(*) AS n").
		Where("test_call_id = ? AND withdrawn_at IS NULL", callID).Group("size_id").Find(&rows).Error
	if err != nil {
		return nil, fmt.Errorf("count assignments: %w", err)
	}
	out := make(map[string]int, len(rows))
	for _, r := range rows {
		out[r.SizeID] = r.N
	}
	return out, nil
}

// SlotCounts returns the slots of calls, in the order of the sizes, with how
// far their testers are, in one query whatever the number of calls.
func (s *Store) SlotCounts(ctx context.Context, callIDs ...string) (map[string][]SlotCount, error) {
	return slotCountsIn(s.read(ctx), callIDs)
}

func slotCountsIn(db *gorm.DB, callIDs []string) (map[string][]SlotCount, error) {
	out := make(map[string][]SlotCount, len(callIDs))
	if len(callIDs) == 0 {
		return out, nil
	}
	var rows []SlotCount
	err := db.Raw(`SELECT s.*, coalesce(o.applied, 0) AS applied, coalesce(m.assigned, 0) AS assigned,
			coalesce(m.accepted, 0) AS accepted, coalesce(m.reported, 0) AS reported, coalesce(m.approved, 0) AS approved
		FROM slots s
		JOIN sizes z ON z.id = s.size_id
		LEFT JOIN (SELECT p.test_call_id, x.size_id, count(*) AS applied
			FROM applications p JOIN application_sizes x ON x.application_id = p.id
			WHERE p.test_call_id IN @calls GROUP BY p.test_call_id, x.size_id) o
			ON o.test_call_id = s.test_call_id AND o.size_id = s.size_id
		LEFT JOIN (SELECT a.test_call_id, a.size_id, count(*) AS assigned,
				sum(CASE WHEN a.accepted_at IS NOT NULL OR r.id IS NOT NULL THEN 1 ELSE 0 END) AS accepted,
				count(r.id) AS reported, count(r.approved_at) AS approved
			FROM assignments a LEFT JOIN reports r ON r.assignment_id = a.id AND r.superseded_at IS NULL
			WHERE a.test_call_id IN @calls AND a.withdrawn_at IS NULL GROUP BY a.test_call_id, a.size_id) m
			ON m.test_call_id = s.test_call_id AND m.size_id = s.size_id
		WHERE s.test_call_id IN @calls
		ORDER BY s.test_call_id, z.position`, map[string]any{"calls": callIDs}).Find(&rows).Error
	if err != nil {
		return nil, fmt.Errorf("slots: %w", err)
	}
	for _, r := range rows {
		out[r.TestCallID] = append(out[r.TestCallID], r)
	}
	return out, nil
}
