package server_test

import (
	"context"
	"net/http"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/models"
	"tenter/server/servertest"
)

// TestWebhookEndedWhileItsNoticeIsTaken: a webhook may end, or be stopped, when
// a server has taken its notices already. One that has ended has no secret any
// more, so nothing is sent to it; what waits for one that was stopped is told
// when it is started again, with no try counted.
func TestWebhookEndedWhileItsNoticeIsTaken(t *testing.T) {
	for _, row := range []struct {
		name  string
		stop  func(d *servertest.Client, id string)
		later int // heard when it is started again
	}{
		{"ended", func(d *servertest.Client, id string) {
			d.Do("DELETE", "/webhooks/"+id, nil, servertest.IfMatch(1)).Want(204)
		}, 0},
		{"stopped", func(d *servertest.Client, id string) {
			d.Patch("/webhooks/"+id, 1, map[string]any{"enabled": false}).Want(200)
		}, 1},
	} {
		t.Run(row.name, func(t *testing.T) {
			telling(t, func(t *testing.T, s *servertest.Studio, p *program) {
				d := s.Designer()
				addWebhook(d, p.URL, "design")
				second, secret := addWebhook(d, p.URL, "design")
				d.Post("/designs", newDesign("name", "Told once")).Want(201)
				p.answer = func(n int, _ http.ResponseWriter) {
					if n == 1 {
						row.stop(d, second) // while the first one is told, and the second one's notice is taken
					}
				}
				more, err := s.Server.TellOnce(context.Background())
				require.NoError(t, err)
				require.True(t, more)
				got := p.take()
				require.Len(t, got, 1)
				require.False(t, signed("", got[0]))
				tellAll(t, s)
				require.Empty(t, p.take())

				if row.later == 0 {
					return
				}
				p.answer = nil
				d.Patch("/webhooks/"+second, 2, map[string]any{"enabled": true}).Want(200)
				tellAll(t, s)
				got = p.take()
				require.Len(t, got, row.later)
				require.True(t, signed(secret, got[0]))
				log := d.Get("/webhooks/" + second + "/deliveries").Want(200).Map()["items"].([]any)
				require.EqualValues(t, 1, log[0].(map[string]any)["tries"])
			})
		})
	}
}

// TestWebhookEndedWhileItIsTold: a try that fails after the end is not tried again.
func TestWebhookEndedWhileItIsTold(t *testing.T) {
	telling(t, func(t *testing.T, s *servertest.Studio, p *program) {
		d := s.Designer()
		id, _ := addWebhook(d, p.URL, "design")
		d.Post("/designs", newDesign("name", "Told once")).Want(201)
		taken, err := s.Store.TakeDeliveries(context.Background(), 5)
		require.NoError(t, err)
		require.Len(t, taken, 1)
		to, err := s.Store.Recipient(context.Background(), taken[0])
		require.NoError(t, err)
		require.Equal(t, id, to.ID)
		d.Do("DELETE", "/webhooks/"+id, nil, servertest.IfMatch(1)).Want(204)
		to, err = s.Store.Recipient(context.Background(), taken[0])
		require.NoError(t, err)
		require.Nil(t, to)
		require.NoError(t, s.Store.FinishDelivery(context.Background(), taken[0], models.Outcome{Problem: "no answer"}))
		db, err := s.Store.SQL()
		require.NoError(t, err)
		var due int
		require.NoError(t, db.QueryRow("SELECT count(*) FROM webhook_deliveries WHERE due_at IS NOT NULL OR given_up_at IS NULL").Scan(&due))
		require.Zero(t, due)
	})
}
