package models

import (
	"bytes"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
)

// What of a snapshot in the log says who somebody is, and what is written
// freely, by the names of the fields.
var (
	naming  = []string{"Handle", "Name", "Email"}
	writing = []string{"Note", "Remarks", "Yarn", "Place", "Body", "Answer", "Why", "WithdrawnWhy", "DeclinedWhy", "YarnSentNote", "Section",
		"Reason", "Message", "Numbers", "Label", "WorkedNote", "HeldNote", "Wrong", "ShouldBe", "Thanks", "Introduction", "Caption",
		"Was", "IsNow", "FoundWords"}
)

// eventsAtOnce bounds how many rows of the log are held at once.
const eventsAtOnce = 200

// forgetEvents takes a person out of the log: they are no actor any more, what
// they wrote is blanked in the snapshots of what was theirs, and their names
// are taken out of all the others.
func (t *tx) forgetEvents(personID string, own []string, who knownAs) error {
	if err := t.Model(&Event{}).Where("actor_id = ?", personID).Update("actor_id", nil).Error; err != nil {
		return fmt.Errorf("forget the actor: %w", err)
	}
	for chunk := range slices.Chunk(own, eventsAtOnce) {
		blank := func(key, text string) string { return who.blanked(key, text) }
		if err := t.rewriteEvents(blank, "entity_id IN ?", chunk); err != nil {
			return err
		}
	}
	where, args := who.mentioned("before", "after")
	if where == "" {
		where = "1 = 0"
	}
	// A handle is looked for however short it is, where it is nothing else.
	field := `%"handle":"` + likeText(lowerASCII(who.handle)) + `"%`
	where += " OR lower(before) LIKE ? ESCAPE '!' OR lower(after) LIKE ? ESCAPE '!'"
	return t.rewriteEvents(who.unnamed, where, append(args, field, field)...)
}

// blanked is what stays of a text in the snapshot of something of theirs.
func (n knownAs) blanked(key, text string) string {
	switch {
	case key == "Handle":
		return n.replacement
	case key == "Name":
		return forgottenName
	case key == "Email" || slices.Contains(writing, key):
		return ""
	}
	return text
}

// unnamed is what stays of a text in the snapshot of something of others.
func (n knownAs) unnamed(key, text string) string {
	if key == "Handle" && strings.EqualFold(text, n.handle) {
		return n.replacement
	}
	if slices.Contains(naming, key) || slices.Contains(writing, key) {
		return n.takeOut(text)
	}
	return text
}

func (t *tx) rewriteEvents(keep func(key, text string) string, where string, args ...any) error {
	after := ""
	for {
		var events []Event
		err := t.Where("id > ?", after).Where(where, args...).Order("id").Limit(eventsAtOnce).Find(&events).Error
		if err != nil {
			return fmt.Errorf("read the log: %w", err)
		}
		for _, e := range events {
			if err := t.rewriteEvent(e, keep); err != nil {
				return err
			}
		}
		if len(events) < eventsAtOnce {
			return nil
		}
		after = events[len(events)-1].ID
	}
}

func (t *tx) rewriteEvent(e Event, keep func(key, text string) string) error {
	before, err := rewriteSnapshot(e.Before, keep)
	if err != nil {
		return fmt.Errorf("event %s: %w", e.ID, err)
	}
	after, err := rewriteSnapshot(e.After, keep)
	if err != nil {
		return fmt.Errorf("event %s: %w", e.ID, err)
	}
	if before == e.Before && after == e.After {
		return nil
	}
	if err := t.Model(&Event{}).Where("id = ?", e.ID).Updates(map[string]any{"before": before, "after": after}).Error; err != nil {
		return fmt.Errorf("rewrite the log: %w", err)
	}
	return nil
}

// rewriteSnapshot returns the same pointer when nothing in it changes. Numbers
// stay as they are written.
func rewriteSnapshot(snapshot *string, keep func(key, text string) string) (*string, error) {
	if snapshot == nil {
		return nil, nil
	}
	dec := json.NewDecoder(bytes.NewReader([]byte(*snapshot)))
	dec.UseNumber()
	var v any
	if err := dec.Decode(&v); err != nil {
		return nil, fmt.Errorf("snapshot: %w", err)
	}
	changed := false
	v = rewriteValue(v, "", func(key, text string) string {
		kept := keep(key, text)
		changed = changed || kept != text
		return kept
	})
	if !changed {
		return snapshot, nil
	}
	raw, err := json.Marshal(v)
	if err != nil {
		return nil, fmt.Errorf("snapshot: %w", err)
	}
	text := string(raw)
	return &text, nil
}

func rewriteValue(v any, key string, keep func(key, text string) string) any {
	switch v := v.(type) {
	case string:
		return keep(key, v)
	case []any:
		for i := range v {
			v[i] = rewriteValue(v[i], key, keep)
		}
	case map[string]any:
		for k := range v {
			v[k] = rewriteValue(v[k], k, keep)
		}
	}
	return v
}
