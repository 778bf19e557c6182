package counts

// Bounds on what is accepted. They are chosen well above what a pattern needs
// and low enough that the largest accepted input is answered at once.
const (
	MaxSizes           = 40   // sizes of a design
	MaxCounts          = 400  // lines of a count sheet
	MaxRules           = 400  // rules of a count sheet
	MaxPoints          = 200  // points of measure
	MaxNameRunes       = 80   // characters of a name
	MaxTextBytes       = 2000 // one line of text with a list of sizes
	MaxBlockBytes      = 200_000
	MaxExpressionBytes = 500  // source of an expression
	MaxExpressionNodes = 200  // names, numbers and operations of an expression
	MaxCountValue      = 1e6  // stitches, rows or repeats
	MaxLengthCM        = 1e4  // 100 m, any measurement or constant
	MaxResult          = 1e15 // what an expression may come to; whole numbers up to here are exact in a float64
)
