// Package yarn says how much yarn to state for each size, from what the testers
// used. For each tester
//
//	y = ln(metres / (N pitch)),  pitch = 0.1 / √(stitch gauge · row gauge) m
//
// with N the size's stitches and the gauges over 10 cm, the tester's own. e^y is
// the yarn in one stitch, in sides of a square of the stitch's area: it depends
// on neither size nor gauge any more, so that all testers of a design are one
// sample, and sizes that nobody made are covered.
//
// What is stated is an upper prediction bound for one more maker, at the design
// gauge, rounded up to whole balls last.
package yarn
