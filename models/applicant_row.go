package models

import (
	"strconv"
	"strings"
	"time"

	"tenter/models/table"
)

// applicantFields are what a table of applicants may tell, with the headers
// that sign-up forms give them.
func applicantFields() []table.Field {
	return []table.Field{
		{Name: "handle", Required: true, Headers: []string{"Handle", "Your handle", "Username", "User name", "Tester"}},
		{Name: "sizes", Required: true, Headers: []string{"Sizes you would make (best first)", "Sizes you would make", "Sizes", "Sizes (best first)", "Preferred sizes", "Size"}},
		{Name: "name", Headers: []string{"Name", "Your name"}},
		{Name: "email", Headers: []string{"E-mail", "E-mail address", "Mail", "Your e-mail"}},
		{Name: "accepted", Headers: []string{"Tests accepted so far", "Tests accepted", "Accepted"}},
		{Name: "finished", Headers: []string{"Tests finished so far", "Tests finished", "Finished"}},
		{Name: "unit", Headers: []string{"Units", "Unit", "cm or in"}},
		{Name: "terms", Headers: []string{"Terms", "Stitch terms", "US or UK terms", "US or UK"}},
		{Name: "remarks", Headers: []string{"Remarks", "Remark", "Notes", "Note", "Comments", "Anything else"}},
		{Name: "applied_at", Headers: []string{"Timestamp", "Applied at", "Applied", "Submitted at"}},
	}
}

// applicantFrom reads one row. Whatever can't be read is a problem of its
// field; zone is where times without a zone are.
func applicantFrom(p *problems, c *table.Columns, row table.Row, sizes []Size, zone *time.Location) Applicant {
	var in Applicant
	in.Handle, _ = c.Cell(row, "handle")
	in.Name, _ = c.Cell(row, "name")
	if email, _ := c.Cell(row, "email"); email != "" {
		in.Email = &email
	}
	if cell, _ := c.Cell(row, "sizes"); cell != "" {
		in.Sizes = sizesFrom(p, cell, sizes)
	}
	in.Accepted = countFrom(p, c, row, "accepted")
	in.Finished = countFrom(p, c, row, "finished")
	in.Unit = wordFrom(p, c, row, "unit", map[string]string{"cm": "cm", "centimetres": "cm", "centimeters": "cm", "metric": "cm",
		"in": "in", "inch": "in", "inches": "in"}, "cm or in")
	in.Terms = wordFrom(p, c, row, "terms", map[string]string{"us": "us", "us terms": "us", "uk": "uk", "uk terms": "uk"}, "US or UK")
	if remarks, told := c.Cell(row, "remarks"); told {
		in.Remarks = &remarks
	}
	if cell, _ := c.Cell(row, "applied_at"); cell != "" {
		in.AppliedAt = momentFrom(p, "applied_at", cell, zone)
	}
	return in
}

func countFrom(p *problems, c *table.Columns, row table.Row, field string) *int {
	cell, _ := c.Cell(row, field)
	if cell == "" {
		return nil
	}
	n, err := strconv.Atoi(cell)
	if err != nil {
		p.addf(field, "is %q; write a whole number, like 3", clip(cell))
		return nil
	}
	return &n
}

func wordFrom(p *problems, c *table.Columns, row table.Row, field string, words map[string]string, allowed string) string {
	cell, _ := c.Cell(row, field)
	if cell == "" {
		return ""
	}
	word, ok := words[strings.ToLower(cell)]
	if !ok {
		p.addf(field, "is %q; write %s, or leave it empty", clip(cell), allowed)
	}
	return word
}

// momentFrom reads a time the way forms write it, year first. A day that could
// be a month is not guessed.
func momentFrom(p *problems, field, cell string, zone *time.Location) *time.Time {
	for _, layout := range []string{time.RFC3339, "2006-01-02 15:04:05", "2006-01-02 15:04", "2006-01-02T15:04:05", "2006-01-02T15:04",
		"2006/01/02 15:04:05", "2006/01/02 15:04", "2006-01-02"} {
		at, err := time.ParseInLocation(layout, cell, zone)
		if err == nil {
			return &at
		}
	}
	p.addf(field, "is %q; write it like 2027-02-01 08:00, or leave the column out", clip(cell))
	return nil
}

// sizesFrom reads the sizes of one cell, the best first: separated by " / ",
// commas, semicolons or line breaks, each by its name in any case. A slash may
// be part of a name, like S/M.
func sizesFrom(p *problems, cell string, sizes []Size) []string {
	byName := make(map[string]string, len(sizes))
	for _, z := range sizes {
		byName[sizeKey(z.Name)] = z.ID
	}
	if id, ok := byName[sizeKey(cell)]; ok {
		return []string{id}
	}
	var ids []string
	for _, part := range strings.FieldsFunc(strings.ReplaceAll(cell, " / ", "\n"), func(r rune) bool { return strings.ContainsRune(",;\n\r", r) }) {
		names := []string{part}
		if _, whole := byName[sizeKey(part)]; !whole {
			names = strings.Split(part, "/")
		}
		for _, name := range names {
			id, ok := byName[sizeKey(name)]
			switch {
			case strings.TrimSpace(name) == "":
			case !ok:
				p.addf("sizes", "names size %q, which this design doesn't have; its sizes are %s", clip(strings.TrimSpace(name)), sizeNames(sizes))
			default:
				ids = append(ids, id)
			}
		}
	}
	return ids
}

func sizeKey(name string) string { return strings.ToLower(strings.Join(strings.Fields(name), "")) }

func sizeNames(sizes []Size) string {
	names := make([]string, len(sizes))
	for i, z := range sizes {
		names[i] = z.Name
	}
	return strings.Join(names, ", ")
}
