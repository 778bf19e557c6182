package cautions

func otherRules() []SafetyRule {
	return []SafetyRule{
		{
			ID: "us_general_flammability", Jurisdiction: "US", Instrument: "16 CFR 1610",
			Covers:  "all clothing textiles, of adults and children",
			Says:    "A fabric of class 3, which burns rapidly and intensely, may not be used. A raised surface, brushed or fuzzy, in cotton, rayon or silk has to be tested.",
			Exempt:  "Plain surfaces of 2.6 oz/yd² (88.2 g/m²) or more, and fabrics wholly of acrylic, modacrylic, nylon, olefin, polyester or wool, need no test (from memory).",
			Figures: []RuleFigure{{"plain surface without a test, from", 2.6, "oz/yd²"}, {"plain surface without a test, from", 88.2, "g/m²"}},
			Source:  "classes: Federal Register 2008-03-25; exemptions from memory",
		},
		{
			ID: "maker_duty", Jurisdiction: "US", Instrument: "Consumer Product Safety Improvement Act (CPSIA)",
			Covers: "whoever makes and sells products for children of 12 and under", Ages: "12 years and under",
			Says:    "May need tests, a certificate and a tracking label. Lead: 100 ppm in materials, 90 ppm in paint, with exemptions for many textiles.",
			Figures: []RuleFigure{{"lead in materials, up to", 100, "ppm"}, {"lead in paint, up to", 90, "ppm"}},
			Source:  "the act", FromMemory: true,
		},
	}
}
