package cautions

func partRules() []SafetyRule {
	return []SafetyRule{
		{
			ID: "us_small_parts", Jurisdiction: "US", Instrument: "16 CFR 1501 with 1500.18(a)(9)",
			Covers: "articles for children under 3", Ages: "under 3 years",
			Says:    "The article, or a piece that comes off it when used and misused, must not fit wholly into the test cylinder, not squeezed, whichever way it is turned. Pieces of fabric, yarn, fuzz, elastic and string are not counted.",
			Exempt:  "Children's clothing and accessories such as shoelace holders and buttons are exempt from part 1501 (1501.3(d)); toys and toy-like parts are not.",
			Figures: []RuleFigure{{"cylinder, across", 1.25, "in"}, {"cylinder, across", 31.7, "mm"}, {"cylinder, shallow end", 1, "in"}, {"cylinder, shallow end", 25.4, "mm"}, {"cylinder, deep end", 2.25, "in"}, {"cylinder, deep end", 57.1, "mm"}},
			Source:  "16 CFR 1501.3 and 1501.4; a test laboratory's dimensions",
			ages:    span{0, 3*year - 1},
		},
		{
			ID: "eu_button_pull", Jurisdiction: "EU and UK", Instrument: "EN 17394-2:2020, CEN/TS 17394-1; BS 7907",
			Covers:  "buttons on children's clothing",
			Says:    "Buttons are tested for how firmly they are attached. The trade pulls with 90 N for about 10 s, 70 N for adults' clothing.",
			Figures: []RuleFigure{{"pull, children's clothing", 90, "N"}, {"pull, adults' clothing", 70, "N"}},
			Source:  "the method: a public page on CEN/TS 17394; the pull: two guides of the trade; BS 7907 from memory",
			ages:    span{0, lastOf14},
		},
		{
			ID: "craft_covered_button", Jurisdiction: "trade practice",
			Covers: "buttons covered in crochet or knitting",
			Says:   "Fix the core button first, with locked stitches, then cover it; it must hold the same 90 N. Some retailers avoid wood, shell, glass and cork buttons for children.",
			Source: "a guide of the apparel trade",
		},
		{
			ID: "eu_mechanical", Jurisdiction: "EU and UK", Instrument: "CEN/TR 16792:2014",
			Covers: "clothing for children up to 14, with bonnets, hats, gloves, scarves, socks and other accessories", Ages: "up to 14 years",
			Says:   "Recommendations, not requirements, on mechanical hazards of design and making: blood cut off from fingers and toes, zips, sharp parts, choking, suffocation.",
			Exempt: "Child-care articles such as bibs, nappies and soother holders; footwear; toys sold with the clothing.",
			Source: "scope of CEN/TR 16792:2014; a test laboratory's bulletin on it",
			ages:   span{0, lastOf14},
		},
		{
			ID: "practice_openings", Jurisdiction: "trade practice",
			Covers: "open stitches and loose threads in babies' and small children's wear",
			Says:   "Close what small fingers and toes can go through, at cuffs, socks and mittens first; catch floats every few stitches and sew ends in, so that no thread can wind round a finger or toe; make buttonholes and lace too small for a button to slip through by itself.",
			Source: "usual teaching", FromMemory: true,
		},
	}
}
