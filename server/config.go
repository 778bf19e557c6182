package server

import (
	"fmt"
	"net/url"
	"strings"
	"time"

	"github.com/alecthomas/kong"
)

// Secret is a setting that is never printed.
type Secret string

// String says whether the secret is set, not what it is.
func (s Secret) String() string {
	if s == "" {
		return "unset"
	}
	return "set"
}

// MarshalText keeps the secret out of dumps and logs.
func (s Secret) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// Config is everything that can be set, by flag or by environment. The zero
// configuration, with the defaults below, works.
type Config struct {
	Addr       string   `default:"127.0.0.1:8080" env:"TENTER_ADDR" help:"Address to listen on."`
	Database   string   `default:"data/tenter.db" env:"TENTER_DATABASE" help:"A file (SQLite) or a postgres:// address."`
	BaseURL    string   `env:"TENTER_BASE_URL" help:"Public address, for links: https://tenter.example. Empty takes the request's own."`
	Zone       string   `default:"UTC" env:"TENTER_ZONE" help:"The studio's time zone on the first start, an IANA name."`
	SigningKey Secret   `env:"TENTER_SIGNING_KEY" help:"Signs access tokens, at least 32 characters. Empty: made on the first start and kept in the database."`
	LogFormat  string   `default:"text" enum:"text,json" env:"TENTER_LOG_FORMAT" help:"text or json."`
	Proxies    []string `env:"TENTER_TRUSTED_PROXIES" help:"Addresses or networks of reverse proxies whose X-Forwarded-For is believed."`

	TriesAMinute        int `default:"10" env:"TENTER_TRIES_A_MINUTE" help:"Passwords, codes and links that one name or one address may try in a minute; twice that at once. 0: no bound."`
	WritesAMinute       int `default:"240" env:"TENTER_WRITES_A_MINUTE" help:"Changes that one person may make in a minute; one address ten times that. 0: no bound."`
	CalculationsAMinute int `default:"120" env:"TENTER_CALCULATIONS_A_MINUTE" help:"Calculations that one person may ask for in a minute; one address ten times that. 0: no bound."`

	HeaderTimeout time.Duration `default:"5s" env:"TENTER_HEADER_TIMEOUT" help:"How long a client may take to send a request's headers."`
	ReadTimeout   time.Duration `default:"30s" env:"TENTER_READ_TIMEOUT" help:"How long a client may take to send a whole request."`
	WriteTimeout  time.Duration `default:"60s" env:"TENTER_WRITE_TIMEOUT" help:"How long a request may take until its answer was taken whole."`
	IdleTimeout   time.Duration `default:"2m" env:"TENTER_IDLE_TIMEOUT" help:"How long a connection may stay open between requests."`

	Drain time.Duration `default:"15s" env:"TENTER_DRAIN" help:"How long requests in flight may take when the server stops."`

	Backups     string        `env:"TENTER_BACKUPS" help:"Folder for backups that the server makes by itself. Empty: none are made."`
	BackupEvery time.Duration `default:"24h" env:"TENTER_BACKUP_EVERY" help:"How often a backup is made."`
	BackupKeep  int           `default:"14" env:"TENTER_BACKUP_KEEP" help:"How many of them are kept; older ones are removed."`

	WebhookNetworks []string `env:"TENTER_WEBHOOK_NETWORKS" help:"Private networks or addresses that webhooks may go to, like 127.0.0.1 for programs on this machine. Empty: only what the internet reaches."`

	PhotoSettings

	Mail MailConfig `embed:"" prefix:"smtp-"`
}

const shortestBackupTime = time.Minute

const shortestSigningKey = 32 // characters

// SettingError is a setting at fault, by the name of its variable.
type SettingError struct{ Name, Problem string }

func (e *SettingError) Error() string { return e.Name + ": " + e.Problem }

// FieldPath names the setting.
func (e *SettingError) FieldPath() string { return e.Name }

// Check refuses settings that can't be served with.
func (c Config) Check() error {
	if c.BaseURL != "" {
		u, err := url.Parse(c.BaseURL)
		if err != nil || (u.Scheme != "http" && u.Scheme != "https") || u.Host == "" || strings.HasSuffix(c.BaseURL, "/") {
			return &SettingError{"TENTER_BASE_URL", "write it like https://tenter.example, without a slash at the end"}
		}
	}
	if n := len(c.SigningKey); n > 0 && n < shortestSigningKey {
		return &SettingError{"TENTER_SIGNING_KEY", fmt.Sprintf("has %d characters; use at least %d random ones", n, shortestSigningKey)}
	}
	if _, err := time.LoadLocation(c.Zone); err != nil {
		return &SettingError{"TENTER_ZONE", fmt.Sprintf("%q is not a time zone that this machine knows; give an IANA name like Europe/Oslo", c.Zone)}
	}
	if c.Drain <= 0 {
		return &SettingError{"TENTER_DRAIN", "give a time above zero, like 15s"}
	}
	if err := c.checkBackups(); err != nil {
		return err
	}
	if _, err := c.tellNetworks(); err != nil {
		return err
	}
	if err := c.PhotoSettings.check(); err != nil {
		return err
	}
	if err := c.Mail.check(c.BaseURL); err != nil {
		return err
	}
	if err := c.checkBounds(); err != nil {
		return err
	}
	_, err := readProxies(c.Proxies)
	return err
}

// mostAMinute keeps a bound on requests one that means something.
const mostAMinute = 1_000_000

func (c Config) checkBounds() error {
	for name, n := range map[string]int{"TENTER_TRIES_A_MINUTE": c.TriesAMinute, "TENTER_WRITES_A_MINUTE": c.WritesAMinute, "TENTER_CALCULATIONS_A_MINUTE": c.CalculationsAMinute} {
		if n < 0 || n > mostAMinute {
			return &SettingError{name, fmt.Sprintf("has to lie between 0 (no bound) and %d", mostAMinute)}
		}
	}
	for name, d := range map[string]time.Duration{"TENTER_HEADER_TIMEOUT": c.HeaderTimeout, "TENTER_READ_TIMEOUT": c.ReadTimeout, "TENTER_WRITE_TIMEOUT": c.WriteTimeout, "TENTER_IDLE_TIMEOUT": c.IdleTimeout} {
		if d <= 0 {
			return &SettingError{name, "give a time above zero, like 30s"}
		}
	}
	return nil
}

func (c Config) checkBackups() error {
	switch {
	case c.Backups == "":
		return nil
	case IsPostgres(c.Database):
		return &SettingError{"TENTER_BACKUPS", "is for SQLite; a PostgreSQL database is copied by its own tools, like pg_dump"}
	case c.BackupEvery < shortestBackupTime:
		return &SettingError{"TENTER_BACKUP_EVERY", "give a minute or more, like 24h"}
	case c.BackupKeep < 1:
		return &SettingError{"TENTER_BACKUP_KEEP", "keep at least one"}
	}
	return nil
}

// secure tells whether browsers reach the server over TLS.
func (c Config) secure() bool { return strings.HasPrefix(c.BaseURL, "https://") }

// DefaultConfig returns the configuration with every default in place.
func DefaultConfig() (Config, error) {
	var c Config
	parser, err := kong.New(&c, kong.Exit(func(int) {}))
	if err == nil {
		_, err = parser.Parse(nil)
	}
	if err != nil {
		return c, fmt.Errorf("default settings: %w", err)
	}
	return c, nil
}
