package server

import (
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/tls"
	"crypto/x509"
	"errors"
	"io"
	"math/big"
	mathrand "math/rand/v2"
	"net"
	netmail "net/mail"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/emersion/go-sasl"
	"github.com/emersion/go-smtp"
	"github.com/stretchr/testify/require"
)

// mailServer is a real mail server on loopback (github.com/emersion/go-smtp,
// which shares no code with what sends), with a mind of its own.
type mailServer struct {
	host, port string
	mood       func(m *mailServer, what, address string) fate

	mu       sync.Mutex
	taken    map[string][]string // raw messages by Message-ID
	unsure   int                 // messages that it took and did not say so
	chance   *mathrand.Rand
	user     string // "": whoever comes
	password string
}

// fate is what a mail server does with a command.
type fate int

const (
	takes         fate = iota
	saysLater          // 451
	saysGoodbye        // 421, and closes
	saysNever          // 550
	breaksOff          // closes without a word, having taken nothing
	takesAndGone       // takes the message, and closes before it says so
	refusesSender      // 553
)

// kindly takes everything.
func kindly(*mailServer, string, string) fate { return takes }

// moody fails in every way that a mail server can, now and then, and refuses
// addresses that begin with "gone" for good.
func moody(m *mailServer, what, address string) fate {
	if what == "rcpt" && strings.HasPrefix(address, "gone") {
		return saysNever
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.chance.Float64() > 0.12 {
		return takes
	}
	fates := []fate{saysLater, saysGoodbye, breaksOff}
	if what == "data" {
		fates = append(fates, takesAndGone, takesAndGone)
	}
	return fates[m.chance.IntN(len(fates))]
}

// newMailServer speaks plainly, and TLS once it is asked for where it is secured.
func newMailServer(t *testing.T, mood func(*mailServer, string, string) fate, secured *tls.Config) *mailServer {
	t.Helper()
	return mailServerWith(t, mood, secured, false)
}

func mailServerWith(t *testing.T, mood func(*mailServer, string, string) fate, secured *tls.Config, fromTheFirstByte bool) *mailServer {
	t.Helper()
	m := &mailServer{mood: mood, taken: map[string][]string{}, chance: mathrand.New(mathrand.NewPCG(8, 5))}
	s := smtp.NewServer(smtp.BackendFunc(func(c *smtp.Conn) (smtp.Session, error) { return &mailSession{server: m, conn: c}, nil }))
	s.Domain, s.AllowInsecureAuth, s.ErrorLog = "mail.example", false, silent{}
	s.TLSConfig, s.EnableSMTPUTF8, s.MaxLineLength = secured, true, 1000 // RFC 5321, section 4.5.3.1.6, with the line's end
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	m.host, m.port, err = net.SplitHostPort(listener.Addr().String())
	require.NoError(t, err)
	if fromTheFirstByte {
		listener = tls.NewListener(listener, secured)
	}
	go s.Serve(listener) //nolint:errcheck // it ends with the test
	t.Cleanup(func() { s.Close() })
	return m
}

// silent keeps the library's own log out of the tests'.
type silent struct{}

func (silent) Printf(string, ...any) {}
func (silent) Println(...any)        {}

type mailSession struct {
	server *mailServer
	conn   *smtp.Conn
	to     string
	inside bool
}

// meet lets the server's mood decide.
func (s *mailSession) meet(what string) error {
	s.server.mu.Lock()
	mood := s.server.mood
	s.server.mu.Unlock()
	switch mood(s.server, what, s.to) {
	case saysLater:
		return &smtp.SMTPError{Code: 451, EnhancedCode: smtp.EnhancedCode{4, 3, 0}, Message: "come back later"}
	case saysGoodbye:
		s.conn.Conn().Close()
		return &smtp.SMTPError{Code: 421, Message: "shutting down"}
	case saysNever:
		return &smtp.SMTPError{Code: 550, EnhancedCode: smtp.EnhancedCode{5, 1, 1}, Message: "no such mailbox <" + s.to + ">"}
	case refusesSender:
		return &smtp.SMTPError{Code: 553, EnhancedCode: smtp.EnhancedCode{5, 1, 8}, Message: "nobody knows this sender"}
	case breaksOff:
		s.conn.Conn().Close()
		return errors.New("broken off")
	case takesAndGone:
		return errTakenAndGone
	}
	return nil
}

var errTakenAndGone = errors.New("taken, and gone")

func (s *mailSession) AuthMechanisms() []string { return []string{sasl.Plain} }

func (s *mailSession) Auth(string) (sasl.Server, error) {
	return sasl.NewPlainServer(func(_, user, password string) error {
		if user != s.server.user || password != s.server.password {
			return smtp.ErrAuthFailed
		}
		s.inside = true
		return nil
	}), nil
}

func (s *mailSession) Mail(string, *smtp.MailOptions) error {
	if s.server.user != "" && !s.inside {
		return smtp.ErrAuthRequired
	}
	return s.meet("mail")
}

func (s *mailSession) Rcpt(to string, _ *smtp.RcptOptions) error { s.to = to; return s.meet("rcpt") }
func (s *mailSession) Reset()                                    { s.to = "" }
func (s *mailSession) Logout() error                             { return nil }

func (s *mailSession) Data(r io.Reader) error {
	raw, err := io.ReadAll(r)
	if err != nil {
		return err
	}
	fated := s.meet("data")
	if fated != nil && fated != errTakenAndGone {
		return fated
	}
	m, err := netmail.ReadMessage(strings.NewReader(string(raw)))
	if err != nil {
		return &smtp.SMTPError{Code: 554, Message: "this is no message: " + err.Error()}
	}
	s.server.mu.Lock()
	id := m.Header.Get("Message-Id")
	s.server.taken[id] = append(s.server.taken[id], string(raw))
	if fated != nil {
		s.server.unsure++
		s.conn.Conn().Close()
	}
	s.server.mu.Unlock()
	return fated
}

// certificate makes one for this machine, and the pool that believes it.
func certificate(t *testing.T) (*tls.Config, *x509.CertPool) {
	t.Helper()
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	require.NoError(t, err)
	now := time.Now()
	plan := &x509.Certificate{SerialNumber: big.NewInt(1), NotBefore: now.Add(-time.Hour), NotAfter: now.Add(time.Hour),
		IPAddresses: []net.IP{net.IPv4(127, 0, 0, 1)}, IsCA: true, BasicConstraintsValid: true}
	der, err := x509.CreateCertificate(rand.Reader, plan, plan, &key.PublicKey, key)
	require.NoError(t, err)
	parsed, err := x509.ParseCertificate(der)
	require.NoError(t, err)
	pool := x509.NewCertPool()
	pool.AddCert(parsed)
	return &tls.Config{Certificates: []tls.Certificate{{Certificate: [][]byte{der}, PrivateKey: key}}}, pool
}
