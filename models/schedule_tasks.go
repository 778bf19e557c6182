package models

import (
	"fmt"
	"slices"
	"strings"
)

// listTasks turns what a design still needs into tasks: for each installment
// make, record, edit, caption, publish and air; for the text the reports, the
// corrections, the tech edit and the release.
func (s *Store) listTasks(b *taskList, r *scheduleRows) error {
	plan, err := s.planFilming(r.filmingRows, 0)
	if err != nil {
		return err
	}
	b.holds = plan.Holds
	if plan.Unsaid > 0 && len(plan.Shots)+len(plan.Undated) > 0 {
		b.lacks = append(b.lacks, fmt.Sprintf("Nobody has said what is made up to %s: making counts as no time there.", counted(plan.Unsaid, "state")))
	}
	if len(plan.Undated) > 0 {
		b.lacks = append(b.lacks, sentence(countedVerb(len(plan.Undated), "recording", "is", "are")+" without a day"))
	}
	shown := map[string]string{} // by sample, the last recording that it is in
	for _, n := range r.run {
		if n.State != Aired {
			b.installment(n, plan, shown)
		}
	}
	b.text()
	return nil
}

// asHoursOf makes an estimate that was learned in calendar days one in hours of
// the person who does it: so many days of theirs, with what they usually work in
// them. Days take nobody's time, and two of them at once would be promised
// twice.
func asHoursOf(e Estimate, who *Person, hours map[string]PersonWork) Estimate {
	if e.Unit != "days" || who == nil {
		return e
	}
	perDay := hours[who.ID].HoursPerWeek() / 7
	e.Low, e.Likely, e.High, e.Unit = e.Low*perDay, e.Likely*perDay, e.High*perDay, "hours"
	return e
}

// times is an estimate by so many.
func (e Estimate) times(n float64) [3]float64 { return [3]float64{e.Low * n, e.Likely * n, e.High * n} }

func (b *taskList) installment(n InstallmentNow, plan *FilmingPlan, shown map[string]string) {
	title := fmt.Sprintf("%d %s", n.Position, n.Title)
	estimate := b.r.estimates
	last := ""
	if n.State == Unrecorded {
		last = b.recording(n, title, plan, shown)
	}
	filmer := b.who(Filmer, nil)
	for _, step := range []struct {
		kind, word string
		done       bool
		who        *Person
	}{{workEdit, "edit", n.EditedAt != nil, filmer}, {workCaption, "caption", n.CaptionedAt != nil, filmer}, {workPublish, "schedule", n.ScheduledAt != nil, b.who(Designer, nil)}} {
		if !step.done {
			e := asHoursOf(estimate[step.kind], step.who, b.r.studio.hours)
			last = b.add(ScheduledTask{Name: step.word + " " + title, Kind: step.kind, Installment: n.ID, Unit: e.Unit}, step.who, e.times(1), last)
		}
	}
	if n.AirOn != "" {
		b.add(ScheduledTask{Name: "air " + title, Kind: "air", Installment: n.ID, Unit: "days", On: n.AirOn}, nil, [3]float64{}, last)
	}
}

// recording adds the making for an installment's shots, sample by sample, and
// the recording itself. A sample is made further only after the recording that
// it was last needed for.
func (b *taskList) recording(n InstallmentNow, title string, plan *FilmingPlan, shown map[string]string) string {
	type piece struct {
		hours  float64
		holder *string
	}
	pieces, order, shots := map[string]*piece{}, []string(nil), 0
	lost := 0.0
	for _, x := range append(append([]PlannedShot(nil), plan.Shots...), plan.Undated...) {
		if x.Installment != n.ID {
			continue
		}
		shots++
		if x.Sample == "" {
			lost = max(lost, x.WorkHours)
			continue
		}
		if pieces[x.Sample] == nil {
			pieces[x.Sample], order = &piece{holder: holderOf(plan.Samples, x.SampleID)}, append(order, x.Sample)
		}
		pieces[x.Sample].hours += x.WorkHours
	}
	if lost > 0 {
		pieces["a sample that can show it"], order = &piece{hours: lost}, append(order, "a sample that can show it")
	}
	var after []string
	for _, label := range order {
		p := pieces[label]
		if p.hours == 0 {
			after = append(after, shown[label])
			continue
		}
		after = append(after, b.add(ScheduledTask{Name: fmt.Sprintf("make %s: %s", title, label), Kind: workMake, Installment: n.ID, Unit: "hours"},
			b.who(Maker, p.holder), b.r.estimates[workMake].times(p.hours), shown[label]))
	}
	e := b.r.estimates[workFilm]
	each := float64(max(1, shots) + 1)
	if len(n.Shots) == 0 {
		each = 4 // an installment that is not planned in shots (chosen)
	}
	name := b.add(ScheduledTask{Name: "record " + title, Kind: workFilm, Installment: n.ID, Unit: e.Unit, Due: n.RecordDue}, b.who(Filmer, nil), e.times(each), after...)
	if n.ShootOn > b.r.today {
		b.lasts[len(b.lasts)-1].NotBefore = string(n.ShootOn)
	}
	for _, label := range order {
		shown[label] = name
	}
	return name
}

func holderOf(samples []Sample, id string) *string {
	for _, s := range samples {
		if s.ID == id {
			return s.HeldBy
		}
	}
	return nil
}

// text adds what the text still needs before it is released.
func (b *taskList) text() {
	if b.r.design.IsOut() {
		return
	}
	var reports []string
	for _, c := range b.r.calls {
		until := c.until()
		if until == "" {
			continue // all are there, though nobody has closed the call
		}
		left := float64(max(0, b.r.today.DaysUntil(until)+1))
		e := b.r.estimates[workReports]
		reports = append(reports, b.add(ScheduledTask{Name: "reports of " + c.Title, Kind: workReports, Unit: "days"}, nil,
			[3]float64{left + e.Low, left + e.Likely, left + e.High}))
	}
	last := ""
	if len(b.r.calls) > 0 || b.r.remarks > 0 {
		e := b.r.estimates[workCorrect]
		last = b.add(ScheduledTask{Name: "correct the text", Kind: workCorrect, Unit: e.Unit}, b.who(Designer, nil), e.times(1), reports...)
	}
	if len(b.r.calls) > 0 || !b.r.signed {
		e := b.r.estimates[workReview]
		last = b.add(ScheduledTask{Name: "tech edit", Kind: workReview, Unit: e.Unit}, b.who(TechEditor, nil), e.times(1), last)
	}
	if b.r.design.ReleasedOn != "" {
		b.add(ScheduledTask{Name: "release the text", Kind: "release", Unit: "days", On: b.r.design.ReleasedOn}, nil, [3]float64{}, last)
	}
}

// lackPeople tells what of the people was taken for granted.
func (b *taskList) lackPeople() {
	var unsaid []string
	for _, p := range b.people() {
		if b.r.studio.unsaid[p.ID] {
			unsaid = append(unsaid, p.Handle)
		}
	}
	if len(unsaid) > 0 {
		have := "has"
		if len(unsaid) > 1 {
			have = "have"
		}
		b.lacks = append(b.lacks, fmt.Sprintf("%s %s not said when they work: taken for Monday to Friday, %g hours a day.", strings.Join(unsaid, ", "), have, usualHoursPerDay))
	}
	b.lackChoice(Filmer, workFilm, "record and edit")
	b.lackChoice(TechEditor, workReview, "do the tech edit")
	if n := len(b.nobody); n > 0 {
		words := b.nobody[0]
		if n > 1 {
			words += fmt.Sprintf(" and %d more", n-1)
		}
		b.lacks = append(b.lacks, fmt.Sprintf("Nobody in the studio has the role for %s: it is counted in days and takes nobody's time.", words))
	}
}

// lackChoice tells that work which several people could do is planned for one
// of them: nobody says who of them does it.
func (b *taskList) lackChoice(role Role, kind, verb string) {
	var able []string
	for _, p := range b.r.studio.people {
		if slices.Contains(p.Roles, role) {
			able = append(able, p.Handle)
		}
	}
	if len(able) > 1 && slices.ContainsFunc(b.tasks, func(t ScheduledTask) bool { return t.Kind == kind }) {
		b.lacks = append(b.lacks, fmt.Sprintf("%s can all %s: everything of that is planned for %s.", strings.Join(able, ", "), verb, able[0]))
	}
}
