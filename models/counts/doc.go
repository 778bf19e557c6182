// Package counts answers one question: is the count sheet right?
//
// A count sheet is a table of named counts (stitches, rows, repeats, running
// row numbers), one value for each size; a size that skips a line has no value
// there, which is nil in Go, null in JSON and a dash in print. Calculate
// evaluates the rules of the sheet for each size, looks for values that break
// the run of the sizes, and compares what the counts come to at the design's
// gauge with the measurements that were intended.
//
// The rest of the package is what that needs, usable by itself:
//
//   - the trade's way of writing several sizes in one line: Read, ReadFor,
//     FindLists, ReadNamedLine, ReadSizeNames, ReadMultiple, Print;
//   - arithmetic over count names: Compile, Expression;
//   - what differs between two sheets: Diff;
//   - a first grading from the intended measurements: Propose.
//
// Everything is pure: the same input gives the same output, byte for byte, and
// nothing writes to its arguments. Lengths are centimetres.
package counts
