package counts

import (
	"fmt"
	"strings"
	"testing"
)

// largeSheet is twelve sizes, 200 lines and 60 rules, some of which fail.
func largeSheet() Input {
	in := Input{Gauge: tenCM(15, 17)}
	for k := range 12 {
		in.Sizes = append(in.Sizes, fmt.Sprint(k+1))
	}
	for i := range 200 {
		values := make([]*float64, 12)
		for k := range values {
			values[k] = pointer(float64(100 + i + 12*k))
		}
		in.Counts = append(in.Counts, Count{Name: fmt.Sprintf("line_%d", i), Unit: UnitStitch, Values: values})
	}
	for i := range 60 {
		r := Rule{Name: fmt.Sprintf("rule %d", i), Kind: KindHolds,
			Expr: fmt.Sprintf("line_%d + line_%d + line_%d == line_%d * 3 + 3", i, i+1, i+2, i)}
		if i%3 == 0 {
			r = Rule{Name: fmt.Sprintf("rule %d", i), Kind: KindMultiple, Expr: fmt.Sprintf("(line_%d + 2) / 3", i), Of: 4, Plus: 1}
		}
		in.Rules = append(in.Rules, r)
	}
	for i := range 20 {
		in.Points = append(in.Points, Point{Name: fmt.Sprintf("point %d", i), Axis: AxisStitch,
			Expr: fmt.Sprintf("line_%d", i), Tolerance: pointer(2), Intended: in.Counts[i].Values})
	}
	return in
}

func BenchmarkCalculate12Sizes200Lines60Rules(b *testing.B) {
	in := largeSheet()
	for b.Loop() {
		if _, err := Calculate(in); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkCompile(b *testing.B) {
	names := []string{"left", "back", "right", "body"}
	for b.Loop() {
		if _, err := Compile("left + back + right == body + 2", names); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkHolds(b *testing.B) {
	e := mustCompile(b, "left + back + right == body + 2", "left", "back", "right", "body")
	values := map[string]float64{"left": 37, "back": 74, "right": 37, "body": 146}
	for b.Loop() {
		if _, err := e.Holds(values); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkFindListsInALargeBlock(b *testing.B) {
	block := strings.Repeat("Row 1: Sc in 2nd ch from hook – 85 (93, 101, 109) sc; 14 1/2 (15, 16) in.\n", 2500)
	b.SetBytes(int64(len(block)))
	for b.Loop() {
		if _, err := FindLists(block); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkFindListsInHostileText(b *testing.B) {
	block := strings.Repeat("1 (1 ", MaxBlockBytes/5)
	for b.Loop() {
		if _, err := FindLists(block); err != nil {
			b.Fatal(err)
		}
	}
}
