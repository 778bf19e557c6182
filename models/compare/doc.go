// Package compare holds one finished measurement against what its count
// promises: at the design's gauge, at the maker's own gauge, and as it was
// measured. It splits the deviation into what the maker's gauge explains and
// what is left, with the uncertainty of what is left; it notices likely slips
// while a number is being entered; and it lays out the tape strip of a size and
// point.
//
// Everything is about one measurement at a time. Whether a size's count is wrong
// takes all reports together: that is package fit.
//
// Numbers marked chosen are this project's own settings; they are no standard's.
package compare
