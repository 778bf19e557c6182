package server

import (
	"context"
	"net/netip"
	"sync"
	"time"

	"golang.org/x/time/rate"

	"tenter/handlers"
	"tenter/models"
)

// limits count requests in this process: tries at secrets under a name, a
// person or an address; writing and calculating under a person and, a good deal
// looser, under an address, behind which a whole studio may sit. Two servers
// side by side count each for itself.
type limits struct {
	try   *throttle
	paces map[handlers.Cost]pace
}

type pace struct{ person, address *throttle }

// forAddress is how many people's worth an address may have (chosen).
const forAddress = 10

func newLimits(config Config, now func() time.Time) *limits {
	both := func(aMinute int) pace {
		return pace{newThrottle(now, aMinute), newThrottle(now, aMinute*forAddress)}
	}
	return &limits{newThrottle(now, config.TriesAMinute), map[handlers.Cost]pace{
		handlers.Writing: both(config.WritesAMinute), handlers.Calculating: both(config.CalculationsAMinute)}}
}

// Try counts a try at a secret.
func (l *limits) Try(key string) time.Duration { return l.try.count(key) }

// Pace counts a request under its person and its address.
func (l *limits) Pace(ctx context.Context, cost handlers.Cost) time.Duration {
	p := l.paces[cost]
	if actor, signed := models.ActorFrom(ctx); signed {
		if wait := p.person.count(actor.PersonID); wait > 0 {
			return wait
		}
	}
	return p.address.count(addressIn(ctx))
}

// throttle counts under keys. Each key has what it may have in a minute, and
// twice that at once (chosen). nil lets everything through.
type throttle struct {
	mu      sync.Mutex
	now     func() time.Time
	every   rate.Limit
	burst   int
	current map[string]*rate.Limiter
	before  map[string]*rate.Limiter // the generation that is being forgotten
}

const mostThrottled = 20_000 // keys of one generation, so that memory stays bounded

func newThrottle(now func() time.Time, aMinute int) *throttle {
	if aMinute == 0 {
		return nil
	}
	return &throttle{now: now, every: rate.Limit(float64(aMinute) / 60), burst: 2 * aMinute,
		current: map[string]*rate.Limiter{}, before: map[string]*rate.Limiter{}}
}

// count returns 0 and counts, or returns how long to wait and does not.
func (t *throttle) count(key string) time.Duration {
	if t == nil {
		return 0
	}
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
	now := t.now()
	taken := l.ReserveN(now, 1)
	wait := taken.DelayFrom(now)
	if wait > 0 {
		taken.CancelAt(now)
	}
	return wait
}

// network is what one household or office comes from: an IPv4 address, or the
// first 64 bits of an IPv6 one, below which everybody has addresses to waste.
func network(address string) string {
	ip, err := netip.ParseAddr(address)
	if err != nil {
		return address
	}
	ip = ip.Unmap().WithZone("")
	if ip.Is4() {
		return ip.String()
	}
	prefix, err := ip.Prefix(64)
	if err != nil {
		return ip.String()
	}
	return prefix.String()
}
