package models

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"time"

	"gorm.io/gorm"
)

// ReleaseTick says that something on a release day's list was done, by whom and
// when. That a video or the text is out is no tick: the installment is marked as
// aired, the design as released, and the list shows that. A tick of the text is
// about one version, and holds only while that one goes out.
type ReleaseTick struct {
	ID            string `gorm:"primaryKey"`
	DesignID      string
	InstallmentID *string // nil: of the design's own day
	Item          ReleaseItemKey
	Version       *int // of the text; nil where the item is about none
	TickedBy      *string
	TickedAt      time.Time
	TakenBackBy   *string
	TakenBackAt   *time.Time

	Handle string `gorm:"->;-:migration"` // of TickedBy
}

// ReleaseItemKey names what is to be done on a release day.
type ReleaseItemKey string

// What is to be done, in the order in which it is: the text is there before the
// video points to it, and testers are told last.
const (
	ItemText        ReleaseItemKey = "text"     // an installment's part of the text is put up
	ItemReleased    ReleaseItemKey = "released" // the whole text is out: the design is marked as released
	ItemCaptions    ReleaseItemKey = "captions" // captions are with the video
	ItemVideo       ReleaseItemKey = "video"    // the video is out: the installment is marked as aired
	ItemCorrections ReleaseItemKey = "corrections"
	ItemTesters     ReleaseItemKey = "testers" // testers are told
	ItemThanks      ReleaseItemKey = "thanks"  // testers are thanked, with the text as it is published
)

// tickable are the items that are ticked, of an installment or of the design.
func tickable(ofInstallment bool) []ReleaseItemKey {
	if ofInstallment {
		return []ReleaseItemKey{ItemText, ItemCaptions, ItemTesters}
	}
	return []ReleaseItemKey{ItemCorrections, ItemThanks}
}

// TickWish says which item is done, or is not after all. Version is the one that
// the text was put up in, as it was seen.
type TickWish struct {
	Item          ReleaseItemKey
	InstallmentID string // "" for the design's own day
	Version       *int
	Done          bool
	BeforeItsDay  bool // the text is meant to be put up before the installment's air date
}

func (w TickWish) validate() error {
	var p problems
	switch can := tickable(w.InstallmentID != ""); {
	case w.Item == ItemVideo:
		p.addf("item", "is ticked by marking the installment as aired")
	case w.Item == ItemReleased:
		p.addf("item", "is ticked by marking the design as released")
	case !slices.Contains(can, w.Item):
		p.addf("item", "is not on this list; there are %s", joinKeys(can))
	case w.Item == ItemText && w.Done && w.Version == nil:
		p.addf("version", "is missing; say which version of the text was put up")
	}
	return p.err()
}

func joinKeys(keys []ReleaseItemKey) string {
	words := ""
	for i, k := range keys {
		if i > 0 {
			words += ", "
		}
		words += string(k)
	}
	return words
}

// TickRelease ticks an item or takes its tick away. Ticking what is ticked
// changes nothing: the first one stands. The text is not put up while a gate of
// it is shut, and is refused when another version goes out than was seen.
func (s *Store) TickRelease(ctx context.Context, actor Actor, idOrSlug string, w TickWish) error {
	if err := w.validate(); err != nil {
		return err
	}
	return s.change(ctx, actor, func(t *tx) error {
		design, err := designIn(t.DB, idOrSlug)
		if err != nil {
			return err
		}
		next := ReleaseTick{ID: NewID(), DesignID: design.ID, Item: w.Item, TickedBy: t.person(), TickedAt: t.now}
		var airOn Date
		if w.InstallmentID != "" {
			next.InstallmentID = &w.InstallmentID
			in, err := first[Installment](t.DB, "installment", "id = ? AND design_id = ?", w.InstallmentID, design.ID)
			if err != nil {
				return err
			}
			airOn = in.AirOn
		}
		if w.Done && w.Item == ItemText {
			if next.Version, err = t.textGoesOut(ctx, design, w); err != nil {
				return err
			}
			today, err := t.today()
			if err != nil {
				return err
			}
			if err := early("The text", airOn, today, w.BeforeItsDay, "air_on"); err != nil {
				return err
			}
		}
		return t.putTick(next, w.Done)
	})
}

// textGoesOut returns the version that an installment's text is put up in.
func (t *tx) textGoesOut(ctx context.Context, design *Design, w TickWish) (*int, error) {
	rows, err := t.store.gateRowsIn(ctx, t.DB, design)
	if err != nil {
		return nil, err
	}
	version := rows.versionWith(w.InstallmentID)
	if *w.Version != version {
		return nil, failf(Stale, "Version %d goes out with this installment by now, not version %d. Read the list again.", version, *w.Version)
	}
	var shut []Gate
	for _, g := range shutOnes(rows.gates().Installments[w.InstallmentID]) {
		if g.Key.HoldsInstallments() {
			shut = append(shut, g)
		}
	}
	if len(shut) > 0 {
		return nil, heldBack("item", "The text can't be put up", shut)
	}
	return &version, nil
}

// versionWith is the version that goes out with an installment, or went out
// with it.
func (r *gateRows) versionWith(installmentID string) int {
	for _, n := range r.run {
		if n.ID == installmentID && n.OutVersion != nil {
			return *n.OutVersion
		}
	}
	return r.out.Number
}

// putTick writes a tick in the place of the standing one, or takes that away.
func (t *tx) putTick(next ReleaseTick, done bool) error {
	standing, err := first[ReleaseTick](t.Omit("Handle").Where("design_id = ? AND coalesce(installment_id, '') = coalesce(?, '')", next.DesignID, next.InstallmentID),
		"tick", "item = ? AND taken_back_at IS NULL", next.Item)
	switch {
	case KindOf(err) == NotFound:
		standing = nil
	case err != nil:
		return err
	}
	if standing == nil && !done || standing != nil && done && sameVersion(standing.Version, next.Version) {
		return nil
	}
	if standing != nil {
		if err := t.takeBackTick(standing); err != nil {
			return err
		}
	}
	if !done {
		return nil
	}
	err = t.Omit("Handle").Create(&next).Error
	if errors.Is(err, gorm.ErrDuplicatedKey) {
		return failf(Conflict, "Somebody has ticked this in this very moment.")
	}
	if err != nil {
		return fmt.Errorf("tick: %w", err)
	}
	return t.record(next.DesignID, "release tick", next.ID, "ticked", nil, next)
}

func sameVersion(a, b *int) bool { return (a == nil) == (b == nil) && (a == nil || *a == *b) }

func (t *tx) takeBackTick(before *ReleaseTick) error {
	after := *before
	after.TakenBackAt, after.TakenBackBy = &t.now, t.person()
	err := t.Model(&ReleaseTick{}).Where("id = ?", before.ID).Updates(map[string]any{"taken_back_at": t.now, "taken_back_by": after.TakenBackBy}).Error
	if err != nil {
		return fmt.Errorf("take tick back: %w", err)
	}
	return t.record(before.DesignID, "release tick", before.ID, "taken back", before, after)
}

// tickAt is the place of a tick.
type tickAt struct {
	installment string
	item        ReleaseItemKey
}

// ticksIn reads the standing ticks of a design.
func ticksIn(db *gorm.DB, designID string) (map[tickAt]*ReleaseTick, error) {
	var rows []*ReleaseTick
	err := db.Table("release_ticks").Select("release_ticks.*, coalesce(p.handle, '') AS handle").Joins("LEFT JOIN people p ON p.id = release_ticks.ticked_by").
		Where("release_ticks.design_id = ? AND release_ticks.taken_back_at IS NULL", designID).Find(&rows).Error
	if err != nil {
		return nil, fmt.Errorf("ticks: %w", err)
	}
	out := make(map[tickAt]*ReleaseTick, len(rows))
	for _, k := range rows {
		at := tickAt{item: k.Item}
		set(&at.installment, k.InstallmentID)
		out[at] = k
	}
	return out, nil
}
