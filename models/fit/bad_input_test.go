package fit

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/models/gauge"
)

func TestBadInputNamesTheField(t *testing.T) {
	for _, row := range []struct {
		name, field string
		bend        func(*Input)
	}{
		{"no size", "sizes", func(in *Input) { in.Sizes = nil }},
		{"a size twice", "sizes[1]", func(in *Input) { in.Sizes[1] = "S" }},
		{"a size without a name", "sizes[0]", func(in *Input) { in.Sizes[0] = "" }},
		{"no point", "points", func(in *Input) { in.Points = nil }},
		{"an axis that is none", "points[2].axis", func(in *Input) { in.Points[2].Axis = "diagonal" }},
		{"an edging of a kilometre", "points[0].add_cm", func(in *Input) { in.Points[0].AddCM = 1e5 }},
		{"an edging that is no number", "points[0].add_cm", func(in *Input) { in.Points[0].AddCM = math.NaN() }},
		{"repeatability zero", "points[0].u_cm", func(in *Input) { in.Points[0].UCM = pointer(0.0) }},
		{"repeat not a number", "points[0].repeat", func(in *Input) { in.Points[0].Repeat = pointer(math.NaN()) }},
		{"design gauge zero", "design_gauge.row", func(in *Input) { in.DesignGauge.Row = 0 }},
		{"design span zero", "design_gauge.over_cm", func(in *Input) { in.DesignGauge.OverCM = 0 }},
		{"design span of a kilometre", "design_gauge.over_cm", func(in *Input) { in.DesignGauge.OverCM = 1e5 }},
		{"swatch of nothing", "testers[1].swatch.stitch.count", func(in *Input) { in.Testers[1].Swatch.Stitch.Count = 0 }},
		{"swatch over nothing", "testers[1].swatch.row.over", func(in *Input) { in.Testers[1].Swatch.Row.Over = 0 }},
		{"swatch in ells", "testers[1].swatch.row.unit", func(in *Input) { in.Testers[1].Swatch.Row.Unit = "ell" }},
		{"counts of an unknown size", "counts.XL", func(in *Input) { in.Counts["XL"] = nil }},
		{"counts of an unknown point", "counts.S.hood", func(in *Input) { in.Counts["S"]["hood"] = 4 }},
		{"a negative count", "counts.S.bust", func(in *Input) { in.Counts["S"]["bust"] = -1 }},
		{"a count of a mountain", "counts.S.bust", func(in *Input) { in.Counts["S"]["bust"] = 9e5 }},
		{"an infinite intention", "intended_cm.M.bust", func(in *Input) { in.IntendedCM["M"]["bust"] = math.Inf(1) }},
		{"stitches of an unknown size", "total_stitches.XL", func(in *Input) { in.TotalStitches = map[string]float64{"XL": 1} }},
		{"a tester without a name", "testers[0].id", func(in *Input) { in.Testers[0].ID = "" }},
		{"a tester of no size", "testers[0].size", func(in *Input) { in.Testers[0].Size = "XL" }},
		{"a tester twice", "testers[1].id", func(in *Input) { in.Testers[1].ID = "ash" }},
		{"a point that is none", "testers[0].measurements[0].point", func(in *Input) { in.Testers[0].Measurements[0].Point = "hood" }},
		{"a unit that is none", "testers[0].measurements[0].unit", func(in *Input) { in.Testers[0].Measurements[0].Unit = "" }},
		{"a measurement of 1e308 inches", "testers[3].measurements[2].value", func(in *Input) {
			in.Testers[3].Measurements[2] = Measurement{Point: "bust", Value: pointer(1e308), Unit: gauge.Inch}
		}},
		{"a measurement that is no number", "testers[0].measurements[1].value", func(in *Input) {
			in.Testers[0].Measurements[1].Value = pointer(math.NaN())
		}},
		{"a measurement of an atom", "testers[0].measurements[1].value", func(in *Input) {
			in.Testers[0].Measurements[1].Value = pointer(1e-8)
		}},
		{"an endless hook", "testers[0].hook_mm", func(in *Input) { in.Testers[0].HookMM = math.Inf(1) }},
		{"half a stitch in all", "total_stitches.S", func(in *Input) { in.TotalStitches = map[string]float64{"S": 0.5} }},
		{"a trace of yarn", "testers[0].metres_used", func(in *Input) { in.Testers[0].MetresUsed = pointer(1e-300) }},
		{"yarn round the world", "testers[0].metres_used", func(in *Input) { in.Testers[0].MetresUsed = pointer(4e7) }},
		{"ten thousand testers", "testers", func(in *Input) {
			for i := range 10_000 {
				in.Testers = append(in.Testers, Tester{ID: fmt.Sprint(i), Size: "S"})
			}
		}},
		{"ten thousand measurements", "testers[2].measurements", func(in *Input) {
			for range 10_000 {
				in.Testers[2].Measurements = append(in.Testers[2].Measurements, in.Testers[2].Measurements[0])
			}
		}},
	} {
		t.Run(row.name, func(t *testing.T) {
			in := plainRound()
			row.bend(&in)
			_, err := Calculate(in)
			var field *FieldError
			require.True(t, errors.As(err, &field), "%v", err)
			require.Equal(t, row.field, field.FieldPath())
			require.Equal(t, field.Field+": "+field.Problem, err.Error())
			require.NotContains(t, err.Error(), "%!")
		})
	}
}

func TestPoorInputGetsAnAnswerOrCannotTell(t *testing.T) {
	for _, row := range []struct {
		name  string
		bend  func(*Input)
		check func(*testing.T, Output)
	}{
		{"nobody reported", func(in *Input) { in.Testers = nil }, func(t *testing.T, out Output) {
			require.Empty(t, out.Cells)
			require.Equal(t, CannotTell, out.Fabric[0].Verdict)
			require.Len(t, out.Grading, 4)
		}},
		{"one tester", func(in *Input) { in.Testers = in.Testers[:1] }, func(t *testing.T, out Output) {
			for _, c := range out.Cells {
				require.Equal(t, CannotTell, c.Verdict)
			}
			require.Equal(t, CannotTell, out.Fabric[1].Verdict)
		}},
		{"one value in all", func(in *Input) {
			in.Testers = in.Testers[:1]
			in.Testers[0].Measurements = in.Testers[0].Measurements[:1]
		}, func(t *testing.T, out Output) {
			require.Len(t, out.Cells, 1)
			require.Equal(t, CannotTell, out.Testers[0].Verdict)
		}},
		{"one point", func(in *Input) {
			for i := range in.Testers {
				in.Testers[i].Measurements = in.Testers[i].Measurements[:1]
			}
		}, func(t *testing.T, out Output) {
			require.Equal(t, CannotTell, out.Fabric[0].Verdict)
			require.Len(t, out.Points, 1)
			require.Zero(t, out.Points[0].P)
		}},
		{"one size", func(in *Input) { in.Testers = in.Testers[:2] }, func(t *testing.T, out Output) {
			for _, p := range out.Points {
				require.Zero(t, p.P)
			}
		}},
		{"nobody reported a gauge", func(in *Input) {
			for i := range in.Testers {
				in.Testers[i].Swatch = nil
			}
		}, func(t *testing.T, out Output) {
			for _, x := range out.Testers {
				require.Equal(t, CannotTell, x.Verdict)
			}
			require.Equal(t, CannotTell, out.Fabric[0].Verdict)
			require.NotNil(t, out.Fabric[0].EstimatePct)
			require.NotNil(t, out.Cells[0].EstimatePct)
		}},
		{"all values equal", func(in *Input) {
			for i := range in.Testers {
				for k := range in.Testers[i].Measurements {
					in.Testers[i].Measurements[k].Value = pointer(50.0)
				}
			}
		}, func(t *testing.T, out Output) { require.Len(t, out.Cells, 8) }},
		{"every value just as expected", func(in *Input) {
			for i := range in.Testers {
				who := &in.Testers[i]
				for k := range who.Measurements {
					m := &who.Measurements[k]
					m.Value = pointer(in.expectedCM(who.Size, &in.Points[k], who.Swatch.On(in.Points[k].Axis).Per10CM()))
				}
			}
		}, func(t *testing.T, out Output) { require.InDelta(t, 0, *out.Fabric[1].EstimatePct, 1e-9) }},
		{"the longest and shortest measurements that are taken", func(in *Input) {
			in.Testers[0].Measurements[0].Value = pointer(MaxMeasuredCM)
			in.Testers[1].Measurements[1].Value = pointer(MinMeasuredCM)
		}, func(t *testing.T, out Output) {
			at := map[string]bool{}
			for _, o := range out.OddValues {
				at[o.Tester+" "+o.Point] = true
			}
			require.True(t, at["ash bust"] && at["birch upper_arm"])
		}},
		{"zero, negative, missing and deliberate measurements", func(in *Input) {
			m := in.Testers[0].Measurements
			m[0].Value, m[1].Value, m[2].Value = pointer(0.0), pointer(-4.0), nil
			m[3].Deliberate = true
		}, func(t *testing.T, out Output) {
			for _, x := range out.Testers {
				require.NotEqual(t, "ash", x.Tester)
			}
		}},
		{"a size that skips a point", func(in *Input) { in.Counts["S"]["yoke"] = 0; delete(in.Counts["M"], "bust") }, func(t *testing.T, out Output) {
			for _, c := range out.Cells {
				require.False(t, c.Size == "S" && c.Point == "yoke" || c.Size == "M" && c.Point == "bust")
			}
		}},
		{"one person making two sizes", func(in *Input) { in.Testers[2].ID = "ash" }, func(t *testing.T, out Output) { require.Len(t, out.Testers, 8) }},
		{"no table at all", func(in *Input) { in.Counts, in.IntendedCM = nil, nil }, func(t *testing.T, out Output) { require.Empty(t, out.Cells) }},
	} {
		t.Run(row.name, func(t *testing.T) {
			in := plainRound()
			row.bend(&in)
			out, err := Calculate(in)
			require.NoError(t, err)
			_, err = json.Marshal(out) // which refuses NaN and infinities
			require.NoError(t, err)
			row.check(t, out)
			for _, f := range out.Findings {
				require.NotContains(t, f.Message, "%!")
			}
		})
	}
}

func TestSettingsAreBounded(t *testing.T) {
	require.NoError(t, DefaultSettings().Check())
	for name, bend := range map[string]func(*Settings){
		"settings.TesterSpread": func(s *Settings) { s.TesterSpread = 0 },
		"settings.FaultChance":  func(s *Settings) { s.FaultChance = 1 },
		"settings.OddSure":      func(s *Settings) { s.OddSure = math.NaN() },
		"settings.Suspect":      func(s *Settings) { s.Suspect = 0.9 },
		"settings.StepInch":     func(s *Settings) { s.StepInch = -1 },
	} {
		s := DefaultSettings()
		bend(&s)
		_, err := CalculateWith(plainRound(), s)
		var field *FieldError
		require.True(t, errors.As(err, &field))
		require.Equal(t, name, field.Field)
	}
}
