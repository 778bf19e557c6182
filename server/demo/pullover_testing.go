package demo

import (
	"context"
	"time"

	"tenter/models"
)

// pulloverTester is somebody who was asked in the pullover's first round.
type pulloverTester struct {
	handle string
	size   int // as printed, from 1
	sent   int // day of the report; 0 for none yet
	note   string
}

// pulloverTesters are those who were asked when the round began.
func pulloverTesters() []pulloverTester {
	return []pulloverTester{
		{"mallow", 1, -12, "A pleasure to make."},
		{"burdock", 1, -11, ""},
		{"vetch", 2, -10, "I tried it on over a shirt; the length is right."},
		{"bracken", 2, -6, ""},
		{"comfrey", 3, -10, "I know that I work loosely, and I stayed with my hook."},
		{"raddle", 3, -9, ""},
		{"sedge", 3, -4, ""},
		{"betony", 4, -9, "Blocked on wires."},
		{"woad", 4, -7, "My swatch was small; the pullover feels softer than it did."},
		{"shuttle", 4, -3, ""},
		{"tansy", 4, 0, ""},
		{sentTester, 5, -6, ""},
		{"weld", 5, -5, ""},
		{"madder", 6, -8, "See my remark on the sleeve."},
		{"bobbin", 6, -5, "Tight round the upper arm, the rest fits."},
		{"thimble", 6, -2, ""},
		{"spindle", 7, -7, ""},
		{"fennel", 7, -3, ""},
		{"larch", 7, 0, ""},
		{"heddle", 8, -6, ""},
		{"niddy", 8, 0, ""}, // sends it today
		{"skein", 9, 0, ""},
		{"selvedge", 9, 0, ""},
	}
}

// pulloverApplicants is the sign-up form. Few offer to make the largest size.
func pulloverApplicants() []applicant {
	return []applicant{
		{"mallow", "1 / 2", 6, 6, ""},
		{"burdock", "1", 3, 2, ""},
		{"campion", "2 / 1", 1, 0, "prefers a smooth yarn"},
		{"vetch", "2", 4, 4, ""},
		{"bracken", "2 / 3", 2, 2, ""},
		{freshTester, "2 / 3", 2, 2, "can start three weeks later"},
		{"comfrey", "3 / 4", 5, 4, "works loosely"},
		{"raddle", "3", 2, 1, ""},
		{"sedge", "3 / 2", 7, 7, ""},
		{"orache", "3 / 4", 0, 0, "found you by the make-along"},
		{"betony", "4", 3, 3, ""},
		{"woad", "4 / 5", 1, 1, ""},
		{"shuttle", "4", 4, 3, ""},
		{"tansy", "4 / 3", 3, 1, ""},
		{"samphire", "4", 0, 0, ""},
		{sentTester, "5", 4, 4, ""},
		{"weld", "5 / 6", 2, 2, ""},
		{"bistort", "5 / 4", 0, 0, "my first test"},
		{"madder", "6", 5, 5, ""},
		{"bobbin", "6 / 5", 2, 2, ""},
		{"thimble", "6 / 7", 1, 1, ""},
		{"awl", "7 / 6", 6, 2, ""},
		{"spindle", "7", 3, 3, ""},
		{"fennel", "7 / 8", 2, 2, ""},
		{"larch", "7", 2, 1, ""},
		{"heddle", "8 / 7", 8, 8, ""},
		{"niddy", "8", 3, 3, ""},
		{"skein", "9 / 8", 2, 2, "slow but sure"},
		{"selvedge", "9", 1, 1, ""},
		{"purslane", "1 / 2 / 3", 0, 0, ""},
	}
}

// testing is the round up to the reports.
func (p *pulloverStory) testing(d *diary) {
	d.on(-34, "09:00", designer, "opens the call", func(ctx context.Context, as models.Actor) error {
		return p.open(ctx, as, "First round", d.day(-34), d.day(-2), 2, 3, 4)
	})
	d.on(-30, "08:30", designer, "imports the sign-up form", func(ctx context.Context, as models.Actor) error {
		return p.enter(ctx, as, d.day(-34), pulloverApplicants())
	})
	d.on(-29, "10:00", designer, "asks the testers", func(ctx context.Context, as models.Actor) error {
		for _, t := range pulloverTesters() {
			if err := p.ask(ctx, as, t.handle, t.size-1, ""); err != nil {
				return err
			}
		}
		return nil
	})
	for i, t := range pulloverTesters() {
		d.on(-28+i%4, clockAt(8+i%12, 13*i%60), t.handle, "accepts", p.accept(t.handle))
	}
	d.on(-20, "21:15", "selvedge", "withdraws", func(ctx context.Context, as models.Actor) error {
		a, err := p.store.Assignment(ctx, as, p.asked["selvedge"])
		if err != nil {
			return err
		}
		_, err = p.store.WithdrawAssignment(ctx, as, a.ID, &a.Revision, "My wrist needs a rest; I am sorry.")
		return err
	})
	p.course(d)
	d.on(-3, "09:40", designer, "asks a newcomer", func(ctx context.Context, as models.Actor) error {
		if err := p.ask(ctx, as, "bistort", 4, d.day(18)); err != nil {
			return err
		}
		_, _, err := p.store.InviteToAssignment(ctx, as, p.asked["bistort"])
		return err
	})
	d.on(-1, "17:30", designer, "asks from the reserve", func(ctx context.Context, as models.Actor) error {
		return p.ask(ctx, as, freshTester, 1, d.day(21))
	})
}

// reporting is what came back.
func (p *pulloverStory) reporting(d *diary) {
	for i, t := range pulloverTesters() {
		if t.sent == 0 {
			continue
		}
		f := p.finisher(t.handle, t.size-1)
		if t.handle == "burdock" { // corrects it the day after
			f.mistyped = map[string]models.Length{"sleeve length": models.NewLength(54.5, "cm")}
		}
		d.on(t.sent, clockAt(9+5*i%12, 17*i%60), t.handle, "reports", p.send(f, t.note))
	}
	d.on(-10, "20:20", "burdock", "corrects a report", p.send(p.finisher("burdock", 0), "I had read the sleeve from the wrong end of the tape."))
	d.ago(80*time.Minute, "niddy", "reports", p.send(p.finisher("niddy", 7), "Sorry for being late!"))
	d.on(-8, "08:40", designer, "approves", p.approve("mallow", "burdock", "vetch", "raddle"))
	d.on(-4, "09:10", designer, "approves", p.approve("comfrey", "betony", "weld", "spindle", "heddle"))
}
