package assign

import "fmt"

// DefaultProbability is asked of each size when the input asks for none
// (chosen: nine calls in ten).
const DefaultProbability = 0.9

// directory finds sizes and applicants by name, as positions in the input.
type directory struct {
	size      map[string]int
	applicant map[string]int
}

// check refuses an input that is out of bounds or contradicts itself, naming
// the first field at fault, and returns the directory of its names.
func check(in *Input) (*directory, error) {
	d := &directory{size: map[string]int{}, applicant: map[string]int{}}
	for _, step := range []func(*Input) error{
		d.checkSizes, d.checkApplicants, d.checkPairs, checkPrior, checkProbability,
	} {
		if err := step(in); err != nil {
			return nil, err
		}
	}
	return d, nil
}

func (d *directory) checkSizes(in *Input) error {
	if len(in.Sizes) == 0 {
		return faulty("sizes", "give at least one size")
	}
	if len(in.Sizes) > MaxSizes {
		return faulty("sizes", "%d sizes; give at most %d", len(in.Sizes), MaxSizes)
	}
	for i, s := range in.Sizes {
		at := fmt.Sprintf("sizes[%d]", i)
		if err := d.enter(d.size, s.Name, i, at+".name", "sizes", "name"); err != nil {
			return err
		}
		switch {
		case s.Fewest < 0:
			return faulty(at+".fewest", "%d is below 0", s.Fewest)
		case s.Fewest > MaxFewest:
			return faulty(at+".fewest", "%d; give at most %d", s.Fewest, MaxFewest)
		case s.Wanted < s.Fewest:
			return faulty(at+".wanted", "%d is below fewest, %d", s.Wanted, s.Fewest)
		case s.Most < s.Wanted:
			return faulty(at+".most", "%d is below wanted, %d", s.Most, s.Wanted)
		case s.Most > MaxReports:
			return faulty(at+".most", "%d; give at most %d", s.Most, MaxReports)
		}
	}
	return nil
}

func (d *directory) checkApplicants(in *Input) error {
	if len(in.Applicants) > MaxApplicants {
		return faulty("applicants", "%d applicants; give at most %d", len(in.Applicants), MaxApplicants)
	}
	for i := range in.Applicants {
		a := &in.Applicants[i]
		at := fmt.Sprintf("applicants[%d]", i)
		if err := d.enter(d.applicant, a.ID, i, at+".id", "applicants", "id"); err != nil {
			return err
		}
		switch {
		case a.Accepted < 0:
			return faulty(at+".accepted", "%d is below 0", a.Accepted)
		case a.Accepted > MaxRecord:
			return faulty(at+".accepted", "%d; give at most %d", a.Accepted, MaxRecord)
		case a.Finished < 0:
			return faulty(at+".finished", "%d is below 0", a.Finished)
		case a.Finished > a.Accepted:
			return faulty(at+".finished", "%d is more than accepted, %d", a.Finished, a.Accepted)
		}
		if err := d.checkList(a, at); err != nil {
			return err
		}
	}
	return nil
}

// checkList checks that an applicant lists known sizes, each once; that also
// bounds the list.
func (d *directory) checkList(a *Applicant, at string) error {
	listed := make(map[string]bool, len(a.Sizes))
	for j, name := range a.Sizes {
		field := fmt.Sprintf("%s.sizes[%d]", at, j)
		if _, known := d.size[name]; !known {
			return faulty(field, "%s is not one of the sizes", quoted(name))
		}
		if listed[name] {
			return faulty(field, "%s is listed twice", quoted(name))
		}
		listed[name] = true
	}
	return nil
}

func (d *directory) checkPairs(in *Input) error {
	if len(in.Forbidden) > MaxForbidden {
		return faulty("forbidden", "%d pairs; give at most %d", len(in.Forbidden), MaxForbidden)
	}
	fixedTo := make(map[string]string, len(in.Fixed))
	for i, p := range in.Fixed {
		at := fmt.Sprintf("fixed[%d]", i)
		if err := d.checkPair(p, at); err != nil {
			return err
		}
		if size, twice := fixedTo[p.Applicant]; twice {
			return faulty(at+".applicant", "%s is fixed to size %s already", quoted(p.Applicant), quoted(size))
		}
		fixedTo[p.Applicant] = p.Size
	}
	for i, p := range in.Forbidden {
		at := fmt.Sprintf("forbidden[%d]", i)
		if err := d.checkPair(p, at); err != nil {
			return err
		}
		if fixedTo[p.Applicant] == p.Size {
			return faulty(at, "%s and size %s are both fixed and forbidden", quoted(p.Applicant), quoted(p.Size))
		}
	}
	return nil
}

func (d *directory) checkPair(p Pair, at string) error {
	if _, known := d.applicant[p.Applicant]; !known {
		return faulty(at+".applicant", "%s is not one of the applicants", quoted(p.Applicant))
	}
	if _, known := d.size[p.Size]; !known {
		return faulty(at+".size", "%s is not one of the sizes", quoted(p.Size))
	}
	return nil
}

func checkProbability(in *Input) error {
	if p := in.Probability; p != nil && !(*p > 0 && *p < 1) { // written so that NaN fails too
		return faulty("probability", "%g; give a number above 0 and below 1", *p)
	}
	return nil
}

// enter adds a name to a list of names, in which it must be new.
func (d *directory) enter(names map[string]int, name string, i int, field, list, key string) error {
	if name == "" {
		return faulty(field, "give a name")
	}
	if len(name) > MaxNameLength {
		return faulty(field, "%d bytes; give at most %d", len(name), MaxNameLength)
	}
	if first, twice := names[name]; twice {
		return faulty(field, "%s is also %s[%d].%s; each must be different", quoted(name), list, first, key)
	}
	names[name] = i
	return nil
}

// quoted shows a name in an error, cut when it is long.
func quoted(name string) string {
	const shown = 60
	if letters := []rune(name); len(letters) > shown {
		name = string(letters[:shown]) + "…"
	}
	return fmt.Sprintf("%q", name)
}
