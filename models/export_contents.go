package models

import (
	"maps"
	"regexp"
	"slices"
)

// toldBeside are the tables of the database whose rows stand in a table that
// begins at another one, or that is worked out.
var toldBeside = map[string]string{
	"application_sizes": "applicants",
	"applications":      "applicants",
	"body_measurements": "sizes",
	"body_table_cells":  "body-tables",
	"counts":            "counts-all",
	"design_features":   "features",
	"person_roles":      "people",
	"photo_files":       "photos",
	"reports":           "reports",
	"slots":             "calls",
}

// notTold are the tables of the database that can't be taken out as a table,
// and why.
var notTold = map[string]string{
	"calendar_links":     "nothing but the hashes of what opens calendars",
	"goose_db_version":   "the level of the schema, which is the program's",
	"half_sign_ins":      "they wait for a code, for minutes",
	"idempotency_keys":   "they answer requests that are repeated within a week",
	"recovery_codes":     "they stand in for a second step",
	"refresh_tokens":     "they belong to a browser",
	"second_factors":     "secrets of each person",
	"sign_ins":           "each person has their own on their own page",
	"signing_keys":       "whoever has the key can sign in as anybody",
	"webhook_deliveries": "what other programs were told is on the webhooks' page, for a while",
	"webhooks":           "addresses that may let whoever knows them in, and secrets",
}

var (
	inBrackets = regexp.MustCompile(`\([^()]*\)`)
	fromTable  = regexp.MustCompile(`\bFROM\s+([a-z_]+)`)
)

// beginsAt is the table of the database whose rows a query lists: the one
// after FROM that stands in no brackets. "" for a table that is worked out.
func (e export) beginsAt() string {
	query := e.query
	for rest := ""; rest != query; {
		rest, query = query, inBrackets.ReplaceAllString(query, "")
	}
	if from := fromTable.FindStringSubmatch(query); from != nil {
		return from[1]
	}
	return ""
}

// ExportDecisions says for each table of the database in which table it can be
// taken out, or why it can't.
func ExportDecisions() (told, left map[string]string) {
	told = maps.Clone(toldBeside)
	for _, e := range slices.Concat(designExports(), studioExports()) {
		if from := e.beginsAt(); from != "" && told[from] == "" {
			told[from] = e.Name
		}
	}
	return told, notTold
}
