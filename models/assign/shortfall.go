package assign

import "fmt"

// shortfalls certifies an optimal plan's shortage.
//
// Take the sizes that are short; whoever might make one of them, and is
// making another, ties that other size to them, and so on. If anyone in reach
// were unassigned, or at a size with more than its fewest, moving people along
// would make the plan less short. So everyone in reach is assigned within the
// set X of sizes in reach, none of which has more than its fewest, and
//
//	sum of fewest over X - people in reach = shortage:
//
// the deficiency form of Hall's theorem, and a minimum cut of the network. X
// is the smallest such set, as every other contains the short sizes and is
// closed in the same way. Sizes of X that share no applicant are told apart;
// no set can be divided further and still add up.
func (r *round) shortfalls(p *plan) []Shortfall {
	in := r.tied(p)
	found := []Shortfall{}
	for s := range r.sizes {
		if in[s] {
			if group := r.group(s, in); len(group) > 0 {
				found = append(found, r.describe(group))
			}
		}
	}
	return found
}

// tied gives the set X above.
func (r *round) tied(p *plan) []bool {
	makers := make([][]int, len(r.sizes))
	for who, one := range r.people {
		for _, c := range one.choices {
			makers[c.size] = append(makers[c.size], who)
		}
	}
	in := make([]bool, len(r.sizes))
	var reached []int
	for s, d := range r.sizes {
		if p.count[s] < d.fewest {
			in[s], reached = true, append(reached, s)
		}
	}
	for ; len(reached) > 0; reached = reached[1:] {
		for _, who := range makers[reached[0]] {
			if t := p.at[who]; t != p.out() && !in[t] {
				in[t], reached = true, append(reached, t)
			}
		}
	}
	return in
}

// group takes the sizes out of the set that are tied to one of them by
// applicants, and gives them in order.
func (r *round) group(first int, in []bool) []bool {
	group := make([]bool, len(in))
	group[first], in[first] = true, false
	for grown := true; grown; {
		grown = false
		for _, one := range r.people {
			touches := false
			for _, c := range one.choices {
				touches = touches || group[c.size]
			}
			for _, c := range one.choices {
				if touches && in[c.size] {
					group[c.size], in[c.size], grown = true, false, true
				}
			}
		}
	}
	return group
}

// crowd counts the people around a group of sizes.
type crowd struct {
	applicants []string // who could make one of them
	unlisted   int      // of those, held there by a fixed pair though none is on their list
	elsewhere  int      // listed one, but a fixed pair holds them elsewhere
	barred     int      // listed one, but all those that they listed are forbidden to them
}

func (r *round) crowd(group []bool) crowd {
	var c crowd
	for i, a := range r.byID {
		listed, open := false, false
		for _, name := range a.Sizes {
			s := r.size[name]
			listed = listed || group[s]
			open = open || group[s] && !r.barred[i][s]
		}
		switch held := r.fixed[i]; {
		case held != nobody && group[held]:
			c.applicants = append(c.applicants, a.ID)
			if !listed {
				c.unlisted++
			}
		case held != nobody && listed:
			c.elsewhere++
		case held == nobody && open:
			c.applicants = append(c.applicants, a.ID)
		case listed:
			c.barred++
		}
	}
	return c
}

func (r *round) describe(group []bool) Shortfall {
	f := Shortfall{Applicants: []string{}}
	need := 0
	for s, in := range group {
		if in {
			f.Sizes = append(f.Sizes, r.in.Sizes[s].Name)
			need += r.sizes[s].fewest
		}
	}
	c := r.crowd(group)
	f.Applicants = append(f.Applicants, c.applicants...)
	f.Missing = need - len(f.Applicants)
	f.Message = shortfallMessage(f.Sizes, need, c)
	return f
}

// shortfallMessage says it as "sizes 8 and 9 need four reports; only two
// people offered either".
func shortfallMessage(sizes []string, need int, c crowd) string {
	subject, them := "sizes "+listed(sizes)+" need", "any of them"
	switch len(sizes) {
	case 1:
		subject, them = "size "+sizes[0]+" needs", "it"
	case 2:
		them = "either"
	}
	people := "only " + quantity(len(c.applicants), "person", "people")
	if len(c.applicants) == 0 {
		people = "nobody"
	}
	verb := "offered"
	if c.unlisted > 0 {
		verb = "offered or was given"
	}
	if c.barred > 0 || c.elsewhere > 0 {
		verb = "may make"
	}
	message := fmt.Sprintf("%s %s; %s %s %s", subject, quantity(need, "report", "reports"), people, verb, them)
	if c.elsewhere > 0 {
		message += "; " + number(c.elsewhere) + " more offered but a fixed pair holds them elsewhere"
	}
	if c.barred > 0 {
		message += "; " + number(c.barred) + " more offered but that is forbidden"
	}
	return message
}
