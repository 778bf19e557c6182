package server

import (
	"context"
	"crypto/x509"
	"errors"
	"fmt"
	"log/slog"
	"strings"
	"time"

	"github.com/google/uuid"

	"tenter/models"
	"tenter/models/letters"
)

// The rhythm of the post (chosen).
const (
	lettersAtOnce = 10               // taken at a time; see the lease in models/letter_send.go
	lookEvery     = 15 * time.Second // for what another process has put out
	planEvery     = 5 * time.Minute  // for what has come due with time
	planAfter     = 20 * time.Second // after a change, so that a slip can be mended
)

// post sends the letters that wait in the database, one process's share of
// them. A letter is marked as sent only after the mail server took it: a crash
// in between sends it twice, and never loses it.
type post struct {
	store    *models.Store
	log      *slog.Logger
	mail     MailConfig
	envelope envelope
	drain    time.Duration
	roots    *x509.CertPool // whose certificates are believed; nil: the system's
	jitter   func() float64 // in [0, 1)
	unmarked []string       // letters that were taken while the database could not say so
}

func newPost(s *Server, jitter func() float64) (*post, error) {
	e, err := newEnvelope(s.config.Mail, s.config.BaseURL)
	if err != nil {
		return nil, err
	}
	roots, err := s.config.Mail.roots()
	if err != nil {
		return nil, fmt.Errorf("TENTER_SMTP_CA %w", err)
	}
	return &post{store: s.store, log: s.log, mail: s.config.Mail, envelope: e, drain: s.config.Drain, roots: roots, jitter: jitter}, nil
}

// run sends letters until ctx ends. What is with the mail server by then is
// finished, within the time of drain; the rest stays for whoever serves next.
func (p *post) run(ctx context.Context) {
	changes, end := p.store.Feed().Listen()
	defer end()
	nextPlan := time.Now()
	for {
		if !time.Now().Before(nextPlan) {
			p.plan(ctx)
			nextPlan = time.Now().Add(planEvery)
		}
		for p.deliver(ctx) > 0 && ctx.Err() == nil {
		}
		timer := time.NewTimer(min(lookEvery, max(time.Until(nextPlan), 0)))
		for waiting := true; waiting; {
			select {
			case <-ctx.Done():
				timer.Stop()
				return
			case <-timer.C:
				waiting = false
			case c, open := <-changes:
				if !open {
					changes = nil // the server is stopping; ctx will say so
					continue
				}
				if c.Entity == "letter" {
					waiting = c.Action != "put out" && c.Action != "put out again"
					continue
				}
				if soon := time.Now().Add(planAfter); soon.Before(nextPlan) {
					nextPlan = soon
					timer.Reset(min(lookEvery, planAfter))
				}
			}
		}
		timer.Stop()
	}
}

func (p *post) plan(ctx context.Context) {
	n, err := p.store.PlanLetters(ctx)
	if err != nil && ctx.Err() == nil {
		p.log.ErrorContext(ctx, "letters that are due were not written", "error", err)
	}
	if n > 0 {
		p.log.InfoContext(ctx, "letters that are due were written", "letters", n)
	}
}

// deliver takes a few letters and hands them over; it returns how many it took.
func (p *post) deliver(ctx context.Context) int {
	lease := uuid.NewString()
	p.markAgain(ctx)
	taken, err := p.store.ClaimLetters(ctx, lease, lettersAtOnce)
	if err != nil {
		if ctx.Err() == nil {
			p.log.ErrorContext(ctx, "letters could not be taken from the database", "error", err)
		}
		return 0
	}
	if len(taken) == 0 {
		return 0
	}
	// From here on the end of ctx is heeded between letters, not within one.
	settled := context.WithoutCancel(ctx)
	var line *mailLine
	var failed error
	for i := range taken {
		if ctx.Err() != nil {
			if err := p.store.ReleaseLetters(settled, lease); err != nil {
				p.log.ErrorContext(settled, "letters were not given back; they go out when their lease is over", "error", err)
			}
			break
		}
		// Who was not reached for one letter is not tried for each of the others.
		if line == nil && failed == nil {
			line, failed = reach(ctx, p.mail, p.roots, p.drain)
		}
		err := failed
		if err == nil {
			err = p.hand(line, taken[i])
		}
		p.settle(settled, lease, taken[i], err)
		if line != nil && !line.goesOn(err) {
			line.drop()
			line = nil
		}
	}
	if line != nil {
		line.leave()
	}
	return len(taken)
}

func (p *post) hand(line *mailLine, l models.OutLetter) error {
	m, err := p.envelope.message(l, p.store.Now())
	if err != nil {
		return &notTaken{"message", err}
	}
	return line.hand(m, p.envelope.from.Address, l.Address)
}

// settle keeps what became of a letter. The log names no address and repeats no
// words: servers' words do.
func (p *post) settle(ctx context.Context, lease string, l models.OutLetter, err error) {
	if err == nil {
		if err := p.store.LetterWasSent(ctx, l.ID); err != nil {
			p.unmarked = append(p.unmarked, l.ID)
			p.log.ErrorContext(ctx, "a letter was sent and could not be marked so; that is tried again", "letter", l.ID, "error", err)
		}
		return
	}
	var why *notTaken
	if !errors.As(err, &why) {
		why = &notTaken{"connect", err}
	}
	said := why.words()
	for _, token := range []string{l.JoinToken, l.StopToken} {
		if token != "" {
			said = strings.ReplaceAll(said, token, "…") // a server may name the link that it dislikes
		}
	}
	if why.forGood() {
		p.log.WarnContext(ctx, "a letter was refused", "letter", l.ID, "stage", why.stage, "code", why.code())
		err = p.store.LetterRefused(ctx, l.ID, lease, said, why.noSuchAddress())
	} else {
		wait := letters.Wait(l.Tries, p.jitter())
		p.log.WarnContext(ctx, "a letter was not taken; it is tried again", "letter", l.ID, "stage", why.stage, "code", why.code(), "try", l.Tries, "wait", wait)
		err = p.store.LetterNotTaken(ctx, l.ID, lease, said, wait)
	}
	if err != nil {
		p.log.ErrorContext(ctx, "what became of a letter was not kept; it is tried again when its lease is over", "letter", l.ID, "error", err)
	}
}

// markAgain marks what could not be marked when it was sent.
func (p *post) markAgain(ctx context.Context) {
	for len(p.unmarked) > 0 {
		if err := p.store.LetterWasSent(ctx, p.unmarked[0]); err != nil {
			return
		}
		p.unmarked = p.unmarked[1:]
	}
}
