package standards

import "strings"

// plain is a phrase that needs no mark: it means the same in both terms or
// belongs to one of them.
type plain struct {
	craft  string
	in     Terms // the terms of the text
	phrase []string
	with   string
	// before lists words one of which must follow: "miss" is an instruction
	// only before something that is missed.
	before []string
}

var whatIsSkipped = []string{"the", "a", "one", "two", "three", "first", "next", "last", "each", "every", "all", "same", "ch", "st", "sts", "chain", "stitch", "stitches"}

// plains lists the exchanges. Abbreviations of a single meaning only: "st st"
// is stockinette or stocking stitch, the same fabric, and "ss" is a slip stitch
// in crochet alone.
var plains = []plain{
	{"crochet", US, []string{"sl", "st"}, "ss", nil},
	{"crochet", US, []string{"slst"}, "ss", nil},
	{"crochet", UK, []string{"ss"}, "sl st", nil},
	{"crochet", US, []string{"skip"}, "miss", whatIsSkipped},
	{"crochet", US, []string{"sk"}, "miss", whatIsSkipped},
	{"crochet", UK, []string{"miss"}, "skip", whatIsSkipped},
	{"crochet", US, []string{"yarn", "over", "hook"}, "yarn over hook", nil},
	{"crochet", US, []string{"yarn", "over"}, "yarn over hook", nil},
	{"crochet", UK, []string{"yarn", "over", "hook"}, "yarn over", nil},
	{"crochet", US, []string{"yo"}, "yoh", nil},
	{"crochet", UK, []string{"yoh"}, "yo", nil},
	{"knit", US, []string{"bind", "off"}, "cast off", nil},
	{"knit", US, []string{"bound", "off"}, "cast off", nil},
	{"knit", US, []string{"binding", "off"}, "casting off", nil},
	{"knit", US, []string{"bo"}, "cast off", nil},
	{"knit", UK, []string{"cast", "off"}, "bind off", nil},
	{"knit", UK, []string{"casting", "off"}, "binding off", nil},
	{"knit", US, []string{"stockinette", "stitch"}, "stocking stitch", nil},
	{"knit", US, []string{"stockinette"}, "stocking stitch", nil},
	{"knit", UK, []string{"stocking", "stitch"}, "stockinette stitch", nil},
}

// findPlain looks for such a phrase at run i and returns how many runs it takes
// and what to write.
func (w *writer) findPlain(i int) (words int, with string, ok bool) {
	if w.from == w.to {
		return 0, "", false
	}
	first := w.runs[i]
	for _, p := range plains {
		if p.craft != w.craft || p.in != w.from {
			continue
		}
		if _, ok := w.phrase(i, p.phrase); !ok || !w.followed(i+len(p.phrase)-1, p.before) {
			continue
		}
		like := w.text[first.start+len(first.digits) : w.runs[i+len(p.phrase)-1].end]
		with = likeCase(p.with, like)
		if first.lower == "bo" {
			with = p.with // its capitals are those of an abbreviation
		}
		if first.digits != "" {
			with = first.digits + " " + with
		}
		return len(p.phrase), with, true
	}
	return 0, "", false
}

// followed reports whether a run is followed by a number or one of the words.
func (w *writer) followed(i int, words []string) bool {
	if words == nil {
		return true
	}
	if i+1 >= len(w.runs) || strings.TrimSpace(w.between(i)) != "" {
		return false
	}
	next := w.runs[i+1]
	return next.digits != "" || oneOf(next.lower, words...)
}
