package cautions

// Ages in months. Sizes are read generously: US 2T begins at about 18 months,
// size 12 ends with the twelfth year, size 16 with the sixteenth.
const (
	year        = 12
	lastOf14    = 15*year - 1
	us2T        = 18
	usSize12End = 13*year - 1
	usSize16End = 17*year - 1
)

func cordRules() []SafetyRule {
	return []SafetyRule{
		{
			ID: "us_hood_neck_drawstring", Jurisdiction: "US", Instrument: "16 CFR 1120.3(b) with ASTM F1816-97",
			Covers: "upper outerwear: jackets, sweatshirts and the like, worn over other clothing", Ages: "sizes 2T to 12 or the like, about 18 months to 12 years",
			Says:   "A drawstring at the hood or neck makes such a garment a substantial product hazard: none is allowed.",
			Source: "US Consumer Product Safety Commission, questions on drawstrings; Federal Register 2011-07-19; scope of ASTM F1816-18",
			ages:   span{us2T, usSize12End},
		},
		{
			ID: "us_waist_bottom_drawstring", Jurisdiction: "US", Instrument: "16 CFR 1120.3(b) with ASTM F1816",
			Covers: "upper outerwear with a drawstring at the waist or bottom", Ages: "sizes 2T to 16 or the like",
			Says:    "With the garment spread to its full width an end may stand out by no more than 3 in (76 mm); nothing may be fixed to a free end, knots and toggles included; a drawstring in one piece has to be sewn through, so that it can't be pulled out.",
			Figures: []RuleFigure{{"longest free end", 3, "in"}, {"longest free end", 76, "mm"}},
			Source:  "US Consumer Product Safety Commission, questions on drawstrings",
			ages:    span{us2T, usSize16End},
		},
		{
			ID: "us_drawstring_exempt", Jurisdiction: "US", Instrument: "ASTM F1816-18",
			Covers: "drawstrings that draw back wholly into the garment",
			Says:   "Fully retractable drawstrings are outside the specification.",
			Source: "scope of ASTM F1816-18",
			ages:   span{us2T, usSize16End},
		},
		{
			ID: "eu_neck_0_7", Jurisdiction: "EU and UK", Instrument: "EN 14682:2014",
			Covers: "children's clothing: hood, head and neck", Ages: "up to 7 years, height up to 134 cm",
			Says:    "No drawstrings, no functional cords and no decorative cords at the hood, head or neck; no halter ties behind the neck.",
			Figures: []RuleFigure{{"height up to", 134, "cm"}},
			Source:  "guidance of the Finnish safety agency (Tukes) on cords; a summary of the 2007 edition",
			ages:    span{0, 8*year - 1},
		},
		{
			ID: "eu_neck_7_14", Jurisdiction: "EU and UK", Instrument: "EN 14682",
			Covers: "children's clothing: hood, head and neck", Ages: "7 to 14 years: girls up to 176 cm, boys up to 182 cm",
			Says:    "No drawstring with free ends at hood or neck; a loop must not stand out when the garment is laid open at its widest, and at the size in which it is worn a loop measures at most 150 mm around; no toggles or knots at free ends (2007 edition).",
			Figures: []RuleFigure{{"loop around, as worn, at most", 150, "mm"}, {"girls' height up to", 176, "cm"}, {"boys' height up to", 182, "cm"}},
			Source:  "guidance of the Finnish safety agency (Tukes) on cords; a summary of the 2007 edition",
			ages:    span{7 * year, lastOf14},
		},
		{
			ID: "eu_waist", Jurisdiction: "EU and UK", Instrument: "EN 14682:2007",
			Covers: "a drawstring at the waist or bottom of children's clothing", Ages: "0 to 14 years",
			Says:    "An end is at most 140 mm when the garment is laid open at its widest, and at most 280 mm when it is drawn to its smallest; it must not hang below the hem of a garment that ends below the crotch; no free ends at the back; the cord is fixed midway by a bar tack.",
			Figures: []RuleFigure{{"end, garment at its widest, at most", 140, "mm"}, {"end, garment at its smallest, at most", 280, "mm"}},
			Source:  "a summary of the 2007 edition",
			ages:    span{0, lastOf14},
		},
		{
			ID: "eu_other_cords", Jurisdiction: "EU and UK", Instrument: "EN 14682",
			Covers: "cords and drawstrings on sleeves, legs, the back and elsewhere on children's clothing", Ages: "0 to 14 years",
			Says:   "The standard divides the garment into zones, sleeves and back among them, and limits cords in each: look the zone up.",
			Source: "the standard's zones, without figures", FromMemory: true,
			ages: span{0, lastOf14},
		},
		{
			ID: "eu_scope_exclusions", Jurisdiction: "EU and UK", Instrument: "EN 14682:2014, scope",
			Covers: "what the standard on cords leaves out",
			Says:   "Not covered: child-care articles such as bibs and soother holders, footwear, gloves, hats, bonnets, scarves, neckties, belts other than tied ones, braces, religious or festive wear for short supervised times, specialist sportswear, stage costumes, aprons, bags. Each garment's risks should still be assessed, and a draft of 2023 says to use the zones for what is left out.",
			Source: "scope of EN 14682:2014 and of the draft prEN 14682:2023",
			ages:   span{0, lastOf14},
		},
		{
			ID: "uk_hood_cords", Jurisdiction: "UK", Instrument: "Children's Clothing (Hood Cords) Regulations 1976",
			Covers: "a child's outer garment with a hood", Ages: "44 cm or less across the chest, laid flat",
			Says:    "A hood that is secured by a cord drawn through it may not be sold.",
			Figures: []RuleFigure{{"across the chest, flat, up to", 44, "cm"}},
			Source:  "UK trading standards officers in the press, 2001 and 2018",
			ages:    span{0, lastOf14},
		},
	}
}
