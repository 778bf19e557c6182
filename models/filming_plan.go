package models

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"gorm.io/gorm"

	"tenter/models/film"
)

// FilmingPlan is which sample shows which shot, in which order, and what has to
// be made for it, as things stand today.
type FilmingPlan struct {
	Today        Date
	Size         *Size // whose samples are filmed; nil: none is marked, so every camera sample counts
	States       States
	Making       []Stretch // in the filmed size, at the makers' speed
	Speed        MakingSpeed
	HoursPerDay  float64 // of making on each day
	SameDayHours float64 // between two shots of one day
	Shots        []PlannedShot
	Undated      []PlannedShot // without any day to be recorded on
	Samples      []Sample      // for the camera, in the filmed size, in use
	Lines        []SampleLine  // what becomes of each sample, the new ones last
	Installments []InstallmentPlan
	NewSamples   int
	Hours        float64 // of making off camera in all
	Warnings     []string
	Holds        []Hold
	Unsaid       int // states whose making nobody has said: their hours count as none
}

// PlannedShot is an unrecorded shot with its day and the sample that shows it.
// An installment without shots is planned as one, from the end of the one
// before it to its own.
type PlannedShot struct {
	Shot        Shot // the zero shot for a whole installment
	Installment string
	Label       string // "2.1 Round 12"
	On          Date   // "" undated
	Overdue     bool   // it was to be recorded earlier, and is planned for today
	From, To    int    // ranks
	SampleID    string // "" for a new one, or when nothing can show it
	Sample      string // label
	Holder      string
	New         bool
	WorkHours   float64 // of making before it
	StartBy     Date    // by which that has to be begun; "" when nothing has to be made
	Message     string  // why nothing can show it
}

// SampleLine is a sample moving through states over days.
type SampleLine struct {
	SampleID string // "" for a new one
	Label    string
	Holder   string
	New      bool
	Steps    []SampleStep
}

// SampleStep is a place of a sample: where it is on a day, and why.
type SampleStep struct {
	On    Date
	Rank  int
	Kind  string // "here", "made" or "shown"
	Words string
	Hours float64 // of making since the step before
}

// InstallmentPlan is an installment's days.
type InstallmentPlan struct {
	ID          string
	Unrecorded  int // shots, or 1 for a whole installment
	Of          int
	RecordBy    Date
	ShootOn     Date
	StartBy     Date // the earliest day by which making has to be begun; "" when nothing has to be made
	MakingHours float64
	DaysLeft    *int // to the day of the recording
	Can         bool // every unrecorded shot has a sample
}

// usualSameDay is the making that fits between two shots of one day (chosen).
const usualSameDay = 0.5

// PlanFilming plans a design's filming. hoursPerDay 0 takes the makers' own.
func (s *Store) PlanFilming(ctx context.Context, idOrSlug string, hoursPerDay float64) (*FilmingPlan, error) {
	if hoursPerDay != 0 && !(hoursPerDay >= 0.05 && hoursPerDay <= film.MaxHoursPerDay) {
		return nil, &Error{Kind: Invalid, Message: "The plan can't be made.", Fields: []FieldProblem{{"hours_per_day", "has to lie between 0.05 and 24 hours"}}}
	}
	r, err := s.filmingRows(ctx, idOrSlug)
	if err != nil {
		return nil, err
	}
	return s.planFilming(r, hoursPerDay)
}

// filmingRows is what a filming plan is made of.
type filmingRows struct {
	today   Date
	design  *Design
	run     []InstallmentNow
	samples []Sample
	sheet   *Sheet
	speeds  *speeds
	makers  []string // ids of people who make
	work    map[string]PersonWork
}

func (s *Store) filmingRows(ctx context.Context, idOrSlug string) (*filmingRows, error) {
	db := s.read(ctx)
	r := &filmingRows{}
	var err error
	if r.design, err = designIn(db, idOrSlug); err != nil {
		return nil, err
	}
	if r.today, err = s.Today(ctx); err != nil {
		return nil, err
	}
	if r.samples, err = samplesWhere(db, "samples.design_id = ?", r.design.ID); err != nil {
		return nil, err
	}
	if r.run, err = s.InstallmentsWith(ctx, r.design.ID, r.today, r.samples); err != nil {
		return nil, err
	}
	latest, err := latestVersion(db, r.design.ID)
	if err != nil {
		return nil, err
	}
	if r.sheet, err = sheetIn(db, *latest); err != nil {
		return nil, err
	}
	if r.speeds, err = speedsIn(db, r.design.Craft); err != nil {
		return nil, err
	}
	if r.makers, err = peopleWith(db, Maker); err != nil {
		return nil, err
	}
	held := map[string]bool{}
	for _, id := range r.makers {
		held[id] = true
	}
	for _, z := range r.samples {
		if z.HeldBy != nil {
			held[*z.HeldBy] = true
		}
	}
	r.work, err = workIn(db, keysOf(held))
	return r, err
}

// peopleWith lists the people of a role who take part, by id.
func peopleWith(db *gorm.DB, role Role) ([]string, error) {
	var ids []string
	err := db.Table("people").Joins("JOIN person_roles r ON r.person_id = people.id").
		Where("r.role = ? AND people.disabled_at IS NULL", role).Order("people.id").Pluck("people.id", &ids).Error
	if err != nil {
		return nil, fmt.Errorf("people of a role: %w", err)
	}
	return ids, nil
}

func (s *Store) planFilming(r *filmingRows, hoursPerDay float64) (*FilmingPlan, error) {
	rows := make([]Installment, len(r.run))
	for i := range r.run {
		rows[i] = r.run[i].Installment
	}
	p := &FilmingPlan{Today: r.today, Size: filmedSize(r.sheet.Sizes), States: statesOf(rows), SameDayHours: usualSameDay}
	for _, z := range r.samples {
		if z.onCamera() && (p.Size == nil || z.SizeID == p.Size.ID) {
			p.Samples = append(p.Samples, z)
		}
	}
	p.Speed, p.HoursPerDay = r.pace(p.Samples)
	if hoursPerDay != 0 {
		p.HoursPerDay = hoursPerDay
	}
	size := ""
	if p.Size != nil {
		size = p.Size.ID
	} else if len(r.sheet.Sizes) > 0 {
		size = r.sheet.Sizes[0].ID
	}
	p.Making = s.stretches(p.States, r.sheet, size, p.Speed)
	for _, x := range p.Making {
		if !x.Known {
			p.Unsaid++
		}
	}
	p.collectShots(r.run)
	p.Holds = HoldsOf(r.run, p.Samples)
	if err := p.solve(); err != nil {
		return nil, err
	}
	p.sumUp(r.run)
	return p, nil
}

// inFilmedSize leaves out the samples of other sizes, none while no size is
// marked as the filmed one.
func inFilmedSize(samples []Sample, sizes []Size) []Sample {
	filmed := filmedSize(sizes)
	if filmed == nil {
		return samples
	}
	var out []Sample
	for _, s := range samples {
		if s.SizeID == filmed.ID {
			out = append(out, s)
		}
	}
	return out
}

// pace is how fast samples are made: by who holds the camera samples, else by
// the makers, else as usual.
func (r *filmingRows) pace(samples []Sample) (MakingSpeed, float64) {
	var who []string
	for _, z := range samples {
		if z.HeldBy != nil && !slices.Contains(who, *z.HeldBy) && slices.Contains(r.makers, *z.HeldBy) {
			who = append(who, *z.HeldBy)
		}
	}
	if len(who) == 0 {
		who = r.makers
	}
	if len(who) == 0 {
		return r.speeds.of(nil), math.Round(usualWork("").HoursPerWeek()/7*100) / 100
	}
	var hours float64
	for _, id := range who {
		hours += r.work[id].HoursPerWeek() / 7
	}
	perDay := math.Round(hours/float64(len(who))*100) / 100
	if len(who) == 1 {
		return r.speeds.of(&who[0]), perDay
	}
	var sum float64
	for _, id := range who {
		sum += r.speeds.of(&id).StitchesPerHour
	}
	speed := r.speeds.of(nil)
	speed.StitchesPerHour = sum / float64(len(who))
	return speed, perDay
}

// collectShots lists what is unrecorded, with its day, in the order of filming.
func (p *FilmingPlan) collectShots(run []InstallmentNow) {
	for i, n := range run {
		if n.State != Unrecorded || n.AiredAt != nil {
			continue
		}
		shots := n.Open
		if len(n.Shots) == 0 {
			var from *string
			if i > 0 {
				from = &run[i-1].ID
			}
			shots = []Shot{{FromState: from, ToState: &n.ID, Title: n.Title}}
		}
		for _, shot := range shots {
			x := PlannedShot{Shot: shot, Installment: n.ID, On: n.shootDue(), Label: fmt.Sprintf("%d.%d %s", n.Position, shot.Position, shot.Title)}
			if shot.ID == "" {
				x.Label = fmt.Sprintf("%d %s", n.Position, n.Title)
			}
			x.From, _ = p.States.Rank(shot.FromState)
			x.To, _ = p.States.Rank(shot.ToState)
			x.To = max(x.From, x.To)
			if x.On == "" {
				p.Undated = append(p.Undated, x)
				continue
			}
			if x.On < p.Today {
				x.On, x.Overdue = p.Today, true
			}
			p.Shots = append(p.Shots, x)
		}
	}
	slices.SortStableFunc(p.Shots, func(a, b PlannedShot) int { return strings.Compare(string(a.On), string(b.On)) })
	if len(p.Shots) > film.MaxShots {
		p.Warnings = append(p.Warnings, fmt.Sprintf("Only the first %d of %d unrecorded shots are planned.", film.MaxShots, len(p.Shots)))
		p.Shots = p.Shots[:film.MaxShots]
	}
}

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
		in.States = append(in.States, film.State{Name: name, Hours: p.Making[i].Hours})
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
