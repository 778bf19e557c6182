package server

import (
	"context"
	"crypto/tls"
	"crypto/x509"
	"errors"
	"fmt"
	"net"
	"net/textproto"
	"os"
	"slices"
	"strings"
	"sync"
	"time"
	"unicode/utf8"

	"github.com/wneessen/go-mail"
	"github.com/wneessen/go-mail/smtp"
)

// How long a mail server may take (chosen): to be reached and signed in at, and
// for one letter from the first word to its "taken". RFC 5321, section
// 4.5.3.2, allows minutes for each step; a server that a studio uses is near.
const (
	reachWithin = 20 * time.Second
	takeWithin  = 40 * time.Second
)

// notTaken is why a letter was not taken: where in the conversation, and what
// was said there.
type notTaken struct {
	stage string // "connect", "from", "to", "data"
	err   error
}

func (e *notTaken) Error() string { return e.stage + ": " + e.err.Error() }
func (e *notTaken) Unwrap() error { return e.err }

// code is the server's reply code, 0 where it gave none.
func (e *notTaken) code() int {
	var said *textproto.Error
	if errors.As(e.err, &said) {
		return said.Code
	}
	return 0
}

// forGood tells whether the same letter would be refused each time, whatever is
// mended on this side: it can't be written as a message, or its addressee is
// refused for good. Any other 5xx reply (RFC 5321, section 4.2.1) is about the
// sender, the way in or the studio's mail server, which somebody can mend.
func (e *notTaken) forGood() bool {
	var unwritable *unwritableError
	return errors.As(e.err, &unwritable) || e.refusesAddressee()
}

// refusesAddressee tells whether a lasting refusal is about who the letter is
// to: by the enhanced code where there is one (RFC 3463, section 3: X.1 is about
// addresses, of which 5.1.7 and 5.1.8 are the sender's, and X.2 about the
// addressee's mailbox), else by the reply to RCPT (RFC 5321, section 4.2.3; 556
// is RFC 7504's). After the message itself a bare code may be about anything.
func (e *notTaken) refusesAddressee() bool {
	if e.code() < 500 || e.stage != "to" && e.stage != "data" {
		return false
	}
	switch code := e.enhanced(); {
	case code != "":
		return strings.HasPrefix(code, "5.1.") && code != "5.1.7" && code != "5.1.8" || strings.HasPrefix(code, "5.2.")
	default:
		return e.stage == "to" && slices.Contains([]int{550, 551, 552, 553, 556}, e.code())
	}
}

// enhanced is the code of RFC 3463 at the head of the server's words, "" where
// there is none.
func (e *notTaken) enhanced() string {
	var said *textproto.Error
	if !errors.As(e.err, &said) {
		return ""
	}
	first, _, _ := strings.Cut(said.Msg, " ")
	if !strings.HasPrefix(first, "5.") {
		return ""
	}
	return first
}

// noSuchAddress tells whether the server says that there is no such mailbox: by
// the enhanced code where it gives one (5.1.x is about the address, 5.2.1 a
// mailbox that is shut), else by the reply to RCPT.
func (e *notTaken) noSuchAddress() bool {
	if e.stage != "to" || !e.refusesAddressee() {
		return false
	}
	if code := e.enhanced(); code != "" {
		return strings.HasPrefix(code, "5.1.") || code == "5.2.1"
	}
	return e.code() == 550 || e.code() == 551 || e.code() == 553
}

const longestSaid = 500 // characters of a server's words that are kept

// words are what the designer reads, on one line.
func (e *notTaken) words() string {
	text := e.err.Error()
	var said *textproto.Error
	switch {
	case errors.As(e.err, &said):
		text = fmt.Sprintf("%d %s", said.Code, said.Msg)
	case e.stage == "connect":
		text = "The mail server was not reached, or not got into: " + text
	}
	text = strings.Join(strings.Fields(strings.ToValidUTF8(text, "?")), " ")
	text = strings.Map(func(r rune) rune {
		if r < ' ' || r == 0x7f {
			return '?'
		}
		return r
	}, text)
	if utf8.RuneCountInString(text) > longestSaid {
		text = string([]rune(text)[:longestSaid]) + "…"
	}
	return text
}

// wire is a connection whose deadlines can be cut short from outside.
type wire struct {
	net.Conn
	mu    sync.Mutex
	limit time.Time // zero: none
}

// within gives what follows so much time.
func (w *wire) within(d time.Duration) {
	w.mu.Lock()
	defer w.mu.Unlock()
	at := time.Now().Add(d)
	if !w.limit.IsZero() && w.limit.Before(at) {
		at = w.limit
	}
	w.Conn.SetDeadline(at) //nolint:errcheck // a closed connection fails at the next word
}

// endWithin gives all that is left so much time and no more.
func (w *wire) endWithin(d time.Duration) {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.limit = time.Now().Add(d)
	w.Conn.SetDeadline(w.limit) //nolint:errcheck // a closed connection fails at the next word
}

// mailLine is a conversation with the mail server.
type mailLine struct {
	wire   *wire
	client *smtp.Client
	let    func() bool // ends the watch over the stop
}

// reach opens a conversation. When ctx ends, what is being sent has the time
// of drain left.
func reach(ctx context.Context, m MailConfig, roots *x509.CertPool, drain time.Duration) (*mailLine, error) {
	conn, err := (&net.Dialer{Timeout: reachWithin}).DialContext(ctx, "tcp", m.address())
	if err != nil {
		return nil, &notTaken{"connect", err}
	}
	l := &mailLine{wire: &wire{Conn: conn}}
	l.let = context.AfterFunc(ctx, func() { l.wire.endWithin(drain) })
	l.wire.within(reachWithin)
	if err := l.open(m, roots); err != nil {
		l.drop()
		return nil, &notTaken{"connect", err}
	}
	return l, nil
}

func (l *mailLine) open(m MailConfig, roots *x509.CertPool) error {
	secured := &tls.Config{ServerName: m.Host, RootCAs: roots, MinVersion: tls.VersionTLS12}
	var conn net.Conn = l.wire
	if m.TLS == "implicit" {
		conn = tls.Client(conn, secured)
	}
	client, err := smtp.NewClient(conn, m.Host)
	if err != nil {
		return err
	}
	l.client = client
	if err := client.Hello(ownName()); err != nil {
		return err
	}
	if m.TLS == "starttls" {
		if offered, _ := client.Extension("STARTTLS"); !offered {
			return errors.New("the mail server does not offer STARTTLS; see TENTER_SMTP_TLS")
		}
		if err := client.StartTLS(secured); err != nil {
			return fmt.Errorf("STARTTLS: %w", err)
		}
	}
	if m.User == "" {
		return nil
	}
	_, ways := client.Extension("AUTH")
	way, err := wayIn(ways, m)
	if err != nil {
		return err
	}
	if err := client.Auth(way); err != nil {
		return fmt.Errorf("sign-in at the mail server: %w", err)
	}
	return nil
}

// wayIn chooses how to sign in: without showing the password where the server
// can do that.
func wayIn(ways string, m MailConfig) (smtp.Auth, error) {
	has := map[string]bool{}
	for _, w := range strings.Fields(strings.ToUpper(ways)) {
		has[w] = true
	}
	open := m.TLS == "none" // on this machine alone, see MailConfig.check
	switch {
	case has["SCRAM-SHA-256"]:
		return smtp.ScramSHA256Auth(m.User, string(m.Password)), nil
	case has["PLAIN"]:
		return smtp.PlainAuth("", m.User, string(m.Password), m.Host, open), nil
	case has["LOGIN"]:
		return smtp.LoginAuth(m.User, string(m.Password), m.Host, open), nil
	}
	return nil, errors.New("the mail server offers no way to sign in that is known here (SCRAM-SHA-256, PLAIN, LOGIN)")
}

// ownName is what we call ourselves there.
func ownName() string {
	name, err := os.Hostname()
	if err != nil || name == "" || strings.ContainsAny(name, " \r\n") {
		return "localhost"
	}
	return name
}

// hand gives one message over. Only a nil error means that the server took it;
// with any other it may have taken it all the same.
func (l *mailLine) hand(m *mail.Msg, from, to string) error {
	l.wire.within(takeWithin)
	if err := l.client.Mail("<" + from + ">"); err != nil {
		return &notTaken{"from", err}
	}
	if err := l.client.Rcpt("<" + to + ">"); err != nil {
		return &notTaken{"to", err}
	}
	w, err := l.client.Data()
	if err != nil {
		return &notTaken{"data", err}
	}
	if _, err := m.WriteTo(w); err != nil {
		return &notTaken{"data", err}
	}
	if err := w.Close(); err != nil {
		return &notTaken{"data", err}
	}
	return nil
}

// goesOn makes the conversation ready for the next letter after one that ended
// with err, and tells whether it is still one. 421 is the server's goodbye
// (RFC 5321, section 3.8).
func (l *mailLine) goesOn(err error) bool {
	var why *notTaken
	if err == nil || errors.As(err, &why) && why.stage == "message" {
		return true
	}
	if why == nil || why.code() == 0 || why.code() == 421 {
		return false
	}
	l.wire.within(reachWithin)
	return l.client.Reset() == nil
}

// leave ends the conversation as it should be.
func (l *mailLine) leave() {
	l.wire.within(reachWithin)
	l.client.Quit() //nolint:errcheck // all letters are told of by now
	l.drop()
}

func (l *mailLine) drop() {
	l.let()
	l.wire.Close() //nolint:errcheck // it is over either way
}
