package models

import (
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// TestWhatALetterWasAboutIsReadBack: reading is the inverse of writing, as much
// as goes into one letter fits where it is kept.
func TestWhatALetterWasAboutIsReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		one := rapid.Custom(func(t *rapid.T) toldCorrection {
			return toldCorrection{rapid.IntRange(1, mostCorrections).Draw(t, "number"), rapid.Bool().Draw(t, "back")}
		})
		list := rapid.SliceOfN(one, 1, correctionsInLetter).Draw(t, "list")
		id := NewID()
		about := aboutCorrections(id, list)
		require.LessOrEqual(t, len(about), shortText)
		gotID, got, ok := readAboutCorrections(about)
		require.True(t, ok)
		require.Equal(t, id, gotID)
		require.Equal(t, list, got)
	})
}

// FuzzReadAboutCorrections: whatever is read is written as it was.
func FuzzReadAboutCorrections(f *testing.F) {
	for _, seed := range []string{"a 1", "a 1,2x,3", "a ", " 1", "a 01", "a 0", "a -1", "a 1,", "a 1xx", "a 99999999999999999999", "a 1 2", "2027-03-01"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, about string) {
		id, list, ok := readAboutCorrections(about)
		if !ok {
			require.Empty(t, id+strings.Repeat("x", len(list)))
			return
		}
		require.Equal(t, about, aboutCorrections(id, list))
	})
}

var aMoment = time.Date(2027, 3, 1, 9, 0, 0, 0, time.UTC)

// somewhere is a correction between two versions; mended 0 is a draft.
func somewhere(number, since, mended int, withdrawn bool) Correction {
	c := Correction{Number: number, SinceNumber: since}
	if mended > 0 {
		c.MendedNumber = &mended
	}
	if withdrawn {
		now := aMoment
		c.WithdrawnAt = &now
	}
	return c
}

func TestDueIsWhatReachesAMakerAndWasNotTold(t *testing.T) {
	told := func(n int, back bool) toldCorrection { return toldCorrection{n, back} }
	rows := []struct {
		name    string
		version int
		list    []Correction
		told    []toldCorrection
		due     []toldCorrection
	}{
		{"a draft reaches nobody", 1, []Correction{somewhere(1, 1, 0, false)}, nil, nil},
		{"who makes the faulty version", 1, []Correction{somewhere(1, 1, 2, false)}, nil, []toldCorrection{told(1, false)}},
		{"who makes a version between", 2, []Correction{somewhere(1, 1, 3, false)}, nil, []toldCorrection{told(1, false)}},
		{"who makes the mended version has nothing to hear", 2, []Correction{somewhere(1, 1, 2, false)}, nil, nil},
		{"nor who makes one before the fault", 1, []Correction{somewhere(1, 2, 3, false)}, nil, nil},
		{"what was told is not due", 1, []Correction{somewhere(1, 1, 2, false), somewhere(2, 1, 2, false)}, []toldCorrection{told(1, false)}, []toldCorrection{told(2, false)}},
		{"withdrawn before it was told", 1, []Correction{somewhere(1, 1, 2, true)}, nil, nil},
		{"withdrawn after it was told", 1, []Correction{somewhere(1, 1, 2, true)}, []toldCorrection{told(1, false)}, []toldCorrection{told(1, true)}},
		{"taken back once", 1, []Correction{somewhere(1, 1, 2, true)}, []toldCorrection{told(1, false), told(1, true)}, nil},
	}
	for _, row := range rows {
		t.Run(strings.ReplaceAll(row.name, " ", "-"), func(t *testing.T) {
			require.Equal(t, row.due, dueTo(row.version, row.list, row.told))
		})
	}
}

// TestEveryOtherMoveIsRefused: what is not in the table is not possible, and
// each refusal says what can be done.
func TestEveryOtherMoveIsRefused(t *testing.T) {
	states := map[CorrectionState]Correction{CorrectionDraft: somewhere(1, 1, 0, false), CorrectionWithdrawn: somewhere(1, 1, 0, true)}
	now := aMoment
	in := somewhere(1, 1, 2, false)
	in.InTextAt = &now
	states[CorrectionInText] = in
	in.AnnouncedAt = &now
	states[CorrectionAnnounced] = in
	for from, c := range states {
		require.Equal(t, from, c.State())
		for to := range states {
			if slices.Contains(c.Next(), to) {
				continue
			}
			require.Regexp(t, "; (write|withdraw|say|take it back|first say)|first say", c.cannotMove(to), "%s to %s", from, to)
		}
	}
}
