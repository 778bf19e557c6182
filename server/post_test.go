package server

import (
	"context"
	"crypto/tls"
	"encoding/pem"
	"fmt"
	"log/slog"
	"net"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"tenter/models"
	"tenter/models/modelstest"
)

// postTo makes a sender of one process.
func postTo(t *testing.T, store *models.Store, m *mailServer, change func(*MailConfig)) *post {
	t.Helper()
	config := MailConfig{Host: m.host, Port: portOf(t, m.port), TLS: "none", From: "Hedgerow studio <post@studio.example>", ReplyTo: "odile@studio.example"}
	if change != nil {
		change(&config)
	}
	require.NoError(t, config.check("https://tenter.example"))
	s := &Server{config: Config{Mail: config, BaseURL: "https://tenter.example", Drain: time.Minute}, store: store, log: slog.New(slog.DiscardHandler)}
	p, err := newPost(s, func() float64 { return 0.5 })
	require.NoError(t, err)
	return p
}

func portOf(t *testing.T, port string) int {
	t.Helper()
	n, err := strconv.Atoi(port)
	require.NoError(t, err)
	return n
}

// reader adds somebody with an address.
func reader(t *testing.T, store *models.Store, handle string) *models.Person {
	t.Helper()
	email := handle + "@reader.example"
	p, err := store.AddPerson(t.Context(), models.System("test"), models.NewPerson{Handle: handle, Name: "Reader " + handle, Email: &email, Roles: []models.Role{models.Tester}})
	require.NoError(t, err)
	return p
}

func counts(t *testing.T, store *models.Store) map[models.LetterState]int {
	t.Helper()
	c, err := store.CountLetters(t.Context())
	require.NoError(t, err)
	return c
}

// stack puts many letters to a few people into the outbox.
func stack(t *testing.T, store *models.Store, clock *modelstest.Clock, people []*models.Person, each int) map[string]*models.Person {
	t.Helper()
	to, rows := map[string]*models.Person{}, []models.Letter{}
	for _, p := range people {
		for range each {
			id := models.NewID()
			to[id] = p
			rows = append(rows, models.Letter{ID: id, PersonID: p.ID, Kind: models.LetterTest, Subject: "A letter", Body: "Dear reader,\n\n.\n\nso.", Secret: "made up", State: models.LetterWaiting,
				NextTryAt: clock.Now(), GiveUpAt: clock.Now().Add(72 * time.Hour), CreatedAt: clock.Now()})
		}
	}
	require.NoError(t, modelstest.Rows(t, store).CreateInBatches(rows, 200).Error)
	return to
}

// TestNoLetterIsLost sends thousands of letters through a mail server that
// fails in every way, by two processes at once that are stopped and started in
// the middle of it. Each letter arrives, none is forgotten, and none comes twice
// but where the server took it and could not say so.
func TestNoLetterIsLost(t *testing.T) {
	modelstest.Each(t, func(t *testing.T, store *models.Store, clock *modelstest.Clock) {
		m := newMailServer(t, moody, nil)
		var people []*models.Person
		for i := range 20 {
			people = append(people, reader(t, store, fmt.Sprintf("reader-%d", i)))
		}
		gone := reader(t, store, "gone-away")
		letters := stack(t, store, clock, append(people, gone), 100)
		for round := 0; counts(t, store)[models.LetterWaiting] > 0; round++ {
			require.Less(t, round, 17, "after three days letters are given up")
			var both sync.WaitGroup
			for process := range 2 {
				p := postTo(t, store, m, nil)
				ctx, stop := context.WithCancel(t.Context())
				both.Go(func() {
					defer stop()
					for turn := 0; p.deliver(ctx) > 0; turn++ {
						if round == 0 && turn == 3+process {
							stop() // in the middle of the work; another process goes on
						}
					}
					require.Empty(t, p.unmarked)
				})
			}
			both.Wait()
			clock.Advance(4 * time.Hour)
		}
		require.Equal(t, map[models.LetterState]int{models.LetterSent: 2000, models.LetterFailed: 100}, counts(t, store))
		m.mu.Lock()
		defer m.mu.Unlock()
		arrived, twice := 0, 0
		for id, person := range letters {
			copies := m.taken["<"+id+"@studio.example>"]
			if person == gone {
				require.Empty(t, copies)
				continue
			}
			require.NotEmpty(t, copies, "a letter was lost")
			arrived++
			twice += len(copies) - 1
		}
		require.Equal(t, 2000, arrived)
		require.LessOrEqual(t, twice, m.unsure, "only what the server took without saying so comes twice")
		require.Positive(t, m.unsure, "the server was never in that mood; the test shows too little")
		after, err := store.Person(t.Context(), gone.ID)
		require.NoError(t, err)
		require.NotNil(t, after.EmailDoubtfulAt)
		failed, _, err := store.Letters(t.Context(), models.LetterFailed, models.Page{})
		require.NoError(t, err)
		require.Contains(t, failed[0].Said, "no such mailbox", "the server's own words are kept")
		faults, err := store.Check(t.Context())
		require.NoError(t, err)
		require.Empty(t, faults)
	})
}

// TestCrashAfterTheServerTookIt: the process dies between the server's "taken"
// and the mark. The letter goes out again when its lease is over, under the
// same name, with the same link.
func TestCrashAfterTheServerTookIt(t *testing.T) {
	modelstest.Each(t, func(t *testing.T, store *models.Store, clock *modelstest.Clock) {
		m := newMailServer(t, kindly, nil)
		mara := reader(t, store, "mara")
		letter, err := store.WriteInvitation(t.Context(), models.System("test"), mara.ID)
		require.NoError(t, err)
		dies := postTo(t, store, m, nil)
		taken, err := store.ClaimLetters(t.Context(), "a process that dies", 10)
		require.NoError(t, err)
		require.Len(t, taken, 1)
		line, err := reach(t.Context(), dies.mail, nil, time.Minute)
		require.NoError(t, err)
		require.NoError(t, dies.hand(line, taken[0]))
		line.drop()

		lives := postTo(t, store, m, nil)
		require.Zero(t, lives.deliver(t.Context()), "while the lease holds, nobody else sends it")
		clock.Advance(16 * time.Minute)
		require.Equal(t, 1, lives.deliver(t.Context()))
		require.Zero(t, lives.deliver(t.Context()))
		copies := m.taken["<"+letter.ID+"@studio.example>"]
		require.Len(t, copies, 2)
		require.Equal(t, linkIn(t, copies[0]), linkIn(t, copies[1]))
		_, _, err = store.AcceptInvitation(t.Context(), models.Actor{}, linkIn(t, copies[0]), "four plain words here", "", "", "test")
		require.NoError(t, err, "the link in the letter lets its reader in")
	})
}

// TestStopLetsGoOfTheRest: what was taken and not tried goes back at once.
func TestStopLetsGoOfTheRest(t *testing.T) {
	modelstest.Each(t, func(t *testing.T, store *models.Store, clock *modelstest.Clock) {
		ctx, stop := context.WithCancel(t.Context())
		m := newMailServer(t, func(_ *mailServer, what, _ string) fate {
			if what == "data" {
				stop()
			}
			return takes
		}, nil)
		stack(t, store, clock, []*models.Person{reader(t, store, "mara")}, 10)
		require.Equal(t, 10, postTo(t, store, m, nil).deliver(ctx))
		require.Equal(t, map[models.LetterState]int{models.LetterSent: 1, models.LetterWaiting: 9}, counts(t, store), "the letter in hand is finished, no other begun")
		require.Equal(t, 9, postTo(t, store, m, nil).deliver(t.Context()), "without waiting for the lease")
	})
}

// TestMailServerThatHangs: while the sender waits for a server that never says
// a word, letters are written and read as ever. Nothing here measures time: the
// sender is known to be waiting, and would wait for longer than a test may run.
func TestMailServerThatHangs(t *testing.T) {
	modelstest.Each(t, func(t *testing.T, store *models.Store, _ *modelstest.Clock) {
		listener, err := net.Listen("tcp", "127.0.0.1:0")
		require.NoError(t, err)
		t.Cleanup(func() { listener.Close() })
		host, port, err := net.SplitHostPort(listener.Addr().String())
		require.NoError(t, err)
		mara := reader(t, store, "mara")
		_, err = store.WriteInvitation(t.Context(), models.System("test"), mara.ID)
		require.NoError(t, err)
		p := postTo(t, store, &mailServer{host: host, port: port}, nil)
		done := make(chan int)
		go func() { done <- p.deliver(t.Context()) }()
		conn, err := listener.Accept()
		require.NoError(t, err)

		ash := reader(t, store, "ash")
		_, err = store.WriteInvitation(t.Context(), models.System("test"), ash.ID)
		require.NoError(t, err)
		waiting, _, err := store.Letters(t.Context(), models.LetterWaiting, models.Page{})
		require.NoError(t, err)
		require.Len(t, waiting, 2)
		require.True(t, waiting[1].Sending)
		require.Equal(t, models.Conflict, models.KindOf(store.WithdrawLetter(t.Context(), models.System("test"), waiting[1].ID)), "it is being sent at this moment")
		require.NoError(t, store.WithdrawLetter(t.Context(), models.System("test"), waiting[0].ID))

		require.NoError(t, conn.Close())
		require.Equal(t, 1, <-done)
		require.Equal(t, map[models.LetterState]int{models.LetterWaiting: 1, models.LetterWithdrawn: 1}, counts(t, store))
	})
}

// TestGivingUp: nobody is written to for ever.
func TestGivingUp(t *testing.T) {
	modelstest.Each(t, func(t *testing.T, store *models.Store, clock *modelstest.Clock) {
		m := newMailServer(t, func(*mailServer, string, string) fate { return saysLater }, nil)
		letter, err := store.WriteInvitation(t.Context(), models.System("test"), reader(t, store, "mara").ID)
		require.NoError(t, err)
		p := postTo(t, store, m, nil)
		tries := 0
		for counts(t, store)[models.LetterWaiting] > 0 {
			tries += p.deliver(t.Context())
			clock.Advance(4 * time.Hour)
			require.Less(t, tries, 20)
		}
		require.Equal(t, 18, tries, "every four hours of three days")
		l, err := store.Letter(t.Context(), letter.ID)
		require.NoError(t, err)
		require.Equal(t, models.LetterFailed, l.State)
		require.Equal(t, "it was tried for three days. 451 4.3.0 come back later", l.Said)
		require.False(t, l.Doubtful, "the server never said that there is no such address")

		m.mu.Lock()
		m.mood = kindly
		m.mu.Unlock()
		require.NoError(t, store.TryLetterAgain(t.Context(), models.System("test"), letter.ID))
		require.Equal(t, 1, p.deliver(t.Context()))
		require.Equal(t, map[models.LetterState]int{models.LetterSent: 1}, counts(t, store))
		require.Equal(t, models.Conflict, models.KindOf(store.TryLetterAgain(t.Context(), models.System("test"), letter.ID)))
	})
}

// TestSigningInAtTheMailServer tries the ways to reach a mail server that wants
// a name and a password, each with a certificate that is believed and without.
func TestSigningInAtTheMailServer(t *testing.T) {
	secured, pool := certificate(t)
	store := modelstest.Open(t, modelstest.SQLite(t), models.Options{})
	m := newMailServer(t, kindly, secured)
	m.user, m.password = "studio", "a secret of the studio"
	signed := func(c *MailConfig) { c.TLS, c.User, c.Password = "starttls", "studio", "a secret of the studio" }
	for _, row := range []struct {
		name   string
		change func(*MailConfig)
		roots  bool
		says   string // "": it works
	}{
		{"STARTTLS and the right password", signed, true, ""},
		{"a wrong password", func(c *MailConfig) { signed(c); c.Password = "another" }, true, "535"},
		{"no password", func(c *MailConfig) { c.TLS = "starttls" }, true, "502"},
		{"a certificate of nobody known", signed, false, "certificate"},
		{"TLS from the first byte, where the server speaks plainly", func(c *MailConfig) { signed(c); c.TLS = "implicit" }, true, "TLS"},
		{"no TLS, where the server then offers no way to sign in", func(c *MailConfig) { signed(c); c.TLS = "none" }, true, "no way to sign in"},
	} {
		t.Run(row.name, func(t *testing.T) {
			who := reader(t, store, "reader-"+models.NewID()[24:])
			letter, err := store.WriteInvitation(t.Context(), models.System("test"), who.ID)
			require.NoError(t, err)
			p := postTo(t, store, m, row.change)
			if row.roots {
				p.roots = pool
			}
			require.Equal(t, 1, p.deliver(t.Context()))
			l, err := store.Letter(t.Context(), letter.ID)
			require.NoError(t, err)
			if row.says == "" {
				require.Equal(t, models.LetterSent, l.State, l.Said)
				return
			}
			require.Contains(t, l.Said, row.says)
			require.NotContains(t, l.Said, "a secret of the studio")
			if l.State == models.LetterWaiting { // what is wrong with the settings is no fault of the letter
				require.NoError(t, store.WithdrawLetter(t.Context(), models.System("test"), letter.ID))
			}
		})
	}
}

// TestTLSFromTheFirstByte sends through a mail server on which nothing is said
// plainly (RFC 8314, section 3.3), whose certificate is vouched for by a file
// that the settings name, and by nobody else.
func TestTLSFromTheFirstByte(t *testing.T) {
	secured, _ := certificate(t)
	other, _ := certificate(t)
	file := func(c *tls.Config) string {
		path := filepath.Join(t.TempDir(), "studio.pem")
		require.NoError(t, os.WriteFile(path, pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: c.Certificates[0].Certificate[0]}), 0o600))
		return path
	}
	store := modelstest.Open(t, modelstest.SQLite(t), models.Options{})
	m := mailServerWith(t, kindly, secured, true)
	m.user, m.password = "studio", "a secret of the studio"
	for _, row := range []struct {
		name, tls, ca string
		says          string // "": it works
	}{
		{"vouched for by the file", "implicit", file(secured), ""},
		{"vouched for by nobody", "implicit", "", "certificate"},
		{"another one is vouched for", "implicit", file(other), "certificate"},
	} {
		t.Run(row.name, func(t *testing.T) {
			who := reader(t, store, "reader-"+models.NewID()[24:])
			letter, err := store.WriteInvitation(t.Context(), models.System("test"), who.ID)
			require.NoError(t, err)
			p := postTo(t, store, m, func(c *MailConfig) {
				c.TLS, c.CA, c.User, c.Password = row.tls, row.ca, "studio", "a secret of the studio"
			})
			require.Equal(t, 1, p.deliver(t.Context()))
			l, err := store.Letter(t.Context(), letter.ID)
			require.NoError(t, err)
			m.mu.Lock()
			defer m.mu.Unlock()
			if row.says == "" {
				require.Equal(t, models.LetterSent, l.State, l.Said)
				require.Len(t, m.taken, 1)
				return
			}
			require.Equal(t, models.LetterWaiting, l.State)
			require.Contains(t, l.Said, row.says)
			require.Len(t, m.taken, 1, "nothing more was taken")
			require.NoError(t, store.WithdrawLetter(t.Context(), models.System("test"), letter.ID))
		})
	}
}

// linkIn finds the reader's own link in a raw message.
func linkIn(t *testing.T, raw string) string {
	t.Helper()
	_, rest, found := strings.Cut(strings.ReplaceAll(raw, "=\r\n", ""), "https://tenter.example/join#")
	require.True(t, found, raw)
	return rest[:43]
}

// TestRunSendsWhatIsPutOut: the sender wakes when a letter is put out, finishes
// the one in hand when it is told to stop, and ends.
func TestRunSendsWhatIsPutOut(t *testing.T) {
	modelstest.Each(t, func(t *testing.T, store *models.Store, _ *modelstest.Clock) {
		ctx, stop := context.WithCancel(t.Context())
		m := newMailServer(t, func(_ *mailServer, what, _ string) fate {
			if what == "data" {
				stop() // while the letter is being taken
			}
			return takes
		}, nil)
		p := postTo(t, store, m, nil)
		ended := make(chan struct{})
		go func() { p.run(ctx); close(ended) }()
		_, err := store.WriteInvitation(t.Context(), models.System("test"), reader(t, store, "mara").ID)
		require.NoError(t, err)
		<-ended
		require.Equal(t, map[models.LetterState]int{models.LetterSent: 1}, counts(t, store))
	})
}

// TestLogNamesNobody: who was written to, and what a server said of them, is in
// no line of the log; neither is a link.
func TestLogNamesNobody(t *testing.T) {
	store := modelstest.Open(t, modelstest.SQLite(t), models.Options{})
	m := newMailServer(t, func(_ *mailServer, what, address string) fate {
		switch {
		case strings.HasPrefix(address, "gone"):
			return saysNever
		case what == "data":
			return saysLater
		}
		return takes
	}, nil)
	var log strings.Builder
	p := postTo(t, store, m, nil)
	p.log = slog.New(slog.NewTextHandler(&log, nil))
	for _, handle := range []string{"gone", "mara"} {
		_, err := store.WriteInvitation(t.Context(), models.System("test"), reader(t, store, handle).ID)
		require.NoError(t, err)
	}
	require.Equal(t, 2, p.deliver(t.Context()))
	require.Equal(t, 2, strings.Count(log.String(), "level=WARN"), log.String())
	require.Contains(t, log.String(), "code=550")
	for _, word := range []string{"reader.example", "Reader", "mailbox", "come back", "join", "way in"} {
		require.NotContains(t, log.String(), word)
	}
}

// TestLettersAreCounted for whoever runs the server.
func TestLettersAreCounted(t *testing.T) {
	modelstest.Each(t, func(t *testing.T, store *models.Store, clock *modelstest.Clock) {
		config, err := DefaultConfig()
		require.NoError(t, err)
		s, err := New(t.Context(), config, store, slog.New(slog.DiscardHandler), "test")
		require.NoError(t, err)
		stack(t, store, clock, []*models.Person{reader(t, store, "mara")}, 3)
		answer := httptest.NewRecorder()
		s.Handler().ServeHTTP(answer, httptest.NewRequest("GET", "/metrics", nil))
		require.Contains(t, answer.Body.String(), `tenter_letters{state="waiting"} 3`)
		require.Contains(t, answer.Body.String(), `tenter_letters{state="sent"} 0`)
	})
}
