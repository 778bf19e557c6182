package standards

import (
	"encoding/csv"
	"io/fs"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Expected counts were computed with Python 3 from the surveys' public files
// (ANSUR II: 4,082 men and 1,986 women; 1977: 3,898 people aged 2 and over,
// age rounded down), one person at a time: a person is within when
// |value_mm − 10 size_cm| <= 5 step_cm + 1e-9 for some size. No tolerance: the
// embedded tables keep every measurement to the millimetre.
func TestCoverageAgainstTheFullSurveys(t *testing.T) {
	inches := func(in ...float64) []float64 {
		for i := range in {
			in[i] *= 2.54
		}
		return in
	}
	for _, row := range []struct {
		name string
		q    CoverageQuestion
		want []CoveredSex
	}{
		{"the Craft Yarn Council's women's sizes, middle of each range, 4 in apart",
			CoverageQuestion{Survey: Service2012, Dimension: "chest", SizesCM: inches(29, 33, 37, 41, 45, 49, 53, 57, 61), StepCM: 4 * 2.54},
			[]CoveredSex{
				{Sex: "women", People: 1986, Within: 1986, Share: 1, Nearest: []int{27, 476, 919, 457, 95, 12, 0, 0, 0}},
				{}}},
		{"the men's sizes leave out six slight men",
			CoverageQuestion{Survey: Service2012, Dimension: "chest", SizesCM: inches(35, 39, 43, 47, 51, 55, 59, 63), StepCM: 4 * 2.54},
			[]CoveredSex{{}, {Sex: "men", People: 4082, Within: 4076, Smaller: 6, Share: 0.99853, Nearest: []int{326, 1452, 1607, 600, 87, 3, 1, 0}}}},
		{"sizes too far apart leave gaps between them",
			CoverageQuestion{Survey: Service2012, Dimension: "chest", SizesCM: []float64{90, 100, 110}, StepCM: 5},
			[]CoveredSex{
				{Sex: "women", People: 1986, Within: 918, Smaller: 382, Larger: 56, Between: 630, Share: 0.462236, Nearest: []int{481, 352, 85}},
				{Sex: "men", People: 4082, Within: 1781, Smaller: 42, Larger: 911, Between: 1348, Share: 0.436306, Nearest: []int{185, 807, 789}}}},
		{"hats in three sizes",
			CoverageQuestion{Survey: Service2012, Dimension: "head", SizesCM: []float64{52, 56, 60}, StepCM: 4},
			[]CoveredSex{
				{Sex: "women", People: 1986, Within: 1981, Larger: 5, Share: 0.997482, Nearest: []int{270, 1428, 283}},
				{Sex: "men", People: 4082, Within: 4067, Larger: 15, Share: 0.996325, Nearest: []int{55, 2646, 1366}}}},
		{"height",
			CoverageQuestion{Survey: Service2012, Dimension: "height", SizesCM: []float64{160, 168, 176, 184}, StepCM: 8},
			[]CoveredSex{
				{Sex: "women", People: 1986, Within: 1725, Smaller: 261, Share: 0.86858, Nearest: []int{904, 663, 150, 8}},
				{Sex: "men", People: 4082, Within: 3923, Smaller: 4, Larger: 155, Share: 0.961049, Nearest: []int{164, 1070, 1806, 883}}}},
		{"waist",
			CoverageQuestion{Survey: Service2012, Dimension: "waist", SizesCM: []float64{66, 74, 82}, StepCM: 8},
			[]CoveredSex{
				{Sex: "women", People: 1986, Within: 1063, Smaller: 2, Larger: 921, Share: 0.535247, Nearest: []int{74, 350, 639}},
				{Sex: "men", People: 4082, Within: 1071, Larger: 3011, Share: 0.262371, Nearest: []int{11, 273, 787}}}},
		{"hips",
			CoverageQuestion{Survey: Service2012, Dimension: "hips", SizesCM: []float64{94, 102}, StepCM: 8},
			[]CoveredSex{
				{Sex: "women", People: 1986, Within: 1331, Smaller: 88, Larger: 567, Share: 0.670191, Nearest: []int{513, 818}},
				{Sex: "men", People: 4082, Within: 2691, Smaller: 212, Larger: 1179, Share: 0.659236, Nearest: []int{1069, 1622}}}},
		{"the Craft Yarn Council's children's sizes on children of 2 to 10",
			CoverageQuestion{Survey: Children1977, Dimension: "chest", SizesCM: inches(21, 23, 25, 26.5, 28), StepCM: 2 * 2.54, AgeFrom: 2, AgeTo: 10},
			[]CoveredSex{
				{Sex: "girls", People: 988, Within: 834, Smaller: 104, Larger: 50, Share: 0.84413, Nearest: []int{243, 245, 171, 109, 66}},
				{Sex: "boys", People: 986, Within: 860, Smaller: 81, Larger: 45, Share: 0.872211, Nearest: []int{262, 246, 187, 105, 60}}}},
		{"height codes in steps of 6 cm, every age",
			CoverageQuestion{Survey: Children1977, Dimension: "height", SizesCM: []float64{92, 98, 104, 110, 116, 122, 128, 134, 140, 146, 152, 158, 164, 170, 176}, StepCM: 6},
			[]CoveredSex{
				{Sex: "girls", People: 1918, Within: 1885, Smaller: 30, Larger: 3, Share: 0.982795, Nearest: []int{45, 75, 107, 117, 131, 104, 131, 142, 143, 125, 191, 268, 203, 87, 16}},
				{Sex: "boys", People: 1974, Within: 1844, Smaller: 19, Larger: 111, Share: 0.934144, Nearest: []int{56, 101, 100, 133, 90, 112, 119, 136, 177, 175, 147, 113, 96, 151, 138}}}},
		{"two ages",
			CoverageQuestion{Survey: Children1977, Dimension: "height", SizesCM: []float64{116, 122}, StepCM: 6, AgeFrom: 6, AgeTo: 7},
			[]CoveredSex{
				{Sex: "girls", People: 229, Within: 149, Smaller: 28, Larger: 52, Share: 0.650655, Nearest: []int{76, 73}},
				{Sex: "boys", People: 214, Within: 137, Smaller: 19, Larger: 58, Share: 0.640187, Nearest: []int{53, 84}}}},
		{"one size, one age",
			CoverageQuestion{Survey: Children1977, Dimension: "head", SizesCM: []float64{50}, StepCM: 3, AgeFrom: 4, AgeTo: 4},
			[]CoveredSex{
				{Sex: "girls", People: 124, Within: 90, Smaller: 18, Larger: 16, Share: 0.725806, Nearest: []int{90}},
				{Sex: "boys", People: 128, Within: 84, Smaller: 3, Larger: 41, Share: 0.65625, Nearest: []int{84}}}},
		{"children's hips",
			CoverageQuestion{Survey: Children1977, Dimension: "hips", SizesCM: []float64{70, 76, 82}, StepCM: 6, AgeFrom: 10, AgeTo: 12},
			[]CoveredSex{
				{Sex: "girls", People: 416, Within: 315, Smaller: 31, Larger: 70, Share: 0.757212, Nearest: []int{101, 132, 82}},
				{Sex: "boys", People: 419, Within: 327, Smaller: 60, Larger: 32, Share: 0.78043, Nearest: []int{145, 115, 67}}}},
	} {
		t.Run(row.name, func(t *testing.T) {
			got, err := Cover(row.q)
			require.NoError(t, err)
			require.Len(t, got.Groups, 2)
			for i, want := range row.want {
				if want.Sex != "" { // a chart for one sex asks about the other in passing
					require.Equal(t, want, got.Groups[i])
				}
			}
		})
	}
}

// Means and extremes of the public ANSUR II file, computed with Python 3 from
// its rows: the tally says the same, so nothing was lost on the way.
func TestTalliesKeepEveryMeasurement(t *testing.T) {
	want := map[string][4]int{ // people, sum in mm, smallest, largest
		"women chest": {1986, 1880460, 695, 1266}, "women waist": {1986, 1709758, 611, 1334}, "women hips": {1986, 2028198, 798, 1341},
		"women height": {1986, 3234148, 1409, 1829}, "women head": {1986, 1114384, 500, 635},
		"men chest": {4082, 4321636, 774, 1469}, "men waist": {4082, 3839437, 648, 1379}, "men hips": {4082, 4161676, 737, 1305},
		"men height": {4082, 7168868, 1491, 1993}, "men head": {4082, 2344590, 516, 633},
		"girls chest": {1878, 1289031, 434, 1074}, "girls hips": {1877, 1384526, 438, 1159}, "girls height": {1918, 2629344, 838, 1816}, "girls head": {1863, 976275, 452, 605},
		"boys chest": {1949, 1376734, 450, 1123}, "boys hips": {1909, 1374928, 439, 1160}, "boys height": {1974, 2760228, 813, 1944}, "boys head": {1948, 1041285, 458, 613},
	}
	got := map[string][4]int{}
	for _, list := range tallies() {
		for _, t := range list {
			key := t.sex + " " + t.dimension
			g, seen := got[key]
			for i, n := range t.people {
				g[0] += n
				g[1] += n * (t.lowMM + i)
			}
			if !seen || t.lowMM < g[2] {
				g[2] = t.lowMM
			}
			g[3] = max(g[3], t.lowMM+len(t.people)-1)
			got[key] = g
		}
	}
	require.Equal(t, want, got)
}

// WHO Child Growth Standards, head circumference for age, median at 54 months:
// boys 50.4931 cm, girls 49.6470 cm. The 1977 children of 4 are other children, by
// another tape; within 1 cm is agreement.
func TestChildrensHeadsAgreeWithWHO(t *testing.T) {
	for sex, who := range map[string]float64{"boys": 50.4931, "girls": 49.647} {
		for _, tal := range tallies()[Children1977] {
			if tal.sex == sex && tal.dimension == "head" && tal.age == 4 {
				require.InDelta(t, 10*who, median(tal), 10)
			}
		}
	}
}

func median(t tally) float64 {
	total, seen := 0, 0
	for _, n := range t.people {
		total += n
	}
	for i, n := range t.people {
		if seen += n; 2*seen >= total {
			return float64(t.lowMM + i)
		}
	}
	return 0
}

func TestCoverageSaysWhoWasMeasured(t *testing.T) {
	got, err := Cover(CoverageQuestion{Survey: Service2012, Dimension: "chest", SizesCM: []float64{90, 100, 110}, StepCM: 10})
	require.NoError(t, err)
	require.Equal(t, "Among adults in US military service in 2012, 87 % of 1986 women and 84.6 % of 4082 men have a chest or bust within 5 cm of a size.", got.Message)
	require.Contains(t, got.Caveat, "not the general public")
	children, err := Cover(CoverageQuestion{Survey: Children1977, Dimension: "head", SizesCM: []float64{50}, StepCM: 3, AgeFrom: 4, AgeTo: 4})
	require.NoError(t, err)
	require.Equal(t, "Among US children measured 1975–1977, ages 2 to 20, 72.6 % of 124 girls and 65.6 % of 128 boys aged 4 to 4 have a head circumference within 1.5 cm of a size.", children.Message)
	require.Contains(t, children.Caveat, "nearly fifty years ago")
}

func TestCoverageNamesTheFieldAtFault(t *testing.T) {
	good := CoverageQuestion{Survey: Service2012, Dimension: "chest", SizesCM: []float64{90, 100}, StepCM: 10}
	for _, row := range []struct {
		name  string
		spoil func(*CoverageQuestion)
		field string
	}{
		{"unknown survey", func(q *CoverageQuestion) { q.Survey = "everybody" }, "survey: "},
		{"dimension that was not measured", func(q *CoverageQuestion) { q.Dimension = "ankle" }, "dimension: "},
		{"children's waist is not kept", func(q *CoverageQuestion) { q.Survey = Children1977; q.Dimension = "waist" }, "dimension: "},
		{"no sizes", func(q *CoverageQuestion) { q.SizesCM = nil }, "sizes_cm: "},
		{"too many sizes", func(q *CoverageQuestion) { q.SizesCM = make([]float64, 41) }, "sizes_cm: "},
		{"a size of nothing", func(q *CoverageQuestion) { q.SizesCM = []float64{0, 90} }, "sizes_cm[0]: "},
		{"sizes out of order", func(q *CoverageQuestion) { q.SizesCM = []float64{90, 88} }, "sizes_cm[1]: "},
		{"millimetres for centimetres", func(q *CoverageQuestion) { q.SizesCM = []float64{900} }, "sizes_cm[0]: "},
		{"no step", func(q *CoverageQuestion) { q.StepCM = 0 }, "step_cm: "},
		{"ages of adults", func(q *CoverageQuestion) { q.AgeFrom = 20; q.AgeTo = 30 }, "age_from: "},
		{"too young", func(q *CoverageQuestion) { q.Survey = Children1977; q.AgeFrom = 1; q.AgeTo = 3 }, "age_from: "},
		{"ages upside down", func(q *CoverageQuestion) { q.Survey = Children1977; q.AgeFrom = 8; q.AgeTo = 3 }, "age_to: "},
	} {
		t.Run(row.name, func(t *testing.T) {
			q := good
			row.spoil(&q)
			_, err := Cover(q)
			require.ErrorContains(t, err, row.field)
		})
	}
}

// Everybody is counted exactly once; a wider step or one more size never
// serves fewer people.
func TestCoverageProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		survey := rapid.SampledFrom(Surveys()).Draw(t, "survey")
		q := CoverageQuestion{Survey: survey.ID, Dimension: rapid.SampledFrom(survey.Dimensions).Draw(t, "dimension"), StepCM: float64(rapid.IntRange(1, 200).Draw(t, "mm")) / 10}
		cm := 30.0
		for range rapid.IntRange(1, 8).Draw(t, "sizes") {
			cm += float64(rapid.IntRange(1, 200).Draw(t, "gap mm")) / 10
			q.SizesCM = append(q.SizesCM, cm)
		}
		got, err := Cover(q)
		require.NoError(t, err)
		wider, more := q, q
		wider.StepCM += 1
		more.SizesCM = append(append([]float64{}, q.SizesCM...), cm+5)
		gotWider, err := Cover(wider)
		require.NoError(t, err)
		gotMore, err := Cover(more)
		require.NoError(t, err)
		for i, g := range got.Groups {
			require.Equal(t, g.People, g.Within+g.Smaller+g.Larger+g.Between)
			sum := 0
			for _, n := range g.Nearest {
				sum += n
			}
			require.Equal(t, g.Within, sum)
			require.GreaterOrEqual(t, gotWider.Groups[i].Within, g.Within)
			require.GreaterOrEqual(t, gotMore.Groups[i].Within, g.Within)
		}
	})
}

// The surveys' tables stay small.
func TestSurveysAreSmall(t *testing.T) {
	total := int64(0)
	for _, name := range []string{"data/service_2012.csv", "data/children_1977.csv"} {
		info, err := fs.Stat(files, name)
		require.NoError(t, err)
		total += info.Size()
		opened, err := files.Open(name)
		require.NoError(t, err)
		rows, err := csv.NewReader(opened).ReadAll()
		require.NoError(t, err)
		require.NotEmpty(t, rows)
	}
	require.Less(t, total, int64(60_000))
}

func TestLastAgeIsCounted(t *testing.T) {
	got, err := Cover(CoverageQuestion{Survey: Children1977, Dimension: "chest", SizesCM: []float64{90}, StepCM: 50, AgeFrom: 20, AgeTo: 20})
	require.NoError(t, err)
	require.Len(t, got.Groups, 1, "one boy of 20 was measured and no girl")
	require.Equal(t, 1, got.Groups[0].People)
}
