package handlers

import (
	"context"
	"regexp"
	"strings"
	"unicode/utf8"

	"tenter/models"
	"tenter/models/counts"
)

// ReadLine is one list of counts that was found in a text, and its place.
type ReadLine struct {
	Name    string     `json:"name,omitempty" doc:"When the line says it: name | unit | what it is | counts, or name: counts."`
	Unit    string     `json:"unit,omitempty" doc:"When the words beside it tell."`
	Note    string     `json:"note,omitempty"`
	Values  []*float64 `json:"values"`
	Text    string     `json:"text" doc:"The list in the trade's notation."`
	Line    int        `json:"line" doc:"Counted from 1."`
	Start   int        `json:"start" doc:"Where it begins in the text, in characters (Unicode code points) from 0."`
	End     int        `json:"end" doc:"Where it ends; the character there is no longer part of it."`
	Measure bool       `json:"measure,omitempty" doc:"Looks like lengths rather than counts."`
}

// UnreadLine is a list or line in which something was wrong.
type UnreadLine struct {
	Line    int    `json:"line"`
	Start   int    `json:"start"`
	End     int    `json:"end"`
	Text    string `json:"text"`
	Problem string `json:"problem"`
}

type readCountsInput struct {
	Body struct {
		Text  string   `json:"text" minLength:"1" maxLength:"100000"`
		Sizes int      `json:"sizes,omitempty" minimum:"1" maximum:"40" doc:"How many sizes the lines are for."`
		Names []string `json:"names,omitempty" maxItems:"40" doc:"The sizes' names, so that a line for some of them can be read (“Sizes L and XL only: …”)."`
	}
}

type readCountsAnswer struct {
	Body struct {
		Lists    []ReadLine   `json:"lists" doc:"In the order of the text."`
		Problems []UnreadLine `json:"problems"`
	}
}

// readCounts finds every list of counts in what somebody pasted: named lines
// (name | unit | what it is | counts), or a pattern's own lines. Lines without
// a list are passed over, unless there is nothing else.
func (a *api) readCounts(_ context.Context, _ models.Actor, in *readCountsInput) (*readCountsAnswer, error) {
	r := countReader{sizes: in.Body.Sizes, names: in.Body.Names}
	r.out.Body.Lists, r.out.Body.Problems = []ReadLine{}, []UnreadLine{}
	at := 0
	for i, line := range strings.SplitAfter(in.Body.Text, "\n") {
		r.line(i+1, at, strings.TrimRight(line, "\r\n"))
		at += utf8.RuneCountInString(line)
	}
	if len(r.out.Body.Lists)+len(r.out.Body.Problems) == 0 && r.passed != nil {
		r.out.Body.Problems = append(r.out.Body.Problems, *r.passed)
	}
	return &r.out, nil
}

type countReader struct {
	sizes  int
	names  []string
	out    readCountsAnswer
	passed *UnreadLine // the first line in which there is no list
}

// leadingName is a count's name before its values. "Row 1: …" is a place in the text.
var leadingName = regexp.MustCompile(`^\s*([A-Za-z_][A-Za-z0-9_]*)\s*[:=]`)

func (r *countReader) line(number, at int, line string) {
	tidy := strings.TrimSpace(line)
	if tidy == "" || strings.HasPrefix(tidy, "#") {
		return
	}
	place := ReadLine{Line: number, Start: at, End: at + utf8.RuneCountInString(line)}
	if strings.Contains(line, "|") {
		n, err := counts.ReadNamedLine(line)
		place.Name, place.Unit, place.Note, place.Start = n.Name, n.Unit, n.Description, at+utf8.RuneCountInString(line[:strings.LastIndex(line, "|")+1])
		r.take(place, line, n.List, err)
		return
	}
	if m := leadingName.FindStringSubmatch(line); m != nil && counts.IsName(m[1]) {
		place.Name = m[1]
	}
	found, err := counts.FindLists(line)
	if err != nil {
		r.refuse(place, line, err.Error())
		return
	}
	if len(found) == 0 || len(found) == 1 && r.sizes > 0 && len(found[0].Values) != r.sizes {
		r.whole(place, line, len(found) > 0)
		return
	}
	for _, f := range found {
		one := place
		one.Unit, one.Measure, one.Start, one.End = f.Unit, f.Measure, at+f.StartRune, at+f.EndRune
		if len(found) > 1 {
			one.Name = "" // it can't be told whose it is
		}
		if f.Problem != "" {
			r.refuse(one, f.Text, f.Problem)
			continue
		}
		r.take(one, f.Text, f.List, nil)
	}
}

// whole reads a line that holds one value for all sizes, or a list for some.
func (r *countReader) whole(place ReadLine, line string, has bool) {
	var (
		list counts.List
		err  error
	)
	if len(r.names) == r.sizes && r.sizes > 0 {
		list, err = counts.ReadFor(line, r.names)
	} else {
		list, err = counts.Read(line)
	}
	switch {
	case err == nil && (has || place.Name != "" || len(list.Values) > 1):
		r.take(place, line, list, nil)
	case has || place.Name != "":
		r.refuse(place, line, reason(err))
	case r.passed == nil:
		r.passed = &UnreadLine{place.Line, place.Start, place.End, line, reason(err)}
	}
}

func reason(err error) string {
	if err == nil {
		return "holds no list of sizes; write one count for each size, like 62 (68, 76)"
	}
	return err.Error()
}

func (r *countReader) take(place ReadLine, text string, list counts.List, err error) {
	values := list.Values
	if err == nil && r.sizes > 0 {
		values, err = spread(values, r.sizes)
	}
	if err != nil {
		r.refuse(place, text, err.Error())
		return
	}
	place.Values, place.Text = values, counts.Print(values, list.Layout)
	r.out.Body.Lists = append(r.out.Body.Lists, place)
}

func (r *countReader) refuse(place ReadLine, text, problem string) {
	r.out.Body.Problems = append(r.out.Body.Problems, UnreadLine{place.Line, place.Start, place.End, strings.TrimSpace(text), problem})
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
		return nil, &models.Error{Kind: models.Invalid, Message: "has " + plural(len(values), "value") + " for " + plural(n, "size")}
	}
	return values, nil
}
