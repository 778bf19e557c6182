package handlers

import (
	"context"
	"net/http"
	"time"

	"tenter/models"
)

// Progress is how far a tester told they are.
type Progress struct {
	Done    int       `json:"done" doc:"Sections finished."`
	Of      int       `json:"of"`
	Section string    `json:"section" doc:"The last one finished."`
	Note    string    `json:"note"`
	At      time.Time `json:"at"`
}

// MoreTime is a tester's wish for more time that waits for an answer.
type MoreTime struct {
	WantedOn models.Date `json:"wanted_on"`
	Why      string      `json:"why"`
	AskedAt  time.Time   `json:"asked_at"`
}

func progressView(l models.AssignmentLine) *Progress {
	if l.CheckedInAt == nil {
		return nil
	}
	return &Progress{l.SectionsDone, l.SectionsOf, l.Section, l.CheckInNote, *l.CheckedInAt}
}

func moreTimeView(l models.AssignmentLine) *MoreTime {
	if l.ExtensionID == nil || l.ExtensionAskedAt == nil {
		return nil
	}
	return &MoreTime{l.WantedOn, l.WantedWhy, *l.ExtensionAskedAt}
}

func daysLateView(l models.AssignmentLine) *int {
	days, told := l.DaysLate()
	if !told {
		return nil
	}
	return &days
}

func checkInView(c models.CheckIn) Progress { return Progress{c.Done, c.Of, c.Section, c.Note, c.At} }

// Reminder is something that is due to be told to somebody.
type Reminder struct {
	Kind     string      `json:"kind" enum:"asked,declined,answer,yarn,check-in,more time,due soon,overdue,measure again,thanks,correction"`
	PersonID string      `json:"person_id"`
	Handle   string      `json:"handle"`
	Name     string      `json:"name"`
	Email    *string     `json:"email"`
	Size     string      `json:"size,omitempty"`
	DueOn    models.Date `json:"due_on" doc:"Since when it is due."`
	About    string      `json:"about" doc:"Goes back unchanged when it was told."`
	Subject  string      `json:"subject"`
	Text     string      `json:"text"`

	ByHandOnly string `json:"by_hand_only,omitempty" doc:"Why it can't go by e-mail."`
	Doubtful   bool   `json:"doubtful,omitempty" doc:"A mail server did not know the address."`
	NotSent    string `json:"not_sent,omitempty" doc:"Why the latest letter about it was not sent."`
}

func reminderView(r models.Reminder) Reminder {
	return Reminder{string(r.Kind), r.PersonID, r.Handle, r.Name, r.Email, r.SizeName, r.DueOn, r.About, r.Subject, r.Text, r.ByHandOnly, r.Doubtful, r.NotSent}
}

// CallSummary is what came of a call.
type CallSummary struct {
	Sentence       string        `json:"sentence"`
	Applied        int           `json:"applied"`
	Asked          int           `json:"asked"`
	Accepted       int           `json:"accepted"`
	Withdrawn      int           `json:"withdrawn"`
	Reported       int           `json:"reported"`
	InTime         int           `json:"in_time"`
	Approved       int           `json:"approved"`
	MedianDaysLate *float64      `json:"median_days_late" doc:"Of those reported; below zero is early."`
	Short          []string      `json:"short" doc:"Sizes with fewer reports than needed."`
	Sizes          []SizeSummary `json:"sizes"`
}

// SizeSummary is what came of one size.
type SizeSummary struct {
	Name      string `json:"name"`
	Fewest    int    `json:"fewest"`
	Asked     int    `json:"asked"`
	Withdrawn int    `json:"withdrawn"`
	Reported  int    `json:"reported"`
	InTime    int    `json:"in_time"`
	Approved  int    `json:"approved"`
	Awaited   int    `json:"awaited"`
}

type checkInInput struct {
	AssignmentPath
	Body struct {
		Done int    `json:"done" doc:"Sections finished, from 0."`
		Note string `json:"note,omitempty"`
	}
}

type askTimeInput struct {
	AssignmentPath
	Body struct {
		WantedOn models.Date `json:"wanted_on"`
		Why      string      `json:"why"`
	}
}

type answerTimeInput struct {
	AssignmentPath
	Precondition
	Body struct {
		Granted bool `json:"granted"`
	}
}

type toldInput struct {
	CallPath
	Body struct {
		PersonID string `json:"person_id" maxLength:"36"`
		Kind     string `json:"kind" maxLength:"20"`
		About    string `json:"about" maxLength:"120"`
	}
}

func (a *api) courses() {
	add(a, operation("check-in", http.MethodPost, "/assignments/{assignment}/check-ins", "Tell how far my piece is", "Testing"), a.postCheckIn)
	add(a, operation("ask-for-time", http.MethodPost, "/assignments/{assignment}/more-time", "Ask for more time", "Testing"), a.postAskTime)
	add(a, operation("answer-time", http.MethodPost, "/assignments/{assignment}/more-time/answer", "Grant more time, or don't", "Testing"), a.postAnswerTime)
	add(a, operation("list-reminders", http.MethodGet, "/calls/{call}/reminders", "What is due to be told, to whom, in which words", "Testing"), a.getReminders)
	add(a, operation("mark-told", http.MethodPost, "/calls/{call}/reminders/told", "Keep that something was told", "Testing"), a.postTold)
	add(a, operation("get-call-summary", http.MethodGet, "/calls/{call}/summary", "What came of a call", "Testing"), a.getSummary)
}

func (a *api) postCheckIn(ctx context.Context, actor models.Actor, in *checkInInput) (*one[Assignment], error) {
	return oneAssignment(a.Store.AddCheckIn(ctx, actor, in.Assignment, in.Body.Done, in.Body.Note))
}

func (a *api) postAskTime(ctx context.Context, actor models.Actor, in *askTimeInput) (*one[Assignment], error) {
	return oneAssignment(a.Store.AskForTime(ctx, actor, in.Assignment, in.Body.WantedOn, in.Body.Why))
}

func (a *api) postAnswerTime(ctx context.Context, actor models.Actor, in *answerTimeInput) (*one[Assignment], error) {
	revision, err := in.revision(a.assignmentRevision(ctx, actor, in.Assignment))
	if err != nil {
		return nil, err
	}
	return oneAssignment(a.Store.AnswerExtension(ctx, actor, in.Assignment, revision, in.Body.Granted))
}

func (a *api) getReminders(ctx context.Context, _ models.Actor, in *CallPath) (*listOf[Reminder], error) {
	rows, err := a.Store.Reminders(ctx, in.Call)
	if err != nil {
		return nil, err
	}
	return list(rows, "", reminderView), nil
}

func (a *api) postTold(ctx context.Context, actor models.Actor, in *toldInput) (*struct{}, error) {
	return nil, a.Store.MarkTold(ctx, actor, in.Call, in.Body.PersonID, models.ReminderKind(in.Body.Kind), in.Body.About)
}

func (a *api) getSummary(ctx context.Context, _ models.Actor, in *CallPath) (*plain[CallSummary], error) {
	c, err := a.Store.CallSummary(ctx, in.Call)
	if err != nil {
		return nil, err
	}
	return &plain[CallSummary]{CallSummary{c.Sentence(), c.Applied, c.Asked, c.Accepted, c.Withdrawn, c.Reported, c.InTime, c.Approved, c.MedianDaysLate, c.Short,
		each(c.Sizes, func(z models.SizeSummary) SizeSummary {
			return SizeSummary{z.Name, z.Fewest, z.Asked, z.Withdrawn, z.Reported, z.InTime, z.Approved, z.Awaited}
		})}}, nil
}
