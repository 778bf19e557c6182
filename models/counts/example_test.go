package counts_test

import (
	"fmt"

	"tenter/models/counts"
	"tenter/models/gauge"
)

func ExampleReadFor() {
	sizes, layout, _ := counts.ReadSizeNames("S (M, L) [XL]")
	line, _ := counts.ReadFor("Row 1: sc in each ch across – 85 (93, 101) [–] sc.", sizes)
	fmt.Println(counts.Print(line.Values, layout))
	// Output: 85 (93, 101) [–]
}

func ExampleCompile() {
	e, _ := counts.Compile("left + back + right = body + 2", []string{"left", "back", "right", "body"})
	v, _ := e.Holds(map[string]float64{"left": 31, "back": 62, "right": 32, "body": 122})
	fmt.Println(v.True, *v.Left, *v.Right, e.Names())
	_, err := counts.Compile("body + hem", []string{"body"})
	fmt.Println(err)
	// Output:
	// false 125 124 [left back right body]
	// there is no count named "hem"
}

func ExampleCalculate() {
	stitches, span, tolerance := 15.0, 10.0, 2.0
	intended := []*float64{new(float64), new(float64)}
	*intended[0], *intended[1] = 97, 110
	out, _ := counts.Calculate(counts.Input{
		Sizes:  []string{"S", "M"},
		Gauge:  &gauge.Entry{Stitches: &stitches, Span: &span, Unit: gauge.Centimetre},
		Counts: []counts.Count{{Name: "body", Unit: counts.UnitStitch, Text: "146 (158)"}},
		Rules:  []counts.Rule{{Name: "shells", Kind: counts.KindMultiple, Expr: "body", Of: 12, Plus: 2}},
		Points: []counts.Point{{Name: "bust", Axis: counts.AxisStitch, Expr: "body", Tolerance: &tolerance, Intended: intended}},
	})
	for _, f := range out.Findings {
		fmt.Println(f.Kind, f.Message)
	}
	// Output:
	// intended Size M: the counts make bust 105.33 cm, and 110 cm is intended: 4.67 cm too little (tolerance 2 cm).
}
