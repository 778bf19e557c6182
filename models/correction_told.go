package models

import (
	"database/sql"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"gorm.io/gorm"
)

// A letter about corrections tells of several at once: all that are due to one
// tester. What it was about is written "<assignment> 1,2,4x": the numbers of
// the corrections, and an x behind those that it takes back.

// correctionsInLetter bounds what one letter tells of, so that what it was
// about fits where that is kept (chosen).
const correctionsInLetter = 12

// toldCorrection is one correction that somebody was told of.
type toldCorrection struct {
	number int
	back   bool // that it was taken back
}

// aboutCorrections writes what a letter is about.
func aboutCorrections(assignmentID string, list []toldCorrection) string {
	words := make([]string, len(list))
	for i, c := range list {
		words[i] = strconv.Itoa(c.number)
		if c.back {
			words[i] += "x"
		}
	}
	return assignmentID + " " + strings.Join(words, ",")
}

// readAboutCorrections reads what aboutCorrections wrote; ok is false for
// anything else.
func readAboutCorrections(about string) (assignmentID string, list []toldCorrection, ok bool) {
	assignmentID, numbers, found := strings.Cut(about, " ")
	if !found || assignmentID == "" {
		return "", nil, false
	}
	for _, word := range strings.Split(numbers, ",") {
		digits, back := strings.CutSuffix(word, "x")
		n, err := strconv.Atoi(digits)
		if err != nil || n < 1 || strconv.Itoa(n) != digits {
			return "", nil, false
		}
		list = append(list, toldCorrection{n, back})
	}
	return assignmentID, list, true
}

// toldOf is who was told of what, by assignment.
type toldOf map[string][]toldCorrection

// of counts who was told of a correction.
func (t toldOf) of(number int) int {
	n := 0
	for _, list := range t {
		if slices.Contains(list, toldCorrection{number, false}) {
			n++
		}
	}
	return n
}

// correctionsTold reads what the testers of designs were told of corrections.
func correctionsTold(db *gorm.DB, designIDs ...string) (toldOf, error) {
	out := toldOf{}
	err := query(db, func(rows *sql.Rows) error {
		var about string
		if err := rows.Scan(&about); err != nil {
			return err
		}
		if id, list, ok := readAboutCorrections(about); ok {
			out[id] = append(out[id], list...)
		}
		return nil
	}, `SELECT t.about FROM told t JOIN test_calls c ON c.id = t.test_call_id WHERE c.design_id IN ? AND t.kind = ?`, designIDs, string(RemindCorrection))
	if err != nil {
		return nil, fmt.Errorf("who was told of corrections: %w", err)
	}
	return out, nil
}

// CorrectionMaker is somebody who makes or made a version, and what of the
// corrections they are still to be told.
type CorrectionMaker struct {
	AssignmentID, CallID, Handle, SizeID, Size string
	Version                                    int
	Due                                        []int // numbers of corrections
	Told                                       []int
}

// reaches tells whether a correction is in the text, announced or not, and is
// of a version that somebody makes.
func (c Correction) reaches(version int) bool {
	return c.MendedNumber != nil && c.WithdrawnAt == nil && c.SinceNumber <= version && version < *c.MendedNumber
}

// dueTo lists what of the corrections somebody who makes a version is still to
// be told, the first one first: those that reach them, and that one which they
// were told of is taken back.
func dueTo(version int, corrections []Correction, told []toldCorrection) []toldCorrection {
	var due []toldCorrection
	for _, c := range corrections {
		knows := slices.Contains(told, toldCorrection{c.Number, false})
		switch {
		case c.reaches(version) && !knows:
			due = append(due, toldCorrection{c.Number, false})
		case c.WithdrawnAt != nil && knows && !slices.Contains(told, toldCorrection{c.Number, true}):
			due = append(due, toldCorrection{c.Number, true})
		}
	}
	return due
}

// correctionMakers reads everybody who has begun a piece of a design and can
// still be told something, with what they are to be told of the corrections.
func correctionMakers(db *gorm.DB, designID string, corrections []Correction, told toldOf) ([]CorrectionMaker, error) {
	var out []CorrectionMaker
	err := query(db, func(rows *sql.Rows) error {
		var m CorrectionMaker
		if err := rows.Scan(&m.AssignmentID, &m.CallID, &m.Handle, &m.SizeID, &m.Size, &m.Version); err != nil {
			return err
		}
		for _, d := range dueTo(m.Version, corrections, told[m.AssignmentID]) {
			m.Due = append(m.Due, d.number)
		}
		for _, d := range told[m.AssignmentID] {
			if !d.back {
				m.Told = append(m.Told, d.number)
			}
		}
		out = append(out, m)
		return nil
	}, `SELECT a.id, a.test_call_id, p.handle, a.size_id, z.name, v.number
		FROM assignments a JOIN people p ON p.id = a.person_id JOIN sizes z ON z.id = a.size_id JOIN versions v ON v.id = a.version_id
		WHERE a.design_id = ? AND a.withdrawn_at IS NULL AND p.forgotten_at IS NULL
			AND (a.accepted_at IS NOT NULL OR EXISTS (SELECT 1 FROM reports r WHERE r.assignment_id = a.id))
		ORDER BY z.position, a.id`, designID)
	if err != nil {
		return nil, fmt.Errorf("who makes what was corrected: %w", err)
	}
	return out, nil
}
