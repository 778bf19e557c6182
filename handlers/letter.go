package handlers

import (
	"context"
	"net/http"

	"github.com/danielgtaylor/huma/v2"

	"tenter/models"
	"tenter/models/letters"
)

// LetterPath names a letter.
type LetterPath struct {
	Letter string `path:"letter" maxLength:"36"`
}

type lettersQuery struct {
	Paged
	State string `query:"state" enum:"waiting,sent,failed,withdrawn"`
}

type lookLetterInput struct {
	LetterPath
	Origin
}

type reminderLetterInput struct {
	CallPath
	Origin
	Person string `query:"person" maxLength:"36"`
	Kind   string `query:"kind" maxLength:"40"`
	About  string `query:"about" maxLength:"120"`
}

// ReminderText is a reminder as the letter that it would be.
type ReminderText struct {
	Subject string `json:"subject"`
	Text    string `json:"text" doc:"As plain text; its own links are left out."`
}

// ReminderRef names a reminder as the list of reminders told of it.
type ReminderRef struct {
	PersonID string `json:"person_id" maxLength:"36"`
	Kind     string `json:"kind" maxLength:"40"`
	About    string `json:"about" maxLength:"120"`
}

type writeRemindersInput struct {
	CallPath
	Body struct {
		Letters []ReminderRef `json:"letters" minItems:"1" maxItems:"500"`
	}
}

// Written tells which letters were put out, and which were not and why.
type Written struct {
	Written int          `json:"written"`
	LeftOut []LeftLetter `json:"left_out"`
}

// LeftLetter is a reminder for which no letter was written.
type LeftLetter struct {
	ReminderRef
	Why string `json:"why"`
}

// MadeLetter names a letter that was put out.
type MadeLetter struct {
	ID string `json:"id"`
}

func (a *api) letters() {
	add(a, operation("get-post", http.MethodGet, "/letters/post", "How e-mail stands", "Letters"), a.getPost)
	add(a, operation("list-due-letters", http.MethodGet, "/letters/due", "What is due to be told in all calls, as it would go out", "Letters"), a.getDueLetters)
	add(a, operation("list-letters", http.MethodGet, "/letters", "Letters that wait, went, or could not", "Letters"), a.getLetters)
	add(a, operation("get-letter", http.MethodGet, "/letters/{letter}", "A letter with its words", "Letters"), a.getLetter)
	add(a, htmlPage(operation("get-letter-html", http.MethodGet, "/letters/{letter}/html", "A letter as HTML", "Letters")), a.getLetterHTML)
	add(a, htmlPage(operation("get-reminder-html", http.MethodGet, "/calls/{call}/reminders/html", "A reminder as the HTML that would go out", "Letters")), a.getReminderHTML)
	add(a, operation("get-reminder-text", http.MethodGet, "/calls/{call}/reminders/text", "A reminder as the plain text that would go out", "Letters"), a.getReminderText)
	add(a, operation("write-reminders", http.MethodPost, "/calls/{call}/reminders/letters", "Send reminders by e-mail; they count as told when they have gone", "Letters"), a.postReminders)
	add(a, created(operation("write-invitation", http.MethodPost, "/people/{person}/invitation/letter", "Invite somebody by e-mail", "Letters")), a.postInvitationLetter)
	add(a, created(operation("write-tester", http.MethodPost, "/assignments/{assignment}/invitation/letter", "Send a tester their link by e-mail", "Letters")), a.postTesterLetter)
	add(a, created(operation("write-test-letter", http.MethodPost, "/letters/test", "Send a letter to myself, to see whether e-mail works", "Letters")), a.postTestLetter)
	add(a, operation("withdraw-letter", http.MethodPost, "/letters/{letter}/withdraw", "Take back a letter that has not gone", "Letters"), a.postWithdrawLetter)
	add(a, operation("try-letter-again", http.MethodPost, "/letters/{letter}/again", "Send a letter that was not sent once more", "Letters"), a.postLetterAgain)
}

func (a *api) getPost(ctx context.Context, _ models.Actor, _ *struct{}) (*plain[Post], error) {
	counts, err := a.Store.CountLetters(ctx)
	if err != nil {
		return nil, err
	}
	studio, err := a.Store.Studio(ctx)
	if err != nil {
		return nil, err
	}
	byItself := map[models.LetterKind]bool{}
	for _, k := range studio.LetterKindsByItself() {
		byItself[k] = true
	}
	out := Post{On: a.LettersFrom != "", From: a.LettersFrom, Waiting: counts[models.LetterWaiting], Failed: counts[models.LetterFailed], Sent: counts[models.LetterSent]}
	for _, k := range models.ReminderKinds() {
		kind := models.LetterKind(k)
		out.Kinds = append(out.Kinds, LetterKindView{kind, kind.Group(), byItself[kind]})
	}
	return &plain[Post]{out}, nil
}

func (a *api) getDueLetters(ctx context.Context, _ models.Actor, _ *struct{}) (*listOf[DueLetter], error) {
	rows, err := a.Store.DueLetters(ctx)
	if err != nil {
		return nil, err
	}
	return list(rows, "", func(d models.DueLetter) DueLetter { return DueLetter{reminderView(d.Reminder), d.CallID, d.ByItself} }), nil
}

func (a *api) getLetters(ctx context.Context, _ models.Actor, in *lettersQuery) (*listOf[Letter], error) {
	rows, next, err := a.Store.Letters(ctx, models.LetterState(in.State), in.page())
	if err != nil {
		return nil, err
	}
	return list(rows, next, letterView), nil
}

func (a *api) getLetter(ctx context.Context, _ models.Actor, in *lookLetterInput) (*plain[LetterText], error) {
	l, words, err := a.letterWords(ctx, in)
	if err != nil {
		return nil, err
	}
	view := LetterText{Letter: letterView(*l)}
	if l.ErasedAt == nil {
		view.Text = words.Plain()
	}
	return &plain[LetterText]{view}, nil
}

func (a *api) letterWords(ctx context.Context, in *lookLetterInput) (*models.LetterLine, letters.Letter, error) {
	l, err := a.Store.Letter(ctx, in.Letter)
	if err != nil {
		return nil, letters.Letter{}, err
	}
	studio, err := a.Store.Studio(ctx)
	if err != nil {
		return nil, letters.Letter{}, err
	}
	return l, a.looked(studio.Name, a.baseFor(in.Origin), l.Letter), nil
}

func (a *api) baseFor(from Origin) string {
	if a.BaseURL != "" {
		return a.BaseURL
	}
	return from.base
}

// htmlAnswer is a letter as HTML, in a frame of the page that shows it. Its own
// policy lets nothing be fetched and nothing be run, and keeps it apart from
// the page, whatever is in it.
type htmlAnswer struct {
	ContentType string `header:"Content-Type"`
	Policy      string `header:"Content-Security-Policy"`
	Body        []byte
}

const letterPolicy = "default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'; frame-ancestors 'self'; sandbox"

func htmlPage(op huma.Operation) huma.Operation {
	op.Responses = map[string]*huma.Response{"200": {Description: op.Summary, Content: map[string]*huma.MediaType{"text/html": {Schema: &huma.Schema{Type: "string"}}}}}
	return op
}

func asHTML(w letters.Letter) *htmlAnswer {
	return &htmlAnswer{"text/html; charset=utf-8", letterPolicy, []byte(w.HTML())}
}

func (a *api) getLetterHTML(ctx context.Context, _ models.Actor, in *lookLetterInput) (*htmlAnswer, error) {
	l, words, err := a.letterWords(ctx, in)
	if err != nil {
		return nil, err
	}
	if l.ErasedAt != nil {
		return nil, &models.Error{Kind: models.NotFound, Message: "The words of this letter were erased."}
	}
	return asHTML(words), nil
}

func (a *api) getReminderHTML(ctx context.Context, _ models.Actor, in *reminderLetterInput) (*htmlAnswer, error) {
	words, err := a.reminderWords(ctx, in)
	if err != nil {
		return nil, err
	}
	return asHTML(words), nil
}

func (a *api) getReminderText(ctx context.Context, _ models.Actor, in *reminderLetterInput) (*plain[ReminderText], error) {
	words, err := a.reminderWords(ctx, in)
	if err != nil {
		return nil, err
	}
	return &plain[ReminderText]{ReminderText{words.Subject, words.Plain()}}, nil
}

func (a *api) reminderWords(ctx context.Context, in *reminderLetterInput) (letters.Letter, error) {
	studio, err := a.Store.Studio(ctx)
	if err != nil {
		return letters.Letter{}, err
	}
	due, err := a.Store.Reminders(ctx, in.Call)
	if err != nil {
		return letters.Letter{}, err
	}
	for _, r := range due {
		if r.PersonID == in.Person && string(r.Kind) == in.Kind && r.About == in.About {
			l := models.Letter{Kind: models.LetterKind(r.Kind), Subject: r.Subject, Body: r.Text, Link: r.Link}
			return a.looked(studio.Name, a.baseFor(in.Origin), l), nil
		}
	}
	return letters.Letter{}, &models.Error{Kind: models.NotFound, Message: "This is not due any more."}
}

// errNoPost says that nothing is sent, before anything is changed.
func (a *api) errNoPost() error {
	if a.LettersFrom != "" {
		return nil
	}
	return &models.Error{Kind: models.Conflict, Message: "This server sends no e-mail: no mail server is set (TENTER_SMTP_HOST). Copy the words or the link instead."}
}

func (a *api) postReminders(ctx context.Context, actor models.Actor, in *writeRemindersInput) (*plain[Written], error) {
	if err := a.errNoPost(); err != nil {
		return nil, err
	}
	keys := each(in.Body.Letters, func(r ReminderRef) models.ReminderKey {
		return models.ReminderKey{PersonID: r.PersonID, Kind: models.ReminderKind(r.Kind), About: r.About}
	})
	n, left, err := a.Store.WriteReminders(ctx, actor, in.Call, keys)
	if err != nil {
		return nil, err
	}
	return &plain[Written]{Written{n, each(left, func(l models.LeftOut) LeftLetter {
		return LeftLetter{ReminderRef{l.PersonID, string(l.Kind), l.About}, l.Why}
	})}}, nil
}

func (a *api) postInvitationLetter(ctx context.Context, actor models.Actor, in *PersonPath) (*plain[MadeLetter], error) {
	return a.madeLetter(func() (*models.Letter, error) { return a.Store.WriteInvitation(ctx, actor, in.Person) })
}

func (a *api) postTesterLetter(ctx context.Context, actor models.Actor, in *AssignmentPath) (*plain[MadeLetter], error) {
	return a.madeLetter(func() (*models.Letter, error) { return a.Store.WriteTesterInvitation(ctx, actor, in.Assignment) })
}

func (a *api) postTestLetter(ctx context.Context, actor models.Actor, _ *struct{}) (*plain[MadeLetter], error) {
	return a.madeLetter(func() (*models.Letter, error) { return a.Store.WriteTest(ctx, actor) })
}

func (a *api) madeLetter(write func() (*models.Letter, error)) (*plain[MadeLetter], error) {
	if err := a.errNoPost(); err != nil {
		return nil, err
	}
	l, err := write()
	if err != nil {
		return nil, err
	}
	return &plain[MadeLetter]{MadeLetter{l.ID}}, nil
}

func (a *api) postWithdrawLetter(ctx context.Context, actor models.Actor, in *LetterPath) (*struct{}, error) {
	return nil, a.Store.WithdrawLetter(ctx, actor, in.Letter)
}

func (a *api) postLetterAgain(ctx context.Context, actor models.Actor, in *LetterPath) (*struct{}, error) {
	if err := a.errNoPost(); err != nil {
		return nil, err
	}
	return nil, a.Store.TryLetterAgain(ctx, actor, in.Letter)
}
