package demo_test

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/models"
)

// TestTheStoryHolds reads one filled studio of each database.
func TestTheStoryHolds(t *testing.T) {
	onEach(t, func(t *testing.T, store *models.Store) {
		t.Run("pullover is in the middle of testing", func(t *testing.T) { pulloverIsInTheMiddleOfTesting(t, store) })
		t.Run("pullovers testers are all kinds", func(t *testing.T) { pulloversTestersAreAllKinds(t, store) })
		t.Run("bonnet is being filmed", func(t *testing.T) { bonnetIsBeingFilmed(t, store) })
		t.Run("sock is out in its second version", func(t *testing.T) { sockIsOutInItsSecondVersion(t, store) })
		t.Run("tote is in sample making", func(t *testing.T) { toteIsInSampleMaking(t, store) })
		t.Run("studio says what is pressing", func(t *testing.T) { studioSaysWhatIsPressing(t, store) })
		t.Run("the diagnosis finds the story", func(t *testing.T) { diagnosisFindsTheStory(t, store) })
	})
}

func board(t *testing.T, store *models.Store, slug string) *models.Board {
	t.Helper()
	b, err := store.Board(context.Background(), slug)
	require.NoError(t, err)
	return b
}

// shut returns the gates that are shut, with why.
func shut(b *models.Board) map[string]string {
	out := map[string]string{}
	for _, g := range b.Gates {
		if g.Shut {
			out[g.Name] = g.Why
		}
	}
	return out
}

func sentences(b *models.Board) []string {
	var out []string
	for _, t := range b.Tracks {
		out = append(out, t.Sentence)
	}
	return out
}

// marks returns how the reports of a size lie at a point.
func marks(t *testing.T, b *models.Board, size, point string) map[string]string {
	t.Helper()
	out := map[string]string{}
	for _, z := range b.Sizes {
		for i, s := range z.Strips {
			if z.Name == size && b.Points[i].Name == point {
				for _, m := range s.Marks {
					out[m.Who] = m.State
				}
			}
		}
	}
	return out
}

func pulloverIsInTheMiddleOfTesting(t *testing.T, store *models.Store) {
	b := board(t, store, "fenwhistle-pullover")
	require.Len(t, b.Sizes, 9)
	require.Len(t, b.Points, 8)

	t.Run("a size's sleeve is wrong for everyone", func(t *testing.T) {
		require.Equal(t, map[string]string{"madder": "outside", "bobbin": "outside", "thimble": "outside"}, marks(t, b, "6", "upper arm"))
		require.Contains(t, shut(b)["Fit findings decided"], "Size 6, upper arm: all 3 testers came out")
	})
	t.Run("two numbers look mistyped", func(t *testing.T) {
		require.Equal(t, "slip", marks(t, b, "2", "cuff")["bracken"])
		require.Equal(t, "slip", marks(t, b, "5", "bust")["sorrel"])
		slips := 0
		for _, z := range b.Sizes {
			for _, s := range z.Strips {
				for _, m := range s.Marks {
					if m.State == "slip" {
						slips++
					}
				}
			}
		}
		require.Equal(t, 2, slips)
	})
	t.Run("loose stitches are no fault when the swatch says so", func(t *testing.T) {
		for _, p := range b.Points {
			require.Equal(t, "within", marks(t, b, "3", p.Name)["comfrey"], p.Name)
		}
		require.Equal(t, "outside", marks(t, b, "4", "bust")["woad"], "whose swatch says nothing of it")
	})
	t.Run("a size has no report yet", func(t *testing.T) {
		require.Equal(t, models.Testers{Fewest: 2, Wanted: 3, Most: 4, Assigned: 1, Accepted: 1}, b.Sizes[8].Testers)
		require.Empty(t, marks(t, b, "9", "bust"))
	})
	t.Run("the sheet is sound and signed", func(t *testing.T) {
		why := shut(b)
		require.NotContains(t, why, "Counts")
		require.NotContains(t, why, "Tech editor's sign-off")
		require.NotContains(t, why, "Design gauge")
		require.Equal(t, "4 remarks on the text are not settled.", why["Remarks settled"])
		require.Equal(t, "Size 2 has 1 approved report and needs at least 2, and 6 more sizes fall short too.", why["Testers in every size"])
	})
	require.Equal(t, []string{"2 samples, 1 with a gauge after washing", "19 of 24 reported; 7 sizes short of approved reports", "0 of 5 installments recorded", "Nothing is out yet"}, sentences(b))
}

func pulloversTestersAreAllKinds(t *testing.T, store *models.Store) {
	ctx := context.Background()
	b := board(t, store, "fenwhistle-pullover")
	lines, _, err := store.Assignments(ctx, b.Call.ID, models.Page{Limit: 500})
	require.NoError(t, err)
	states, late := map[models.AssignmentState]int{}, 0
	by := map[string]models.AssignmentLine{}
	for _, l := range lines {
		states[l.State()]++
		by[l.Handle] = l
		if l.Late() {
			late++
		}
	}
	require.Equal(t, map[models.AssignmentState]int{models.Asked: 2, models.Accepted: 3, models.Reported: 10, models.Approved: 9, models.Withdrawn: 1}, states)
	require.Equal(t, 2, late)
	require.Equal(t, models.Asked, by["yarrow"].State(), "has everything to do")
	require.Positive(t, by["yarrow"].DaysLeft())
	require.Equal(t, models.Reported, by["sorrel"].State())
	require.NotNil(t, by["bistort"].InvitedAt)

	_, err = store.Board(ctx, "fenwhistle-pullover")
	require.NoError(t, err)
	sendings, err := store.Reports(ctx, models.Actor{PersonID: by["burdock"].PersonID, Roles: []models.Role{models.Tester}}, by["burdock"].ID)
	require.NoError(t, err)
	require.Len(t, sendings, 2, "corrected, with the first one kept")

	applied, _, err := store.Applications(ctx, b.Call.ID, models.Page{Limit: 500})
	require.NoError(t, err)
	require.Len(t, applied, 30)
	reserve := 0
	for _, a := range applied {
		if a.Assignment == nil {
			reserve++
		}
	}
	require.Equal(t, 6, reserve, "five to fall back on, and one who withdrew")

	remarks, _, err := store.Remarks(ctx, b.Design.ID, models.Page{})
	require.NoError(t, err)
	require.Len(t, remarks, 8)
}

func bonnetIsBeingFilmed(t *testing.T, store *models.Store) {
	b := board(t, store, "pipwillow-bonnet")
	require.Equal(t, "baby", b.Design.Audience)
	var states []models.InstallmentState
	for _, in := range b.Installments {
		states = append(states, in.State)
	}
	require.Equal(t, []models.InstallmentState{models.Aired, models.Edited, models.Unrecorded, models.Unrecorded, models.Unrecorded}, states)
	require.Equal(t, "Caption it and mend 1 slip before it airs on 10 February.", b.Installments[1].Needs)
	require.Equal(t, "“the butter one”, which distaff has, is worked past what “Where the face edge begins” shows, and no other camera sample can show it: "+
		"rip it back to the end of Sides or make another, then record it; that was due 7 February, 1 day ago.", b.Installments[2].Needs)
	require.True(t, b.Installments[2].Late)
	require.Equal(t, "Record 2 shots, first “Gathering the nape” with “the butter one”, which distaff has; that is due by 16 February.", b.Installments[3].Needs)
	require.Len(t, b.Installments[0].Takes, 2)
	require.NotNil(t, b.Installments[0].Takes[0].SetAsideAt)
	require.Equal(t, models.RecordAgain, b.Installments[0].Takes[0].Slips[0].Remedy)
	why := shut(b)
	require.Equal(t, "3 of 5 installments are unrecorded, “Face edge” first.", why["Takes accepted"])
	require.Equal(t, "1 slip of “Sides” is not mended.", why["Slips mended"])
	require.NotEmpty(t, why["Cautions"], "it has ties, and nobody has read the cautions yet")
	for _, open := range []string{"Counts", "Testers in every size", "Design gauge", "Remarks settled"} {
		require.NotContains(t, why, open)
	}

	samples, err := store.Samples(context.Background(), b.Design.ID)
	require.NoError(t, err)
	require.Equal(t, "the butter one", samples[1].Label)
	require.Len(t, samples[1].Moves, 6)
}

func sockIsOutInItsSecondVersion(t *testing.T, store *models.Store) {
	b := board(t, store, "marlstep-sock")
	require.Equal(t, "knit", b.Design.Craft)
	require.Equal(t, 2, b.Version.Number)
	require.Contains(t, b.Version.Note, "Size 4, gusset: 88 stitches")
	require.Equal(t, map[string]string{"Corrections closed": "The correction of “Toe, round 1” is not in the text of version 2."}, shut(b), "every other gate is open")
	sockIsCorrected(t, store, b.Design.ID)
	require.Equal(t, []string{"1 sample, gauge taken after washing", "6 of 6 reported; every size has enough", "5 of 5 installments recorded", "Released"}, sentences(b))
	aired := 0
	for _, in := range b.Installments {
		require.Contains(t, []models.InstallmentState{models.Aired, models.Scheduled}, in.State)
		if in.State == models.Aired {
			aired++
		}
	}
	require.Equal(t, 3, aired)
}

// sockIsCorrected: what the testers found is in the text, they are told, and of
// the three corrections the one that concerns one size only is announced.
func sockIsCorrected(t *testing.T, store *models.Store, design string) {
	t.Helper()
	ctx := context.Background()
	standing, err := store.Corrections(ctx, design)
	require.NoError(t, err)
	var states []models.CorrectionState
	for _, c := range standing.Corrections {
		states = append(states, c.State())
	}
	require.Equal(t, []models.CorrectionState{models.CorrectionAnnounced, models.CorrectionInText, models.CorrectionDraft}, states)
	gusset := standing.Corrections[0]
	require.Equal(t, "72 (78, 82) (86, 92)", gusset.Was)
	require.Equal(t, "72 (78, 82) (88, 92)", gusset.IsNow)
	require.Equal(t, "burdock", gusset.Handle)
	require.Len(t, standing.Makers, 6)
	for _, m := range standing.Makers {
		require.Empty(t, m.Due, m.Handle)
		require.Equal(t, []int{1, 2}, m.Told, m.Handle)
	}
	nothingIsDueInTheSocksCall(t, store, design)
	public, err := store.PublicCorrections(ctx, "marlstep-sock")
	require.NoError(t, err)
	require.Len(t, public.List, 1)
	_, err = store.PublicCorrections(ctx, "fenwhistle-pullover")
	require.Equal(t, models.NotFound, models.KindOf(err))
}

// nothingIsDueInTheSocksCall: its list of the release has the thanks ticked off.
func nothingIsDueInTheSocksCall(t *testing.T, store *models.Store, design string) {
	t.Helper()
	calls, _, err := store.TestCalls(context.Background(), design, models.Page{})
	require.NoError(t, err)
	require.Len(t, calls, 1)
	due, err := store.Reminders(context.Background(), calls[0].ID)
	require.NoError(t, err)
	require.Empty(t, due)
}

func toteIsInSampleMaking(t *testing.T, store *models.Store) {
	b := board(t, store, "oddmarrow-tote")
	require.Equal(t, models.NotBorneOut, b.Bearing.State)
	why := shut(b)
	require.Contains(t, why["Design gauge"], "6.9 % fewer")
	require.Equal(t, "Size large: body is 180, and that is no multiple of 8 + 2; the nearest: 178 and 186.", why["Counts"])
	samples, err := store.Samples(context.Background(), b.Design.ID)
	require.NoError(t, err)
	require.Len(t, samples, 3)
	require.NotNil(t, samples[0].RetiredAt)
}

func studioSaysWhatIsPressing(t *testing.T, store *models.Store) {
	b, err := store.StudioBoard(context.Background(), models.Page{})
	require.NoError(t, err)
	require.Len(t, b.Designs, 4)
	var needs []string
	for _, n := range b.Needs {
		needs = append(needs, n.Design.Slug+": "+n.Sentence)
	}
	require.Equal(t, []string{
		"fenwhistle-pullover: 5 of 24 testers still to report, 2 of them past the day agreed.",
		"pipwillow-bonnet: “Face edge”: “the butter one”, which distaff has, is worked past what “Where the face edge begins” shows, and no other camera sample can show it: rip it back to the end of Sides or make another, then record it; that was due 7 February, 1 day ago.",
		"pipwillow-bonnet: “Sides”: Caption it and mend 1 slip before it airs on 10 February.",
	}, needs)
	require.Equal(t, "“Foot” is held back. The correction of “Toe, round 1” is not in the text of version 2.", b.Designs[0].Blocks.Sentence, "the text of the sock is out, its next installment is not")
	require.Contains(t, b.Designs[3].Blocks.Sentence, "16.8 stitches over 10 cm where the design states 18")
}
