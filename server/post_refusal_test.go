package server

import (
	"fmt"
	"net/textproto"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"tenter/models"
	"tenter/models/modelstest"
)

// TestWhomARefusalIsAbout: only a lasting refusal of the addressee ends a
// letter. Codes by RFC 5321 (4.2.3), RFC 3463 (3.2 addresses, 3.3 mailboxes, 3.6
// protocol, 3.7 content, 3.8 policy), RFC 4954 (530 without a sign-in) and RFC
// 7504 (556).
func TestWhomARefusalIsAbout(t *testing.T) {
	for _, row := range []struct {
		name, stage   string
		code          int
		words         string
		forGood       bool
		noSuchAddress bool
	}{
		{"no such mailbox", "to", 550, "5.1.1 no such mailbox", true, true},
		{"no such mailbox, without an enhanced code", "to", 550, "no such mailbox", true, true},
		{"a mailbox that moved", "to", 551, "user not local", true, true},
		{"a mailbox that is full for good", "to", 552, "5.2.2 mailbox full", true, false},
		{"a mailbox that is shut", "to", 550, "5.2.1 mailbox disabled", true, true},
		{"a domain that takes no mail", "to", 556, "5.1.10 null MX", true, true},
		{"no such mailbox, said after the message", "data", 550, "5.1.1 no such mailbox", true, false},
		{"a full mailbox, said after the message", "data", 552, "5.2.2 mailbox full", true, false},

		{"the sender is not known", "from", 550, "5.1.8 no such domain", false, false},
		{"the sender is not known, without an enhanced code", "from", 550, "not you", false, false},
		{"the sender's address, said at the addressee", "to", 550, "5.1.7 bad sender's address", false, false},
		{"no sign-in", "from", 530, "5.7.0 authentication required", false, false},
		{"no sign-in, said at the addressee", "to", 530, "authentication required", false, false},
		{"relaying", "to", 550, "5.7.1 relaying denied", false, false},
		{"relaying, in other codes", "to", 554, "relay access denied", false, false},
		{"a command out of order", "to", 503, "5.5.1 bad sequence", false, false},
		{"the message's content", "data", 554, "5.7.1 looks like an advertisement", false, false},
		{"the message's content, without an enhanced code", "data", 554, "transaction failed", false, false},
		{"an addressee who is asked to wait", "to", 450, "4.2.0 come back later", false, false},
		{"a sign-in that is refused", "connect", 535, "5.7.8 wrong password", false, false},
	} {
		t.Run(row.name, func(t *testing.T) {
			why := &notTaken{row.stage, fmt.Errorf("said: %w", &textproto.Error{Code: row.code, Msg: row.words})}
			require.Equal(t, row.forGood, why.forGood())
			require.Equal(t, row.noSuchAddress, why.noSuchAddress())
		})
	}
}

// TestARefusedSenderEndsNoLetter: while the mail server refuses whom letters
// come from, they wait, at growing distances, and the designer is told; when
// that is mended they go.
func TestARefusedSenderEndsNoLetter(t *testing.T) {
	modelstest.Each(t, func(t *testing.T, store *models.Store, clock *modelstest.Clock) {
		ctx, designer := t.Context(), models.Actor{Roles: []models.Role{models.Designer}}
		m := newMailServer(t, func(_ *mailServer, what, _ string) fate {
			if what == "mail" {
				return refusesSender
			}
			return takes
		}, nil)
		needs := func() (out []string) {
			all, err := store.HouseNeeds(ctx, designer)
			require.NoError(t, err)
			for _, n := range all {
				out = append(out, n.Sentence)
			}
			return out
		}
		for _, handle := range []string{"mara", "ash"} {
			_, err := store.WriteInvitation(ctx, models.System("test"), reader(t, store, handle).ID)
			require.NoError(t, err)
		}
		require.Empty(t, needs())
		p := postTo(t, store, m, nil)
		require.Equal(t, 2, p.deliver(ctx))
		require.Equal(t, map[models.LetterState]int{models.LetterWaiting: 2}, counts(t, store))
		require.Equal(t, []string{"The mail server refuses what the studio sends: 2 letters wait. See what it says and mend the settings; it is tried again."}, needs())
		waiting, _, err := store.Letters(ctx, models.LetterWaiting, models.Page{})
		require.NoError(t, err)
		require.Equal(t, "553 5.1.8 nobody knows this sender", waiting[0].Said)
		require.False(t, waiting[0].Doubtful, "it says nothing of the addressee")
		require.Zero(t, p.deliver(ctx), "not at once again")

		clock.Advance(2 * time.Minute)
		require.Equal(t, 2, p.deliver(ctx))
		clock.Advance(time.Second)
		require.Zero(t, p.deliver(ctx), "the wait grows")
		m.mu.Lock()
		m.mood = kindly
		m.mu.Unlock()
		clock.Advance(4 * time.Minute)
		require.Equal(t, 2, p.deliver(ctx))
		require.Equal(t, map[models.LetterState]int{models.LetterSent: 2}, counts(t, store))
		require.Empty(t, needs())
	})
}
