package server

import (
	"crypto/x509"
	"fmt"
	"net"
	"net/mail"
	"os"
	"strconv"

	"tenter/models/letters"
)

// MailConfig is the mail server through which letters go out. Without a host
// nothing is sent.
type MailConfig struct {
	Host     string `env:"TENTER_SMTP_HOST" help:"Mail server that takes letters to testers. Empty: no e-mail is sent."`
	Port     int    `default:"587" env:"TENTER_SMTP_PORT" help:"Its port: 587 with starttls, 465 with implicit, as a rule."`
	TLS      string `default:"starttls" enum:"starttls,implicit,none" env:"TENTER_SMTP_TLS" help:"starttls, implicit or none; none only for a mail server on this machine."`
	User     string `env:"TENTER_SMTP_USER" help:"Name to sign in with there, if it wants one."`
	Password Secret `env:"TENTER_SMTP_PASSWORD" help:"Password to sign in with there."`
	CA       string `name:"ca" env:"TENTER_SMTP_CA" help:"File (PEM) with the certificates that vouch for it, for one that is no public mail server. Empty: those of the system."`
	From     string `env:"TENTER_SMTP_FROM" help:"Whom letters are from: Studio <post@studio.example>."`
	ReplyTo  string `env:"TENTER_SMTP_REPLY_TO" help:"Where answers go. Empty: to where letters are from."`
}

// on tells whether letters are sent.
func (m MailConfig) on() bool { return m.Host != "" }

func (m MailConfig) address() string { return net.JoinHostPort(m.Host, strconv.Itoa(m.Port)) }

// local tells whether the mail server is on this machine.
func (m MailConfig) local() bool {
	ip := net.ParseIP(m.Host)
	return m.Host == "localhost" || ip != nil && ip.IsLoopback()
}

const largestPort = 65535

func (m MailConfig) check(baseURL string) error {
	if !m.on() {
		if m.User != "" || m.Password != "" || m.CA != "" || m.From != "" || m.ReplyTo != "" {
			return &SettingError{"TENTER_SMTP_HOST", "is empty while other settings of the mail server are not; give its name, or leave all of them out"}
		}
		return nil
	}
	switch {
	case m.Port < 1 || m.Port > largestPort:
		return &SettingError{"TENTER_SMTP_PORT", "is no port; 587 is usual with starttls, 465 with implicit"}
	case m.TLS == "none" && !m.local():
		return &SettingError{"TENTER_SMTP_TLS", "can be none only for a mail server on this machine; letters hold links that let people in"}
	case m.TLS == "none" && m.CA != "":
		return &SettingError{"TENTER_SMTP_CA", "is of no use without TLS; leave it out, or see TENTER_SMTP_TLS"}
	case (m.User == "") != (m.Password == ""):
		return &SettingError{"TENTER_SMTP_PASSWORD", "goes with TENTER_SMTP_USER; give both or neither"}
	case baseURL == "":
		return &SettingError{"TENTER_BASE_URL", "is needed for the links in letters; give the studio's public address"}
	case m.From == "":
		return &SettingError{"TENTER_SMTP_FROM", "is missing; write it like Studio <post@studio.example>"}
	}
	if _, err := m.roots(); err != nil {
		return &SettingError{"TENTER_SMTP_CA", err.Error()}
	}
	if _, err := sender(m.From); err != nil {
		return &SettingError{"TENTER_SMTP_FROM", err.Error()}
	}
	if _, err := sender(m.ReplyTo); err != nil && m.ReplyTo != "" {
		return &SettingError{"TENTER_SMTP_REPLY_TO", err.Error()}
	}
	return nil
}

// roots are whose certificates are believed; nil stands for the system's.
func (m MailConfig) roots() (*x509.CertPool, error) {
	if m.CA == "" {
		return nil, nil
	}
	file, err := os.ReadFile(m.CA)
	if err != nil {
		return nil, fmt.Errorf("can't be read: %w", err)
	}
	pool := x509.NewCertPool()
	if !pool.AppendCertsFromPEM(file) {
		return nil, fmt.Errorf("names a file without a certificate in PEM: %s", m.CA)
	}
	return pool, nil
}

// sender reads an address with or without a name.
func sender(s string) (*mail.Address, error) {
	a, err := mail.ParseAddress(s)
	if err != nil {
		return nil, errNoSender
	}
	if err := letters.Address(a.Address); err != nil {
		return nil, errNoSender
	}
	return a, letters.Name(a.Name)
}

type senderError struct{}

func (senderError) Error() string {
	return "is not an e-mail address; write it like Studio <post@studio.example>"
}

var errNoSender = senderError{}
