package models

import (
	"context"
	"fmt"
	"slices"

	"tenter/models/cautions"
)

// PutFeatures says what a design has of the things that cautions are about. It
// raises the design's revision, and withdraws no sign-off: the counts are the same.
func (s *Store) PutFeatures(ctx context.Context, actor Actor, idOrSlug string, revision *int, features []cautions.Feature) (*Design, error) {
	var after Design
	err := s.change(ctx, actor, func(t *tx) error {
		before, err := designIn(t.DB, idOrSlug)
		if err != nil {
			return err
		}
		if err := checkRevision("design", before.Revision, revision); err != nil {
			return err
		}
		if err := checkFeatures(features); err != nil {
			return err
		}
		was, err := cautionsIn(t.DB, before)
		if err != nil {
			return err
		}
		if err := t.writeFeatures(before.ID, features); err != nil {
			return err
		}
		after = *before
		if err := t.saveDesign(before, &after); err != nil {
			return err
		}
		return t.record(after.ID, "features", after.ID, "changed", was.Features, features)
	})
	return &after, err
}

func checkFeatures(features []cautions.Feature) error {
	var p problems
	for i, f := range features {
		known := slices.ContainsFunc(cautions.Features(), func(l cautions.FeatureLabel) bool { return l.ID == f })
		if !known || slices.Index(features, f) < i {
			p.addf(fmt.Sprintf("features[%d]", i), "is not a feature that is known here, or is given twice")
		}
	}
	return p.err()
}

func (t *tx) writeFeatures(designID string, features []cautions.Feature) error {
	if err := t.Where("design_id = ?", designID).Delete(&DesignFeature{}).Error; err != nil {
		return fmt.Errorf("clear features: %w", err)
	}
	if err := t.Where("design_id = ?", designID).Delete(&FeatureList{}).Error; err != nil {
		return fmt.Errorf("clear features: %w", err)
	}
	list := FeatureList{DesignID: designID, ToldAt: t.now}
	if t.actor.PersonID != "" {
		list.ToldBy = &t.actor.PersonID
	}
	if err := t.Create(&list).Error; err != nil {
		return fmt.Errorf("write features: %w", err)
	}
	rows := make([]DesignFeature, len(features))
	for i, f := range features {
		rows[i] = DesignFeature{designID, f}
	}
	if err := createAll(t.DB, rows); err != nil {
		return fmt.Errorf("write features: %w", err)
	}
	return nil
}

// AcknowledgeCaution says that the actor has read a caution that the design
// has now, with a note on what was decided about it.
func (s *Store) AcknowledgeCaution(ctx context.Context, actor Actor, idOrSlug, caution, note string) error {
	var p problems
	p.text("note", note, false, longText)
	if err := p.err(); err != nil {
		return err
	}
	return s.change(ctx, actor, func(t *tx) error {
		d, c, err := t.cautionOf(idOrSlug, caution)
		if err != nil {
			return err
		}
		if c.Read != nil {
			return failf(Conflict, "This caution is acknowledged already.")
		}
		if err := t.takeBack(d.ID, caution); err != nil {
			return err // one about other words
		}
		a := CautionAcknowledgement{ID: NewID(), DesignID: d.ID, Caution: caution, Statement: statement(c.Caution), Note: note, AcknowledgedAt: t.now}
		if t.actor.PersonID != "" {
			a.AcknowledgedBy = &t.actor.PersonID
		}
		if err := t.Create(&a).Error; err != nil {
			return fmt.Errorf("acknowledge caution: %w", err)
		}
		return t.record(d.ID, "caution", a.ID, "acknowledged", nil, a)
	})
}

// TakeBackCaution takes an acknowledgement back.
func (s *Store) TakeBackCaution(ctx context.Context, actor Actor, idOrSlug, caution string) error {
	return s.change(ctx, actor, func(t *tx) error {
		d, c, err := t.cautionOf(idOrSlug, caution)
		if err != nil {
			return err
		}
		if c.Read == nil {
			return failf(Conflict, "This caution is not acknowledged.")
		}
		if err := t.takeBack(d.ID, caution); err != nil {
			return err
		}
		return t.record(d.ID, "caution", c.Read.ID, "taken back", c.Read, nil)
	})
}

func (t *tx) takeBack(designID, caution string) error {
	err := t.Model(&CautionAcknowledgement{}).Where("design_id = ? AND caution = ? AND taken_back_at IS NULL", designID, caution).
		Updates(map[string]any{"taken_back_at": t.now}).Error
	if err != nil {
		return fmt.Errorf("take acknowledgement back: %w", err)
	}
	return nil
}

// cautionOf finds a caution among those that the design has.
func (t *tx) cautionOf(idOrSlug, caution string) (*Design, *ReadCaution, error) {
	d, err := designIn(t.DB, idOrSlug)
	if err != nil {
		return nil, nil, err
	}
	all, err := cautionsIn(t.DB, d)
	if err != nil {
		return nil, nil, err
	}
	for i := range all.Cautions {
		if all.Cautions[i].ID == caution {
			return d, &all.Cautions[i], nil
		}
	}
	return nil, nil, notFound("caution for this design")
}
