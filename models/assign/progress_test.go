package assign

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestStillAtWork(t *testing.T) {
	for _, row := range []struct {
		name             string
		p, done, becomes float64
	}{
		{"nothing done tells nothing", 0.7, 0, 0.7},
		{"half done: 0.6 / (0.6 + 0.4 / 2)", 0.6, 0.5, 0.75},
		{"three quarters done: 0.5 / (0.5 + 0.5 / 4)", 0.5, 0.75, 0.8},
		{"all done", 0.2, 1, 1},
		{"sure from the start", 1, 0.3, 1},
		{"hopeless from the start", 0, 0.3, 0},
		{"less than nothing", 0.7, -1, 0.7},
		{"more than all", 0.7, 2, 1},
	} {
		t.Run(row.name, func(t *testing.T) { require.InDelta(t, row.becomes, StillAtWork(row.p, row.done), 1e-12) })
	}
}

// TestStillAtWorkAgainstDraws plays a million testers, of whom some drop out
// somewhere in the work, and counts who of those still at it finishes.
func TestStillAtWorkAgainstDraws(t *testing.T) {
	draw := rand.New(rand.NewPCG(5, 5))
	const p, done = 0.73, 0.4
	still, finished := 0, 0
	for range 1_000_000 {
		finishes := draw.Float64() < p
		if finishes || draw.Float64() >= done {
			still++
			if finishes {
				finished++
			}
		}
	}
	require.InDelta(t, float64(finished)/float64(still), StillAtWork(p, done), 0.002, "four standard errors")
}
