package server_test

import (
	"fmt"
	"net/http"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"tenter/handlers"
	"tenter/models"
	"tenter/server"
	"tenter/server/servertest"
)

// tight lets a person do two things a minute.
func tight(c *server.Config) {
	c.WritesAMinute, c.CalculationsAMinute, c.TriesAMinute = 1, 1, 0
	c.Proxies = []string{"127.0.0.0/8", "::1"}
}

func from(address string) http.Header { return http.Header{"X-Forwarded-For": {address}} }

// TestWritesAndCalculationsAreBounded walks the API's description: whatever
// changes something, and whatever is known to work long, is refused in the end
// with a wait, and does nothing then.
func TestWritesAndCalculationsAreBounded(t *testing.T) {
	s := servertest.OnSQLiteWith(t, tight)
	person := 0
	for path, item := range s.Server.API().Paths {
		for method, op := range operations(item) {
			if method == "GET" && !strings.Contains("get-fit get-yarn get-schedule get-my-data", op.OperationID) || strings.HasPrefix(path, handlers.Prefix+"/auth/") {
				continue
			}
			if allowed, _ := handlers.Allowed(op.OperationID); !allowed(models.Actor{Roles: []models.Role{models.Designer, models.Tester, models.TechEditor}}) {
				continue
			}
			person++
			c := s.As(fmt.Sprintf("p%d", person), models.Designer, models.Tester, models.TechEditor)
			address := strings.NewReplacer("{", "", "}", "").Replace(strings.TrimPrefix(path, handlers.Prefix))
			ask := func() *servertest.Answer {
				return c.Do(method, address+"?no-such=parameter", nil, from(fmt.Sprintf("10.1.%d.%d", person/250, person%250)))
			}
			require.NotEqual(t, 429, ask().Status, op.OperationID)
			require.NotEqual(t, 429, ask().Status, op.OperationID)
			a := ask()
			isProblem(t, a, 429, "")
			wait, err := strconv.Atoi(a.Header.Get("Retry-After"))
			require.NoError(t, err, op.OperationID)
			require.Positive(t, wait)
		}
	}
	require.Greater(t, person, 60)
}

// TestLimitsByPersonAndAddress: a person is bounded wherever they ask from, an
// address whoever asks, and both may go on when they have waited.
func TestLimitsByPersonAndAddress(t *testing.T) {
	s := servertest.OnSQLiteWith(t, tight)
	number := 0
	add := func(c *servertest.Client, address string) int {
		number++
		return c.Do("POST", "/designs", newDesign("name", fmt.Sprintf("Design %d", number)), from(address)).Status
	}
	odile, bram := s.As("odile", models.Designer), s.As("bram", models.Designer)
	require.Equal(t, []int{201, 201, 429, 201}, []int{add(odile, "10.0.0.1"), add(odile, "10.0.0.2"), add(odile, "10.0.0.3"), add(bram, "10.0.0.1")})
	s.Clock.Advance(time.Minute)
	require.Equal(t, []int{201, 429}, []int{add(odile, "10.0.0.1"), add(odile, "10.0.0.1")})

	taken := 0
	for i := range 30 {
		c := s.As(fmt.Sprintf("d%d", i), models.Designer)
		// One household's many IPv6 addresses are one network.
		if add(c, fmt.Sprintf("2001:db8:1:2::%x", i+1)) == 201 {
			taken++
		}
	}
	require.Equal(t, 20, taken)
	require.Equal(t, 201, add(s.As("elsewhere", models.Designer), "2001:db8:1:3::1"))
}

// TestForwardedAddresses: whose word is taken for where a request comes from.
func TestForwardedAddresses(t *testing.T) {
	for _, row := range []struct {
		name         string
		proxies      []string
		first, later string // X-Forwarded-For of two requests
		same         bool   // they count as one address
	}{
		{"nobody is believed", nil, "10.0.0.1", "10.0.0.2", true},
		{"somebody else is believed", []string{"192.0.2.1"}, "10.0.0.1", "10.0.0.2", true},
		{"the proxy is believed", []string{"127.0.0.1"}, "10.0.0.1", "10.0.0.2", false},
		{"a network of proxies", []string{"127.0.0.0/8"}, "10.0.0.1", "10.0.0.2", false},
		{"what the client said before the proxy", []string{"127.0.0.1"}, "1.1.1.1, 10.0.0.1", "2.2.2.2, 10.0.0.1", true},
		{"a chain of proxies", []string{"127.0.0.1", "10.9.0.0/16"}, "10.0.0.1, 10.9.0.4", "10.0.0.2, 10.9.0.4", false},
		{"a chain with a stranger in it", []string{"127.0.0.1", "10.9.0.0/16"}, "1.1.1.1, 10.0.0.7, 10.9.0.4", "2.2.2.2, 10.0.0.7, 10.9.0.4", true},
		{"IPv6 in one network", []string{"127.0.0.1"}, "2001:db8::1", "2001:db8::ffff:1", true},
		{"IPv6 in two networks", []string{"127.0.0.1"}, "2001:db8:0:1::1", "2001:db8:0:2::1", false},
		{"IPv4 written as IPv6", []string{"127.0.0.1"}, "::ffff:10.0.0.1", "10.0.0.1", true},
		{"no address at all", []string{"127.0.0.1"}, "unknown", "nonsense", true},
	} {
		t.Run(row.name, func(t *testing.T) {
			s := servertest.OnSQLiteWith(t, func(c *server.Config) { c.TriesAMinute, c.Proxies = 1, row.proxies })
			try := func(address string) int {
				return s.Nobody().Do("POST", "/invitations/look", body("token", "x"), from(address)).Status
			}
			require.Equal(t, []int{404, 404, 429}, []int{try(row.first), try(row.first), try(row.first)})
			want := 404
			if row.same {
				want = 429
			}
			require.Equal(t, want, try(row.later))
		})
	}
}

// TestForwardedSchemeIsBelievedFromProxiesOnly: links are made from it.
func TestForwardedSchemeIsBelievedFromProxiesOnly(t *testing.T) {
	for _, row := range []struct {
		proxies []string
		scheme  string
	}{{nil, "http://"}, {[]string{"127.0.0.1"}, "https://"}} {
		s := servertest.OnSQLiteWith(t, func(c *server.Config) { c.Proxies = row.proxies })
		c := s.Designer()
		bram := s.As("bram", models.Maker).Person.ID
		link := c.Do("POST", "/people/"+bram+"/invitation", nil, http.Header{"X-Forwarded-Proto": {"https"}}).Want(201).Map()["link"].(string)
		require.True(t, strings.HasPrefix(link, row.scheme), link)
	}
}

func TestBoundsThatAreNone(t *testing.T) {
	for name, change := range map[string]func(*server.Config){
		"TENTER_TRIES_A_MINUTE":        func(c *server.Config) { c.TriesAMinute = -1 },
		"TENTER_WRITES_A_MINUTE":       func(c *server.Config) { c.WritesAMinute = 1_000_001 },
		"TENTER_CALCULATIONS_A_MINUTE": func(c *server.Config) { c.CalculationsAMinute = -5 },
		"TENTER_HEADER_TIMEOUT":        func(c *server.Config) { c.HeaderTimeout = 0 },
		"TENTER_IDLE_TIMEOUT":          func(c *server.Config) { c.IdleTimeout = -time.Second },
		"TENTER_TRUSTED_PROXIES":       func(c *server.Config) { c.Proxies = []string{"my proxy"} },
	} {
		config, err := server.DefaultConfig()
		require.NoError(t, err)
		change(&config)
		require.ErrorContains(t, config.Check(), name)
	}
}
