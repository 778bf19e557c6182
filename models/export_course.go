package models

// courseExports are how a test and a release went on, beside what came of them.
var courseExports = []export{
	{TableInfo: TableInfo{Name: "calls", Says: "The test calls and how many are wanted for each size, one row a size."}, query: `SELECT c.title AS "Call", v.number AS "Version", c.opens_on AS "Opens on", c.due_on AS "Due on", c.closed_at AS "Closed",
		z.name AS "Size", s.fewest AS "Fewest", s.wanted AS "Wanted", s.most AS "Most" FROM test_calls c JOIN versions v ON v.id = c.version_id LEFT JOIN slots s ON s.test_call_id = c.id LEFT JOIN sizes z ON z.id = s.size_id
		WHERE c.design_id = ? ORDER BY c.id, z.position`},
	{TableInfo: TableInfo{Name: "check-ins", Says: "How far testers said they were."}, query: `SELECT h.handle AS "Handle", k.at AS "At", k.done AS "Done", k."of" AS "Of", k.section AS "Section", k.note AS "Note"
		FROM check_ins k JOIN assignments a ON a.id = k.assignment_id JOIN people h ON h.id = a.person_id WHERE a.design_id = ? ORDER BY k.id`},
	{TableInfo: TableInfo{Name: "extensions", Says: "More time that testers asked for."}, query: `SELECT h.handle AS "Handle", e.asked_at AS "Asked", e.wanted_on AS "Wanted until", e.why AS "Why", e.answered_at AS "Answered", ` + yes("e.granted") + ` AS "Granted"
		FROM extensions e JOIN assignments a ON a.id = e.assignment_id JOIN people h ON h.id = a.person_id WHERE a.design_id = ? ORDER BY e.id`},
	{TableInfo: TableInfo{Name: "consents", Says: "Who agreed to which wording of confidentiality, and when.", Designer: true}, query: `SELECT c.title AS "Call", h.handle AS "Handle", t.number AS "Wording", k.agreed_at AS "Agreed", t.body AS "Text"
		FROM consents k JOIN confidentiality_texts t ON t.id = k.text_id JOIN test_calls c ON c.id = t.test_call_id JOIN people h ON h.id = k.person_id WHERE c.design_id = ? ORDER BY k.agreed_at, h.handle`},
	{TableInfo: TableInfo{Name: "measure-requests", Says: "What testers were asked to measure again."}, query: `SELECT h.handle AS "Handle", p.name AS "Point", q.why AS "Why", q.asked_at AS "Asked", q.was_value AS "Was", q.was_unit AS "Was in", q.answered_at AS "Answered",
		q.now_value AS "Is now", q.now_unit AS "Now in", q.withdrawn_at AS "Withdrawn" FROM measure_requests q JOIN assignments a ON a.id = q.assignment_id JOIN people h ON h.id = a.person_id LEFT JOIN points p ON p.id = q.point_id
		WHERE q.design_id = ? ORDER BY q.id`},
	{TableInfo: TableInfo{Name: "sign-offs", Says: "The tech editor's word on each version."}, query: `SELECT v.number AS "Version", h.handle AS "By", o.signed_at AS "Signed", o.note AS "Note", o.withdrawn_at AS "Withdrawn", o.withdrawn_why AS "Why"
		FROM sign_offs o JOIN versions v ON v.id = o.version_id LEFT JOIN people h ON h.id = o.signed_by WHERE o.design_id = ? ORDER BY o.id`},
	{TableInfo: TableInfo{Name: "cautions", Says: "The cautions that were read, by whom and when."}, query: `SELECT k.caution AS "Caution", k.statement AS "Statement", k.note AS "Note", h.handle AS "By", k.acknowledged_at AS "Read", k.taken_back_at AS "Taken back"
		FROM caution_acknowledgements k LEFT JOIN people h ON h.id = k.acknowledged_by WHERE k.design_id = ? ORDER BY k.id`},
	{TableInfo: TableInfo{Name: "states", Says: "The points of the text that are worked to and shown."}, query: `SELECT i.title AS "Installment", d.position AS "Place", d.name AS "State", d.stitches AS "Stitches", d.hours AS "Hours"
		FROM design_states d JOIN installments i ON i.id = d.installment_id WHERE d.design_id = ? ORDER BY i.position, d.position`},
	{TableInfo: TableInfo{Name: "estimates", Says: "What the designer says that work takes."}, query: `SELECT e.kind AS "Kind", e.low AS "Low", e.likely AS "Likely", e.high AS "High" FROM estimates e WHERE e.design_id = ? ORDER BY e.kind`},
	{TableInfo: TableInfo{Name: "opened-gates", Says: "Gates that the designer opened by hand, and why."}, query: `SELECT g.gate AS "Gate", i.title AS "Installment", g.why AS "Was shut because", g.reason AS "Opened because", h.handle AS "By", g.opened_at AS "Opened", g.taken_back_at AS "Taken back", t.handle AS "Taken back by"
		FROM gate_overrides g LEFT JOIN installments i ON i.id = g.installment_id LEFT JOIN people h ON h.id = g.opened_by LEFT JOIN people t ON t.id = g.taken_back_by WHERE g.design_id = ? ORDER BY g.id`},
	{TableInfo: TableInfo{Name: "release-ticks", Says: "What was ticked on the days on which something went out."}, query: `SELECT i.title AS "Installment", r.item AS "What", r.version AS "Version", h.handle AS "By", r.ticked_at AS "Ticked", r.taken_back_at AS "Taken back", t.handle AS "Taken back by"
		FROM release_ticks r LEFT JOIN installments i ON i.id = r.installment_id LEFT JOIN people h ON h.id = r.ticked_by LEFT JOIN people t ON t.id = r.taken_back_by WHERE r.design_id = ? ORDER BY r.id`},
}
