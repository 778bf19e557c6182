package models

import (
	"fmt"
	"math"

	"tenter/models/film"
)

// names gives each of a list its own short name, so that the calculation's
// sentences can be read by people.
type names struct{ taken map[string]int }

func (n *names) own(name string) string {
	if n.taken == nil {
		n.taken = map[string]int{}
	}
	const most = film.MaxNameLength - 10
	for len(name) > most {
		r := []rune(name)
		name = string(r[:len(r)-1])
	}
	n.taken[name]++
	if k := n.taken[name]; k > 1 {
		return n.own(fmt.Sprintf("%s (%d)", name, k))
	}
	return name
}

// solve hands the plan to the calculation and takes its answer apart.
func (p *FilmingPlan) solve() error {
	if len(p.States) == 0 {
		return nil
	}
	in := film.Input{Today: string(p.Today), HoursPerDay: p.HoursPerDay, SameDayHours: p.SameDayHours, States: []film.State{{Name: p.States.Name(0)}}}
	stateNames, sampleNames, shotNames := names{}, names{}, names{}
	stateNames.own(p.States.Name(0))
	rankOf := map[string]int{in.States[0].Name: 0}
	for i := range p.States {
		if i+1 >= film.MaxStates {
			p.Warnings = append(p.Warnings, fmt.Sprintf("The text has more than %d states; those after are left out of the plan.", film.MaxStates))
			break
		}
		name := stateNames.own(p.States.Name(i + 1))
		rankOf[name] = i + 1
		in.States = append(in.States, film.State{Name: name, Hours: min(p.Making[i].Hours, film.MaxStateHours)})
	}
	last := len(in.States) - 1
	sampleOf := map[string]*Sample{}
	for i := range p.Samples[:min(len(p.Samples), film.MaxSamples)] {
		id := sampleNames.own(p.Samples[i].Label)
		sampleOf[id] = &p.Samples[i]
		in.Samples = append(in.Samples, film.Sample{ID: id, State: in.States[min(last, p.States.of(p.Samples[i]))].Name})
	}
	shotOf := map[string]*PlannedShot{}
	for i := range p.Shots {
		x := &p.Shots[i]
		x.Label = shotNames.own(x.Label)
		shotOf[x.Label] = x
		in.Shots = append(in.Shots, film.Shot{ID: x.Label, On: string(x.On), From: in.States[min(last, x.From)].Name, To: in.States[min(last, x.To)].Name})
	}
	out, err := film.Calculate(in)
	if err != nil {
		return fmt.Errorf("plan of filming: %w", err)
	}
	p.NewSamples, p.Hours = out.NewSamples, out.Hours
	for _, u := range out.Unserved {
		shotOf[u.Shot].Message = datesInWords(u.Message, p.Today)
	}
	for _, w := range out.Warnings {
		p.Warnings = append(p.Warnings, datesInWords(w.Message, p.Today))
	}
	p.draw(out, sampleOf, shotOf, rankOf)
	return nil
}

// draw turns the chains into lines, one for each sample.
func (p *FilmingPlan) draw(out film.Output, sampleOf map[string]*Sample, shotOf map[string]*PlannedShot, rankOf map[string]int) {
	used := map[string]bool{}
	for _, c := range out.Chains {
		line := SampleLine{Label: c.Sample, New: c.New}
		at := 0
		if s := sampleOf[c.Sample]; s != nil {
			line.SampleID, line.Holder, at = s.ID, s.Holder, p.States.of(*s)
			used[s.ID] = true
		}
		line.Steps = []SampleStep{{On: p.Today, Rank: at, Kind: "here", Words: "now at " + p.States.Name(at)}}
		work := map[string]film.Work{}
		for _, w := range c.Work {
			work[w.Shot] = w
		}
		for _, id := range c.Shots {
			x := shotOf[id]
			x.SampleID, x.Sample, x.Holder, x.New = line.SampleID, line.Label, line.Holder, line.New
			if w, ok := work[id]; ok {
				x.WorkHours, x.StartBy = w.Hours, p.startBy(x.On, w.Hours)
				line.Steps = append(line.Steps, SampleStep{On: x.On, Rank: rankOf[w.To], Kind: "made", Hours: w.Hours, Words: "worked off camera to " + w.To})
			}
			line.Steps = append(line.Steps, SampleStep{On: x.On, Rank: x.From, Kind: "shown", Words: "shown in " + id})
			if x.To != x.From {
				line.Steps = append(line.Steps, SampleStep{On: x.On, Rank: x.To, Kind: "shown", Words: "worked on camera to " + p.States.Name(x.To)})
			}
		}
		p.Lines = append(p.Lines, line)
	}
	for i := range p.Samples {
		s := &p.Samples[i]
		if !used[s.ID] {
			at := p.States.of(*s)
			p.Lines = append(p.Lines, SampleLine{SampleID: s.ID, Label: s.Label, Holder: s.Holder,
				Steps: []SampleStep{{On: p.Today, Rank: at, Kind: "here", Words: "now at " + p.States.Name(at)}}})
		}
	}
}

// startBy is the last day on which making of some hours can be begun to be
// ready on a day.
func (p *FilmingPlan) startBy(on Date, hours float64) Date {
	if hours <= 0 {
		return ""
	}
	if on == p.Today && hours <= p.SameDayHours {
		return on
	}
	return on.Add(-int(math.Ceil(hours/p.HoursPerDay - 1e-9)))
}

// sumUp gives each unrecorded installment its days.
func (p *FilmingPlan) sumUp(run []InstallmentNow) {
	for _, n := range run {
		if n.State != Unrecorded || n.AiredAt != nil {
			continue
		}
		in := InstallmentPlan{ID: n.ID, RecordBy: n.RecordDue, ShootOn: n.ShootOn, Can: true, Of: max(1, len(n.Shots)), Unrecorded: max(1, len(n.Open))}
		if due := n.shootDue(); due != "" {
			left := p.Today.DaysUntil(due)
			in.DaysLeft = &left
		}
		for i := range p.Shots {
			x := &p.Shots[i]
			if x.Installment != n.ID {
				continue
			}
			if x.Message != "" {
				in.Can = false
				p.lack(x)
			}
			in.MakingHours += x.WorkHours
			if x.StartBy != "" && (in.StartBy == "" || x.StartBy < in.StartBy) {
				in.StartBy = x.StartBy
			}
		}
		p.Installments = append(p.Installments, in)
	}
}

// lack tells of a shot that nothing can show how much making it would take,
// from the nearest sample that is not past it or from the beginning.
func (p *FilmingPlan) lack(x *PlannedShot) {
	x.WorkHours = hoursBetween(p.Making, 0, x.From)
	for _, s := range p.Samples {
		if at := p.States.of(s); at <= x.From {
			x.WorkHours = min(x.WorkHours, hoursBetween(p.Making, at, x.From))
		}
	}
	x.StartBy = p.startBy(x.On, x.WorkHours)
}
