package models

import (
	"fmt"
	"strings"
	"time"
)

// all writes everything that is due, told or not.
func (m *mailroom) all() []Reminder {
	var out []Reminder
	add := func(r Reminder, ok bool) {
		if ok {
			out = append(out, r)
		}
	}
	for _, t := range m.testers {
		add(m.corrected(t))
		if m.call.ClosedAt != nil {
			add(m.thanks(t))
			continue
		}
		add(m.asked(t))
		add(m.answer(t))
		add(m.yarn(t))
		add(m.moreTime(t))
		add(m.checkIn(t))
		add(m.reportDue(t))
		add(m.measureAgain(t))
	}
	for _, a := range m.declined {
		out = append(out, m.declinedTo(a))
	}
	return out
}

// letter puts the words around what there is to say.
func (m *mailroom) letter(name, handle string, lines ...string) string {
	kept := []string{fmt.Sprintf("Dear %s,", orElse(name, handle))}
	for _, l := range lines {
		if strings.TrimSpace(l) != "" {
			kept = append(kept, l)
		}
	}
	return strings.Join(append(kept, m.studio.Name), "\n\n")
}

func (m *mailroom) to(t remindable, kind ReminderKind, due Date, about, subject string, lines ...string) Reminder {
	return Reminder{Kind: kind, PersonID: t.PersonID, Handle: t.Handle, Name: t.Name, Email: t.Email, SizeName: t.SizeName, DueOn: due, About: about,
		DesignID: m.design.ID, AssignmentID: t.ID, Subject: fmt.Sprintf("%s: %s", m.design.Name, subject), Text: m.letter(t.Name, t.Handle, lines...)}
}

func (m *mailroom) day(at time.Time) Date { return DateOf(at, m.studio.Location()) }

func said(d Date) string { return d.Said() }

func (m *mailroom) asked(t remindable) (Reminder, bool) {
	by := ""
	if t.AnswerBy != "" {
		by = fmt.Sprintf(" Please say yes or no by %s.", said(t.AnswerBy))
	}
	return m.to(t, RemindAsked, m.day(t.AssignedAt), t.ID+" "+t.SizeName, "will you make size "+t.SizeName+"?",
		fmt.Sprintf("thank you for offering to test %s. We would like you to make size %s; your report would be wanted by %s.%s", m.design.Name, t.SizeName, said(t.DueOn), by),
		"The link that comes with this message leads to the place to answer; your counts are there once you have said yes."), t.State() == Asked
}

func (m *mailroom) answer(t remindable) (Reminder, bool) {
	due := t.AnswerBy
	return m.to(t, RemindAnswer, due.Add(-answerAhead), string(due), "your answer",
		fmt.Sprintf("we asked whether you would make size %s of %s and would like to know by %s, so that somebody else can have it if you can't.", t.SizeName, m.design.Name, said(due)),
		"A no is quite all right."), t.State() == Asked && due != "" && due.Add(-answerAhead) <= m.today
}

func (m *mailroom) yarn(t remindable) (Reminder, bool) {
	note := ""
	if t.YarnSentNote != "" {
		note = "About the parcel: " + t.YarnSentNote + "."
	}
	return m.to(t, RemindYarn, t.YarnSentOn, string(t.YarnSentOn), "your yarn is on its way",
		fmt.Sprintf("your yarn for size %s of %s went out on %s. Please tell us when it is there, or if it is not within two weeks.", t.SizeName, m.design.Name, said(t.YarnSentOn)), note), t.YarnSentOn != "" && t.ReportID == nil
}

func (m *mailroom) moreTime(t remindable) (Reminder, bool) {
	e, has := m.extension[t.ID]
	if !has {
		return Reminder{}, false
	}
	text := fmt.Sprintf("you asked for more time for size %s of %s. That is fine: your report is wanted by %s.", t.SizeName, m.design.Name, said(t.DueOn))
	if !e.Granted {
		text = fmt.Sprintf("you asked for time until %s for size %s of %s. We are sorry that we can't wait so long: your report is still wanted by %s. If you can't make it, please say so, so that somebody else can.",
			said(e.WantedOn), t.SizeName, m.design.Name, said(t.DueOn))
	}
	return m.to(t, RemindTime, m.day(*e.AnsweredAt), e.ID, "your wish for more time", text), t.ReportID == nil
}

// checkIn is due once for each silence of a fortnight before the day.
func (m *mailroom) checkIn(t remindable) (Reminder, bool) {
	if t.State() != Accepted {
		return Reminder{}, false
	}
	last := m.day(*t.AcceptedAt)
	if t.CheckedInAt != nil {
		last = max(last, m.day(*t.CheckedInAt))
	}
	due := last.Add(quietAfter)
	return m.to(t, RemindCheckIn, due, string(last), "how far are you?",
		fmt.Sprintf("how is size %s of %s coming along? A tap on your page tells us how far you are; there is no need to write.", t.SizeName, m.design.Name),
		fmt.Sprintf("Your report is wanted by %s. If life has come in between, say so: more time can often be found.", said(t.DueOn))), due <= m.today && t.DaysLeft() >= 0 // an overdue report is asked for anyway
}

// reportDue is due a few days ahead, and every week after the day.
func (m *mailroom) reportDue(t remindable) (Reminder, bool) {
	if t.State() != Accepted {
		return Reminder{}, false
	}
	left := t.DaysLeft()
	if left >= 0 {
		return m.to(t, RemindDueSoon, t.DueOn.Add(-dueAhead), string(t.DueOn), "your report is due soon",
			fmt.Sprintf("your report on size %s of %s is wanted by %s. Please measure the finished piece washed and dry; what you can't measure you may leave out.", t.SizeName, m.design.Name, said(t.DueOn))), left <= dueAhead
	}
	week := (-left - 1) / overdueEvery
	return m.to(t, RemindOverdue, t.DueOn.Add(1+week*overdueEvery), fmt.Sprintf("%s week %d", t.DueOn, week+1), "your report is overdue",
		fmt.Sprintf("your report on size %s of %s was wanted by %s, %s ago. When can we expect it?", t.SizeName, m.design.Name, said(t.DueOn), many(-left, "day")),
		"If you can't finish, please say so on your page; that helps as well."), true
}

// measureAgain is due once for all that is to be measured again, and anew when
// more is asked.
func (m *mailroom) measureAgain(t remindable) (Reminder, bool) {
	open := m.measure[t.ID]
	if len(open) == 0 {
		return Reminder{}, false
	}
	lines := []string{fmt.Sprintf("thank you for your report on size %s of %s. Please measure once more:", t.SizeName, m.design.Name)}
	for _, r := range open {
		what := "your swatch: stitches and rows"
		if r.PointID != nil {
			what = r.Point
		}
		if r.Why != "" {
			what += ". " + r.Why
		}
		lines = append(lines, "- "+what)
	}
	newest := open[len(open)-1] // by id, which is by time
	return m.to(t, RemindMeasure, m.day(newest.AskedAt), newest.ID, "please measure once more", append(lines, "Your page shows how each is measured; your next report answers.")...), true
}

func (m *mailroom) thanks(t remindable) (Reminder, bool) {
	own := fmt.Sprintf("thank you for making and measuring size %s of %s.", t.SizeName, m.design.Name)
	return m.to(t, RemindThanks, m.day(*m.call.ClosedAt), "thanks", "thank you", own, m.call.Thanks), t.ReportID != nil
}

func (m *mailroom) declinedTo(a ApplicationLine) Reminder {
	return Reminder{Kind: RemindDeclined, PersonID: a.PersonID, Handle: a.Handle, Name: a.Name, Email: a.Email, DueOn: m.day(*a.DeclinedAt), About: a.DeclinedAt.UTC().Format(time.RFC3339),
		DesignID: m.design.ID, Subject: m.design.Name + ": your offer to test",
		Text: m.letter(a.Name, a.Handle, fmt.Sprintf("thank you for offering to test %s. This time we have no size for you.", m.design.Name), a.DeclinedWhy,
			"We hope that you offer again.")}
}

// many writes a number with its noun.
func many(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}
