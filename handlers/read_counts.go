package handlers

import (
	"context"
	"strings"

	"tenter/models"
	"tenter/models/counts"
)

// ReadLine is one list of counts that was found in a text.
type ReadLine struct {
	Name   string     `json:"name,omitempty"`
	Unit   string     `json:"unit,omitempty"`
	Note   string     `json:"note,omitempty"`
	Values []*float64 `json:"values"`
	Text   string     `json:"text"`
	Line   int        `json:"line" doc:"Counted from 1."`
}

// UnreadLine is a line in which something was wrong.
type UnreadLine struct {
	Line    int    `json:"line"`
	Text    string `json:"text"`
	Problem string `json:"problem"`
}

type readCountsInput struct {
	Body struct {
		Text  string `json:"text" minLength:"1" maxLength:"100000"`
		Sizes int    `json:"sizes,omitempty" minimum:"1" maximum:"40" doc:"How many sizes the lines are for."`
	}
}

type readCountsAnswer struct {
	Body struct {
		Lists    []ReadLine   `json:"lists"`
		Problems []UnreadLine `json:"problems"`
	}
}

// readCounts reads what somebody pasted: named lines (name | unit | what it is
// | counts), or pattern text with a list of sizes in each line.
func (a *api) readCounts(_ context.Context, _ models.Actor, in *readCountsInput) (*readCountsAnswer, error) {
	out := &readCountsAnswer{}
	out.Body.Lists, out.Body.Problems = []ReadLine{}, []UnreadLine{}
	for i, line := range strings.Split(in.Body.Text, "\n") {
		line = strings.TrimSpace(line)
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		read, err := readCountLine(line)
		if err == nil && in.Body.Sizes > 0 {
			read.Values, err = spread(read.Values, in.Body.Sizes)
		}
		if err != nil {
			out.Body.Problems = append(out.Body.Problems, UnreadLine{i + 1, line, err.Error()})
			continue
		}
		read.Line = i + 1
		out.Body.Lists = append(out.Body.Lists, read)
	}
	return out, nil
}

func readCountLine(line string) (ReadLine, error) {
	if strings.Contains(line, "|") {
		n, err := counts.ReadNamedLine(line)
		return ReadLine{Name: n.Name, Unit: n.Unit, Note: n.Description, Values: n.Values, Text: counts.Print(n.Values, n.Layout)}, err
	}
	l, err := counts.Read(line)
	read := ReadLine{Values: l.Values, Text: counts.Print(l.Values, l.Layout)}
	if found, ferr := counts.FindLists(line); ferr == nil && len(found) == 1 {
		read.Unit = found[0].Unit
	}
	return read, err
}

// spread gives each of n sizes its value; a single value stands for all.
func spread(values []*float64, n int) ([]*float64, error) {
	if len(values) == 1 {
		all := make([]*float64, n)
		for i := range all {
			all[i] = values[0]
		}
		return all, nil
	}
	if len(values) != n {
		return nil, &models.Error{Kind: models.Invalid, Message: plural(len(values), "value") + " for " + plural(n, "size")}
	}
	return values, nil
}
