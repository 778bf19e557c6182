package standards

import (
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Pairs of names as published: Craft Yarn Council, Standards & Guidelines,
// crochet abbreviations, differences between US and UK terms.
func TestPublishedPairs(t *testing.T) {
	want := [][4]string{
		{"slip stitch", "sl st", "slip stitch", "ss"},
		{"single crochet", "sc", "double crochet", "dc"},
		{"half double crochet", "hdc", "half treble", "htr"},
		{"double crochet", "dc", "treble", "tr"},
		{"treble", "tr", "double treble", "dtr"},
		{"double treble", "dtr", "triple treble", "trtr"},
	}
	for i, w := range want {
		term := TermList()[i]
		require.Equal(t, w, [4]string{term.US, term.USAbbr, term.UK, term.UKAbbr})
		require.Equal(t, Published, term.Source.Standing)
	}
}

func TestAmbiguousTerms(t *testing.T) {
	ambiguous := map[string]bool{}
	for _, term := range TermList() {
		ambiguous[term.US] = term.Ambiguous
	}
	require.Equal(t, map[string]bool{"slip stitch": false, "single crochet": true, "half double crochet": false, "double crochet": true, "treble": true,
		"double treble": true, "triple treble": true, "quadruple treble": true, "chain": false, "skip": false, "yarn over": false,
		"bind off": false, "stockinette stitch": false, "gauge": false}, ambiguous)
}

func TestRewrite(t *testing.T) {
	for _, row := range []struct {
		name, craft string
		from, to    Terms
		text, want  string
		changed     int
		left        []Left
	}{
		{"every stitch moves by one", "crochet", US, UK, "sc, hdc, dc, tr, dtr, trtr", "UK dc, htr, UK tr, UK dtr, UK trtr, UK qtr", 6, nil},
		{"and back", "crochet", UK, US, "dc, htr, tr, dtr, trtr, qtr", "sc, hdc, US dc, US tr, US dtr, US trtr", 6, nil},
		{"the reader's own terms get their mark", "crochet", US, US, "5 dc, 2 sc", "5 US dc, 2 sc", 1, nil},
		{"a number written against its stitch", "crochet", US, UK, "2dc in next ch, 10sc", "2 UK tr in next ch, 10 UK dc", 2, nil},
		{"decreases, posts, plurals, loops", "crochet", US, UK, "sc2tog, dc3tog, FPdc, bptr, 3 dcs, scblo, fsc", "UK dc2tog, UK tr3tog, UK FPtr, UK bpdtr, 3 UK trs, UK dcblo, UK fdc", 7, nil},
		{"inside brackets and repeats", "crochet", US, UK, "*(2 dc, ch 1, 2 dc) in next sp; rep from *", "*(2 UK tr, ch 1, 2 UK tr) in next sp; rep from *", 2, nil},
		{"counts for several sizes are left alone", "crochet", US, UK, "– 85 (93, 101, 109) sc.", "– 85 (93, 101, 109) UK dc.", 1, nil},
		{"hyphens", "crochet", US, UK, "3-dc cluster, half-double crochet", "3-UK tr cluster, half treble", 2, nil},
		{"names in full, longest first", "crochet", US, UK, "Half double crochet, double crochet, treble crochet, double treble", "Half treble, UK treble, UK double treble, UK triple treble", 4, nil},
		{"plural names", "crochet", UK, US, "2 trebles and 3 double crochets", "2 US double crochets and 3 single crochets", 2, nil},
		{"a name broken over two lines", "crochet", US, UK, "work double\ncrochet in each", "work UK treble in each", 1, nil},
		{"two paragraphs are not one name", "crochet", UK, US, "work double\n\ncrochet", "work double\n\ncrochet", 0, nil},
		{"capitals are kept", "crochet", US, UK, "DC, Dc, DOUBLE CROCHET, Double crochet", "UK TR, UK Tr, UK TREBLE, UK Treble", 4, nil},
		{"terms stand before their word at any distance", "crochet", US, UK, "US  tr, UK\ndc", "UK dtr, UK dc", 2, nil},
		{"a word that says its terms is read so", "crochet", US, UK, "UK dc, dc (UK), US dc, dc (US terms)", "UK dc, UK dc, UK tr, UK tr", 3, nil},
		{"a legend in both terms", "crochet", UK, US, "dc = double crochet (US sc)", "sc = single crochet (sc)", 3, nil},
		{"a foreign word that says so is read in its terms", "crochet", UK, UK, "US sc", "UK dc", 1, nil},
		{"what is unknown stays, with the text's terms, and is listed", "crochet", US, UK, "ch 1\ntrc in next, then double crocheted", "ch 1\nUS trc in next, then US double crocheted", 0, []Left{{"trc", 2}, {"double crocheted", 2}}},
		{"an unknown one that says its terms", "crochet", US, UK, "UK sc", "UK sc", 0, []Left{{"sc", 1}}},
		{"the tallest name goes on shifting", "crochet", US, UK, "quadruple treble, quintuple treble", "UK quintuple treble, US quintuple treble", 1, []Left{{"quintuple treble", 1}}},
		{"slip stitch, skip, yarn over", "crochet", US, UK, "Sl st in next, sk 2 ch, skip next dc, yo", "Ss in next, miss 2 ch, miss next UK tr, yoh", 5, nil},
		{"and from the UK", "crochet", UK, US, "Ss in next, miss 2 ch, miss next tr, yoh, yarn over hook", "Sl st in next, skip 2 ch, skip next US dc, yo, yarn over", 6, nil},
		{"a word that only looks like an instruction", "crochet", UK, US, "do not miss it; strand, adc, dcor, trim, country", "do not miss it; strand, adc, dcor, trim, country", 0, nil},
		{"knitting", "knit", US, UK, "Bind off 5 sts, then BO rem; stockinette stitch; stockinette", "Cast off 5 sts, then cast off rem; stocking stitch; stocking stitch", 4, nil},
		{"knitting from the UK", "knit", UK, US, "Cast off 5 sts in stocking stitch", "Bind off 5 sts in stockinette stitch", 2, nil},
		{"a crocheted edging on a knitted piece", "knit", US, UK, "work 1 row sc, 1 row dc; yo, k2tog; sl st", "work 1 row UK dc, 1 row UK tr; yo, k2tog; sl st", 2, nil},
		{"a knitter's gauge stays gauge", "knit", US, UK, "check your gauge and tension", "check your gauge and tension", 0, nil},
		{"nothing", "crochet", US, UK, "", "", 0, nil},
		{"only numbers and marks", "crochet", US, UK, "12 (14, 16) – UK 2", "12 (14, 16) – UK 2", 0, nil},
		{"other scripts pass", "crochet", US, UK, "häkeln – 鈎針 5 dc ✓", "häkeln – 鈎針 5 UK tr ✓", 1, nil},
	} {
		t.Run(row.name, func(t *testing.T) {
			got, err := Rewrite(row.text, row.craft, row.from, row.to)
			require.NoError(t, err)
			require.Equal(t, row.want, got.Text)
			require.Equal(t, row.changed, got.Changed)
			require.Equal(t, append([]Left{}, row.left...), got.Left)
		})
	}
}

func TestRewriteRefusesAMixedText(t *testing.T) {
	for _, row := range []struct{ name, text, word string }{
		{"an American abbreviation in a UK text", "5 dc\n3 sc, 2 tr", "“sc” in line 2"},
		{"an American name in a UK text", "Half double crochet", "“Half double crochet” in line 1"},
	} {
		t.Run(row.name, func(t *testing.T) {
			_, err := Rewrite(row.text, "crochet", UK, US)
			require.ErrorContains(t, err, "text: has "+row.word+", which is no stitch in UK terms")
		})
	}
	_, err := Rewrite("3 htr", "crochet", US, UK)
	require.ErrorContains(t, err, "text: has “htr” in line 1, which is no stitch in US terms")
}

func TestRewriteNamesTheFieldAtFault(t *testing.T) {
	for _, row := range []struct {
		name, text, craft string
		from, to          Terms
		field             string
	}{
		{"from", "", "crochet", "au", US, "from: "},
		{"to", "", "crochet", US, "", "to: "},
		{"craft", "", "felt", US, UK, "craft: "},
		{"too long", strings.Repeat("x", MostText+1), "knit", US, UK, "text: is longer"},
		{"not UTF-8", "5 dc \xff", "knit", US, UK, "text: is not UTF-8"},
	} {
		t.Run(row.name, func(t *testing.T) {
			_, err := Rewrite(row.text, row.craft, row.from, row.to)
			require.ErrorContains(t, err, row.field)
		})
	}
}

func TestLeftIsBounded(t *testing.T) {
	got, err := Rewrite(strings.Repeat("trc\n", 1000), "crochet", US, UK)
	require.NoError(t, err)
	require.Len(t, got.Left, mostLeft)
	require.Equal(t, 200, got.Left[199].Line)
	require.Equal(t, 1000, strings.Count(got.Text, "US trc"))
}

// bare finds a stitch word of two meanings that no "US " or "UK " stands
// before. Written apart from the rewriting: on the words themselves.
var bare = regexp.MustCompile(`(?i)(?:^|[^\pL\pN])(?:fp|bp|f|ex|e|rev|r)?(?:dc|tr|dtr|trtr|qtr)(?:s|\d*tog|\d+|inc|dec|blo|flo|bl|fl|cl)?(?:[^\pL\pN]|$)|double[ -]crochet|treble`)

func requireMarked(t require.TestingT, text string) {
	marked := regexp.MustCompile(`(?:US|UK) (?i:(?:double |triple |quadruple |quintuple )?treble|double crochet|[a-z]*?(?:dc|tr|dtr|trtr|qtr)[a-z0-9]*)`)
	rest := marked.ReplaceAllString(text, "§")
	rest = regexp.MustCompile(`(?i)half[ -]double[ -]crochet|half[ -]treble`).ReplaceAllString(rest, "§")
	require.NotRegexp(t, bare, rest, text)
}

// words of a pattern, by the terms in which they may stand.
func wordsOf(in Terms) []string {
	words := []string{"dc", "tr", "dtr", "trtr", "2dc", "FPdc", "dc2tog", "trs", "double crochet", "treble", "double treble", "DC", "Tr", "trc",
		"UK dc", "US dc", "US tr", "US sc", "UK htr", "dc (UK)", "tr (US)", "ch 3", "12 (14, 16)", "*", "in next", "\n", "Row 2:", ".", "double", "crochet", "half", "US", "UK", "skip next", "miss 2", "turn"}
	if in == US {
		return append(words, "sc", "hdc", "sc2tog", "Single crochet", "half double crochet")
	}
	return append(words, "htr", "half treble", "htr2tog")
}

func drawText(t *rapid.T, in Terms, gaps ...string) string {
	return strings.Join(rapid.SliceOfN(rapid.SampledFrom(wordsOf(in)), 0, 30).Draw(t, "words"), rapid.SampledFrom(gaps).Draw(t, "gap"))
}

func TestBothTermsBeforeOneWordAreRefused(t *testing.T) {
	for _, text := range []string{"US UK dc", "5 UK US dc", "US  UK dc"} {
		_, err := Rewrite(text, "crochet", UK, US)
		require.ErrorContains(t, err, "text: has ", text)
	}
	_, err := Rewrite("UK dc (US)", "crochet", UK, US)
	require.ErrorContains(t, err, `text: has "UK dc (US)", two sets of terms`)
	_, err = Rewrite("written in US/UK terms, 5 dc", "crochet", UK, US)
	require.NoError(t, err)
}

// In every text, also where words run into each other without meaning ("double
// crochet crochet", "US US dc"): no word of two meanings stands bare, and the
// numbers stay in their order.
func TestRewriteIsSafeInAnyOrderOfWords(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		from := rapid.SampledFrom([]Terms{US, UK}).Draw(t, "from")
		text := drawText(t, from, " ", ", ", " | ")
		there, err := Rewrite(text, "crochet", from, from.other())
		if err != nil {
			require.ErrorContains(t, err, "text: has ") // words that met made a name of the other terms
			return
		}
		requireMarked(t, there.Text)
		require.Equal(t, digits.FindAllString(text, -1), digits.FindAllString(there.Text, -1))
	})
}

var digits = regexp.MustCompile(`\pN+`)

// Where words stand apart: there and back is the marked text, and twice is the
// same as once.
func TestRewriteProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		from := rapid.SampledFrom([]Terms{US, UK}).Draw(t, "from")
		text := drawText(t, from, ", ", " | ")
		there, err := Rewrite(text, "crochet", from, from.other())
		if err != nil {
			require.ErrorContains(t, err, "text: has ")
			return
		}
		requireMarked(t, there.Text)
		own, err := Rewrite(text, "crochet", from, from)
		require.NoError(t, err)
		requireMarked(t, own.Text)
		back, err := Rewrite(there.Text, "crochet", from.other(), from)
		require.NoError(t, err)
		foreign := map[Terms]*strings.Replacer{US: strings.NewReplacer("miss 2", "skip 2"), UK: strings.NewReplacer("skip next", "miss next")}
		require.Equal(t, foreign[from].Replace(own.Text), back.Text)
		again, err := Rewrite(there.Text, "crochet", from.other(), from.other())
		require.NoError(t, err)
		require.Equal(t, there.Text, again.Text)
	})
}

// Words that touch, and marks behind and before them in every order: twice is
// the same as once, and no word swallows its neighbour.
func TestRewriteTwiceWhereWordsTouch(t *testing.T) {
	pieces := []string{"dc", "tr", "UK", "US", "(UK)", "(US)", " (UK terms)", "(US terms)", "2", "12", " ", "-", "\n", "double", "crochet", "half", "treble", "trc", "dc2tog", "sl st", "ss", "miss", "skip", "quintr", "sc", "FP", "é", "٢", "(", ")"}
	rapid.Check(t, func(t *rapid.T) {
		from := rapid.SampledFrom([]Terms{US, UK}).Draw(t, "from")
		text := strings.Join(rapid.SliceOfN(rapid.SampledFrom(pieces), 0, 14).Draw(t, "pieces"), "")
		got, err := Rewrite(text, "crochet", from, from.other())
		if err != nil {
			require.ErrorContains(t, err, "text: has ")
			return
		}
		again, err := Rewrite(got.Text, "crochet", from.other(), from.other())
		require.NoError(t, err, "%q", got.Text)
		require.Equal(t, got.Text, again.Text)
		require.Equal(t, digits.FindAllString(text, -1), digits.FindAllString(got.Text, -1))
	})
}

// Any text at all: no panic, no bare word, and marks add up.
func FuzzRewrite(f *testing.F) {
	for _, seed := range []string{"5 dc", "UK 2dc (US)", "half\ndouble-crochet", "US UK tr", "US  tr", "US US tr", "UK\ndc", "trc double crocheted", "12sl st", "22dc(UK)UK tr", "dc(UK)2", "trc (UK)"} {
		f.Add(seed, true)
	}
	f.Fuzz(func(t *testing.T, text string, fromUS bool) {
		from := UK
		if fromUS {
			from = US
		}
		got, err := Rewrite(text, "crochet", from, from.other())
		if err != nil {
			return
		}
		again, err := Rewrite(got.Text, "crochet", from.other(), from.other())
		require.NoError(t, err)
		require.Equal(t, got.Text, again.Text)
	})
}

func BenchmarkRewrite(b *testing.B) {
	text := strings.Repeat("Row 2: ch 3, *2 dc in next ch-1 sp, skip next 2 sc, half double crochet in each st; rep from * – 85 (93, 101) sts.\n", 400)
	b.SetBytes(int64(len(text)))
	for b.Loop() {
		if _, err := Rewrite(text, "crochet", US, UK); err != nil {
			b.Fatal(err)
		}
	}
}
