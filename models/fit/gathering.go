package fit

import (
	"cmp"
	"math"
	"slices"

	"tenter/models/gauge"
)

// newAxisRound gathers one axis. Testers are taken by id, shorter ids first, and
// then by size, so that neither a tie nor the order of a sum depends on the
// order in which reports came in.
func newAxisRound(in *Input, s *Settings, axis gauge.Axis) *axisRound {
	ax := &axisRound{in: in, axis: axis}
	b := &gathering{axisRound: ax, s: s, spotOf: map[int]int{}, cellOf: map[[2]int]int{}, uCM: in.repeatability(s)}
	for _, t := range in.byID() {
		b.add(t)
	}
	b.orderSpots()
	for i := range ax.obs {
		ax.logS2 += math.Log(ax.obs[i].s2)
	}
	sizes := map[int]bool{}
	for _, c := range ax.cells {
		sizes[c.size] = true
	}
	ax.pointAllowed = len(ax.spots) >= 2 && len(sizes) >= 2
	return ax
}

// byID gives the places of all testers in the order of their ids and sizes.
func (in *Input) byID() []int {
	order := make([]int, len(in.Testers))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(i, j int) int {
		a, b := &in.Testers[i], &in.Testers[j]
		return cmp.Or(
			cmp.Compare(len(a.ID), len(b.ID)), cmp.Compare(a.ID, b.ID),
			cmp.Compare(in.sizeIndex(a.Size), in.sizeIndex(b.Size)),
		)
	})
	return order
}

func (in *Input) sizeIndex(size string) int { return slices.Index(in.Sizes, size) }

// expectedCM is what the count of a point gives at a gauge over 10 cm, 0 where
// the size skips the point.
func (in *Input) expectedCM(size string, point *Point, per10 float64) float64 {
	return 10 * in.Counts[size][point.ID] / per10
}

// repeatability gives u_p of each point in cm.
func (in *Input) repeatability(s *Settings) []float64 {
	u := make([]float64, len(in.Points))
	for i := range in.Points {
		p := &in.Points[i]
		longest := 0.0
		for _, size := range in.Sizes {
			longest = max(longest, in.expectedCM(size, p, in.DesignGauge.per10(p.Axis)))
		}
		u[i] = s.readingUCM(*p, longest)
	}
	return u
}

// gathering is an axisRound while its testers are added.
type gathering struct {
	*axisRound
	s      *Settings
	spotOf map[int]int    // by place of the point in the input
	cellOf map[[2]int]int // by size and spot
	uCM    []float64
}

func (b *gathering) add(tester int) {
	t := &b.in.Testers[tester]
	m := maker{tester: tester, size: b.in.sizeIndex(t.Size), from: len(b.obs)}
	per10 := b.in.DesignGauge.per10(b.axis)
	if own := t.Swatch.On(b.axis); own == nil {
		m.missing, m.ug2 = true, b.s.GaugeUnknown*b.s.GaugeUnknown
	} else {
		u := b.s.Swatch.Relative(*own)
		m.ug2, per10 = u*u, own.Per10CM()
	}
	taken := make(map[string][]Measurement)
	for _, r := range t.Measurements {
		if r.taken() {
			taken[r.Point] = append(taken[r.Point], r)
		}
	}
	for p := range b.in.Points {
		point := &b.in.Points[p]
		if point.Axis == b.axis && len(taken[point.ID]) > 0 {
			b.observe(m, p, b.in.expectedCM(t.Size, point, per10), taken[point.ID])
		}
	}
	if m.to = len(b.obs); m.to > m.from {
		b.makers = append(b.makers, m)
	}
}

func (b *gathering) observe(m maker, p int, e1 float64, taken []Measurement) {
	point, size := &b.in.Points[p], b.in.Sizes[m.size]
	r := b.s.combine(taken, b.uCM[p])
	counted := r.cm - point.AddCM
	if e1 <= 0 || counted <= 0 { // the size skips the point, or there is less than its edging
		return
	}
	sp, ok := b.spotOf[p]
	if !ok {
		sp = len(b.spots)
		b.spotOf[p] = sp
		b.spots = append(b.spots, spot{point: p, uCM: b.uCM[p]})
	}
	e0 := b.in.expectedCM(size, point, b.in.DesignGauge.per10(b.axis))
	c, ok := b.cellOf[[2]int{m.size, sp}]
	if !ok {
		c = len(b.cells)
		b.cellOf[[2]int{m.size, sp}] = c
		b.cells = append(b.cells, cell{size: m.size, point: sp, e0: e0, uCM: b.uCM[p]})
	}
	i := len(b.obs)
	b.spots[sp].obs = append(b.spots[sp].obs, i)
	b.cells[c].obs = append(b.cells[c].obs, i)
	b.obs = append(b.obs, observation{
		maker: len(b.makers), point: sp, cell: c,
		y: math.Log(counted / e1), s2: r.variance / (e1 * e1),
		e0: e0, e1: e1, uCM: b.uCM[p], reading: r,
	})
}

// orderSpots puts the spots into the order of the input's points; they were met
// in the order of the testers.
func (b *gathering) orderSpots() {
	order := make([]int, len(b.spots))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(i, j int) int { return cmp.Compare(b.spots[i].point, b.spots[j].point) })
	place := make([]int, len(order))
	spots := make([]spot, len(order))
	for to, from := range order {
		place[from], spots[to] = to, b.spots[from]
	}
	b.spots = spots
	for i := range b.obs {
		b.obs[i].point = place[b.obs[i].point]
	}
	for i := range b.cells {
		b.cells[i].point = place[b.cells[i].point]
	}
}
