package cautions

func sleepRules() []SafetyRule {
	return []SafetyRule{
		{
			ID: "us_sleepwear_0_6x", Jurisdiction: "US", Instrument: "16 CFR 1615",
			Covers: "sleepwear: nightgowns, pyjamas, robes and, in the view of the agency's staff, loungewear", Ages: "sizes 0 to 6X",
			Says:   "Has to pass a flame test, unless it is an infant garment or tight-fitting.",
			Exempt: "Diapers and underwear.",
			Source: "16 CFR 1615.1; a letter of the US Consumer Product Safety Commission on loungewear",
		},
		{
			ID: "us_sleepwear_7_14", Jurisdiction: "US", Instrument: "16 CFR 1616",
			Covers: "sleepwear", Ages: "sizes 7 to 14",
			Says:   "As part 1615, without the exception for infant garments.",
			Source: "16 CFR 1616.2",
		},
		{
			ID: "us_sleepwear_infant", Jurisdiction: "US", Instrument: "16 CFR 1615.1(c)",
			Covers: "infant garments, an exception from the flame test of part 1615", Ages: "sizes for 9 months or smaller",
			Says:    "One piece up to 64.8 cm (25.75 in) long, or two pieces of which none is longer than 40 cm (15.75 in). It still has to meet 16 CFR 1610, and its label gives the size in months.",
			Figures: []RuleFigure{{"one piece, length up to", 64.8, "cm"}, {"one piece, length up to", 25.75, "in"}, {"two pieces, each up to", 40, "cm"}, {"two pieces, each up to", 15.75, "in"}},
			Source:  "US Consumer Product Safety Commission, questions on infant and tight-fitting garments",
		},
		{
			ID: "us_sleepwear_tight", Jurisdiction: "US", Instrument: "16 CFR 1615.1(o), 1616.2(m)",
			Covers: "tight-fitting sleepwear, an exception from the flame test", Ages: "over 9 months to size 14",
			Says:   "Must not exceed the listed measurements at chest, waist, seat, upper arm, thigh, wrist and ankle, and carries labels. A hand-knit robe or a loose gown is not tight-fitting. The list of measurements is not kept here.",
			Source: "US Consumer Product Safety Commission, questions on infant and tight-fitting garments",
		},
		{
			ID: "uk_nightwear", Jurisdiction: "UK", Instrument: "Nightwear (Safety) Regulations 1985",
			Covers: "children's nightdresses, dressing gowns and the like; other nightwear of children and babies",
			Says:   "The former have to pass a flammability test; the latter carries a statement on flammability.",
			Source: "the regulations", FromMemory: true,
		},
		{
			ID: "safe_sleep", Jurisdiction: "US (American Academy of Pediatrics, 2022); similar elsewhere",
			Covers: "where a baby sleeps", Ages: "under 12 months",
			Says:    "No hat or head covering indoors on a sleeping baby, but for the first hours of life or in intensive care; no loose blankets, pillows, soft toys or bumpers; nothing weighted on or near the baby; on the back, on a firm flat surface that inclines by no more than 10 degrees; not too warm.",
			Figures: []RuleFigure{{"incline up to", 10, "degrees"}},
			Source:  "the recommendations of 2022 as reported in the press and by hospitals",
			ages:    span{0, year - 1},
		},
		{
			ID: "pacifier_cord", Jurisdiction: "US and EU", Instrument: "EN 12586",
			Covers:  "soother holders",
			Says:    "No soother tied to clothing or hung round the neck during sleep; EN 12586 limits a holder's length to 220 mm (that figure from memory).",
			Figures: []RuleFigure{{"holder, length up to", 220, "mm"}},
			Source:  "the American Academy of Pediatrics as quoted publicly; EN 12586 from memory",
		},
	}
}
