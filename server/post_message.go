package server

import (
	"fmt"
	netmail "net/mail"
	"strings"
	"time"

	"github.com/wneessen/go-mail"

	"tenter/handlers"
	"tenter/models"
	"tenter/models/letters"
)

// envelope is what makes a letter a message: who sends it, and where its links
// lead.
type envelope struct {
	from, replyTo *netmail.Address // replyTo is nil where answers go to from
	base          string           // the studio's public address
}

func newEnvelope(m MailConfig, base string) (envelope, error) {
	e := envelope{base: base}
	var err error
	if e.from, err = sender(m.From); err != nil {
		return e, fmt.Errorf("TENTER_SMTP_FROM: %w", err)
	}
	if m.ReplyTo != "" {
		if e.replyTo, err = sender(m.ReplyTo); err != nil {
			return e, fmt.Errorf("TENTER_SMTP_REPLY_TO: %w", err)
		}
	}
	return e, nil
}

// unwritableError is a letter that no mail server may be given as it is.
type unwritableError struct{ why error }

func (e *unwritableError) Error() string { return "it can't be written as a message: " + e.why.Error() }

// headerName is a name as it can stand in a header. Beside a letter that is no
// ASCII, net/mail leaves a backslash bare in an encoded word, where RFC 2047
// (section 5, rule 3) has none, and readers then refuse the whole header.
func headerName(name string) string { return strings.ReplaceAll(name, `\`, "/") }

// message writes a letter as RFC 5322 has it. Its Message-ID is the letter's
// own, so that a letter that is sent twice is known as one. What goes into a
// header is looked at here once more, whatever was let in before.
func (e envelope) message(l models.OutLetter, now time.Time) (*mail.Msg, error) {
	for _, err := range []error{letters.Address(l.Address), letters.Name(l.Name), letters.Subject(l.Subject), letters.Line("the letter's id", l.ID, 36)} {
		if err != nil {
			return nil, &unwritableError{err}
		}
	}
	words := handlers.LetterWords(e.base, l)
	m := mail.NewMsg(mail.WithCharset(mail.CharsetUTF8), mail.WithEncoding(mail.EncodingQP), mail.WithNoDefaultUserAgent())
	m.FromMailAddress(e.from)
	m.ToMailAddress(&netmail.Address{Name: headerName(l.Name), Address: l.Address})
	if e.replyTo != nil {
		m.ReplyToMailAddress(e.replyTo)
	}
	m.Subject(l.Subject)
	m.SetDateWithValue(now)
	_, domain, _ := strings.Cut(e.from.Address, "@")
	m.SetMessageIDWithValue(l.ID + "@" + domain)
	m.SetGenHeader("Auto-Submitted", "auto-generated") // RFC 3834: nobody answers it by machine
	if words.Stop != "" && strings.HasPrefix(words.Stop, "https://") {
		// RFC 8058 takes HTTPS alone. Without it the link stands in the letter.
		if err := m.SetListUnsubscribeOneClick(words.Stop); err != nil {
			return nil, &unwritableError{err}
		}
	}
	m.SetBodyString(mail.TypeTextPlain, words.Plain())
	m.AddAlternativeString(mail.TypeTextHTML, words.HTML())
	return m, nil
}
