package models

import "strings"

// usualSections are the sections of the work that a tester checks in by when
// the call names none (common practice).
func usualSections() []string {
	return []string{"swatch", "first half", "second half", "finishing", "washed and measured"}
}

const (
	mostSections   = 20
	longestSection = 80
	mostAnswerDays = 60
)

// SectionNames returns the sections of the work, in the order in which they
// are made.
func (c TestCall) SectionNames() []string {
	var names []string
	for line := range strings.Lines(c.Sections) {
		if name := strings.TrimSpace(line); name != "" {
			names = append(names, name)
		}
	}
	if len(names) == 0 {
		return usualSections()
	}
	return names
}

func (c TestCall) checkCourse(p *problems) {
	p.text("sections", c.Sections, false, longText)
	names := c.SectionNames()
	if len(names) > mostSections {
		p.addf("sections", "has %d sections; keep it to %d, one a line", len(names), mostSections)
	}
	seen := map[string]bool{}
	for _, name := range names {
		if len([]rune(name)) > longestSection {
			p.addf("sections", "has a section of %d characters; keep each to %d", len([]rune(name)), longestSection)
		}
		if seen[strings.ToLower(name)] {
			p.addf("sections", "names %q twice; each section needs its own name", name)
		}
		seen[strings.ToLower(name)] = true
	}
	if c.AnswerDays < 1 || c.AnswerDays > mostAnswerDays {
		p.addf("answer_days", "has to lie between 1 and %d", mostAnswerDays)
	}
	p.text("thanks", c.Thanks, false, longText)
}
