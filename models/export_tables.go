package models

import "slices"

// yes says a truth in words, on both databases.
func yes(condition string) string { return "CASE WHEN " + condition + " THEN 'yes' ELSE 'no' END" }

// designExports are the tables of a design.
func designExports() []export {
	return slices.Concat(countedExports(), rowExports, courseExports, filmExports, wordExports, computedExports())
}

// rowExports are those that are rows of the database as they stand.
var rowExports = []export{
	{TableInfo: TableInfo{Name: "versions", Says: "The versions of the counts."}, query: `SELECT v.number AS "Version", v.note AS "Note", v.created_at AS "Made", v.given_out_at AS "Given out"
		FROM versions v WHERE v.design_id = ? ORDER BY v.number`},
	{TableInfo: TableInfo{Name: "sizes", Says: "The sizes with their body measurements, one row a measurement."}, query: `SELECT z.position AS "Place", z.name AS "Size", ` + yes("z.filmed") + ` AS "Filmed",
		b.dimension AS "Body", b.value AS "Value", b.unit AS "Unit", b.cm AS "cm" FROM sizes z LEFT JOIN body_measurements b ON b.size_id = z.id WHERE z.design_id = ? ORDER BY z.position, b.dimension`},
	{TableInfo: TableInfo{Name: "points", Says: "The points of measure."}, query: `SELECT p.position AS "Place", p.name AS "Point", p.axis AS "Axis", p.expr AS "Counts", p.add_value AS "Added", p.add_unit AS "Added unit",
		p.tolerance_value AS "Tolerance", p.tolerance_unit AS "Tolerance unit", p.repeat AS "Repeat", ` + yes("p.girth") + ` AS "Girth", p.how_to_measure AS "How to measure", p.body_dimension AS "Body",
		p.ease_low_cm AS "Ease from (cm)", p.ease_high_cm AS "Ease to (cm)" FROM points p WHERE p.design_id = ? ORDER BY p.position`},
	{TableInfo: TableInfo{Name: "intended", Says: "What each size is intended to measure, one row a point and size."}, query: `SELECT p.name AS "Point", z.name AS "Size", m.value AS "Intended", m.unit AS "Unit", m.cm AS "cm"
		FROM intended_measurements m JOIN points p ON p.id = m.point_id JOIN sizes z ON z.id = m.size_id WHERE p.design_id = ? ORDER BY p.position, z.position`},
	{TableInfo: TableInfo{Name: "rules", Says: "The rules that the counts keep, of every version."}, query: `SELECT v.number AS "Version", r.name AS "Rule", r.kind AS "Kind", r.expr AS "Statement", r.multiple_of AS "Multiple of", r.plus AS "Plus"
		FROM rules r JOIN versions v ON v.id = r.version_id WHERE v.design_id = ? ORDER BY v.number, r.position`},

	{TableInfo: TableInfo{Name: "samples", Says: "The samples, how far each is and who holds it."}, query: `SELECT s.label AS "Sample", z.name AS "Size", v.number AS "Version", s.purpose AS "Purpose", i.title AS "Worked through", s.worked_note AS "Further",
		h.handle AS "Held by", s.held_note AS "Held where", s.before_stitches AS "Stitches before washing", s.before_rows AS "Rows before washing", s.before_span AS "Over before", s.before_unit AS "Unit before",
		s.after_stitches AS "Stitches after washing", s.after_rows AS "Rows after washing", s.after_span AS "Over after", s.after_unit AS "Unit after", s.yarn_value AS "Yarn used", s.yarn_unit AS "Yarn unit",
		s.created_at AS "Added", s.retired_at AS "Retired" FROM samples s JOIN sizes z ON z.id = s.size_id LEFT JOIN versions v ON v.id = s.version_id LEFT JOIN installments i ON i.id = s.worked_through
		LEFT JOIN people h ON h.id = s.held_by WHERE s.design_id = ? ORDER BY s.created_at, s.id`},
	{TableInfo: TableInfo{Name: "sample-moves", Says: "Each move of a sample: how far it was worked, by whom, and to whom it went."}, query: `SELECT s.label AS "Sample", m.at AS "At", b.handle AS "By", i.title AS "Worked through",
		m.worked_note AS "Further", h.handle AS "Held by", m.held_note AS "Held where", ` + yes("m.ripped_back") + ` AS "Ripped back", m.hours AS "Hours", m.stitches AS "Stitches", m.note AS "Note"
		FROM sample_moves m JOIN samples s ON s.id = m.sample_id LEFT JOIN people b ON b.id = m.by_person LEFT JOIN people h ON h.id = m.held_by LEFT JOIN installments i ON i.id = m.worked_through
		WHERE s.design_id = ? ORDER BY m.id`},
	{TableInfo: TableInfo{Name: "sample-measurements", Says: "What the samples measure, one row a point."}, query: `SELECT s.label AS "Sample", z.name AS "Size", p.name AS "Point", m.value AS "Measured", m.unit AS "Unit", m.cm AS "cm"
		FROM sample_measurements m JOIN samples s ON s.id = m.sample_id JOIN sizes z ON z.id = s.size_id JOIN points p ON p.id = m.point_id WHERE s.design_id = ? ORDER BY s.created_at, s.id, p.position`},

	{TableInfo: TableInfo{Name: "bodies", Says: "Applicants' own body measurements.", Designer: true}, query: `SELECT c.title AS "Call", h.handle AS "Handle", b.dimension AS "Body", b.value AS "Value", b.unit AS "Unit", b.cm AS "cm"
		FROM application_body b JOIN applications a ON a.id = b.application_id JOIN test_calls c ON c.id = a.test_call_id JOIN people h ON h.id = a.person_id WHERE c.design_id = ? ORDER BY c.id, h.handle, b.dimension`},
	{TableInfo: TableInfo{Name: "assignments", Says: "Who makes which size of which version, and how far it is."}, query: `SELECT c.title AS "Call", h.handle AS "Handle", z.name AS "Size", v.number AS "Version", a.assigned_at AS "Assigned",
		a.answer_by AS "Answer by", a.accepted_at AS "Accepted", a.due_on AS "Due", a.yarn_sent_on AS "Yarn sent", a.withdrawn_at AS "Withdrawn", a.withdrawn_why AS "Why"
		FROM assignments a JOIN test_calls c ON c.id = a.test_call_id JOIN people h ON h.id = a.person_id JOIN sizes z ON z.id = a.size_id JOIN versions v ON v.id = a.version_id WHERE a.design_id = ? ORDER BY a.id`},
	{TableInfo: TableInfo{Name: "measurements", Says: "What testers measured, one row a reading, earlier reports too."}, query: `SELECT c.title AS "Call", h.handle AS "Handle", z.name AS "Size", v.number AS "Version", r.number AS "Report", r.sent_at AS "Sent",
		` + yes("r.superseded_at IS NULL") + ` AS "Counts now", p.name AS "Point", m.reading AS "Reading", m.value AS "Measured", m.unit AS "Unit", m.cm AS "cm"
		FROM measurements m JOIN reports r ON r.id = m.report_id JOIN assignments a ON a.id = r.assignment_id JOIN test_calls c ON c.id = a.test_call_id JOIN people h ON h.id = a.person_id
		JOIN sizes z ON z.id = a.size_id JOIN versions v ON v.id = a.version_id JOIN points p ON p.id = m.point_id WHERE a.design_id = ? ORDER BY r.sent_at, r.id, p.position, m.reading`},
	{TableInfo: TableInfo{Name: "remarks", Says: "Remarks on the text and their answers."}, query: `SELECT v.number AS "Version", h.handle AS "By", m.created_at AS "At", m.place AS "Place", m.body AS "Remark", m.answer AS "Answer", m.settled_at AS "Settled"
		FROM remarks m JOIN versions v ON v.id = m.version_id LEFT JOIN people h ON h.id = m.person_id WHERE m.design_id = ? ORDER BY m.id`},
	{TableInfo: TableInfo{Name: "corrections", Says: "Corrections of a text that went out."}, query: `SELECT k.number AS "Correction", k.place AS "Place", k.was AS "Was", k.is_now AS "Is now", k.why AS "Why", k.count_name AS "Count",
		v.number AS "Since version", n.number AS "Mended in version", f.handle AS "Found by", k.found_words AS "Found by, in words", k.in_text_at AS "In the text", k.announced_at AS "Announced", k.withdrawn_at AS "Withdrawn", k.withdrawn_why AS "Withdrawn why"
		FROM corrections k JOIN versions v ON v.id = k.since_version LEFT JOIN versions n ON n.id = k.mended_version LEFT JOIN people f ON f.id = k.found_by WHERE k.design_id = ? ORDER BY k.number`},

	{TableInfo: TableInfo{Name: "installments", Says: "The run of installments and how far each is."}, query: `SELECT i.position AS "Place", i.title AS "Installment", i.covers AS "Covers", i.air_on AS "Airs on", i.record_by AS "Record by", i.shoot_on AS "Shoot on",
		i.edited_at AS "Edited", i.captioned_at AS "Captioned", i.scheduled_at AS "Scheduled", i.aired_at AS "Aired", i.link AS "Link" FROM installments i WHERE i.design_id = ? ORDER BY i.position`},
	{TableInfo: TableInfo{Name: "shots", Says: "The shots of each installment and the states they need."}, query: `SELECT i.title AS "Installment", s.position AS "Place", s.title AS "Shot", f.name AS "From", g.name AS "To", s.attached AS "Attached", s.marked AS "Marked",
		s.live AS "Live", s.differs AS "Differs", s.note AS "Note", s.chapter_ms AS "Chapter (ms)" FROM shots s JOIN installments i ON i.id = s.installment_id LEFT JOIN design_states f ON f.id = s.from_state
		LEFT JOIN design_states g ON g.id = s.to_state WHERE i.design_id = ? ORDER BY i.position, s.position`},
	{TableInfo: TableInfo{Name: "takes", Says: "What was recorded."}, query: `SELECT i.title AS "Installment", k.number AS "Take", k.recorded_on AS "Recorded on", k.seconds AS "Seconds", s.label AS "Sample", v.number AS "Version", k.note AS "Note",
		k.accepted_at AS "Accepted", k.set_aside_at AS "Set aside" FROM takes k JOIN installments i ON i.id = k.installment_id LEFT JOIN samples s ON s.id = k.sample_id LEFT JOIN versions v ON v.id = k.version_id
		WHERE i.design_id = ? ORDER BY i.position, k.number`},
	{TableInfo: TableInfo{Name: "slips", Says: "What was said or shown wrong."}, query: `SELECT i.title AS "Installment", k.number AS "Take", x.at_ms AS "At (ms)", x.wrong AS "Wrong", x.should_be AS "Should be", x.remedy AS "Remedy", x.mended_at AS "Mended"
		FROM slips x JOIN takes k ON k.id = x.take_id JOIN installments i ON i.id = k.installment_id WHERE i.design_id = ? ORDER BY i.position, k.number, x.at_ms`},
	{TableInfo: TableInfo{Name: "events", Says: "Who changed what and when."}, query: `SELECT e.at AS "At", h.handle AS "Who", e.entity AS "What", e.action AS "Did", e.entity_id AS "Which", e.before AS "Before", e.after AS "After"
		FROM events e LEFT JOIN people h ON h.id = e.actor_id WHERE e.design_id = ? ORDER BY e.id`},
}

// studioExports belong to no one design.
func studioExports() []export { return slices.Concat(studioRowExports, houseExports) }

// studioRowExports are those of the studio's work.
var studioRowExports = []export{
	{TableInfo: TableInfo{Name: "designs", Says: "The designs."}, query: `SELECT d.name AS "Design", d.slug AS "Address", d.craft AS "Craft", d.audience AS "Audience", d.terms AS "Terms", d.unit AS "Unit", d.gauge_stitches AS "Stitches", d.gauge_rows AS "Rows",
		d.gauge_span AS "Over", d.gauge_unit AS "Over unit", d.yarn AS "Yarn", d.tool AS "Hook or needle", d.tool_mm AS "mm", d.released_on AS "Released on", d.created_at AS "Added", d.archived_at AS "Archived" FROM designs d ORDER BY d.slug`},
	{TableInfo: TableInfo{Name: "people", Says: "Everybody who is or was here, with their addresses.", Designer: true}, query: `SELECT p.handle AS "Handle", p.name AS "Name", p.email AS "E-mail", p.unit AS "Units", p.terms AS "Terms",
		(SELECT count(*) FROM person_roles r WHERE r.person_id = p.id AND r.role = 'designer') AS "Designer", (SELECT count(*) FROM person_roles r WHERE r.person_id = p.id AND r.role = 'tech_editor') AS "Tech editor",
		(SELECT count(*) FROM person_roles r WHERE r.person_id = p.id AND r.role = 'maker') AS "Maker", (SELECT count(*) FROM person_roles r WHERE r.person_id = p.id AND r.role = 'filmer') AS "Filmer",
		(SELECT count(*) FROM person_roles r WHERE r.person_id = p.id AND r.role = 'tester') AS "Tester", p.created_at AS "Added", p.disabled_at AS "No longer here" FROM people p ORDER BY lower(p.handle)`},
	{TableInfo: TableInfo{Name: "body-tables", Says: "The studio's own body tables, one row a measurement."}, query: `SELECT t.name AS "Table", t.source AS "Source", c.size AS "Size", c.dimension AS "Body", c.value AS "Value", c.unit AS "Unit", c.cm AS "cm", t.retired_at AS "Retired"
		FROM body_tables t JOIN body_table_cells c ON c.table_id = t.id ORDER BY t.name, c.size_position, c.dimension_position`},
	{TableInfo: TableInfo{Name: "events", Says: "Every change in the studio.", Designer: true}, query: `SELECT e.at AS "At", h.handle AS "Who", d.slug AS "Design", e.entity AS "What", e.action AS "Did", e.entity_id AS "Which"
		FROM events e LEFT JOIN people h ON h.id = e.actor_id LEFT JOIN designs d ON d.id = e.design_id ORDER BY e.id`},
}
