package letters

import "time"

// How soon a letter that was not taken is tried again, and for how long
// (chosen). RFC 5321, section 4.5.4.1, asks senders to wait half an hour
// between tries and to go on for four or five days; that is for what reaches
// the other side's server. Here it is the studio's own, which queues by itself:
// a short absence is bridged sooner, and what is three days late says what is
// not so any more.
const (
	firstWait   = time.Minute
	longestWait = 4 * time.Hour
	GiveUpAfter = 72 * time.Hour
)

// Wait is the time until the next try after so many: a minute, doubled with
// each try, four hours at most, and between half of that and all of it as
// jitter in [0, 1) says, so that what failed together does not come again
// together.
func Wait(tries int, jitter float64) time.Duration {
	wait := longestWait
	if shift := max(tries, 1) - 1; shift < 8 { // a minute doubled eight times is beyond the longest
		wait = min(firstWait<<shift, longestWait)
	}
	return wait/2 + time.Duration(float64(wait/2)*min(max(jitter, 0), 1))
}
