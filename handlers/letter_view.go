package handlers

import (
	"time"

	"tenter/models"
	"tenter/models/letters"
)

// Letter is an e-mail on its way out, or what became of it. Its own links are
// shown to nobody: they let somebody in.
type Letter struct {
	ID        string             `json:"id"`
	Kind      models.LetterKind  `json:"kind"`
	Person    LetterTo           `json:"person"`
	CallID    *string            `json:"call_id"`
	Subject   string             `json:"subject" doc:"Empty once the words were erased."`
	State     models.LetterState `json:"state" enum:"waiting,sent,failed,withdrawn"`
	Sending   bool               `json:"sending" doc:"It is with the mail server at this moment."`
	Tries     int                `json:"tries"`
	NextTryAt *time.Time         `json:"next_try_at" doc:"While it waits."`
	Said      string             `json:"said,omitempty" doc:"Why it was not sent, in the mail server's words."`
	CreatedAt time.Time          `json:"created_at"`
	EndedAt   *time.Time         `json:"ended_at" doc:"When it was sent, failed or was withdrawn."`
	ErasedAt  *time.Time         `json:"erased_at"`
}

// LetterTo is whom a letter is to, and the address that it goes to.
type LetterTo struct {
	ID       string  `json:"id"`
	Handle   string  `json:"handle"`
	Name     string  `json:"name"`
	Email    *string `json:"email"`
	Doubtful bool    `json:"doubtful" doc:"A mail server did not know the address."`
}

// LetterText is a letter with its words.
type LetterText struct {
	Letter
	Text string `json:"text" doc:"As plain text; its own links are left out."`
}

// DueLetter is a reminder that is due, as it would go out by e-mail.
type DueLetter struct {
	Reminder
	CallID   string `json:"call_id"`
	ByItself bool   `json:"by_itself" doc:"It goes out unasked."`
}

// Post is how e-mail stands.
type Post struct {
	On      bool             `json:"on" doc:"A mail server is set; otherwise nothing is sent."`
	From    string           `json:"from,omitempty" doc:"Whom letters are from."`
	Waiting int              `json:"waiting"`
	Failed  int              `json:"failed"`
	Sent    int              `json:"sent"`
	Kinds   []LetterKindView `json:"kinds" doc:"The kinds of letters that can go by themselves."`
}

// LetterKindView is a kind of letter and whether it can be declined.
type LetterKindView struct {
	Kind     models.LetterKind  `json:"kind"`
	Group    models.LetterGroup `json:"group,omitempty" doc:"The group in which a person can decline it; absent: it can't be declined."`
	ByItself bool               `json:"by_itself"`
}

func letterView(l models.LetterLine) Letter {
	view := Letter{ID: l.ID, Kind: l.Kind, Person: LetterTo{l.PersonID, l.Handle, l.Name, l.Email, l.Doubtful}, CallID: l.TestCallID, Subject: l.Subject,
		State: l.State, Sending: l.Sending, Tries: l.Tries, Said: l.Said, CreatedAt: l.CreatedAt, EndedAt: l.EndedAt, ErasedAt: l.ErasedAt}
	if l.State == models.LetterWaiting {
		view.NextTryAt = &l.NextTryAt
	}
	return view
}

// LetterWords is a letter as it reads, with links below base.
func LetterWords(base string, l models.OutLetter) letters.Letter {
	w := letters.Letter{Studio: l.Studio, Subject: l.Subject, Words: l.Body}
	switch l.Link {
	case models.PageLink:
		w.Page = base + "/my"
	case models.JoinLink:
		w.Join = base + joinPath + l.JoinToken
		if l.JoinUntil != "" {
			w.Until = l.JoinUntil.Said()
		}
	}
	if l.StopToken != "" {
		w.Stop, w.Group = base+Prefix+stopPath+l.StopToken, l.Kind.Group().Says()
	}
	return w
}

// looked is a letter as it would read, with words in place of its own links.
func (a *api) looked(studio, base string, l models.Letter) letters.Letter {
	w := LetterWords(base, models.OutLetter{Letter: l, Studio: studio})
	if w.Join != "" {
		w.Join = "(the reader's own link stands here; nobody else is shown it)"
	}
	if group := l.Kind.Group(); group != "" {
		w.Stop, w.Group = "(the link with which the reader ends these stands here)", group.Says()
	}
	return w
}
