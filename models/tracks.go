package models

import "fmt"

// Track is one of a design's four tracks, which run side by side: how far it
// is, as a part and in words.
type Track struct {
	Name     string // "samples", "testing", "filming" or "release"
	Done, Of int
	Sentence string
}

// progress is what the tracks of a design are computed from.
type progress struct {
	samples, washed               int
	called                        bool
	assigned, reported            int
	short                         int // sizes that are short of approved reports
	installments, recorded, aired int
	released                      bool
}

// progress counts what the tracks are computed from.
func (r *gateRows) progress() progress {
	p := progress{called: r.call != nil, samples: len(r.samples), installments: len(r.run), released: r.design.IsOut()}
	for _, s := range r.samples {
		if !s.After.IsEmpty() {
			p.washed++
		}
	}
	for _, t := range r.testers {
		p.assigned += t.Assigned
		p.reported += t.Reported
		if t.Approved < t.Fewest {
			p.short++
		}
	}
	for _, in := range r.run {
		if in.State != Unrecorded {
			p.recorded++
		}
		if in.State == Aired {
			p.aired++
		}
	}
	return p
}

func (p progress) tracks() []Track {
	return []Track{p.sampling(), p.testing(), p.filming(), p.release()}
}

func (p progress) sampling() Track {
	t := Track{Name: "samples", Done: p.washed, Of: p.samples}
	switch {
	case p.samples == 0:
		t.Sentence = "No sample yet"
	case p.washed == p.samples:
		t.Sentence = counted(p.samples, "sample") + ", gauge taken after washing"
	default:
		t.Sentence = fmt.Sprintf("%s, %d with a gauge after washing", counted(p.samples, "sample"), p.washed)
	}
	return t
}

func (p progress) testing() Track {
	t := Track{Name: "testing", Done: p.reported, Of: p.assigned}
	switch {
	case !p.called:
		t.Sentence = "No test call yet"
	case p.assigned == 0:
		t.Sentence = "Nobody is assigned yet"
	case p.short > 0:
		t.Sentence = fmt.Sprintf("%d of %d reported; %s short of approved reports", p.reported, p.assigned, counted(p.short, "size"))
	default:
		t.Sentence = fmt.Sprintf("%d of %d reported; every size has enough", p.reported, p.assigned)
	}
	return t
}

func (p progress) filming() Track {
	t := Track{Name: "filming", Done: p.recorded, Of: p.installments}
	if p.installments == 0 {
		t.Sentence = "No installments planned yet"
		return t
	}
	t.Sentence = fmt.Sprintf("%d of %s recorded", p.recorded, counted(p.installments, "installment"))
	return t
}

func (p progress) release() Track {
	t := Track{Name: "release", Done: p.aired, Of: p.installments}
	switch {
	case p.released:
		t.Sentence = "Released"
	case p.aired > 0:
		t.Sentence = fmt.Sprintf("%d of %s aired", p.aired, counted(p.installments, "installment"))
	default:
		t.Sentence = "Nothing is out yet"
	}
	return t
}
