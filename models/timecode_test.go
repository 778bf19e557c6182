package models_test

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tenter/models"
)

func TestTimeCodesAreReadAsPlayersShowThem(t *testing.T) {
	for name, c := range map[string]struct {
		text string
		ms   int
		back string
	}{
		"minutes and seconds":                       {"12:04", 724_000, "12:04"},
		"hours, and a fraction of one digit":        {"1:02:03.5", 3_723_500, "1:02:03.5"},
		"the start":                                 {"0:00", 0, "0:00"},
		"minutes beyond an hour":                    {"90:00", 5_400_000, "1:30:00"},
		"a comma before the fraction":               {"12:04,25", 724_250, "12:04.25"},
		"blanks around it":                          {" 12:04 ", 724_000, "12:04"},
		"the last moment that is taken":             {"24:00:00", 86_400_000, "24:00:00"},
		"a leading zero":                            {"02:05", 125_000, "2:05"},
		"zeros at the end of a fraction":            {"0:01.500", 1_500, "0:01.5"},
		"WebVTT 4.1: mm:ss.ttt":                     {"00:11.000", 11_000, "0:11"},
		"WebVTT 4.1: hh:mm:ss.ttt":                  {"01:02:03.004", 3_723_004, "1:02:03.004"},
		"WebVTT 4.1: hours have two or more digits": {"0001:00:00.000", 3_600_000, "1:00:00"},
	} {
		t.Run(name, func(t *testing.T) {
			code, err := models.ParseTimeCode(c.text)
			require.NoError(t, err)
			require.Equal(t, models.TimeCode(c.ms), code)
			require.Equal(t, c.back, code.String())
		})
	}
}

func TestOtherTextsAreNoTimeCodes(t *testing.T) {
	for name, text := range map[string]string{
		"nothing":                        "",
		"seconds alone":                  "45",
		"sixty seconds":                  "1:60",
		"sixty minutes behind hours":     "1:60:00",
		"one digit of seconds":           "1:2",
		"three colons":                   "1:02:03:04",
		"a sign":                         "-1:02",
		"a sign inside":                  "1:+2",
		"a fraction without digits":      "1:02.",
		"a fraction of four digits":      "1:02.1234",
		"a fraction of minutes":          "1.5:02",
		"two fractions":                  "1:02.3.4",
		"letters":                        "1m02s",
		"other digits than 0 to 9":       "١:٠٢",
		"a millisecond beyond a day":     "24:00:00.001",
		"more digits than there is time": "99999:00",
		"no minutes":                     ":04",
	} {
		t.Run(name, func(t *testing.T) {
			_, err := models.ParseTimeCode(text)
			require.Error(t, err)
		})
	}
}

func TestTimeCodesReadBackTheSame(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		code := models.TimeCode(rapid.IntRange(0, int(models.LongestRecording)).Draw(t, "ms"))
		back, err := models.ParseTimeCode(code.String())
		if err != nil || back != code {
			t.Fatalf("%d is written %q and read back as %d, %v", code, code, back, err)
		}
	})
}

func FuzzParseTimeCode(f *testing.F) {
	for _, s := range []string{"12:04", "1:02:03.5", "90:00", "24:00:00", "0:00,001", "1:60", "::", "9999:59:59.999"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		code, err := models.ParseTimeCode(s)
		if err != nil {
			require.Zero(t, code)
			return
		}
		require.GreaterOrEqual(t, int(code), 0)
		require.LessOrEqual(t, code, models.LongestRecording)
		back, err := models.ParseTimeCode(code.String())
		require.NoError(t, err)
		require.Equal(t, code, back)
	})
}
