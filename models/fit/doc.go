// Package fit says why a measurement is off: the tester's gauge, the fabric, a
// blunder, or the pattern.
//
// For each axis (stitches give widths, rows give lengths) it takes
//
//	y = ln(measured / expected at the tester's own gauge)
//
// and explains all y of the axis at once by
//
//	y_i = φ + b_p + τ_t + [listed explanations] + e_i
//
//	φ    the fabric, for everyone, flat prior
//	b_p  a harmless offset of the point, N(0, ν²)
//	τ_t  the tester's garment against their own swatch, N(0, ω² + u_g²)
//	e_i  what a tape leaves, N(0, κ² s_i²), s_i from an uncertainty budget
//	     after JCGM 100:2008
//
// and as few as possible listed explanations of four kinds: a count fault (one
// size at one point, all its testers), an odd value (one number), a misreported
// gauge (one tester) and a point that is off at all sizes. Each has a prior
// chance and a prior size, so that listing one changes the Gaussian marginal
// likelihood by a closed form. A greedy search with a second look finds the
// list, ω and κ come from a grid, and for each size and point all local
// explanations are weighed against each other. Nothing is sampled: the same
// input gives the same answer, whatever the order of its testers.
//
// Effects are logarithms throughout; a log effect d is shown as 100 (e^d − 1)
// percent.
package fit
