package models

import (
	"sync"
	"time"
)

// Change tells that something was committed: what and where, never its content,
// so that it can go to every screen that may see the design.
type Change struct {
	DesignID string // "" when it belongs to the studio
	Entity   string
	EntityID string
	Action   string
	At       time.Time
}

// Feed hands committed changes, this server's own and those that Follow hears
// of, to whoever listens. A listener that falls
// behind loses the oldest ones, which is harmless: a change only says "read
// again".
type Feed struct {
	mu        sync.Mutex
	listeners map[chan Change]struct{}
	closed    bool
}

// feedBuffer is how many changes a slow listener may be behind.
const feedBuffer = 16

func newFeed() *Feed { return &Feed{listeners: map[chan Change]struct{}{}} }

// Listen returns a channel of changes and a function that ends it. The channel
// is closed when the feed closes.
func (f *Feed) Listen() (<-chan Change, func()) {
	ch := make(chan Change, feedBuffer)
	f.mu.Lock()
	defer f.mu.Unlock()
	if f.closed {
		close(ch)
		return ch, func() {}
	}
	f.listeners[ch] = struct{}{}
	return ch, func() {
		f.mu.Lock()
		defer f.mu.Unlock()
		if _, ok := f.listeners[ch]; ok {
			delete(f.listeners, ch)
			close(ch)
		}
	}
}

func (f *Feed) publish(changes []Change) {
	f.mu.Lock()
	defer f.mu.Unlock()
	for ch := range f.listeners {
		for _, c := range changes {
			select {
			case ch <- c:
			default: // full: what is waiting there already says "read again"
			}
		}
	}
}

// Close ends every listener, so that a stopping server does not wait for
// screens that stay open all day.
func (f *Feed) Close() {
	f.mu.Lock()
	defer f.mu.Unlock()
	f.closed = true
	for ch := range f.listeners {
		delete(f.listeners, ch)
		close(ch)
	}
}
