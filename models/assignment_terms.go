package models

import (
	"fmt"

	"gorm.io/gorm"

	"tenter/models/counts"
	"tenter/models/standards"
)

// readFor puts what a tester reads into their own terms. A word that means
// different stitches in US and UK terms gets its terms beside it, also where
// the text is in the reader's own. What can't be put into other terms (it mixes
// the two) stays as written, and AsWritten says so.
func (w *AssignmentWork) readFor(db *gorm.DB) error {
	reader, err := first[Person](db, "person", "id = ?", w.Line.PersonID)
	if err != nil {
		return err
	}
	w.ReadsIn = reader.Terms
	from, to := standards.Terms(w.Design.Terms), standards.Terms(reader.Terms)
	say := func(text *string) {
		out, err := standards.Rewrite(*text, w.Design.Craft, from, to)
		if err != nil {
			w.AsWritten = true
			return
		}
		*text = out.Text
	}
	for i := range w.Counts {
		say(&w.Counts[i].Note)
	}
	for i := range w.Points {
		say(&w.Points[i].HowToMeasure)
	}
	say(&w.Design.Note)
	return nil
}

// changedSince reads which counts of the tester's size the latest version has
// otherwise than the one they make.
func (w *AssignmentWork) changedSince(db *gorm.DB) error {
	latest, err := latestVersion(db, w.Line.DesignID)
	if err != nil || latest.ID == w.Line.VersionID {
		return err
	}
	var rows []struct {
		VersionID, Name, Unit string
		Value                 *float64
	}
	err = db.Table("counts").Select("counts.version_id, counts.name, counts.unit, v.value").
		Joins("LEFT JOIN count_values v ON v.count_id = counts.id AND v.size_id = ?", w.Line.SizeID).
		Where("counts.version_id IN ?", []string{w.Line.VersionID, latest.ID}).Order("counts.position").Find(&rows).Error
	if err != nil {
		return fmt.Errorf("changed counts: %w", err)
	}
	made, now := counts.Sheet{Sizes: []string{w.Line.SizeName}}, counts.Sheet{Sizes: []string{w.Line.SizeName}}
	for _, r := range rows {
		into := &now
		if r.VersionID == w.Line.VersionID {
			into = &made
		}
		into.Lines = append(into.Lines, counts.Row{Name: r.Name, Unit: r.Unit, Values: []*float64{r.Value}})
	}
	if len(now.Lines) == 0 {
		return nil // nothing is in the latest yet
	}
	if changes := changesFor(made, now); len(changes) > 0 {
		w.Changed = &ChangedSince{Version: *latest, Changes: changes}
	}
	return nil
}

// ChangedSince is what the latest version has otherwise for a tester's size.
type ChangedSince struct {
	Version Version
	Changes []CountChange
}
