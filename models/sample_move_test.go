package models_test

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tenter/models"
)

func TestOutOfReach(t *testing.T) {
	run := []models.Installment{{ID: "a", Position: 1, Title: "Ties"}, {ID: "b", Position: 2, Title: "Crown"}, {ID: "c", Position: 3, Title: "Sides"}}
	through := func(id, purpose string) models.Sample {
		s := models.Sample{Label: "the grey one", Purpose: purpose}
		if id != "" {
			s.WorkedThrough = &id
		}
		return s
	}
	retired := through("", "camera")
	retired.RetiredAt = at(0)
	take := func(id string, slips ...models.Slip) models.Take {
		return models.Take{InstallmentID: id, AcceptedAt: at(0), Slips: slips}
	}
	lost := func(title string) string {
		return "“the grey one” is now worked past “" + title + "”, which is not recorded yet, and no other camera sample can still show it: rip it back or make another one before the recording."
	}
	for name, c := range map[string]struct {
		takes    []models.Take
		others   []models.Sample
		from, to string
		want     []string
	}{
		"past an unrecorded one":                       {nil, nil, "a", "b", []string{lost("Crown")}},
		"past two":                                     {nil, nil, "a", "c", []string{lost("Crown"), lost("Sides")}},
		"past a recorded one":                          {[]models.Take{take("b")}, nil, "a", "b", nil},
		"past one that has to be recorded again":       {[]models.Take{take("b", slip(models.RecordAgain, false))}, nil, "a", "b", []string{lost("Crown")}},
		"another camera sample is ready":               {nil, []models.Sample{through("a", "camera")}, "a", "b", nil},
		"another camera sample can be worked to it":    {nil, []models.Sample{through("", "camera")}, "a", "b", nil},
		"another camera sample is past it too":         {nil, []models.Sample{through("b", "camera")}, "a", "b", []string{lost("Crown")}},
		"another sample is not for the camera":         {nil, []models.Sample{through("a", "fit")}, "a", "b", []string{lost("Crown")}},
		"another camera sample is retired":             {nil, []models.Sample{retired}, "a", "b", []string{lost("Crown")}},
		"what was past already is not said again":      {nil, nil, "b", "c", []string{lost("Sides")}},
		"ripping back warns of nothing":                {nil, nil, "c", "a", nil},
		"further within the same installment":          {nil, nil, "b", "b", nil},
		"one of two can be shown by another":           {nil, []models.Sample{through("b", "camera")}, "a", "c", []string{lost("Crown")}},
		"from the beginning past what is all recorded": {[]models.Take{take("a"), take("b"), take("c")}, nil, "", "c", nil},
	} {
		t.Run(name, func(t *testing.T) {
			require.Equal(t, c.want, models.OutOfReach(through(c.from, "camera"), through(c.to, "camera"), run, c.takes, c.others))
		})
	}
}

func TestOnlyCameraSamplesGoOutOfReach(t *testing.T) {
	run, ties := []models.Installment{{ID: "a", Position: 1, Title: "Ties"}}, "a"
	for _, purpose := range []string{"swatch", "fit", "photography"} {
		require.Empty(t, models.OutOfReach(models.Sample{Purpose: purpose}, models.Sample{Purpose: purpose, WorkedThrough: &ties}, run, nil, nil))
	}
}

// TestOutOfReachByDefinition compares with the definition, spelt out: for each
// installment, ask every camera sample whether it is worked past it.
func TestOutOfReachByDefinition(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 6).Draw(t, "installments")
		var run []models.Installment
		var takes []models.Take
		for i := 1; i <= n; i++ {
			id := string(rune('a' + i))
			run = append(run, models.Installment{ID: id, Position: i, Title: id})
			if rapid.Bool().Draw(t, "recorded") {
				takes = append(takes, models.Take{InstallmentID: id, AcceptedAt: at(0)})
			}
		}
		piece := func(worked int) models.Sample {
			s := models.Sample{Label: "x", Purpose: "camera"}
			if worked > 0 {
				s.WorkedThrough = &run[worked-1].ID
			}
			return s
		}
		worked := rapid.IntRange(0, n)
		from, to := worked.Draw(t, "from"), worked.Draw(t, "to")
		at := rapid.SliceOfN(worked, 0, 3).Draw(t, "others")
		var others []models.Sample
		for _, w := range at {
			others = append(others, piece(w))
		}
		want := 0
		for _, in := range run {
			recorded := false
			for _, k := range takes {
				recorded = recorded || k.InstallmentID == in.ID
			}
			could := from < in.Position
			can := to < in.Position
			for _, w := range at {
				can = can || w < in.Position
			}
			if !recorded && could && !can {
				want++
			}
		}
		if got := len(models.OutOfReach(piece(from), piece(to), run, takes, others)); got != want {
			t.Fatalf("%d warnings, want %d", got, want)
		}
	})
}
