package models

// Whatever the database has is in an archive, by the schema itself, but for
// what is listed here.

// keptOut are the tables that stay out, and why. An archive is opened on
// another server: nobody is signed in there, and it must not speak in this
// one's name.
var keptOut = map[string]string{
	"goose_db_version":   "the level of the schema is in the manifest",
	"signing_keys":       "whoever has the key can sign in as anybody; a server makes its own",
	"sign_ins":           "they belong to a browser and this server",
	"half_sign_ins":      "they wait for a code, here",
	"second_factors":     "they are locked with a key of this server's",
	"recovery_codes":     "they stand in for a second step, which stays here",
	"refresh_tokens":     "sign-ins belong to a browser and this server",
	"idempotency_keys":   "they answer requests that are repeated within a week, to this server",
	"letters":            "they wait to be sent by this server, with secrets in their links",
	"webhooks":           "their secrets are shared with other programs, which two servers would tell everything twice",
	"webhook_deliveries": "what is still to be told is told by this server",
}

// passwordColumn goes out only where the archive is asked for on the server's
// own machine.
const passwordColumn = "people.password_hash"

// archived are the tables that were looked at and belong into an archive. A
// new one goes in by itself; the test that compares this list with the schema
// asks somebody to decide.
var archived = []string{
	"application_body", "application_sizes", "applications", "assignments", "body_measurements", "body_table_cells", "body_tables", "calendar_links",
	"caution_acknowledgements", "check_ins", "confidentiality_texts", "consents", "correction_sizes", "corrections", "count_values", "counts", "design_features", "design_states", "designs",
	"estimates", "events", "extensions", "feature_lists", "finding_decisions", "gate_overrides", "installments", "intended_measurements", "invitations", "letter_refusals", "measure_requests",
	"measurements", "people", "person_away", "person_roles", "person_work", "photo_files", "photos", "points", "release_ticks", "remarks", "reports", "rules", "sample_measurements", "sample_moves",
	"samples", "shot_numbers", "shot_tails", "shots", "sign_off_answers", "sign_offs", "sign_ups", "sizes", "slips", "slots", "stated_yarns", "studio",
	"take_numbers", "take_shots", "takes", "test_calls", "told", "versions", "yarn_plans",
}

// secretColumns are those of archived tables whose names sound like secrets,
// and why they may go out.
var secretColumns = map[string]string{
	passwordColumn:               "people keep their passwords; argon2id, and only from the server's own machine",
	"invitations.token_hash":     "a hash; links that were handed out still work",
	"calendar_links.token_hash":  "a hash; calendars still work",
	"sign_ups.token":             "the designer reads it on the call's page; links that were published still work",
	"confidentiality_texts.hash": "of a text that stands beside it",
	"versions.sealed_hash":       "of counts that stand beside it",
	"photos.sent_hash":           "of a file that the studio has",
	"photo_files.hash":           "of the file, which is in the archive",
	"corrections.finding_key":    "no secret: what a finding is known by",
	"finding_decisions.key":      "no secret: what a finding is known by",
}

// ArchiveDecisions are the lists above, for the test that holds them against
// the schema.
func ArchiveDecisions() (in []string, out map[string]string, columns map[string]string) {
	return archived, keptOut, secretColumns
}
