package demo

import (
	"sync"
	"time"
)

// Clock is the store's clock while the demo is written: it stands where the
// diary has put it, and moves by a second at each reading, as people do one
// thing after another. Before and after that it is the real one.
type Clock struct {
	running func() time.Time

	mu      sync.Mutex
	at      time.Time // zero: the real time
	noLater time.Time
}

// NewClock returns a clock that runs with the given one until it is moved.
func NewClock(running func() time.Time) *Clock { return &Clock{running: running} }

// Now reads the clock.
func (c *Clock) Now() time.Time {
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.at.IsZero() {
		return c.running()
	}
	if next := c.at.Add(time.Second); !next.After(c.noLater) {
		c.at = next
	}
	return c.at
}

// set puts the clock to a moment in the past, never back from where it stands
// and never beyond noLater.
func (c *Clock) set(t, noLater time.Time) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.noLater = noLater
	if t.After(c.at) {
		c.at = t
	}
	if c.at.After(noLater) {
		c.at = noLater
	}
}

// release lets the clock run with the real one again.
func (c *Clock) release() {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.at = time.Time{}
}
