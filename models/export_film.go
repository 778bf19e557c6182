package models

// filmExports are what is said and shown in a design's installments, shot by
// shot, and the photos of its pieces.
var filmExports = []export{
	{TableInfo: TableInfo{Name: "shot-numbers", Says: "The counts that are said in each shot."}, query: `SELECT i.title AS "Installment", s.position AS "Shot place", s.title AS "Shot", n.position AS "Place", n.count_name AS "Count", n.words AS "Words"
		FROM shot_numbers n JOIN shots s ON s.id = n.shot_id JOIN installments i ON i.id = s.installment_id WHERE i.design_id = ? ORDER BY i.position, s.position, n.position`},
	{TableInfo: TableInfo{Name: "shot-tails", Says: "The seams of each shot for which a tail of yarn is left."}, query: `SELECT i.title AS "Installment", s.position AS "Shot place", s.title AS "Shot", n.position AS "Place", n.seam AS "Seam", n.value AS "Length", n.unit AS "Unit", n.cm AS "cm"
		FROM shot_tails n JOIN shots s ON s.id = n.shot_id JOIN installments i ON i.id = s.installment_id WHERE i.design_id = ? ORDER BY i.position, s.position, n.position`},
	{TableInfo: TableInfo{Name: "take-shots", Says: "Which shots each take shows, from where to where, and whether they were accepted."}, query: `SELECT i.title AS "Installment", k.number AS "Take", s.position AS "Shot place", s.title AS "Shot", x.at_ms AS "From (ms)", x.until_ms AS "Until (ms)",
		x.accepted_at AS "Accepted" FROM take_shots x JOIN takes k ON k.id = x.take_id JOIN shots s ON s.id = x.shot_id JOIN installments i ON i.id = k.installment_id WHERE i.design_id = ? ORDER BY i.position, k.number, s.position`},
	{TableInfo: TableInfo{Name: "take-numbers", Says: "The numbers that were said in each take."}, query: `SELECT i.title AS "Installment", k.number AS "Take", s.position AS "Shot place", s.title AS "Shot", n.count_name AS "Count", n.said AS "Said"
		FROM take_numbers n JOIN takes k ON k.id = n.take_id JOIN shots s ON s.id = n.shot_id JOIN installments i ON i.id = k.installment_id WHERE i.design_id = ? ORDER BY i.position, k.number, s.position, n.count_name`},

	// A tester's photo is theirs alone until there is a report; what was removed
	// has no pictures any more.
	{TableInfo: TableInfo{Name: "photos", Says: "The photos of samples and of testers' reports, one row a picture: whose, what it shows, how large, and the hash of its file; the pictures themselves are in the archive."}, query: `SELECT p.id AS "Photo",
		CASE WHEN s.id IS NULL THEN 'report' ELSE 'sample' END AS "Of", s.label AS "Sample", h.handle AS "Tester", b.handle AS "Added by", p.created_at AS "Added", p.caption AS "Caption",
		f.size AS "Picture", f.width AS "Width", f.height AS "Height", f.bytes AS "Bytes", f.hash AS "SHA-256"
		FROM photos p JOIN photo_files f ON f.photo_id = p.id LEFT JOIN samples s ON s.id = p.sample_id LEFT JOIN assignments a ON a.id = p.assignment_id LEFT JOIN people h ON h.id = a.person_id LEFT JOIN people b ON b.id = p.added_by
		WHERE p.removed_at IS NULL AND (s.design_id = ? OR a.design_id = ? AND EXISTS (SELECT 1 FROM reports r WHERE r.assignment_id = a.id)) ORDER BY p.created_at, p.id, f.bytes`},
}
