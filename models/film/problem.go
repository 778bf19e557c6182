package film

// microhours is a making time in millionths of an hour. The sum of hours is one
// level of the objective, and only whole numbers tell equal sums from unequal
// ones with certainty.
type microhours int64

const perHour = 1e6

// spare is the rounding that is forgiven when hours are compared, in hours.
const spare = 1e-6

func (m microhours) hours() float64 { return float64(m) / perHour }

// problem is the checked input: states by place, dates as days, samples by id,
// shots in time order.
type problem struct {
	today        day
	hoursPerDay  float64
	sameDayHours float64
	states       []string
	reach        []float64    // hours from the first state to each state
	made         []microhours // the same, for the objective
	samples      []sample
	shots        []shot
}

type sample struct {
	id    string
	state int
	free  day // never before today
}

type shot struct {
	id       string
	on       day
	from, to int
	given    int // place in the input
}

// hoursLeft gives the making hours between two days; end is not before start.
func (p *problem) hoursLeft(start, end day) float64 {
	if start == end {
		return p.sameDayHours
	}
	return float64(end-start) * p.hoursPerDay
}

// canReach tells whether a piece in a state on a day can be in a shot's first
// state on the shot's day.
func (p *problem) canReach(state int, since day, s shot) bool {
	if s.on < p.today || since > s.on || state > s.from {
		return false
	}
	return p.reach[s.from]-p.reach[state] <= p.hoursLeft(since, s.on)+spare
}
