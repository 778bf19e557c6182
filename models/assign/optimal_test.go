package assign

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
)

// Calls too large to try every plan: a plan is optimal if and only if its
// residual network has no negative cycle. The network is built here from input
// and answer alone, with a node for each applicant and each size, and weights
// that keep the parts of the objective apart by magnitude.

// Weights of the parts. Records of these tests have at most 3 tests, so with
// the default prior every completion probability is a fraction of 36465 =
// lcm(11, 13, 15, 17) and 100 people stay below placeWeight.
const (
	commonUnit  = 36465
	placeWeight = int64(1e7)
	belowWeight = placeWeight * 1e4
	shortWeight = belowWeight * 1e3
)

type arc struct {
	from, to int
	weight   int64
}

// residualNetwork lists the arcs that an answer leaves open. Nodes: 0 stands
// for both source and sink, then applicants, then sizes.
func residualNetwork(in Input, out Output) []arc {
	at := orderByInput(in, out)
	var arcs []arc
	size := func(s int) int { return 1 + len(in.Applicants) + s }
	for i, a := range in.Applicants {
		doubt := -int64(commonUnit) * int64(2*a.Finished+8) / int64(2*a.Accepted+11)
		if at[i] == len(in.Sizes) {
			arcs = append(arcs, arc{0, 1 + i, doubt})
		} else {
			arcs = append(arcs, arc{1 + i, 0, -doubt})
		}
		for place, name := range a.Sizes {
			for s := range in.Sizes {
				switch weight := int64(place) * placeWeight; {
				case in.Sizes[s].Name != name:
				case at[i] == s:
					arcs = append(arcs, arc{size(s), 1 + i, -weight})
				default:
					arcs = append(arcs, arc{1 + i, size(s), weight})
				}
			}
		}
	}
	for s, demand := range in.Sizes {
		n := out.Sizes[s].Assigned
		if n < demand.Wanted {
			arcs = append(arcs, arc{size(s), 0, -unitWorth(demand, n)})
		}
		if n > 0 {
			arcs = append(arcs, arc{0, size(s), unitWorth(demand, n-1)})
		}
	}
	return arcs
}

func unitWorth(s Size, n int) int64 {
	if n < s.Fewest {
		return shortWeight + belowWeight
	}
	return belowWeight
}

func orderByInput(in Input, out Output) []int {
	position := map[string]int{}
	for s, size := range in.Sizes {
		position[size.Name] = s
	}
	size := map[string]int{}
	for _, a := range out.Assignments {
		size[a.Applicant] = position[a.Size] + 1
	}
	at := make([]int, len(in.Applicants))
	for i, a := range in.Applicants {
		at[i] = len(in.Sizes)
		if s := size[a.ID]; s > 0 {
			at[i] = s - 1
		}
	}
	return at
}

// hasNegativeCycle relaxes all arcs, once for each node and once more.
func hasNegativeCycle(nodes int, arcs []arc) bool {
	d := make([]int64, nodes)
	for range nodes + 1 {
		changed := false
		for _, a := range arcs {
			if next := d[a.from] + a.weight; next < d[a.to] {
				d[a.to], changed = next, true
			}
		}
		if !changed {
			return false
		}
	}
	return true
}

func TestNoPlanIsBetterInLargerCalls(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for range 150 {
		in := openCall(rng, 2+rng.IntN(9), 10+rng.IntN(80))
		out, err := Calculate(in)
		require.NoError(t, err)
		nodes := 1 + len(in.Applicants) + len(in.Sizes)
		require.False(t, hasNegativeCycle(nodes, residualNetwork(in, out)), "%+v", in)

		if len(out.Assignments) > 0 && len(out.Unassigned) > 0 { // the check can fail: undo one assignment
			worse := out
			worse.Assignments = out.Assignments[1:]
			worse.Sizes = append([]SizeResult(nil), out.Sizes...)
			for s := range worse.Sizes {
				if worse.Sizes[s].Name == out.Assignments[0].Size {
					worse.Sizes[s].Assigned--
				}
			}
			require.True(t, hasNegativeCycle(nodes, residualNetwork(in, worse)))
		}
	}
}

// openCall makes a call with neither fixed nor forbidden pairs.
func openCall(rng *rand.Rand, sizes, people int) Input {
	var in Input
	share := people / sizes
	for s := range sizes {
		fewest := rng.IntN(share + 2)
		wanted := fewest + rng.IntN(3)
		in.Sizes = append(in.Sizes, Size{Name: fmt.Sprint(s + 1), Fewest: fewest, Wanted: wanted, Most: wanted + 1})
	}
	for i := range people {
		a := Applicant{ID: fmt.Sprintf("a%03d", rng.IntN(1000)*1000+i), Accepted: rng.IntN(4)}
		a.Finished = rng.IntN(a.Accepted + 1)
		first := rng.IntN(sizes)
		for k := range rng.IntN(min(4, sizes) + 1) { // neighbouring sizes, as bodies have them
			a.Sizes = append(a.Sizes, in.Sizes[(first+k)%sizes].Name)
		}
		in.Applicants = append(in.Applicants, a)
	}
	return in
}
