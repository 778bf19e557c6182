package assign

import (
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// The solver on published problems with known optima: a cost matrix takes the
// part of the places, and demands that of the reports.

// none marks a pair that is not allowed.
const none = -1

// problem turns rows of costs, each repeated `supply` times, into people.
func problem(costs [][]int, supply []int) []person {
	var people []person
	for row, list := range costs {
		var choices []choice
		for column, c := range list {
			if c != none {
				choices = append(choices, choice{size: column, place: int64(c)})
			}
		}
		for range supply[row] {
			people = append(people, person{choices: choices})
		}
	}
	return people
}

func ones(n int) []int {
	list := make([]int, n)
	for i := range list {
		list[i] = 1
	}
	return list
}

func totalPaid(p *plan) (total int64) {
	for _, paid := range p.paid {
		total += paid
	}
	return total
}

func TestPublishedAssignmentProblems(t *testing.T) {
	for _, row := range []struct {
		name, source string
		costs        [][]int
		optimum      int64
	}{
		{"three workers", "a common encyclopedia example of the Hungarian method, from memory; recomputed with R clue 0.3-64",
			[][]int{{8, 4, 7}, {5, 2, 3}, {9, 4, 8}}, 15},
		{"machines to locations, one pair not allowed, a dummy row", "Hillier and Lieberman, Introduction to Operations Research, Job Shop Co., from memory; recomputed with R clue",
			[][]int{{13, 16, 12, 11}, {15, none, 13, 20}, {5, 7, 10, 6}, {0, 0, 0, 0}}, 29},
		{"four by four", "a classic worked example of the Hungarian method, from memory; recomputed with R clue",
			[][]int{{82, 83, 69, 92}, {77, 37, 49, 92}, {11, 69, 5, 86}, {8, 9, 98, 23}}, 140},
		{"every plan as good", "made up", [][]int{{1, 1, 1}, {1, 1, 1}, {1, 1, 1}}, 3},
	} {
		t.Run(row.name, func(t *testing.T) {
			n := len(row.costs)
			sizes := make([]demand, n)
			for s := range sizes {
				sizes[s] = demand{fewest: 1, wanted: 1}
			}
			p := solve(sizes, problem(row.costs, ones(n)))
			require.Equal(t, row.optimum, totalPaid(p), row.source)
			require.Equal(t, ones(n), p.count)
		})
	}
}

func TestORLibraryAssign100(t *testing.T) {
	costs := readMatrix(t, "testdata/assign100.txt")
	require.Len(t, costs, 100)
	sizes := make([]demand, len(costs))
	for s := range sizes {
		sizes[s] = demand{fewest: 1, wanted: 1}
	}
	p := solve(sizes, problem(costs, ones(len(costs))))
	require.Equal(t, ones(len(costs)), p.count)
	require.EqualValues(t, 305, totalPaid(p)) // OR-Library, assignopt
}

func readMatrix(t *testing.T, name string) [][]int {
	t.Helper()
	text, err := os.ReadFile(name)
	require.NoError(t, err)
	var numbers []int
	for line := range strings.Lines(string(text)) {
		if strings.HasPrefix(line, "#") {
			continue
		}
		for _, word := range strings.Fields(line) {
			x, err := strconv.Atoi(word)
			require.NoError(t, err)
			numbers = append(numbers, x)
		}
	}
	n := numbers[0]
	require.Len(t, numbers, 1+n*n)
	rows := make([][]int, n)
	for i := range rows {
		rows[i] = numbers[1+i*n : 1+(i+1)*n]
	}
	return rows
}

func TestPublishedTransportationProblems(t *testing.T) {
	for _, row := range []struct {
		name, source string
		costs        [][]int
		supply       []int
		sizes        []demand
		optimum      int64
		count        []int
	}{
		{
			"peas from three canneries to four warehouses",
			"Hillier and Lieberman, Introduction to Operations Research, P & T Company, published optimum 152535, from memory; recomputed with R lpSolve 5.6.18",
			[][]int{{464, 513, 654, 867}, {352, 416, 690, 791}, {995, 682, 388, 685}},
			[]int{75, 125, 100},
			[]demand{{fewest: 80, wanted: 80}, {fewest: 65, wanted: 65}, {fewest: 70, wanted: 70}, {fewest: 85, wanted: 85}},
			152535, []int{80, 65, 70, 85},
		},
		{
			"water from three rivers, least and most of four cities, one pair not allowed",
			"the same book, Metro Water District, published optimum 2460, from memory; recomputed with R lpSolve 5.6.18",
			[][]int{{16, 13, 22, 17}, {14, 13, 19, 15}, {19, 20, 23, none}},
			[]int{50, 60, 50},
			[]demand{{fewest: 30, wanted: 50}, {fewest: 70, wanted: 70}, {fewest: 0, wanted: 30}, {fewest: 10, wanted: 160}},
			2460, []int{50, 70, 0, 40},
		},
	} {
		t.Run(row.name, func(t *testing.T) {
			p := solve(row.sizes, problem(row.costs, row.supply))
			require.Equal(t, row.optimum, totalPaid(p), row.source)
			require.Equal(t, row.count, p.count)
		})
	}
}

// Three rows and five columns: two sizes stay empty.
func TestMoreSizesThanPeople(t *testing.T) {
	costs := [][]int{{7, 9, 3, 8, 6}, {4, 5, 8, 2, 9}, {6, 7, 1, 4, 3}}
	sizes := make([]demand, 5)
	for s := range sizes {
		sizes[s] = demand{fewest: 0, wanted: 1}
	}
	p := solve(sizes, problem(costs, ones(3)))
	require.EqualValues(t, 8, totalPaid(p)) // made up; optimum computed with R clue 0.3-64
	require.Equal(t, []int{2, 3, 4}, p.at)
}
