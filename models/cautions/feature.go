package cautions

// Feature is something that a garment has, or is for, on which a rule turns.
type Feature string

// The features.
const (
	NeckCord       Feature = "neck_cord"
	WaistCord      Feature = "waist_cord"
	OtherCord      Feature = "other_cord"
	SmallParts     Feature = "small_parts"
	CoveredButtons Feature = "covered_buttons"
	Hood           Feature = "hood"
	Hat            Feature = "hat"
	Blanket        Feature = "blanket"
	Cocoon         Feature = "cocoon"
	Weighted       Feature = "weighted"
	Sleepwear      Feature = "sleepwear"
	SootherCord    Feature = "soother_cord"
	Openings       Feature = "openings"
	LooseThreads   Feature = "loose_threads"
	FlareFabric    Feature = "flare_fabric"
	ForSale        Feature = "for_sale"
)

// FeatureLabel is a feature with the words in which a designer is asked for it.
type FeatureLabel struct {
	ID    Feature `json:"id"`
	Label string  `json:"label"`
}

// Features returns every feature, in the order in which they are asked.
func Features() []FeatureLabel {
	return []FeatureLabel{
		{NeckCord, "a cord, tie, ribbon or drawstring at the hood, head or neck (a bonnet's ties and a halter too)"},
		{WaistCord, "a cord, tie or drawstring at the waist or hem"},
		{OtherCord, "a cord or tie elsewhere: sleeve, ankle, back, or joining two mittens"},
		{SmallParts, "a button, bead, bell, pompom, toy eye or another part that could come off"},
		{CoveredButtons, "buttons covered in crochet or knitting"},
		{Hood, "a hood"},
		{Hat, "a hat, bonnet or other head covering"},
		{Blanket, "a blanket"},
		{Cocoon, "a cocoon or sack that a baby lies in"},
		{Weighted, "something weighted"},
		{Sleepwear, "meant for sleep: pyjamas, nightdress, robe"},
		{SootherCord, "a cord or clip that holds a soother"},
		{Openings, "a net, open lace or holes that a finger, toe or button can catch in"},
		{LooseThreads, "floats or loose threads inside a sleeve, sock, mitten or hat"},
		{FlareFabric, "a fuzzy or brushed surface, or open lace, in cotton, rayon or silk"},
		{ForSale, "pieces made from it are to be sold"},
	}
}

func known(f Feature) bool {
	for _, l := range Features() {
		if l.ID == f {
			return true
		}
	}
	return false
}
