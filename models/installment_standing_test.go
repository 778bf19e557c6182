package models_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"tenter/models"
)

const (
	today    = models.Date("2027-02-08")
	leadDays = 4
)

// at is a moment of the day before, some minutes after nine.
func at(minutes int) *time.Time {
	t := time.Date(2027, 2, 7, 9, minutes, 0, 0, time.UTC)
	return &t
}

func slip(remedy models.Remedy, mended bool) models.Slip {
	s := models.Slip{AtMS: 724_000, Remedy: remedy}
	if mended {
		s.MendedAt = at(50)
	}
	return s
}

// accepted is a take that was accepted some minutes after nine.
func accepted(number, minutes int, slips ...models.Slip) models.Take {
	return models.Take{InstallmentID: "i1", Number: number, AcceptedAt: at(minutes), Slips: slips}
}

func stand(in models.Installment, takes ...models.Take) models.InstallmentNow {
	in.ID, in.Position = "i1", 1
	return models.StandInstallments(today, leadDays, []models.Installment{in}, takes, nil)[0]
}

func TestStateOfAnInstallment(t *testing.T) {
	edited := models.Installment{EditedAt: at(10)}
	captioned := models.Installment{EditedAt: at(10), CaptionedAt: at(20)}
	scheduled := models.Installment{EditedAt: at(10), CaptionedAt: at(20), ScheduledAt: at(30)}
	aired := models.Installment{EditedAt: at(10), CaptionedAt: at(20), ScheduledAt: at(30), AiredAt: at(40)}
	for name, c := range map[string]struct {
		in    models.Installment
		takes []models.Take
		want  models.InstallmentState
		slips int
	}{
		"nothing yet":                                    {models.Installment{}, nil, models.Unrecorded, 0},
		"a take that waits for a decision":               {models.Installment{}, []models.Take{{InstallmentID: "i1", Number: 1, Slips: []models.Slip{slip(models.Cut, false)}}}, models.Unrecorded, 1},
		"a take set aside, whose slips matter to nobody": {models.Installment{}, []models.Take{{InstallmentID: "i1", SetAsideAt: at(1), Slips: []models.Slip{slip(models.Cut, false)}}}, models.Unrecorded, 0},
		"an accepted take":                               {models.Installment{}, []models.Take{accepted(1, 0)}, models.Recorded, 0},
		"a slip that can be cut leaves it recorded":      {models.Installment{}, []models.Take{accepted(1, 0, slip(models.Cut, false), slip(models.OnScreenNote, true))}, models.Recorded, 1},
		"a slip to record again takes the take out":      {models.Installment{}, []models.Take{accepted(1, 0, slip(models.RecordAgain, false))}, models.Unrecorded, 1},
		"mended, the take counts again":                  {models.Installment{}, []models.Take{accepted(1, 0, slip(models.RecordAgain, true))}, models.Recorded, 0},
		"another accepted take counts instead":           {models.Installment{}, []models.Take{accepted(1, 0, slip(models.RecordAgain, false)), accepted(2, 5)}, models.Recorded, 1},
		"with an accepted take only its slips are open":  {models.Installment{}, []models.Take{{InstallmentID: "i1", Number: 1, Slips: []models.Slip{slip(models.Cut, false)}}, accepted(2, 5)}, models.Recorded, 0},
		"a take of another installment":                  {models.Installment{}, []models.Take{{InstallmentID: "i2", AcceptedAt: at(0)}}, models.Unrecorded, 0},
		"edited":                                         {edited, []models.Take{accepted(1, 0)}, models.Edited, 0},
		"edited at the very moment of accepting":         {edited, []models.Take{accepted(1, 10)}, models.Edited, 0},
		"a take accepted after the edit makes it stale":  {edited, []models.Take{accepted(1, 0), accepted(2, 15)}, models.Recorded, 0},
		"an edit without a take that counts":             {captioned, []models.Take{accepted(1, 0, slip(models.RecordAgain, false))}, models.Unrecorded, 1},
		"captioned":                                      {captioned, []models.Take{accepted(1, 0)}, models.Captioned, 0},
		"captions older than the edit":                   {models.Installment{EditedAt: at(25), CaptionedAt: at(20)}, []models.Take{accepted(1, 0)}, models.Edited, 0},
		"scheduled":                                      {scheduled, []models.Take{accepted(1, 0)}, models.Scheduled, 0},
		"scheduled, then found to need recording again":  {scheduled, []models.Take{accepted(1, 0, slip(models.RecordAgain, false))}, models.Unrecorded, 1},
		"aired": {aired, []models.Take{accepted(1, 0)}, models.Aired, 0},
		"what has aired has aired, whatever is found later": {aired, []models.Take{accepted(1, 0, slip(models.RecordAgain, false))}, models.Aired, 1},
	} {
		t.Run(name, func(t *testing.T) {
			now := stand(c.in, c.takes...)
			require.Equal(t, c.want, now.State)
			require.Equal(t, c.slips, now.OpenSlips)
		})
	}
}

func TestOnlyMarksThatHoldAreShown(t *testing.T) {
	now := stand(models.Installment{EditedAt: at(10), CaptionedAt: at(20)}, accepted(1, 0), accepted(2, 15))
	require.Nil(t, now.EditedAt, "take 2 was accepted after the edit")
	require.Nil(t, now.CaptionedAt, "the captions are of the old edit")
}

func TestDaysOfAnInstallment(t *testing.T) {
	for name, c := range map[string]struct {
		in     models.Installment
		take   bool
		due    models.Date
		left   int
		noDays bool
		late   bool
	}{
		"no day announced":                           {models.Installment{}, false, "", 0, true, false},
		"a day for the recording alone":              {models.Installment{RecordBy: "2027-02-07"}, false, "2027-02-07", 0, true, true},
		"the lead days before it airs":               {models.Installment{AirOn: "2027-02-20"}, false, "2027-02-16", 12, false, false},
		"over the end of February":                   {models.Installment{AirOn: "2027-03-02"}, false, "2027-02-26", 22, false, false},
		"its own day for the recording":              {models.Installment{AirOn: "2027-02-20", RecordBy: "2027-02-10"}, false, "2027-02-10", 12, false, false},
		"to be recorded today is not late":           {models.Installment{AirOn: "2027-02-12"}, false, "2027-02-08", 4, false, false},
		"to be recorded yesterday is late":           {models.Installment{AirOn: "2027-02-11"}, false, "2027-02-07", 3, false, true},
		"once recorded, only the air date counts":    {models.Installment{AirOn: "2027-02-11"}, true, "2027-02-07", 3, false, false},
		"airing today is not late":                   {models.Installment{AirOn: "2027-02-08"}, true, "2027-02-04", 0, false, false},
		"an air date that is past is late":           {models.Installment{AirOn: "2027-02-07"}, true, "2027-02-03", -1, false, true},
		"one that has aired counts no days any more": {models.Installment{AirOn: "2027-02-01", EditedAt: at(1), CaptionedAt: at(2), ScheduledAt: at(3), AiredAt: at(4)}, true, "2027-01-28", 0, true, false},
	} {
		t.Run(name, func(t *testing.T) {
			var takes []models.Take
			if c.take {
				takes = append(takes, accepted(1, 0))
			}
			now := stand(c.in, takes...)
			require.Equal(t, c.due, now.RecordDue)
			require.Equal(t, c.late, now.Late)
			if c.noDays {
				require.Nil(t, now.DaysLeft)
				return
			}
			require.Equal(t, c.left, *now.DaysLeft)
		})
	}
}

func TestTheSampleThatIsReady(t *testing.T) {
	run := []models.Installment{{ID: "a", Position: 1, Title: "Ties"}, {ID: "b", Position: 2, Title: "Crown"}, {ID: "c", Position: 3, Title: "Sides"}}
	a, b := "a", "b"
	sample := func(label, purpose string, through *string) models.Sample {
		return models.Sample{Label: label, Purpose: purpose, WorkedThrough: through}
	}
	retired := sample("retired", "camera", &a)
	retired.RetiredAt = at(0)
	further := sample("further", "camera", &a)
	further.WorkedNote = "and four rounds more"
	for name, c := range map[string]struct {
		samples []models.Sample
		want    string // ready for Crown
	}{
		"worked through the one before": {[]models.Sample{sample("grey", "camera", &a)}, "grey"},
		"not worked as far":             {[]models.Sample{sample("grey", "camera", nil)}, ""},
		"worked past it":                {[]models.Sample{sample("grey", "camera", &b)}, ""},
		"made for fit":                  {[]models.Sample{sample("grey", "fit", &a)}, ""},
		"retired":                       {[]models.Sample{retired}, ""},
		"one worked exactly as far before one further":   {[]models.Sample{further, sample("grey", "camera", &a)}, "grey"},
		"one worked a little further when there is none": {[]models.Sample{further}, "further"},
	} {
		t.Run(name, func(t *testing.T) {
			now := models.StandInstallments(today, leadDays, run, nil, c.samples)[1]
			if c.want == "" {
				require.Nil(t, now.Sample)
				return
			}
			require.Equal(t, c.want, now.Sample.Label)
		})
	}
	recorded := []models.Take{{InstallmentID: "b", AcceptedAt: at(0)}}
	require.Nil(t, models.StandInstallments(today, leadDays, run, recorded, []models.Sample{sample("grey", "camera", &a)})[1].Sample, "a recorded one needs no sample")
}
