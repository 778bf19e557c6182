// Package cautions says what is usually watched for in children's garments:
// which cords, small parts, openings and fabrics a published rule speaks of,
// what the rule covers and where it applies.
//
// It gives cautions and no verdict. Nothing here says that a design complies
// with anything: rules differ by country and change, the texts are summarised
// in this project's own words, and some figures are from memory, each marked
// so. Every answer sends the reader to the rules where they are and to a
// qualified person. Where it is unclear whether a rule reaches a design, the
// caution is shown rather than left out.
package cautions
