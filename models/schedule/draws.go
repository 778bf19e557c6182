package schedule

import (
	"encoding/binary"
	"math"
	"math/rand/v2"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

	"gonum.org/v1/gonum/stat/distuv"
)

// blockDraws is how many draws share one stream of random numbers. The draws
// are cut into blocks of this size whatever the number of processors, and a
// block's stream depends on the seed and the block alone.
const blockDraws = 250

// pert is the beta distribution of a three-point estimate, stretched to it:
// alpha = 1 + 4 (likely − low)/(high − low), beta = 1 + 4 (high − likely)/(high − low).
type pert struct {
	low, span float64
	beta      distuv.Beta
}

func (e estimate) pert(source rand.Source) pert {
	span := e.high - e.low
	if span <= 0 {
		return pert{low: e.low}
	}
	return pert{low: e.low, span: span, beta: distuv.Beta{
		Alpha: 1 + 4*(e.likely-e.low)/span,
		Beta:  1 + 4*(e.high-e.likely)/span,
		Src:   source,
	}}
}

func (p pert) draw() float64 {
	if p.span == 0 {
		return p.low
	}
	return p.low + p.span*p.beta.Rand()
}

// draw counts for each task in how many of the draws its days are kept. The
// tasks are done in the planned sequence.
func (n *network) draw(sequence []int) (kept []int) {
	kept = make([]int, len(n.tasks))
	if !slices.ContainsFunc(n.tasks, func(t task) bool { return t.dated() }) {
		return kept // nothing to keep
	}
	blocks := (n.draws + blockDraws - 1) / blockDraws
	workers := min(runtime.GOMAXPROCS(0), blocks)
	counts := make([][]int, workers)
	var nextBlock atomic.Int64
	var all sync.WaitGroup
	for w := range workers {
		counts[w] = make([]int, len(n.tasks))
		all.Go(func() {
			for {
				block := int(nextBlock.Add(1)) - 1
				if block >= blocks {
					return
				}
				n.drawBlock(sequence, block, min(blockDraws, n.draws-block*blockDraws), counts[w])
			}
		})
	}
	all.Wait()
	for _, c := range counts {
		for i, k := range c {
			kept[i] += k
		}
	}
	return kept
}

// stream gives a block's random numbers.
func stream(seed int64, block int) rand.Source {
	var key [32]byte
	binary.LittleEndian.PutUint64(key[0:], uint64(seed))
	binary.LittleEndian.PutUint64(key[8:], uint64(block))
	return rand.NewChaCha8(key)
}

// drawBlock adds to kept, for each task, the draws of a block that keep it.
func (n *network) drawBlock(sequence []int, block, draws int, kept []int) {
	source := stream(n.seed, block)
	lengths := make([]pert, len(n.tasks))
	for i, t := range n.tasks {
		lengths[i] = t.estimate.pert(source)
	}
	ends := make([]float64, len(n.tasks))
	free := make([]float64, len(n.people))
	for range draws {
		clear(free)
		for _, i := range sequence {
			t := &n.tasks[i]
			before := 0.0
			for _, k := range t.after {
				before = math.Max(before, ends[k])
			}
			begin, end := t.drawn(before, lengths[i].draw(), free)
			ends[i] = end
			if t.dated() && t.keeps(before, begin, end) {
				kept[i]++
			}
		}
	}
}

// drawn gives when a task begins and ends in a draw in which those before it
// end at a time and it takes a length; free is when each person is.
func (t *task) drawn(before, length float64, free []float64) (begin, end float64) {
	begin = math.Max(before, float64(t.notBefore))
	if t.on != nil {
		begin = math.Max(begin, float64(*t.on))
	}
	if t.work == nil {
		return begin, begin + length
	}
	begin, end = t.work.after(math.Max(begin, free[t.who]), length)
	free[t.who] = end
	return begin, end
}

// keeps tells whether a draw keeps the task's days.
func (t *task) keeps(before, begin, end float64) bool {
	if t.due != nil && end > float64(*t.due+1)+rounding {
		return false
	}
	if t.on == nil {
		return true
	}
	on := float64(*t.on)
	return before <= on+rounding && begin < on+1
}
