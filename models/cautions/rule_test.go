package cautions

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// Figures as the published texts state them, with the text beside each.
func TestPublishedFigures(t *testing.T) {
	for _, row := range []struct {
		rule string
		want []RuleFigure
	}{
		// 16 CFR 1120.3(b) and ASTM F1816: 3 inches (76 mm) at the waist and bottom.
		{"us_waist_bottom_drawstring", []RuleFigure{{"longest free end", 3, "in"}, {"longest free end", 76, "mm"}}},
		// EN 14682: up to 7 years is up to 134 cm.
		{"eu_neck_0_7", []RuleFigure{{"height up to", 134, "cm"}}},
		// EN 14682: 7 to 14 is girls to 176 cm, boys to 182 cm; loops 150 mm (2007).
		{"eu_neck_7_14", []RuleFigure{{"loop around, as worn, at most", 150, "mm"}, {"girls' height up to", 176, "cm"}, {"boys' height up to", 182, "cm"}}},
		// EN 14682:2007: 140 mm at the widest, 280 mm at the smallest.
		{"eu_waist", []RuleFigure{{"end, garment at its widest, at most", 140, "mm"}, {"end, garment at its smallest, at most", 280, "mm"}}},
		// Children's Clothing (Hood Cords) Regulations 1976: 44 cm across the chest.
		{"uk_hood_cords", []RuleFigure{{"across the chest, flat, up to", 44, "cm"}}},
		// 16 CFR 1501.4: a cylinder 1.25 in across and 1 to 2.25 in deep.
		{"us_small_parts", []RuleFigure{{"cylinder, across", 1.25, "in"}, {"cylinder, across", 31.7, "mm"}, {"cylinder, shallow end", 1, "in"}, {"cylinder, shallow end", 25.4, "mm"}, {"cylinder, deep end", 2.25, "in"}, {"cylinder, deep end", 57.1, "mm"}}},
		// Trade practice, two guides: 90 N and 70 N.
		{"eu_button_pull", []RuleFigure{{"pull, children's clothing", 90, "N"}, {"pull, adults' clothing", 70, "N"}}},
		// 16 CFR 1615.1(c): 64.8 cm (25.75 in); 40 cm (15.75 in).
		{"us_sleepwear_infant", []RuleFigure{{"one piece, length up to", 64.8, "cm"}, {"one piece, length up to", 25.75, "in"}, {"two pieces, each up to", 40, "cm"}, {"two pieces, each up to", 15.75, "in"}}},
		// American Academy of Pediatrics, 2022.
		{"safe_sleep", []RuleFigure{{"incline up to", 10, "degrees"}}},
		// EN 12586, from memory.
		{"pacifier_cord", []RuleFigure{{"holder, length up to", 220, "mm"}}},
		// 16 CFR 1610, from memory: 2.6 oz/yd2.
		{"us_general_flammability", []RuleFigure{{"plain surface without a test, from", 2.6, "oz/yd²"}, {"plain surface without a test, from", 88.2, "g/m²"}}},
		// CPSIA, from memory: 100 ppm and 90 ppm.
		{"maker_duty", []RuleFigure{{"lead in materials, up to", 100, "ppm"}, {"lead in paint, up to", 90, "ppm"}}},
	} {
		t.Run(row.rule, func(t *testing.T) {
			require.Equal(t, row.want, named(row.rule)[0].Figures)
		})
	}
}

// A figure that a rule gives in two units is the same length or mass in both,
// to the rounding of the text: 1 in = 25.4 mm, 1 oz/yd² = 33.9057 g/m².
func TestFiguresInTwoUnitsAgree(t *testing.T) {
	perUnit := map[string]float64{"in": 25.4, "mm": 1, "cm": 10, "oz/yd²": 33.9057, "g/m²": 1}
	pairs := 0
	for _, r := range Rules() {
		for i, a := range r.Figures {
			for _, b := range r.Figures[:i] {
				if a.What == b.What {
					require.InEpsilon(t, a.Value*perUnit[a.Unit], b.Value*perUnit[b.Unit], 0.01, "%s: %s", r.ID, a.What)
					pairs++
				}
			}
		}
	}
	require.Equal(t, 7, pairs)
}

// Every rule says where it applies, what it covers and where it was read, and
// is reached by some design; what is from memory says so.
func TestEveryRuleIsWholeAndReached(t *testing.T) {
	every := []Feature{}
	for _, l := range Features() {
		every = append(every, l.ID)
	}
	reached := map[string]bool{}
	for _, audience := range []string{"baby", "child", "youth"} {
		advice, err := Select(Design{Audience: audience, Features: every})
		require.NoError(t, err)
		for _, c := range advice.Cautions {
			for _, r := range c.Rules {
				reached[r.ID] = true
			}
		}
	}
	ids := map[string]bool{}
	for _, r := range Rules() {
		require.False(t, ids[r.ID], r.ID)
		ids[r.ID] = true
		require.True(t, reached[r.ID], "%s is shown by no caution", r.ID)
		require.NotEmpty(t, r.Jurisdiction, r.ID)
		require.NotEmpty(t, r.Covers, r.ID)
		require.NotEmpty(t, r.Says, r.ID)
		require.NotEmpty(t, r.Source, r.ID)
	}
	for _, id := range []string{"uk_nightwear", "maker_duty", "eu_other_cords", "practice_openings"} {
		require.True(t, named(id)[0].FromMemory, id)
	}
	require.Len(t, ids, 23)
}

// Every caution has a rule behind it at every age at which it is shown, and
// every feature calls for a caution.
func TestEveryCautionHasARule(t *testing.T) {
	used := map[Feature]bool{}
	for _, e := range entries() {
		require.NotEmpty(t, named(e.rules...), e.id)
		for _, f := range e.features {
			require.True(t, known(f), f)
			used[f] = true
		}
	}
	for _, l := range Features() {
		require.True(t, used[l.ID], "%s calls for nothing", l.ID)
		require.NotEmpty(t, l.Label)
	}
	for month := range 17 * 12 {
		for _, l := range Features() {
			advice, err := Select(Design{Audience: "child", AgeFrom: max(month, 1), AgeTo: max(month, 1), Features: []Feature{l.ID}})
			require.NoError(t, err)
			for _, c := range advice.Cautions {
				require.NotEmpty(t, c.Rules, "%s at %d months", c.ID, month)
			}
		}
	}
}
