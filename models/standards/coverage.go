package standards

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"tenter/models/gauge"
)

// CoverageQuestion asks which share of the people of a survey lies within half a step
// of some size.
type CoverageQuestion struct {
	Survey    string    `json:"survey"`
	Dimension string    `json:"dimension" doc:"chest (the bust of a woman), waist, hips, height or head."`
	SizesCM   []float64 `json:"sizes_cm" doc:"The body measurement that each size is for, from the smallest."`
	StepCM    float64   `json:"step_cm" doc:"A person is served by a size when within half a step of it."`
	AgeFrom   int       `json:"age_from,omitempty" doc:"Whole years, for children; both ends included."`
	AgeTo     int       `json:"age_to,omitempty"`
}

// Covered is the answer.
type Covered struct {
	CoverageQuestion
	Who     string       `json:"who"`
	Groups  []CoveredSex `json:"groups"`
	Caveat  string       `json:"caveat"`
	Message string       `json:"message"`
	Source  Source       `json:"source"`
}

// CoveredSex counts the people of one sex.
type CoveredSex struct {
	Sex     string  `json:"sex" enum:"women,men,girls,boys"`
	People  int     `json:"people" doc:"Measured in this dimension and of these ages."`
	Within  int     `json:"within" doc:"Within half a step of some size."`
	Smaller int     `json:"smaller" doc:"Below every size, by more than half a step."`
	Larger  int     `json:"larger" doc:"Above every size, by more than half a step."`
	Between int     `json:"between" doc:"In a gap between two sizes."`
	Share   float64 `json:"share" doc:"Within as a part of people, 0 to 1."`
	Nearest []int   `json:"nearest" doc:"For each size, the people within half a step of it to whom it is the nearest; the smaller of two that are as near."`
}

// Bounds of a question: chosen wider than any body.
const (
	mostSizes  = 40
	largestCM  = 300.0
	mostStepCM = 50.0
)

// Cover counts, for each sex, the people x with
//
//	|x − size| <= step / 2 for some size
//
// in whole millimetres, as the surveys measured. Sizes rise, 1 to 40 of them,
// each above 0 and at most 300 cm; 0 < step <= 50 cm. Ages apply to children
// only; without them every age counts.
//
// The counts are exact for the people who were measured. What they say about
// other people depends on who these were: Who and Caveat tell.
func Cover(q CoverageQuestion) (Covered, error) {
	survey, err := q.check()
	if err != nil {
		return Covered{}, err
	}
	if survey.Youngest > 0 && q.AgeFrom == 0 && q.AgeTo == 0 {
		q.AgeFrom, q.AgeTo = survey.Youngest, survey.Oldest
	}
	out := Covered{Groups: []CoveredSex{}, CoverageQuestion: q, Who: survey.Who, Caveat: survey.Caveat, Source: survey.Source}
	for _, t := range tallies()[survey.ID] {
		if t.dimension != q.Dimension || t.age < q.AgeFrom || t.age > q.AgeTo {
			continue
		}
		at := slices.IndexFunc(out.Groups, func(g CoveredSex) bool { return g.Sex == t.sex })
		if at < 0 {
			out.Groups = append(out.Groups, CoveredSex{Sex: t.sex, Nearest: make([]int, len(q.SizesCM))})
			at = len(out.Groups) - 1
		}
		out.Groups[at].count(t, q)
	}
	for i := range out.Groups {
		g := &out.Groups[i]
		g.Share = gauge.Tidy(float64(g.Within) / float64(g.People)) // every row of a survey has people
	}
	out.Message = out.sentence()
	return out, nil
}

func (q CoverageQuestion) check() (Survey, error) {
	survey, ok := surveyOf(q.Survey)
	if !ok {
		return survey, gauge.Wrongf("survey", "is not one of %s, %s", Service2012, Children1977)
	}
	if !slices.Contains(survey.Dimensions, q.Dimension) {
		return survey, gauge.Wrongf("dimension", "is not one of %s", strings.Join(survey.Dimensions, ", "))
	}
	if len(q.SizesCM) == 0 || len(q.SizesCM) > mostSizes {
		return survey, gauge.Wrongf("sizes_cm", "must hold 1 to %d sizes", mostSizes)
	}
	for i, cm := range q.SizesCM {
		field := fmt.Sprintf("sizes_cm[%d]", i)
		if !(cm > 0 && cm <= largestCM) {
			return survey, gauge.Wrongf(field, "must be more than 0 and at most %s cm", gauge.Decimal(largestCM, 0))
		}
		if i > 0 && cm <= q.SizesCM[i-1] {
			return survey, gauge.Wrongf(field, "is not larger than the size before it; give the sizes from the smallest")
		}
	}
	if !(q.StepCM > 0 && q.StepCM <= mostStepCM) {
		return survey, gauge.Wrongf("step_cm", "must be more than 0 and at most %s cm", gauge.Decimal(mostStepCM, 0))
	}
	return survey, q.checkAges(survey)
}

func (q CoverageQuestion) checkAges(s Survey) error {
	if q.AgeFrom == 0 && q.AgeTo == 0 {
		return nil
	}
	if s.Youngest == 0 {
		return gauge.Wrongf("age_from", "can't be asked of %s, who are not told apart by age here; leave it out", s.Who)
	}
	if q.AgeFrom < s.Youngest || q.AgeFrom > s.Oldest {
		return gauge.Wrongf("age_from", "must lie between %d and %d years", s.Youngest, s.Oldest)
	}
	if q.AgeTo < q.AgeFrom || q.AgeTo > s.Oldest {
		return gauge.Wrongf("age_to", "must lie between age_from and %d years", s.Oldest)
	}
	return nil
}

// count adds the people of a tally.
func (g *CoveredSex) count(t tally, q CoverageQuestion) {
	for i, n := range t.people {
		if n == 0 {
			continue
		}
		mm := float64(t.lowMM + i)
		g.People += n
		nearest, away := nearestSize(q.SizesCM, mm)
		switch {
		case away <= 5*q.StepCM+1e-9: // half a step in mm; 1e-9 for sizes like 86.36 cm
			g.Within += n
			g.Nearest[nearest] += n
		case mm < 10*q.SizesCM[0]:
			g.Smaller += n
		case mm > 10*q.SizesCM[len(q.SizesCM)-1]:
			g.Larger += n
		default:
			g.Between += n
		}
	}
}

// nearestSize returns the nearest size and how far it is, in mm; the smaller of
// two that are as near.
func nearestSize(sizesCM []float64, mm float64) (nearest int, away float64) {
	away = math.Inf(1)
	for i, cm := range sizesCM {
		if d := math.Abs(10*cm - mm); d < away-1e-9 {
			nearest, away = i, d
		}
	}
	return nearest, away
}

// sentence says the shares and whom they are of.
func (c Covered) sentence() string {
	parts := make([]string, len(c.Groups))
	for i, g := range c.Groups {
		parts[i] = fmt.Sprintf("%s %% of %d %s", gauge.Decimal(100*g.Share, 1), g.People, g.Sex)
	}
	ages := ""
	if c.AgeFrom > 0 {
		ages = fmt.Sprintf(" aged %d to %d", c.AgeFrom, c.AgeTo)
	}
	return fmt.Sprintf("Among %s, %s%s have a %s within %s cm of a size.",
		c.Who, strings.Join(parts, " and "), ages, dimensionWord(c.Dimension), gauge.Decimal(c.StepCM/2, 2))
}

func dimensionWord(dimension string) string {
	switch dimension {
	case "chest":
		return "chest or bust"
	case "head":
		return "head circumference"
	case "hips":
		return "hip circumference"
	}
	return dimension
}
