package standards

// Standing says how far a row can be trusted.
type Standing string

// The standings.
const (
	Published      Standing = "published"       // read in a published copy or a faithful extract of one
	CommonPractice Standing = "common practice" // usual in the trade; nobody's rule
	FromMemory     Standing = "from memory"     // not checked against the text; look it up before relying on it
)

// Source says where a row comes from.
type Source struct {
	Citation string   `json:"citation"`
	Standing Standing `json:"standing" enum:"published,common practice,from memory"`
}

const (
	craftYarnCouncil = "Craft Yarn Council, Standards & Guidelines for Crochet and Knitting"
	measuringGuide   = "a public measuring guide that follows the Craft Yarn Council's body sizing page"
	apparelGuide     = "a public guide of the apparel trade to measuring finished garments"
	ownTolerance     = "tolerances usual for hand-made knits and crochet; no standard fixes them"
)

// sourceOf spells out the key that a table's row carries. An unknown key is a
// mistake in the table, which the tests find.
func sourceOf(key string) (Source, bool) {
	switch key {
	case "cyc":
		return Source{craftYarnCouncil, Published}, true
	case "cyc_memory":
		return Source{craftYarnCouncil, FromMemory}, true
	case "measuring_guide":
		return Source{measuringGuide, Published}, true
	case "apparel_guide":
		return Source{apparelGuide, Published}, true
	case "practice":
		return Source{ownTolerance, CommonPractice}, true
	case "hook_charts":
		return Source{"public conversion charts of hook sizes, where at least two agree", Published}, true
	case "needle_chart":
		return Source{"a public conversion chart of needle sizes", Published}, true
	case "en13402_copies":
		return Source{"EN 13402-1, body dimensions, as public encyclopedias give them", Published}, true
	case "iso8559_list":
		return Source{"name as in ISO 8559:1989; its definition", FromMemory}, true
	case "en13402_memory":
		return Source{"EN 13402-3 (2004), size codes", FromMemory}, true
	case "memory":
		return Source{"usual in the trade", FromMemory}, true
	}
	return Source{}, false
}
