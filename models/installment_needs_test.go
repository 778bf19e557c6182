package models_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/models"
)

// crown returns how the second of two installments stands; the first, Ties, is
// where a sample has to be worked through.
func crown(in models.Installment, takes []models.Take, samples ...models.Sample) models.InstallmentNow {
	in.ID, in.Position, in.Title = "i1", 2, "Crown"
	run := []models.Installment{{ID: "i0", Position: 1, Title: "Ties"}, in}
	return models.StandInstallments(today, leadDays, run, takes, samples)[1]
}

func TestWhatAnUnrecordedInstallmentNeeds(t *testing.T) {
	ties := "i0"
	ready := models.Sample{Label: "the grey one", Purpose: "camera", WorkedThrough: &ties, Holder: "pim"}
	shelf := models.Sample{Label: "the grey one", Purpose: "camera", WorkedThrough: &ties, HeldNote: "on the shelf"}
	begun := models.Sample{Label: "the blue one", Purpose: "camera"}
	handed := models.Sample{Label: "the blue one", Purpose: "camera", Holder: "pim"}
	itself, far := "i1", models.Sample{Label: "the red one", Purpose: "camera", Holder: "pim"}
	far.WorkedThrough = &itself
	air := func(d models.Date) models.Installment { return models.Installment{AirOn: d} }
	waits := []models.Take{{InstallmentID: "i1", Number: 1, SetAsideAt: at(0)}, {InstallmentID: "i1", Number: 2}}
	for name, c := range map[string]struct {
		in      models.Installment
		takes   []models.Take
		samples []models.Sample
		want    string
	}{
		"a ready sample":               {air("2027-02-20"), nil, []models.Sample{ready}, "Record it with “the grey one”, which pim has; that is due by 16 February."},
		"where nobody on file has it":  {air("2027-02-20"), nil, []models.Sample{shelf}, "Record it with “the grey one” (on the shelf); that is due by 16 February."},
		"due today":                    {air("2027-02-12"), nil, []models.Sample{ready}, "Record it with “the grey one”, which pim has; that is due today."},
		"overdue":                      {air("2027-02-09"), nil, []models.Sample{ready}, "Record it with “the grey one”, which pim has; that was due 5 February, 3 days ago."},
		"overdue by a day":             {air("2027-02-11"), nil, []models.Sample{ready}, "Record it with “the grey one”, which pim has; that was due 7 February, 1 day ago."},
		"next year":                    {air("2028-01-20"), nil, []models.Sample{ready}, "Record it with “the grey one”, which pim has; that is due by 16 January 2028."},
		"no day":                       {models.Installment{}, nil, []models.Sample{ready}, "Record it with “the grey one”, which pim has; that has no day yet."},
		"a sample that isn't as far":   {air("2027-02-20"), nil, []models.Sample{begun}, "Work “the blue one” through “Ties”, then record it; that is due by 16 February."},
		"such a sample at somebody's":  {air("2027-02-20"), nil, []models.Sample{handed}, "Work “the blue one”, which pim has, through “Ties”, then record it; that is due by 16 February."},
		"only one worked past it":      {air("2027-02-20"), nil, []models.Sample{far}, "“the red one”, which pim has, is worked past it, and no other camera sample can show it: rip it back to the end of “Ties” or make another, then record it; that is due by 16 February."},
		"one worked past, one behind":  {air("2027-02-20"), nil, []models.Sample{far, begun}, "Work “the blue one” through “Ties”, then record it; that is due by 16 February."},
		"no sample":                    {air("2027-02-20"), nil, nil, "No camera sample can still show it: make one, worked through “Ties”, then record it; that is due by 16 February."},
		"a take to decide on":          {air("2027-02-20"), waits, []models.Sample{ready}, "Decide on take 2: accept it or set it aside. The recording is due by 16 February."},
		"an accepted take with a slip": {air("2027-02-20"), []models.Take{accepted(1, 0, slip(models.RecordAgain, false))}, []models.Sample{ready}, "Take 1 has to be recorded again: a slip at 12:04 can't be mended in the edit. Record it with “the grey one”, which pim has; that is due by 16 February."},
	} {
		t.Run(name, func(t *testing.T) {
			require.Equal(t, c.want, crown(c.in, c.takes, c.samples...).Needs)
		})
	}
	first := stand(models.Installment{AirOn: "2027-02-20"})
	require.Equal(t, "No camera sample can show it from the beginning: start one, then record it; that is due by 16 February.", first.Needs)
}

func TestWhatARecordedInstallmentNeeds(t *testing.T) {
	clean := []models.Take{accepted(1, 0)}
	slips := []models.Take{accepted(1, 0, slip(models.Cut, false), slip(models.OnScreenNote, false))}
	one := []models.Take{accepted(1, 0, slip(models.Cut, false))}
	step := func(n int, air models.Date) models.Installment {
		in := models.Installment{AirOn: air}
		for i, mark := range []func(){func() { in.EditedAt = at(10) }, func() { in.CaptionedAt = at(20) }, func() { in.ScheduledAt = at(30) }, func() { in.AiredAt = at(40) }} {
			if i < n {
				mark()
			}
		}
		return in
	}
	for name, c := range map[string]struct {
		in    models.Installment
		takes []models.Take
		want  string
	}{
		"the edit":                      {step(0, "2027-02-20"), clean, "Edit it before it airs on 20 February."},
		"the edit, with slips":          {step(0, "2027-02-20"), slips, "Edit it and mend 2 slips before it airs on 20 February."},
		"the edit, without a day":       {step(0, ""), clean, "Edit it; no day is announced yet."},
		"the edit, today":               {step(0, "2027-02-08"), clean, "Edit it: it airs today."},
		"the edit, too late":            {step(0, "2027-02-06"), one, "Edit it and mend 1 slip: it was to air on 6 February, 2 days ago."},
		"the edit again":                {step(1, "2027-02-20"), []models.Take{accepted(1, 0), accepted(2, 15)}, "A take was accepted after the edit: edit it again before it airs on 20 February."},
		"captions":                      {step(1, "2027-02-20"), clean, "Caption it before it airs on 20 February."},
		"scheduling":                    {step(2, "2027-02-20"), clean, "Schedule it before it airs on 20 February."},
		"a day":                         {step(2, ""), one, "Announce a day and schedule it and mend 1 slip."},
		"nothing but its day":           {step(3, "2027-02-20"), clean, "Its filming is done; it is scheduled for 20 February."},
		"a slip before its day":         {step(3, "2027-02-20"), one, "It goes out on 20 February. Mend 1 slip first."},
		"its day is today":              {step(3, "2027-02-08"), clean, "It goes out today; mark it as aired when it has."},
		"its day is past":               {step(3, "2027-02-07"), clean, "Its day, 7 February, is past: mark it as aired, or move the day."},
		"scheduled, its day taken away": {step(3, ""), clean, "It is scheduled, but no day is announced here: give its air date."},
		"nothing":                       {step(4, "2027-02-01"), clean, "It has aired; its filming is done."},
		"a note to its viewers":         {step(4, "2027-02-01"), slips, "It has aired with 2 slips that are not mended; say so where people watch it."},
	} {
		t.Run(name, func(t *testing.T) {
			require.Equal(t, c.want, crown(c.in, c.takes).Needs)
		})
	}
}
