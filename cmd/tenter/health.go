package main

import (
	"context"
	"fmt"
	"net"
	"net/http"
	"time"
)

// healthTimeout is shorter than the patience of those who ask (chosen).
const healthTimeout = 3 * time.Second

type healthCommand struct {
	Addr string `default:"127.0.0.1:8080" env:"TENTER_ADDR" help:"Address that the server listens on."`
}

// Run asks the server on this machine whether it is ready: exit 0 when it is, 1
// when not. It spares a container's health check every other program.
func (c *healthCommand) Run(ctx context.Context, io streams) error {
	ctx, cancel := context.WithTimeout(ctx, healthTimeout)
	defer cancel()
	url, err := readyURL(c.Addr)
	if err != nil {
		return err
	}
	req, err := http.NewRequestWithContext(ctx, http.MethodGet, url, nil)
	if err != nil {
		return fmt.Errorf("ask %s: %w", url, err)
	}
	res, err := http.DefaultClient.Do(req)
	if err != nil {
		return fmt.Errorf("no answer: %w", err)
	}
	defer res.Body.Close()
	if res.StatusCode != http.StatusOK {
		return fmt.Errorf("%s answers %s", url, res.Status)
	}
	fmt.Fprintln(io.out, "ready")
	return nil
}

// readyURL is where a server that listens on addr is reached from its own
// machine. An address of every interface, like ":8080", is reached by the
// loopback address: a bare container may not even know the name localhost.
func readyURL(addr string) (string, error) {
	host, port, err := net.SplitHostPort(addr)
	if err != nil {
		return "", invalid("TENTER_ADDR", "%q is not an address like 127.0.0.1:8080", addr)
	}
	if ip := net.ParseIP(host); host == "" || ip != nil && ip.IsUnspecified() {
		host = "127.0.0.1"
	}
	return "http://" + net.JoinHostPort(host, port) + "/readyz", nil
}
