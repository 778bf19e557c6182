package models

import (
	"context"
	"fmt"
	"time"
)

// SignInNotice is something that happened to how a person signs in. They are
// told, whoever did it.
type SignInNotice struct {
	At     time.Time
	Action string
	By     string // handle; "" for the person themselves and for the server
}

// signInNews are the events that a person is told of.
var signInNews = []string{"password changed", "e-mail changed", "refresh token reused", "wrong codes", "recovery code used", "recovery codes renewed",
	"second step set up", "second step taken away", "sign-ins ended", "sign-in ended", "other sign-ins ended", "invitation used"}

// mostNotices is how many a person is shown (chosen).
const mostNotices = 20

// SignInNotices lists what happened to the sign-in of the person who asks, for
// as long as sign-ins are kept, the newest first.
func (s *Store) SignInNotices(ctx context.Context, actor Actor) ([]SignInNotice, error) {
	var rows []SignInNotice
	err := s.read(ctx).Raw(`SELECT e.at, e.action, CASE WHEN e.actor_id <> e.entity_id THEN p.handle ELSE '' END AS "by"
		FROM events e LEFT JOIN people p ON p.id = e.actor_id
		WHERE e.entity = 'person' AND e.entity_id = ? AND e.action IN ? AND e.at > ? ORDER BY e.id DESC LIMIT ?`,
		actor.PersonID, signInNews, s.Now().Add(-signInMemory), mostNotices).Scan(&rows).Error
	if err != nil {
		return nil, fmt.Errorf("sign-in notices: %w", err)
	}
	return rows, nil
}
