package server

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/netip"
	"strconv"
	"syscall"
	"time"

	"tenter/models"
)

// The headers of a notice. The signature is made by models.SignNotice.
const (
	deliveryHeader  = "Tenter-Delivery"  // id of the delivery, the same at every try
	timestampHeader = "Tenter-Timestamp" // seconds since 1970 at this try
	signatureHeader = "Tenter-Signature"
)

// Bounds of telling other programs (chosen).
const (
	noticeTimeout    = 10 * time.Second
	noticesAtOnce    = 10 // in one turn, one after the other: less than models' hold on them
	largestReply     = 16 << 10
	betweenTurns     = 5 * time.Second // when nothing was heard: another server's changes, and what is due again
	betweenDropping  = 6 * time.Hour
	firstOfRedirects = http.StatusMultipleChoices
)

// errInside is an address that a notice may not go to.
var errInside = errors.New("the address leads into a private network, which the server's settings don't allow")

// tellIdle is how long a connection to another program is kept open (chosen).
const tellIdle = 2 * time.Minute

// newTeller returns the client that notices go out by: no proxy, no cookies,
// no redirects, and no connection to where they may not go. The address is
// looked at when the connection is made, after the name was resolved, so that a
// name that resolves differently the second time changes nothing.
func newTeller(allowed []netip.Prefix) *http.Client {
	dialer := &net.Dialer{Timeout: noticeTimeout, Control: func(_, address string, _ syscall.RawConn) error {
		to, err := netip.ParseAddrPort(address)
		if err != nil || !models.MayTell(to.Addr(), allowed) {
			return errInside
		}
		return nil
	}}
	return &http.Client{
		Timeout: noticeTimeout,
		Transport: &http.Transport{DialContext: dialer.DialContext, TLSHandshakeTimeout: noticeTimeout, ResponseHeaderTimeout: noticeTimeout,
			MaxResponseHeaderBytes: largestReply, MaxIdleConns: 10, IdleConnTimeout: tellIdle, ForceAttemptHTTP2: true},
		CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse },
	}
}

// tellPrograms sends what is due to webhooks, until ctx ends: soon after a
// change, and at the latest a few seconds after one that another server made.
func (s *Server) tellPrograms(ctx context.Context) {
	changes, stop := s.store.Feed().Listen()
	defer stop()
	var dropped time.Time
	for ctx.Err() == nil {
		more, err := s.TellOnce(ctx)
		if err != nil && ctx.Err() == nil {
			s.log.ErrorContext(ctx, "other programs could not be told", "error", err)
		}
		if now := s.store.Now(); now.Sub(dropped) > betweenDropping {
			dropped = now
			if err := s.store.DropOldDeliveries(ctx); err != nil && ctx.Err() == nil {
				s.log.ErrorContext(ctx, "old deliveries were not dropped", "error", err)
			}
		}
		if more && err == nil {
			continue
		}
		timer := time.NewTimer(betweenTurns)
		select {
		case <-ctx.Done():
		case <-timer.C:
		case _, open := <-changes:
			if !open {
				changes = nil // the feed has closed; what is due is still sent until ctx ends
			}
		}
		timer.Stop()
	}
}

// TellOnce takes what is due, sends it, and tells whether there was anything.
func (s *Server) TellOnce(ctx context.Context) (bool, error) {
	due, err := s.store.TakeDeliveries(ctx, noticesAtOnce)
	if err != nil || len(due) == 0 {
		return false, err
	}
	settled := 0
	for _, d := range due {
		to, err := s.store.Recipient(ctx, d)
		if ctx.Err() != nil {
			break
		}
		if err != nil {
			return false, err
		}
		if to == nil {
			continue // it has ended, or was stopped, since this was taken
		}
		came := s.tell(ctx, d, to)
		if ctx.Err() != nil && came.Problem != "" {
			break // stopping broke it off; it is sent again
		}
		if err := s.store.FinishDelivery(context.WithoutCancel(ctx), d, came); err != nil {
			return false, err
		}
		settled++
	}
	if settled < len(due) {
		err = s.store.GiveBackDeliveries(context.WithoutCancel(ctx), due)
	}
	return true, err
}

// tell sends one delivery.
func (s *Server) tell(ctx context.Context, d models.WebhookDelivery, to *models.Webhook) models.Outcome {
	at, body := s.store.Now(), []byte(d.Body)
	req, err := http.NewRequestWithContext(ctx, http.MethodPost, to.URL, bytes.NewReader(body))
	if err != nil {
		return models.Outcome{Problem: "the address can't be used"}
	}
	if req.URL.Scheme != "https" && !s.plainAllowed(req.URL.Hostname()) {
		return models.Outcome{Problem: "plain http is not allowed by the server's settings any more"}
	}
	req.Header.Set("Content-Type", "application/json")
	req.Header.Set("User-Agent", "Tenter")
	req.Header.Set(deliveryHeader, d.ID)
	req.Header.Set(timestampHeader, strconv.FormatInt(at.Unix(), 10))
	req.Header.Set(signatureHeader, to.Signatures(d.ID, at, body))
	res, err := s.teller.Do(req)
	if err != nil {
		return models.Outcome{Problem: sayUnreached(err)}
	}
	defer res.Body.Close()
	io.CopyN(io.Discard, res.Body, largestReply) //nolint:errcheck // the answer's text doesn't matter, the status does
	out := models.Outcome{Status: &res.StatusCode}
	switch {
	case res.StatusCode >= firstOfRedirects && res.StatusCode < http.StatusBadRequest:
		out.Problem = fmt.Sprintf("the answer was %d, which leads elsewhere; give the address itself", res.StatusCode)
	case res.StatusCode < http.StatusOK || res.StatusCode >= firstOfRedirects:
		out.Problem = fmt.Sprintf("the answer was %d", res.StatusCode)
	}
	return out
}

// sayUnreached puts into words why there was no answer, without the address,
// which the designer knows.
func sayUnreached(err error) string {
	var wrong *net.DNSError
	var timeout net.Error
	switch {
	case errors.Is(err, errInside):
		return errInside.Error()
	case errors.As(err, &wrong):
		return "the name of the machine is not known"
	case errors.As(err, &timeout) && timeout.Timeout():
		return fmt.Sprintf("no answer within %s", noticeTimeout)
	case errors.Is(err, syscall.ECONNREFUSED):
		return "nobody answers at the address"
	case errors.Is(err, syscall.ECONNRESET) || errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF):
		return "the connection broke off"
	}
	return "could not be reached safely: the connection or its certificate failed"
}

// plainAllowed tells whether http without TLS may go to a host: this machine
// only, and only where the settings allow its addresses.
func (s *Server) plainAllowed(host string) bool {
	if host == "localhost" {
		host = "127.0.0.1"
	}
	addr, err := netip.ParseAddr(host)
	return err == nil && addr.IsLoopback() && models.MayTell(addr, s.mayTell)
}

// tellNetworks reads the networks that notices may go to beside the internet.
func (c Config) tellNetworks() ([]netip.Prefix, error) {
	var out []netip.Prefix
	for _, text := range c.WebhookNetworks {
		prefix, err := netip.ParsePrefix(text)
		if addr, aerr := netip.ParseAddr(text); aerr == nil {
			prefix, err = addr.Prefix(addr.BitLen())
		}
		if err != nil {
			return nil, &SettingError{"TENTER_WEBHOOK_NETWORKS", fmt.Sprintf("%q is no address and no network; write them like 127.0.0.1 or 10.0.0.0/8", text)}
		}
		out = append(out, prefix)
	}
	return out, nil
}
