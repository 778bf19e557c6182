package gauge_test

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tenter/models/gauge"
)

func TestParseLength(t *testing.T) {
	const cm, in = gauge.Centimetre, gauge.Inch
	for name, c := range map[string]struct {
		text    string
		assumed gauge.LengthUnit
		value   float64
		unit    gauge.LengthUnit
	}{
		"plain decimal takes the assumed unit": {"41.5", in, 41.5, in},
		"decimal comma":                        {"41,5", cm, 41.5, cm},
		"whole number and fraction":            {"41 1/2", in, 41.5, in},
		"hyphen before the fraction":           {"41-3/8", in, 41.375, in},
		"one-character fraction":               {"41½", in, 41.5, in},
		"space before it":                      {"41 ¾", in, 41.75, in},
		"fraction slash":                       {"16 1⁄4", in, 16.25, in},
		"fraction alone":                       {"3/4", in, 0.75, in},
		"one-character fraction alone":         {"⅞", in, 0.875, in},
		"unit word wins over the assumed unit": {"41.5 in", cm, 41.5, in},
		"inch sign":                            {`41.5"`, cm, 41.5, in},
		"double prime":                         {"41½″", cm, 41.5, in},
		"a phone's curly quotation mark":       {"41.5”", cm, 41.5, in},
		"two apostrophes":                      {"41''", cm, 41, in},
		"centimetres":                          {"105 cm", in, 105, cm},
		"no space, capitals":                   {"105CM", in, 105, cm},
		"spelled out, with a full stop":        {"41 ins.", cm, 41, in},
		"no-break and thin spaces":             {"\u00a041\u20091/2\u00a0inches ", cm, 41.5, in},
		"leading point":                        {".5", cm, 0.5, cm},
		"trailing point":                       {"12.", cm, 12, cm},
		"zero":                                 {"0", cm, 0, cm},
	} {
		t.Run(name, func(t *testing.T) {
			got, err := gauge.ParseLength(c.text, c.assumed)
			require.NoError(t, err)
			require.Equal(t, gauge.Length{Value: c.value, Unit: c.unit}, got)
		})
	}
}

func TestParseLengthRefusesWithTheMend(t *testing.T) {
	for name, c := range map[string]struct {
		text    string
		assumed gauge.LengthUnit
		mend    string
	}{
		"nothing":               {"  ", "cm", "is empty"},
		"words":                 {"about 40", "cm", "does not start with a number"},
		"negative":              {"-4", "cm", "is negative"},
		"plus sign":             {"+4", "cm", "does not start with a number"},
		"exponent":              {"1e3", "cm", `ends in "e3"`},
		"two numbers":           {"41 42", "in", "not one number"},
		"a range":               {"41-42", "in", "not one number"},
		"point and comma":       {"1,050.5", "cm", "not one number"},
		"only a point":          {".", "cm", "not one number"},
		"decimal with fraction": {"41.5 1/2", "in", "not one number"},
		"fraction of zero":      {"41 1/0", "in", "has the fraction 1/0"},
		"improper fraction":     {"5/4", "in", "has the fraction 5/4"},
		"two fractions":         {"½½", "in", "not one number"},
		"millimetres":           {"415 mm", "cm", "give it in cm or in"},
		"metres":                {"1.05 m", "cm", "give it in cm or in"},
		"feet":                  {"3'", "in", "in feet or yards"},
		"feet and inches":       {`3' 5"`, "in", "give one number"},
		"no unit anywhere":      {"41", "", "has no unit"},
		"not a number, spelled": {"NaN", "cm", "does not start with a number"},
		"four metres too far":   {"1400", "cm", "longer than 1000 cm"},
		"less than light":       {"0.0000004 in", "cm", "shorter than anything"},
		"endless digits":        {strings.Repeat("9", 63), "cm", "too many digits"},
		"endless text":          {strings.Repeat("9", 65), "cm", "too long a text"},
		"broken encoding":       {"4\xff1", "cm", "give one number"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := gauge.ParseLength(c.text, c.assumed)
			requireField(t, err, "length", c.mend)
		})
	}
}

func TestParseReadsWhatStringWrote(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		// Any length a tape can show: 0 or more than a thousandth of a millimetre.
		l := drawLength(t)
		if l.Value < 1e-4 {
			l.Value = 0
		}
		back, err := gauge.ParseLength(l.String(), "")
		require.NoError(t, err)
		require.Equal(t, l, back)
	})
}

func TestParseReadsEveryTapeFraction(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		whole := rapid.IntRange(1, 99).Draw(t, "whole")
		bottom := rapid.SampledFrom([]int{2, 4, 8, 16, 32}).Draw(t, "bottom")
		top := rapid.IntRange(1, bottom-1).Draw(t, "top")
		sep := rapid.SampledFrom([]string{" ", "-", "  "}).Draw(t, "sep")
		text := gauge.Decimal(float64(whole), 0) + sep + gauge.Decimal(float64(top), 0) + "/" + gauge.Decimal(float64(bottom), 0)
		got, err := gauge.ParseLength(text, gauge.Inch)
		require.NoError(t, err)
		require.Equal(t, float64(whole)+float64(top)/float64(bottom), got.Value, "exact in binary")
	})
}

func FuzzParseLength(f *testing.F) {
	for _, seed := range []string{"41.5", "41,5", "41 1/2", "41½", "41.5 in", `41.5"`, "105 cm", "-", "1/", "⅞⅞", "4' 2\"", "0.0000001cm", "9e9", "," + strings.Repeat("0", 38) + "1", "1/3" + strings.Repeat("0", 36),
		"0." + strings.Repeat("0", 60) + "1"} {
		f.Add(seed, true)
	}
	f.Fuzz(func(t *testing.T, text string, inches bool) {
		assumed := gauge.Centimetre
		if inches {
			assumed = gauge.Inch
		}
		l, err := gauge.ParseLength(text, assumed)
		if err != nil {
			requireField(t, err, "length", "")
			return
		}
		require.NoError(t, l.Check("length"))
		require.False(t, math.Signbit(l.Value))
		back, err := gauge.ParseLength(l.String(), "")
		require.NoError(t, err)
		require.Equal(t, l, back)
	})
}
