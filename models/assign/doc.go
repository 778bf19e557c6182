// Package assign decides who makes which size of a design in a test call.
//
// # Objective
//
// An applicant makes at most one size, and only one that they listed; a fixed
// pair may break that. Each of these counts only among the best of those
// before it:
//
//  1. least total shortage, the sum over sizes of max(0, fewest - assigned);
//  2. least total below wanted, the sum of max(0, wanted - assigned), where
//     no size gets more than wanted, fixed pairs aside;
//  3. least total preference cost, the sum over the assigned of (place of the
//     size in their list - 1), fixed pairs aside;
//  4. greatest total completion probability of the assigned;
//  5. the first plan in dictionary order: read the applicants by id (byte by
//     byte, so "a10" comes before "a9"), and for each the position of their
//     size in the list of sizes, nobody's size coming after all sizes.
//
// Rule 5 names exactly one plan, so the answer cannot depend on the order in
// which applicants, fixed or forbidden pairs are given. The order of sizes is
// meaningful (smallest to largest) and is kept.
//
// # Method and proof
//
// A cost is a vector (short, below, place, doubt) of whole numbers, compared
// from the left; doubt is minus the completion probability over one common
// denominator (see score.go), so nothing is rounded and no weights are
// needed. Such vectors form an ordered group, which is all that the theorems
// below ask of costs.
//
// The network: source -> applicant -> each listed size -> sink. A size's last
// arc costs (-1, -1, 0, 0) for each of its first `fewest` units and
// (0, -1, 0, 0) for each further one up to `wanted`. The costs do not fall
// along the units, so a cheapest flow fills them in order, and cost and
// objective differ by a constant.
//
//   - fill.go sends one applicant after another along a cheapest path. The
//     flow of k applicants is then a cheapest one of its value (successive
//     shortest paths). A path only ever adds to the count of the size where it
//     ends, so the next flow is no shorter anywhere and one less below wanted:
//     strictly cheaper. Hence the last flow, when no path is left, is a
//     cheapest of all.
//   - residual.go finds potentials under which no remaining move has negative
//     reduced cost. By complementary slackness the optima are exactly the
//     plans that are reached from this one by moves of reduced cost zero.
//   - order.go walks the applicants by id and gives each the first size that
//     some optimum agrees with, given those already settled: a search for a
//     closed chain of zero moves. Each step keeps an optimum, so the end is
//     the first of all optima in dictionary order.
//
// Applicants are only ever moved between a few sizes, so both work on a graph
// whose nodes are the sizes and one place for nobody's size; its arc from
// size i to j is the cheapest move of one of i's testers to j.
//
// Shortages are certified by sets of sizes that ask for more reports than
// people could make them (shortfall.go): by Hall's theorem and its
// deficiency form no plan can be less short.
//
// # Probability
//
// A tester's completion probability is the mean of a beta distribution after
// their record; the number of reports for a size is a sum of independent
// unequal coin tosses (reports.go). Independence is optimistic: a holiday or
// a late parcel of yarn hits several testers at once, so each probability is
// also given with every tester's lowered by 0.1.
package assign
