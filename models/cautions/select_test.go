package cautions

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func caution(t *testing.T, d Design, id string) (Caution, bool) {
	t.Helper()
	advice, err := Select(d)
	require.NoError(t, err)
	require.Equal(t, Deferral, advice.Deferral)
	at := slices.IndexFunc(advice.Cautions, func(c Caution) bool { return c.ID == id })
	if at < 0 {
		return Caution{}, false
	}
	return advice.Cautions[at], true
}

func ruleIDs(c Caution) []string {
	ids := make([]string, len(c.Rules))
	for i, r := range c.Rules {
		ids[i] = r.ID
	}
	return ids
}

// Each row is a combination of audience and feature under which the published
// rules are usually looked up, with the rules that have to be among those shown.
func TestSelect(t *testing.T) {
	cords := []string{"us_hood_neck_drawstring", "eu_neck_0_7", "eu_neck_7_14"}
	sleep := []string{"us_sleepwear_0_6x", "us_sleepwear_7_14", "us_sleepwear_infant", "us_sleepwear_tight", "uk_nightwear"}
	for _, row := range []struct {
		name  string
		d     Design
		id    string
		level Level
		rules []string
	}{
		{"child's hood or neck with a cord", Design{Audience: "child", Features: []Feature{NeckCord}}, "neck_cord", Stop, cords},
		{"a bonnet with ties for a baby", Design{Audience: "baby", Features: []Feature{Hat, NeckCord}}, "neck_cord", Stop, []string{"us_hood_neck_drawstring", "eu_neck_0_7", "eu_scope_exclusions", "eu_mechanical", "uk_hood_cords"}},
		{"youth's hood with a cord", Design{Audience: "youth", Features: []Feature{NeckCord}}, "neck_cord", Stop, []string{"us_hood_neck_drawstring", "eu_neck_7_14"}},
		{"a cord that draws back into the garment", Design{Audience: "child", Features: []Feature{NeckCord}}, "neck_cord", Stop, []string{"us_drawstring_exempt"}},
		{"child's waist or hem with a cord", Design{Audience: "child", Features: []Feature{WaistCord}}, "waist_cord", StopUntilChecked, []string{"us_waist_bottom_drawstring", "eu_waist"}},
		{"youth of 16 with a waist cord", Design{Audience: "youth", AgeFrom: 16 * 12, AgeTo: 16*12 + 11, Features: []Feature{WaistCord}}, "waist_cord", StopUntilChecked, []string{"us_waist_bottom_drawstring"}},
		{"a string between mittens", Design{Audience: "child", Features: []Feature{OtherCord}}, "other_cord", StopUntilChecked, []string{"eu_other_cords", "eu_scope_exclusions"}},
		{"buttons under 3", Design{Audience: "baby", Features: []Feature{SmallParts}}, "small_parts", Warn, []string{"us_small_parts", "eu_button_pull", "craft_covered_button"}},
		{"covered buttons under 3", Design{Audience: "baby", Features: []Feature{CoveredButtons}}, "small_parts", Warn, []string{"craft_covered_button"}},
		{"buttons on a size 2", Design{Audience: "child", Features: []Feature{SmallParts}}, "small_parts", Warn, []string{"us_small_parts"}},
		{"buttons from 3", Design{Audience: "youth", Features: []Feature{SmallParts}}, "small_parts_older", Note, []string{"eu_button_pull"}},
		{"a hat for a baby", Design{Audience: "baby", Features: []Feature{Hat}}, "infant_sleep", Warn, []string{"safe_sleep"}},
		{"a hood for a baby", Design{Audience: "baby", Features: []Feature{Hood}}, "infant_sleep", Warn, []string{"safe_sleep"}},
		{"a blanket for a baby", Design{Audience: "baby", Features: []Feature{Blanket}}, "infant_sleep", Warn, []string{"safe_sleep"}},
		{"something weighted for a baby", Design{Audience: "baby", Features: []Feature{Weighted}}, "infant_sleep", Warn, []string{"safe_sleep"}},
		{"a cocoon for a baby", Design{Audience: "baby", Features: []Feature{Cocoon}}, "infant_sleep", Warn, []string{"safe_sleep"}},
		{"a soother's cord", Design{Audience: "baby", Features: []Feature{SootherCord}}, "soother_cord", Warn, []string{"pacifier_cord"}},
		{"baby's sleepwear", Design{Audience: "baby", Features: []Feature{Sleepwear}}, "sleepwear", Warn, sleep},
		{"child's sleepwear", Design{Audience: "child", Features: []Feature{Sleepwear}}, "sleepwear", Warn, sleep},
		{"youth's sleepwear", Design{Audience: "youth", Features: []Feature{Sleepwear}}, "sleepwear", Warn, sleep},
		{"a net for a baby", Design{Audience: "baby", Features: []Feature{Openings}}, "openings", Warn, []string{"practice_openings", "eu_mechanical"}},
		{"floats in a baby's mitten", Design{Audience: "baby", Features: []Feature{LooseThreads}}, "loose_threads", Warn, []string{"eu_mechanical"}},
		{"fuzzy cotton for a child", Design{Audience: "child", Features: []Feature{FlareFabric}}, "flare_fabric", Note, []string{"us_general_flammability"}},
		{"fuzzy cotton for a woman: the rule is for all clothing", Design{Audience: "woman", Features: []Feature{FlareFabric}}, "flare_fabric", Note, []string{"us_general_flammability"}},
		{"pieces for children that are sold", Design{Audience: "child", Features: []Feature{ForSale}}, "for_sale", Note, []string{"maker_duty"}},
		{"a child's garment of which nothing else was said", Design{Audience: "child"}, "any_child", Note, []string{"eu_mechanical"}},
	} {
		t.Run(row.name, func(t *testing.T) {
			c, ok := caution(t, row.d, row.id)
			require.True(t, ok)
			require.Equal(t, row.level, c.Level)
			require.Subset(t, ruleIDs(c), row.rules)
			require.NotEmpty(t, c.Title)
			require.NotEmpty(t, c.Text)
			for _, f := range c.Because {
				require.Contains(t, row.d.Features, f)
			}
		})
	}
}

func TestSelectLeavesOut(t *testing.T) {
	every := make([]Feature, 0)
	for _, l := range Features() {
		every = append(every, l.ID)
	}
	for _, row := range []struct {
		name string
		d    Design
		gone []string // cautions
		want []string // all that are left, where told
	}{
		{"an adult with everything", Design{Audience: "woman", Features: every}, nil, []string{"flare_fabric"}},
		{"an adult with nothing", Design{Audience: "man"}, nil, []string{}},
		{"a child without cords", Design{Audience: "child", Features: []Feature{SmallParts}}, []string{"neck_cord", "waist_cord", "other_cord"}, nil},
		{"a hat for a youth is no danger in sleep", Design{Audience: "youth", Features: []Feature{Hat}}, []string{"infant_sleep"}, nil},
		{"small parts under 3 don't reach a child of 4", Design{Audience: "child", AgeFrom: 48, AgeTo: 59, Features: []Feature{SmallParts}}, []string{"small_parts"}, nil},
		{"a grown unisex design, ages given", Design{Audience: "unisex", AgeFrom: 18 * 12, AgeTo: 80 * 12, Features: every}, nil, []string{"flare_fabric"}},
	} {
		t.Run(row.name, func(t *testing.T) {
			advice, err := Select(row.d)
			require.NoError(t, err)
			ids := []string{}
			for _, c := range advice.Cautions {
				ids = append(ids, c.ID)
			}
			for _, id := range row.gone {
				require.NotContains(t, ids, id)
			}
			if row.want != nil {
				require.Equal(t, row.want, ids)
			}
			require.NotEmpty(t, advice.Deferral, "the deferral stands also where nothing else does")
		})
	}
}

// Where a rule names ages, it is shown at its borders and not beyond.
func TestRulesFollowAges(t *testing.T) {
	for _, row := range []struct {
		name     string
		from, to int // months
		has, not string
	}{
		{"up to 7 years reaches the seventh year", 95, 95, "eu_neck_0_7", ""},
		{"and not the eighth birthday", 96, 96, "eu_neck_7_14", "eu_neck_0_7"},
		{"7 to 14 begins at 7", 84, 84, "eu_neck_7_14", ""},
		{"not before", 83, 83, "eu_neck_0_7", "eu_neck_7_14"},
		{"US sizes begin at about 18 months", 18, 18, "us_hood_neck_drawstring", ""},
		{"not at 17", 17, 17, "eu_neck_0_7", "us_hood_neck_drawstring"},
		{"US size 12 ends with the twelfth year", 155, 155, "us_hood_neck_drawstring", ""},
		{"and 13 is beyond", 156, 156, "eu_neck_7_14", "us_hood_neck_drawstring"},
	} {
		t.Run(row.name, func(t *testing.T) {
			c, ok := caution(t, Design{Audience: "child", AgeFrom: row.from, AgeTo: row.to, Features: []Feature{NeckCord}}, "neck_cord")
			require.True(t, ok)
			require.Contains(t, ruleIDs(c), row.has)
			if row.not != "" {
				require.NotContains(t, ruleIDs(c), row.not)
			}
		})
	}
}

func TestUnisexAsksWhetherItIsForAChild(t *testing.T) {
	c, ok := caution(t, Design{Audience: "unisex", Features: []Feature{NeckCord}}, "neck_cord")
	require.True(t, ok)
	require.Equal(t, Note, c.Level)
	require.True(t, strings.HasPrefix(c.Text, "If any size is for a child: a cord at the neck"))
	c, ok = caution(t, Design{Audience: "unisex", AgeFrom: 24, AgeTo: 120, Features: []Feature{NeckCord}}, "neck_cord")
	require.True(t, ok)
	require.Equal(t, Stop, c.Level, "ages were given")
}

func TestStrongestFirst(t *testing.T) {
	advice, err := Select(Design{Audience: "baby", Features: []Feature{FlareFabric, SmallParts, WaistCord, NeckCord}})
	require.NoError(t, err)
	var levels []Level
	for _, c := range advice.Cautions {
		levels = append(levels, c.Level)
	}
	require.Equal(t, []Level{Stop, StopUntilChecked, Warn, Note, Note}, levels)
}

func TestSelectNamesTheFieldAtFault(t *testing.T) {
	for _, row := range []struct {
		name  string
		d     Design
		field string
	}{
		{"no audience", Design{}, "audience: "},
		{"unknown audience", Design{Audience: "dog"}, "audience: "},
		{"unknown feature", Design{Audience: "baby", Features: []Feature{NeckCord, "wings"}}, "features[1]: "},
		{"age below nothing", Design{Audience: "baby", AgeFrom: -1, AgeTo: 3}, "age_from_months: "},
		{"ages upside down", Design{Audience: "baby", AgeFrom: 12, AgeTo: 3}, "age_to_months: "},
		{"an age in days", Design{Audience: "baby", AgeFrom: 0, AgeTo: 4000}, "age_to_months: "},
	} {
		t.Run(row.name, func(t *testing.T) {
			_, err := Select(row.d)
			require.ErrorContains(t, err, row.field)
		})
	}
}

// One more feature never takes a caution away, and the order of the features
// changes nothing.
func TestSelectProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ids := make([]Feature, 0)
		for _, l := range Features() {
			ids = append(ids, l.ID)
		}
		features := rapid.SliceOfDistinct(rapid.SampledFrom(ids), func(f Feature) Feature { return f }).Draw(t, "features")
		d := Design{Audience: rapid.SampledFrom(Audiences()).Draw(t, "audience"), Features: features}
		got, err := Select(d)
		require.NoError(t, err)
		turned := d
		turned.Features = slices.Clone(features)
		slices.Reverse(turned.Features)
		same, err := Select(turned)
		require.NoError(t, err)
		require.Equal(t, got, same)
		more := d
		more.Features = append(slices.Clone(features), rapid.SampledFrom(ids).Draw(t, "one more"))
		wider, err := Select(more)
		require.NoError(t, err)
		require.GreaterOrEqual(t, len(wider.Cautions), len(got.Cautions))
	})
}

// complies finds a claim of compliance.
var complies = regexp.MustCompile(`(?i)\b(compl(y|ies|iant)|conforms?|certified|approved|is safe|are safe|meets the)\b`)

func TestNothingClaimsCompliance(t *testing.T) {
	for _, e := range entries() {
		require.NotRegexp(t, complies, e.title+" "+e.text)
	}
	for _, r := range Rules() {
		require.NotRegexp(t, complies, r.Says+" "+r.Exempt)
	}
	require.Contains(t, Deferral, "don't say that a design complies with anything")
	require.Contains(t, Deferral, "Check your local rules and ask a qualified product-safety person")
}
