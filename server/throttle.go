package server

import (
	"sync"
	"time"

	"golang.org/x/time/rate"
)

// throttle counts tries under keys: a name that is tried, an address that
// tries. Each key may try often enough for a person's slips (chosen).
type throttle struct {
	mu      sync.Mutex
	now     func() time.Time
	every   rate.Limit
	burst   int
	current map[string]*rate.Limiter
	before  map[string]*rate.Limiter // the generation that is being forgotten
}

const (
	triesAtOnce   = 20
	triesAMinute  = 10
	mostThrottled = 20_000 // keys of one generation, so that memory stays bounded
)

func newThrottle(now func() time.Time) *throttle {
	return &throttle{now: now, every: rate.Limit(triesAMinute / 60.0), burst: triesAtOnce,
		current: map[string]*rate.Limiter{}, before: map[string]*rate.Limiter{}}
}

func (t *throttle) allow(key string) bool {
	t.mu.Lock()
	defer t.mu.Unlock()
	l, ok := t.current[key]
	if !ok {
		if l, ok = t.before[key]; !ok {
			l = rate.NewLimiter(t.every, t.burst)
		}
		if len(t.current) >= mostThrottled {
			t.before, t.current = t.current, map[string]*rate.Limiter{}
		}
		t.current[key] = l
	}
	return l.AllowN(t.now(), 1)
}
