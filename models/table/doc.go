// Package table reads a table that somebody exported from a form or a
// spreadsheet: comma-separated values as RFC 4180 describes them, and as
// programs really write them, with semicolons or tabs, with a byte order mark,
// in UTF-16, with any line break.
//
// It gives cells as text. What a cell means is for the one who asks; a header
// is found by its name, in any case and with any spaces and punctuation.
package table
