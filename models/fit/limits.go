package fit

// Bounds on one input. They are far above any round and keep the longest
// calculation to seconds and every number of an answer finite.
const (
	MaxSizes        = 100
	MaxPoints       = 100
	MaxTesters      = 300
	MaxMeasurements = 6000 // of all testers together
	MaxNameLength   = 200  // bytes in an id

	// A measurement outside these is a slip of the keyboard. It is refused, for a
	// value a hundred times off is more than an odd value (20 %, give or take) can
	// take up, and would make its tester's sound values look odd.
	MinMeasuredCM = 0.1
	MaxMeasuredCM = 3000.0
	MinExpectedCM = 0.05 // a point's count at the design gauge
	MaxExpectedCM = 20_000.0
	MaxRepeat     = 100_000.0
	MaxAddCM      = 1000.0
	MinMetres     = 0.1
	MaxMetres     = 1e6
	MaxStitches   = 1e9
	MaxHookMM     = 100.0
)
