// Package archive writes and reads a whole studio as one file: a zip archive
// whose files are stored or deflated, and nothing is locked. It holds
//
//	manifest.json          what it is, the level of its schema, and every other
//	                       file with its length and SHA-256
//	tables/people.jsonl    one JSON object a line for each row of a table
//	photos/...             files as they are
//
// It knows neither a database nor files: it writes to what it is given and
// reads from it, and never more than its bounds allow.
package archive
