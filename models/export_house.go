package models

// houseExports are who works when, and what the studio told whom. Letters are
// without their words and links, links without what opens them.
var houseExports = []export{
	{TableInfo: TableInfo{Name: "studio", Says: "The studio's own settings."}, query: `SELECT s.name AS "Studio", s.zone AS "Time zone", s.lead_days AS "Lead days", s.forget_after_months AS "Forget after (months)", s.letters_by_itself AS "Letters that go by themselves",
		s.letters_keep_days AS "Keep letters (days)", ` + yes("s.staff_second_step") + ` AS "Staff need a second step", ` + yes("s.demo") + ` AS "Invented" FROM studio s`},
	{TableInfo: TableInfo{Name: "working-days", Says: "On which days the studio's people work, and how much."}, query: `SELECT h.handle AS "Handle", w.days AS "Days", w.hours_per_day AS "Hours a day", w.stitches_per_hour AS "Stitches an hour"
		FROM person_work w JOIN people h ON h.id = w.person_id ORDER BY lower(h.handle)`},
	{TableInfo: TableInfo{Name: "days-away", Says: "When the studio's people are away."}, query: `SELECT h.handle AS "Handle", w.from_on AS "From", w.until_on AS "Until" FROM person_away w JOIN people h ON h.id = w.person_id ORDER BY lower(h.handle), w.from_on`},
	{TableInfo: TableInfo{Name: "letters", Says: "The letters to testers and how far each is, without their words.", Designer: true}, query: `SELECT h.handle AS "To", l.kind AS "Kind", d.slug AS "Design", c.title AS "Call", l.subject AS "Subject", l.state AS "State",
		l.tries AS "Tries", l.said AS "The mail server said", l.created_at AS "Written", l.next_try_at AS "Next try", l.give_up_at AS "Given up at", l.ended_at AS "Ended", l.erased_at AS "Words erased"
		FROM letters l JOIN people h ON h.id = l.person_id LEFT JOIN designs d ON d.id = l.design_id LEFT JOIN test_calls c ON c.id = l.test_call_id ORDER BY l.created_at, l.id`},
	{TableInfo: TableInfo{Name: "letter-refusals", Says: "Who wants no letters of which kind.", Designer: true}, query: `SELECT h.handle AS "Handle", r.letter_group AS "Kind", r.refused_at AS "Since" FROM letter_refusals r JOIN people h ON h.id = r.person_id ORDER BY lower(h.handle), r.letter_group`},
	{TableInfo: TableInfo{Name: "invitations", Says: "The links by which people come in, without the links.", Designer: true}, query: `SELECT h.handle AS "For", b.handle AS "Made by", i.created_at AS "Made", i.expires_at AS "Ends", i.used_at AS "Used", i.revoked_at AS "Revoked"
		FROM invitations i JOIN people h ON h.id = i.person_id LEFT JOIN people b ON b.id = i.created_by ORDER BY i.created_at, i.id`},
}

// wordExports are words that go with a design and are read beside another table.
var wordExports = []export{
	{TableInfo: TableInfo{Name: "features", Says: "What the piece has that asks for a caution, as the designer told it."}, query: `SELECT f.feature AS "Feature", h.handle AS "Told by", l.told_at AS "Told"
		FROM feature_lists l LEFT JOIN design_features f ON f.design_id = l.design_id LEFT JOIN people h ON h.id = l.told_by WHERE l.design_id = ? ORDER BY f.feature`},
	{TableInfo: TableInfo{Name: "yarn-plan", Says: "What a ball holds and how many makers the stated yarn should last for."}, query: `SELECT y.length_value AS "Ball", y.length_unit AS "Ball in", y.weight_value AS "Weight", y.weight_unit AS "Weight in", y.share AS "Share of makers", y.stitches AS "Stitches"
		FROM yarn_plans y WHERE y.design_id = ?`},
	{TableInfo: TableInfo{Name: "stated-yarn", Says: "How much yarn the text states for each size."}, query: `SELECT z.name AS "Size", y.value AS "Stated", y.unit AS "Unit", y.metres AS "Metres" FROM stated_yarns y JOIN sizes z ON z.id = y.size_id WHERE y.design_id = ? ORDER BY z.position`},
	{TableInfo: TableInfo{Name: "sign-off-answers", Says: "What was open when a version was signed, and the answer to each."}, query: `SELECT v.number AS "Version", o.signed_at AS "Signed", a.position AS "Place", a.kind AS "Kind", a.name AS "About", a.size AS "Size", a.message AS "Says", a.answer AS "Answer"
		FROM sign_off_answers a JOIN sign_offs o ON o.id = a.sign_off_id JOIN versions v ON v.id = o.version_id WHERE o.design_id = ? ORDER BY o.id, a.position`},
	{TableInfo: TableInfo{Name: "correction-sizes", Says: "Which sizes each correction is about."}, query: `SELECT k.number AS "Correction", z.name AS "Size" FROM correction_sizes x JOIN corrections k ON k.id = x.correction_id JOIN sizes z ON z.id = x.size_id WHERE k.design_id = ? ORDER BY k.number, z.position`},
	{TableInfo: TableInfo{Name: "decisions", Says: "What was decided about findings, those that are no longer found too."}, query: `SELECT f.kind AS "Kind", f.message AS "Finding", f.choice AS "Decided", f.reason AS "Why", h.handle AS "By", f.decided_at AS "At" FROM finding_decisions f LEFT JOIN people h ON h.id = f.decided_by WHERE f.design_id = ? ORDER BY f.decided_at, f.key`},
	{TableInfo: TableInfo{Name: "confidentiality", Says: "The wordings of confidentiality of each call."}, query: `SELECT c.title AS "Call", t.number AS "Wording", t.created_at AS "Written", t.body AS "Text"
		FROM confidentiality_texts t JOIN test_calls c ON c.id = t.test_call_id WHERE c.design_id = ? ORDER BY c.id, t.number`},
	{TableInfo: TableInfo{Name: "sign-ups", Says: "The pages on which people offer to test, without their links.", Designer: true}, query: `SELECT c.title AS "Call", u.closes_on AS "Closes on", u.introduction AS "Introduction", u.created_at AS "Opened", u.revoked_at AS "Shut"
		FROM sign_ups u JOIN test_calls c ON c.id = u.test_call_id WHERE c.design_id = ? ORDER BY c.id`},
	{TableInfo: TableInfo{Name: "told", Says: "What testers were reminded of, and when.", Designer: true}, query: `SELECT c.title AS "Call", h.handle AS "Handle", t.kind AS "Kind", t.about AS "About", t.told_at AS "Told"
		FROM told t JOIN test_calls c ON c.id = t.test_call_id JOIN people h ON h.id = t.person_id WHERE c.design_id = ? ORDER BY t.told_at, t.id`},
}
