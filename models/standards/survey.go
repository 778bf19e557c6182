package standards

import (
	"slices"
	"strconv"
	"strings"
	"sync"
)

// Survey is a set of measured people. Its tables keep how many people measured
// each whole millimetre, so that what is counted from them is exact.
type Survey struct {
	ID         string   `json:"id" enum:"service_2012,children_1977"`
	Who        string   `json:"who"`
	Dimensions []string `json:"dimensions"`
	Youngest   int      `json:"youngest" doc:"Whole years; 0 where the survey is not told apart by age."`
	Oldest     int      `json:"oldest"`
	Caveat     string   `json:"caveat"`
	Source     Source   `json:"source"`
}

// The surveys.
const (
	Service2012  = "service_2012"
	Children1977 = "children_1977"
)

// Surveys returns the surveys of measured people. Who was measured decides what
// a share says: neither is a sample of everybody who knits or wears a garment.
func Surveys() []Survey {
	return []Survey{
		{Service2012, "adults in US military service in 2012", []string{"chest", "waist", "hips", "height", "head"}, 0, 0,
			"Adults in military service, not the general public: fewer are old, very small or very large.",
			Source{"Gordon and others, 2012 Anthropometric Survey of U.S. Army Personnel (ANSUR II), NATICK/TR-15/007, public data of 4,082 men and 1,986 women", Published}},
		{Children1977, "US children measured 1975–1977, ages 2 to 20", []string{"chest", "hips", "height", "head"}, 2, 20,
			"Measured nearly fifty years ago: children today have larger girths. Nobody under 2, and few at 18 and above.",
			Source{"Snyder and others, Anthropometry of Infants, Children and Youths to Age 18 for Product Safety Design, UM-HSRI-77-17 (1977), public data of 3,898 people", Published}},
	}
}

func surveyOf(id string) (Survey, bool) {
	all := Surveys()
	at := slices.IndexFunc(all, func(s Survey) bool { return s.ID == id })
	if at < 0 {
		return Survey{}, false
	}
	return all[at], true
}

// tally is how many people of one sex, and age where told, measured each
// millimetre: people[i] of them lowMM + i.
type tally struct {
	sex, dimension string
	age            int
	lowMM          int
	people         []int
}

var tallies = sync.OnceValue(func() map[string][]tally {
	return map[string][]tally{
		Service2012: readTable("service_2012.csv", func(r row) tally {
			return tally{r.text("sex"), r.text("dimension"), 0, r.whole("low_mm"), r.people()}
		}),
		Children1977: readTable("children_1977.csv", func(r row) tally {
			return tally{r.text("sex"), r.text("dimension"), r.whole("age"), r.whole("low_mm"), r.people()}
		}),
	}
})

// people reads the counts of a tally: one number for each millimetre, and -n
// for n millimetres that nobody measured.
func (r row) people() []int {
	var out []int
	for _, word := range strings.Fields(r.text("people")) {
		n, err := strconv.Atoi(word)
		switch {
		case err != nil || n == 0:
			panic(r.at + ": not a count: " + word)
		case n < 0:
			out = append(out, make([]int, -n)...)
		default:
			out = append(out, n)
		}
	}
	return out
}
