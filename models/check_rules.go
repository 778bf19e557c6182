package models

// entered is the rule by which what was typed and what is computed with agree:
// an inch is exactly 2.54 cm. A millionth is left for rounding.
func entered(table, id, value, unit, cm string) standingRule {
	return standingRule{"a length in cm is what was entered, in " + table,
		`SELECT ` + id + ` FROM ` + table + ` WHERE abs(` + cm + ` - ` + value + ` * CASE ` + unit + ` WHEN 'in' THEN 2.54 ELSE 1 END) > 0.000001 * (1 + abs(` + cm + `)) ORDER BY 1`}
}

// sameDesign is the rule by which what a row names belongs to its own design.
func sameDesign(what, from string) standingRule {
	return standingRule{what, `SELECT DISTINCT ` + from + ` ORDER BY 1`}
}

// standingRules hold at every moment between two changes. Each query returns
// the ids of what breaks its rule, in words that both databases take.
var standingRules = []standingRule{
	{"there is one studio at most", `SELECT CAST(count(*) AS TEXT) FROM studio HAVING count(*) > 1`},
	{"somebody who can sign in has a role", `SELECT id FROM people p WHERE forgotten_at IS NULL
		AND NOT EXISTS (SELECT 1 FROM person_roles r WHERE r.person_id = p.id) ORDER BY 1`},
	{"two people have different handles", `SELECT min(id) FROM people GROUP BY lower(handle) HAVING count(*) > 1 ORDER BY 1`},
	{"who was forgotten has no name, address or password left", `SELECT id FROM people WHERE forgotten_at IS NOT NULL
		AND (email IS NOT NULL OR password_hash IS NOT NULL OR disabled_at IS NULL OR name <> '` + forgottenName + `') ORDER BY 1`},

	{"a tester's report has exactly one current sending", `SELECT assignment_id FROM reports GROUP BY assignment_id
		HAVING sum(CASE WHEN superseded_at IS NULL THEN 1 ELSE 0 END) <> 1 ORDER BY 1`},
	{"the current sending is the one with the highest number, and none is missing", `SELECT assignment_id FROM reports GROUP BY assignment_id
		HAVING max(number) <> count(*) OR max(CASE WHEN superseded_at IS NULL THEN number ELSE 0 END) <> max(number) ORDER BY 1`},
	{"a tester makes one size in a call", `SELECT min(id) FROM assignments WHERE withdrawn_at IS NULL
		GROUP BY test_call_id, person_id HAVING count(*) > 1 ORDER BY 1`},
	{"a version that somebody makes was given out", `SELECT DISTINCT v.id FROM versions v JOIN assignments a ON a.version_id = v.id WHERE v.given_out_at IS NULL ORDER BY 1`},
	{"the count sheet of a version is not changed after it was given out", `SELECT e.id FROM events e JOIN versions v ON v.id = e.entity_id
		WHERE e.entity = 'count sheet' AND e.at > v.given_out_at ORDER BY 1`},
	{"versions are numbered from 1 without a gap", `SELECT design_id FROM versions GROUP BY design_id HAVING min(number) <> 1 OR max(number) <> count(*) ORDER BY 1`},
	{"one sign-off of a version stands at a time", `SELECT min(id) FROM sign_offs WHERE withdrawn_at IS NULL GROUP BY version_id HAVING count(*) > 1 ORDER BY 1`},
	{"an applicant has finished no more tests than they took on", `SELECT id FROM applications WHERE finished > accepted OR finished < 0 ORDER BY 1`},

	{"a letter that waits has what its links are made of, and one that has ended has nothing of it", `SELECT id FROM letters
		WHERE (state = 'waiting') <> (secret <> '') OR (state = 'waiting') <> (ended_at IS NULL) ORDER BY 1`},
	{"a letter that was sent counts as told", `SELECT l.id FROM letters l WHERE l.state = 'sent' AND l.test_call_id IS NOT NULL AND l.kind <> 'invitation'
		AND NOT EXISTS (SELECT 1 FROM told t WHERE t.test_call_id = l.test_call_id AND t.person_id = l.person_id AND t.kind = l.kind AND t.about = l.about) ORDER BY 1`},

	sameDesign("a tester's call is of the design that they test", `a.id FROM assignments a JOIN test_calls c ON c.id = a.test_call_id WHERE c.design_id <> a.design_id`),
	sameDesign("a tester's size is of the design that they test", `a.id FROM assignments a JOIN sizes z ON z.id = a.size_id WHERE z.design_id <> a.design_id`),
	sameDesign("a tester's version is of the design that they test", `a.id FROM assignments a JOIN versions v ON v.id = a.version_id WHERE v.design_id <> a.design_id`),
	sameDesign("the places of a call are of its design's sizes", `c.id FROM slots s JOIN test_calls c ON c.id = s.test_call_id JOIN sizes z ON z.id = s.size_id WHERE z.design_id <> c.design_id`),
	sameDesign("a report measures points of its design", `r.id FROM measurements m JOIN reports r ON r.id = m.report_id JOIN assignments a ON a.id = r.assignment_id
		JOIN points p ON p.id = m.point_id WHERE p.design_id <> a.design_id`),
	sameDesign("a sample's size is of its design", `s.id FROM samples s JOIN sizes z ON z.id = s.size_id WHERE z.design_id <> s.design_id`),
	sameDesign("a sample is worked through an installment of its design", `s.id FROM samples s JOIN installments i ON i.id = s.worked_through WHERE i.design_id <> s.design_id`),
	sameDesign("a take shows a sample of its design", `k.id FROM takes k JOIN installments i ON i.id = k.installment_id JOIN samples s ON s.id = k.sample_id WHERE s.design_id <> i.design_id`),
	sameDesign("a remark is about a version of its design", `m.id FROM remarks m JOIN versions v ON v.id = m.version_id WHERE v.design_id <> m.design_id`),

	sameDesign("a gate opened by hand is of an installment of its design", `o.id FROM gate_overrides o JOIN installments i ON i.id = o.installment_id WHERE i.design_id <> o.design_id`),
	sameDesign("a tick is of an installment of its design", `k.id FROM release_ticks k JOIN installments i ON i.id = k.installment_id WHERE i.design_id <> k.design_id`),
	{"the version that goes out is one of the design's", `SELECT d.id FROM designs d WHERE d.out_version IS NOT NULL
		AND NOT EXISTS (SELECT 1 FROM versions v WHERE v.design_id = d.id AND v.number = d.out_version) ORDER BY 1`},
	sameDesign("a correction is about versions of its design", `c.id FROM corrections c JOIN versions v ON v.id = c.since_version OR v.id = c.mended_version WHERE v.design_id <> c.design_id`),
	sameDesign("a correction is for sizes of its design", `c.id FROM corrections c JOIN correction_sizes k ON k.correction_id = c.id JOIN sizes z ON z.id = k.size_id WHERE z.design_id <> c.design_id`),
	{"a correction is mended in a later version than the first one at fault", `SELECT c.id FROM corrections c JOIN versions s ON s.id = c.since_version
		JOIN versions m ON m.id = c.mended_version WHERE m.number <= s.number ORDER BY 1`},

	{"a sample is worked to a state that there is", `SELECT id FROM samples s WHERE state_id IS NOT NULL
		AND NOT EXISTS (SELECT 1 FROM design_states d WHERE d.id = s.state_id AND d.design_id = s.design_id) ORDER BY 1`},
	{"a photo that is there has a picture in each size, and one that was removed has none", `SELECT p.id FROM photos p LEFT JOIN photo_files f ON f.photo_id = p.id
		GROUP BY p.id, p.removed_at HAVING count(f.size) <> CASE WHEN p.removed_at IS NULL THEN 3 ELSE 0 END ORDER BY 1`},
	{"an event's design is there", `SELECT e.id FROM events e WHERE e.design_id IS NOT NULL AND NOT EXISTS (SELECT 1 FROM designs d WHERE d.id = e.design_id) ORDER BY 1`},
	{"an event's actor is there", `SELECT e.id FROM events e WHERE e.actor_id IS NOT NULL AND NOT EXISTS (SELECT 1 FROM people p WHERE p.id = e.actor_id) ORDER BY 1`},

	entered("measurements", "report_id", "value", "unit", "cm"),
	entered("sample_measurements", "sample_id", "value", "unit", "cm"),
	entered("body_measurements", "size_id", "value", "unit", "cm"),
	entered("intended_measurements", "point_id", "value", "unit", "cm"),
	entered("points", "id", "tolerance_value", "tolerance_unit", "tolerance_cm"),
	entered("body_table_cells", "table_id", "value", "unit", "cm"),
	entered("application_body", "application_id", "value", "unit", "cm"),
}
