package cautions

import "slices"

// entry says when a caution is shown: when the design has any of the features
// (or none is asked for) and its ages meet the entry's. The zero span is every
// age.
type entry struct {
	id          string
	level       Level
	title, text string
	features    []Feature
	ages        span
	rules       []string
}

// because returns those of the entry's features that the design has, each once,
// in the entry's order.
func (e entry) because(d Design) []Feature {
	out := []Feature{}
	for _, f := range e.features {
		if slices.Contains(d.Features, f) {
			out = append(out, f)
		}
	}
	return out
}

var (
	under1  = span{0, year - 1}
	under3  = span{0, 3*year - 1}
	from3   = span{3 * year, lastOf14}
	child   = span{0, lastOf14}
	toSize  = span{0, usSize16End}
	buyable = span{0, 13*year - 1}
)

func entries() []entry {
	return []entry{
		{"neck_cord", Stop, "Cord or tie at the hood, head or neck",
			"A cord at the neck can catch on play equipment, in a door or in a cot and strangle. Design a closure without cords: a rib that stretches, or buttons that are sewn on firmly.",
			[]Feature{NeckCord}, child,
			[]string{"us_hood_neck_drawstring", "eu_neck_0_7", "eu_neck_7_14", "uk_hood_cords", "eu_scope_exclusions", "eu_mechanical", "us_drawstring_exempt"}},
		{"waist_cord", StopUntilChecked, "Cord or tie at the waist or hem",
			"A long end can catch in a vehicle's door or in a bicycle. Keep ends short, sew the cord through at its middle, put no toggle or knot at a free end.",
			[]Feature{WaistCord}, toSize,
			[]string{"us_waist_bottom_drawstring", "eu_waist", "us_drawstring_exempt", "eu_scope_exclusions"}},
		{"other_cord", StopUntilChecked, "Cord or tie elsewhere",
			"Cords on sleeves, legs and the back, and a string between mittens, can catch too. Check the part of the garment in the rule before you decide on it.",
			[]Feature{OtherCord}, child,
			[]string{"eu_other_cords", "eu_scope_exclusions", "eu_mechanical"}},
		{"small_parts", Warn, "Buttons and other small parts, under 3 years",
			"A part that comes off can be swallowed or breathed in. Fix each one so that it can't be pulled off, work eyes and trimmings in yarn instead where you can, and say so in the pattern.",
			[]Feature{SmallParts, CoveredButtons}, under3,
			[]string{"us_small_parts", "eu_button_pull", "craft_covered_button", "eu_mechanical"}},
		{"small_parts_older", Note, "Buttons and other small parts, from 3 years",
			"Fix buttons and trimmings so that they hold a strong pull; younger children get hold of the clothes of older ones.",
			[]Feature{SmallParts, CoveredButtons}, from3,
			[]string{"eu_button_pull", "craft_covered_button", "eu_mechanical"}},
		{"infant_sleep", Warn, "Head coverings, blankets and cocoons, under 1 year",
			"A covering can slip over the face or make a sleeping baby too warm. Say in the pattern that it is for waking, watched times only, and never show it on a sleeping baby.",
			[]Feature{Hat, Hood, Blanket, Cocoon, Weighted}, under1,
			[]string{"safe_sleep"}},
		{"soother_cord", Warn, "Cord for a soother",
			"A cord round the neck or tied to clothing can strangle during sleep. Keep it short, and say that it comes off before sleep.",
			[]Feature{SootherCord}, under3,
			[]string{"pacifier_cord", "safe_sleep"}},
		{"sleepwear", Warn, "Meant for sleep",
			"Children's sleepwear has flammability rules of its own, and hand-made fabric is seldom tight enough for the exceptions. Don't call a design sleepwear, or show it as such, before they are checked.",
			[]Feature{Sleepwear}, child,
			[]string{"us_sleepwear_0_6x", "us_sleepwear_7_14", "us_sleepwear_infant", "us_sleepwear_tight", "uk_nightwear"}},
		{"openings", Warn, "Nets, open lace and holes",
			"Fingers and toes can catch in an open fabric, and a button can slip into a hole. Close the fabric where hands, feet and buttons go.",
			[]Feature{Openings}, child,
			[]string{"practice_openings", "eu_mechanical"}},
		{"loose_threads", Warn, "Floats and loose threads inside",
			"A thread can wind round a finger or toe and cut off its blood, most of all in babies' mittens and socks. Keep floats short, sew ends in, look at the inside.",
			[]Feature{LooseThreads}, child,
			[]string{"practice_openings", "eu_mechanical"}},
		{"flare_fabric", Note, "Fuzzy, brushed or open fabric in cotton, rayon or silk",
			"Raised and open fabrics of plant fibres and silk catch fire more easily than smooth or woollen ones.",
			[]Feature{FlareFabric}, span{},
			[]string{"us_general_flammability"}},
		{"for_sale", Note, "Pieces for children that are sold",
			"Whoever makes and sells them may have duties of their own. Tell those who sell what they make from the pattern to ask first.",
			[]Feature{ForSale}, buyable,
			[]string{"maker_duty"}},
		{"any_child", Note, "A garment for children",
			"Go through the design with a child in mind: cords, small parts, openings, threads inside, sleep and fire. The cautions shown here depend on what was said about the design.",
			nil, child,
			[]string{"eu_mechanical"}},
	}
}
