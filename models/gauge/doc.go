// Package gauge keeps what was entered (lengths, yarn, swatches counted over a
// span) and does the arithmetic between counts and centimetres: what a count
// gives at a gauge, which count gives a length, how far two gauges are apart
// and whether counting can tell them apart.
//
// A gauge over 4 in is not a gauge over 10 cm: 4 in is 10.16 cm, so reading one
// as the other is a mistake of 1.6 %. A span is therefore kept as it was
// entered, and everything is computed in centimetres.
//
// Numbers marked chosen are this project's own settings, with the reason beside
// them; they are no standard's.
package gauge
