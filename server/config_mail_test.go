package server

import (
	"errors"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestMailSettings(t *testing.T) {
	right := func() Config {
		c, err := DefaultConfig()
		require.NoError(t, err)
		c.BaseURL, c.Mail.Host, c.Mail.From = "https://tenter.example", "mail.example", "Studio <post@studio.example>"
		return c
	}
	for _, row := range []struct {
		name    string
		change  func(*Config)
		setting string // at fault; "": none
	}{
		{"a mail server", func(*Config) {}, ""},
		{"none at all", func(c *Config) { c.Mail = MailConfig{Port: 587, TLS: "starttls"} }, ""},
		{"an address without a name", func(c *Config) { c.Mail.From = "post@studio.example" }, ""},
		{"no TLS on this machine", func(c *Config) { c.Mail.Host, c.Mail.TLS = "127.0.0.1", "none" }, ""},
		{"no TLS on this machine, by its newer address", func(c *Config) { c.Mail.Host, c.Mail.TLS = "::1", "none" }, ""},
		{"no TLS over the network", func(c *Config) { c.Mail.TLS = "none" }, "TENTER_SMTP_TLS"},
		{"a sender and no mail server", func(c *Config) { c.Mail.Host = "" }, "TENTER_SMTP_HOST"},
		{"no port", func(c *Config) { c.Mail.Port = 0 }, "TENTER_SMTP_PORT"},
		{"a port beyond all ports", func(c *Config) { c.Mail.Port = 65536 }, "TENTER_SMTP_PORT"},
		{"a user without a password", func(c *Config) { c.Mail.User = "studio" }, "TENTER_SMTP_PASSWORD"},
		{"a password without a user", func(c *Config) { c.Mail.Password = "hush" }, "TENTER_SMTP_PASSWORD"},
		{"no address for links", func(c *Config) { c.BaseURL = "" }, "TENTER_BASE_URL"},
		{"certificates in a file that is not there", func(c *Config) { c.Mail.CA = filepath.Join(t.TempDir(), "none.pem") }, "TENTER_SMTP_CA"},
		{"a file without certificates", func(c *Config) { c.Mail.CA = "config_mail.go" }, "TENTER_SMTP_CA"},
		{"certificates without TLS", func(c *Config) { c.Mail.Host, c.Mail.TLS, c.Mail.CA = "127.0.0.1", "none", "any.pem" }, "TENTER_SMTP_CA"},
		{"no sender", func(c *Config) { c.Mail.From = "" }, "TENTER_SMTP_FROM"},
		{"a sender that is none", func(c *Config) { c.Mail.From = "the studio" }, "TENTER_SMTP_FROM"},
		{"two senders", func(c *Config) { c.Mail.From = "a@studio.example, b@studio.example" }, "TENTER_SMTP_FROM"},
		{"a sender that begins another header", func(c *Config) { c.Mail.From = "post@studio.example\r\nBcc: all@reader.example" }, "TENTER_SMTP_FROM"},
		{"answers to nobody", func(c *Config) { c.Mail.ReplyTo = "odile" }, "TENTER_SMTP_REPLY_TO"},
	} {
		t.Run(row.name, func(t *testing.T) {
			c := right()
			row.change(&c)
			err := c.Check()
			if row.setting == "" {
				require.NoError(t, err)
				return
			}
			var at *SettingError
			require.True(t, errors.As(err, &at), "%v", err)
			require.Equal(t, row.setting, at.Name)
			require.NotContains(t, err.Error(), "hush")
		})
	}
}
