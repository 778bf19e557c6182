package counts

import (
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// drawValues draws a value for each of n sizes, skips and quarters among them.
func drawValues(t *rapid.T, n int) []*float64 {
	values := make([]*float64, n)
	for i := range values {
		if rapid.IntRange(0, 4).Draw(t, "skips") > 0 {
			v := float64(rapid.IntRange(0, 4*MaxCountValue).Draw(t, "quarters")) / 4
			values[i] = &v
		}
	}
	return values
}

func drawLayout(t *rapid.T, n int) Layout {
	var l Layout
	for left := n - 1; left > 0; {
		size := rapid.IntRange(1, left).Draw(t, "group")
		l.Groups = append(l.Groups, Group{Sizes: size, Square: rapid.Bool().Draw(t, "square")})
		left -= size
	}
	return l
}

func TestReadingWhatWasPrintedGivesTheSameValues(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, MaxSizes).Draw(t, "sizes")
		values := drawValues(t, n)
		layout := drawLayout(t, n)
		text := Print(values, layout)
		sizes := make([]string, n)
		for i := range sizes {
			sizes[i] = strings.Repeat("s", i+1)
		}
		got, err := ReadFor(text, sizes)
		if err != nil {
			t.Fatalf("%q: %v", text, err)
		}
		if !sameValues(values, got.Values) {
			t.Fatalf("%q reads as %q", text, Print(got.Values, layout))
		}
		if n > 1 && strings.ContainsAny(text, "([") && Print(got.Values, got.Layout) != text {
			t.Fatalf("%q prints back as %q", text, Print(got.Values, got.Layout))
		}
	})
}

// Words round a list, other brackets and other separators do not change what is
// read.
func TestReadingIgnoresDress(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 12).Draw(t, "sizes")
		values := drawValues(t, n)
		if allSame(values[:1]) && allSame(values) { // printed once, with no brackets to dress
			return
		}
		plain := Print(values, Layout{})
		dress := strings.NewReplacer(", ", rapid.SampledFrom([]string{", ", ",", "; ", ": ", " / ", " "}).Draw(t, "separator"),
			"–", rapid.SampledFrom([]string{"–", "—", "-", "--", "x", "n/a"}).Draw(t, "skip"))
		text := rapid.SampledFrom([]string{"", "Cast on ", "Row 3: work to end ", "Round 12 (RS): "}).Draw(t, "before") +
			dress.Replace(plain) + rapid.SampledFrom([]string{"", " sts", " rows.", " times"}).Draw(t, "after")
		got, err := ReadFor(text, numbered(n))
		if err != nil {
			t.Fatalf("%q: %v", text, err)
		}
		if !sameValues(values, got.Values) {
			t.Fatalf("%q reads as %q", text, Print(got.Values, Layout{}))
		}
	})
}

func TestMultipleNearest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := Multiple{Of: rapid.IntRange(1, 40).Draw(t, "of"), Plus: rapid.IntRange(-40, 80).Draw(t, "plus")}
		v := float64(rapid.IntRange(0, 500).Draw(t, "v"))
		// By hand: walk down and up one stitch at a time.
		fits := func(x int) bool { return x >= 0 && (x-m.Plus)%m.Of == 0 }
		if got := m.Fits(v); got != fits(int(v)) {
			t.Fatalf("%s fits %g: %v", m, v, got)
		}
		var want []float64
		below, above := int(v), int(v)
		for below >= 0 && !fits(below) {
			below--
		}
		for !fits(above) {
			above++
		}
		if below >= 0 {
			want = append(want, float64(below))
		}
		if above != below {
			want = append(want, float64(above))
		}
		require.Equal(t, want, m.Nearest(v), "%s near %g", m, v)
	})
}

func FuzzRead(f *testing.F) {
	for _, seed := range []string{
		"146 (158, 170) sts", "12", "– (–, 4)", "Row 1: sc – 85 (93) sc", "14 1/2 (15½)", "((((", ")](", "1 (2 (3",
		"K6 (8, 10) [42 sts]", "Sizes L and XL only: 2", "n/a", "x x x", "1 (2,,3)", "½", "1.", ".", "1 1/2/3", "- (-)",
	} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		got, err := ReadFor(text, fourSizes)
		if err != nil {
			return
		}
		if len(got.Values) != 4 {
			t.Fatalf("%q: %d values", text, len(got.Values))
		}
		again, err := ReadFor(Print(got.Values, got.Layout), fourSizes)
		if err != nil || !sameValues(got.Values, again.Values) {
			t.Fatalf("%q: %q does not read back: %v", text, Print(got.Values, got.Layout), err)
		}
	})
}

func FuzzFindLists(f *testing.F) {
	f.Add(pulloverLines)
	f.Add("a 1 (2, 3)\n\n[4 (5, 6)] x (7)\r\n½ (é, 2)")
	f.Fuzz(func(t *testing.T, text string) {
		found, err := FindLists(text)
		if err != nil {
			return
		}
		end := 0
		for _, l := range found {
			if l.Start < end || l.End <= l.Start || text[l.Start:l.End] != l.Text {
				t.Fatalf("%q: place %d to %d", text, l.Start, l.End)
			}
			if utf8.RuneCountInString(text[:l.Start]) != l.StartRune {
				t.Fatalf("%q: rune %d", text, l.StartRune)
			}
			end = l.End
		}
	})
}

func FuzzReadSizeNames(f *testing.F) {
	f.Add("XS (S, M) [L]")
	f.Add("0–3 (3–6) months")
	f.Fuzz(func(t *testing.T, text string) {
		names, layout, err := ReadSizeNames(text)
		if err == nil && layout.sizes() != len(names) {
			t.Fatalf("%q: %d names in a layout for %d", text, len(names), layout.sizes())
		}
	})
}
