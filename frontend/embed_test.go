package frontend_test

import (
	"io/fs"
	"path"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/frontend"
)

// served reads every served file with one of the endings.
func served(t *testing.T, endings ...string) map[string]string {
	t.Helper()
	files := map[string]string{}
	err := fs.WalkDir(frontend.FS, ".", func(name string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		for _, ending := range endings {
			if strings.HasSuffix(name, ending) {
				data, err := fs.ReadFile(frontend.FS, name)
				if err != nil {
					return err
				}
				files[name] = string(data)
			}
		}
		return nil
	})
	require.NoError(t, err)
	require.NotEmpty(t, files)
	return files
}

var (
	comments   = regexp.MustCompile(`(?s)/\*.*?\*/|(?m:^[ \t]*//[^\n]*$)`)
	imports    = regexp.MustCompile(`(?m)(?:^(?:import|export)\b(?:[^'\n]*\bfrom)?\s*|\bimport\()'([^']+)'`)
	sheetLists = regexp.MustCompile(`sheets\s*=\s*\[([^\]]*)\]`)
	quoted     = regexp.MustCompile(`'([^']+)'`)
	setsTitle  = regexp.MustCompile(`\btitle\(`)
	hasDraw    = regexp.MustCompile(`export (async )?function draw\(`)
)

func TestEveryImportResolves(t *testing.T) {
	modules := served(t, ".js")
	count := 0
	for name, text := range modules {
		for _, found := range imports.FindAllStringSubmatch(comments.ReplaceAllString(text, ""), -1) {
			count++
			require.Truef(t, strings.HasPrefix(found[1], "."), "%s imports %q: only our own files are served", name, found[1])
			want := path.Join(path.Dir(name), found[1])
			_, exists := modules[want]
			require.Truef(t, exists, "%s imports %s, which is not there", name, found[1])
		}
	}
	require.Greater(t, count, len(modules)/2, "the pattern for imports found too few to be right")
}

func TestEverySheetExists(t *testing.T) {
	sheets := served(t, ".css")
	for name, text := range served(t, ".js") {
		for _, list := range sheetLists.FindAllStringSubmatch(text, -1) {
			for _, sheet := range quoted.FindAllStringSubmatch(list[1], -1) {
				_, exists := sheets["styles/"+sheet[1]+".css"]
				require.Truef(t, exists, "%s asks for the sheet %q, which is not there", name, sheet[1])
			}
		}
	}
}

// The one template for all screens holds the landmarks and the title, so that
// no screen can forget them; a screen that drew its own would make a second.
func TestOneMainAndOneTitle(t *testing.T) {
	index := served(t, "index.html")["index.html"]
	require.Equal(t, 1, strings.Count(index, "<main"))
	require.Equal(t, 1, strings.Count(index, "<h1"))
	require.Contains(t, index, `<html lang="en">`)
	require.Contains(t, index, `<a class="skip" href="#main">`)
	require.Contains(t, index, `<main id="main"`)
	for name, text := range served(t, ".js") {
		require.Falsef(t, strings.Contains(text, "h('h1'"), "%s draws a title of its own: use view.title()", name)
		require.Falsef(t, strings.Contains(text, "h('main'"), "%s draws a main of its own: draw into view.page", name)
	}
}

// A screen has a title: its module calls view.title (or takes title out of it).
func TestEveryScreenSetsItsTitle(t *testing.T) {
	modules := served(t, ".js")
	routes := comments.ReplaceAllString(modules["app/routes.js"], "")
	screens := imports.FindAllStringSubmatch(routes, -1)
	require.NotEmpty(t, screens)
	for _, screen := range screens {
		name := path.Join("app", screen[1])
		require.Truef(t, setsTitle.MatchString(modules[name]), "%s never sets the title", name)
		require.Truef(t, hasDraw.MatchString(modules[name]), "%s exports no draw", name)
	}
}

// The content policy allows no inline script, style or handler; the browser
// would drop them silently.
func TestNothingThatThePolicyRefuses(t *testing.T) {
	rows := []struct{ name, file, pattern string }{
		{"an inline script", "index.html", `<script(?:\s+type="module")?>`},
		{"an inline style sheet", "index.html", `<style`},
		{"a style attribute", "index.html", `\sstyle="`},
		{"an inline handler", "index.html", `\son[a-z]+="`},
		{"a script from elsewhere", "index.html", `(?:src|href)="(?:https?:)?//`},
		{"markup from values", ".js", `\.(?:innerHTML|outerHTML)\b|insertAdjacentHTML|document\.write|DOMParser`},
		{"a style attribute set from script", ".js", `setAttribute\('style'|[{,]\s*style:`},
		{"code from text", ".js", `\beval\(|new Function\(`},
		{"a style sheet from elsewhere", ".css", `@import|url\((?:"|')?(?:https?:)?//`},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			for name, text := range served(t, row.file) {
				if strings.HasSuffix(name, ".js") {
					text = comments.ReplaceAllString(text, "")
				}
				require.Emptyf(t, regexp.MustCompile(row.pattern).FindString(text), "%s", name)
			}
		})
	}
}

// A hook in a style sheet to a colour that is not a token escapes the dark
// scheme and print.
func TestColoursComeFromTokens(t *testing.T) {
	colour := regexp.MustCompile(`#[0-9a-fA-F]{3,8}\b|rgba?\(|hsla?\(`)
	for name, text := range served(t, ".css") {
		if name == "styles/tokens.css" {
			continue
		}
		text = strings.ReplaceAll(text, "rgb(0 0 0 / .45)", "") // what darkens the page behind a dialog, in both schemes
		require.Emptyf(t, colour.FindAllString(text, -1), "%s names a colour; use a token of tokens.css", name)
	}
}

func TestTestsAndTypesAreNotServed(t *testing.T) {
	for name := range served(t, ".js", ".html", ".css", ".svg") {
		require.NotContains(t, name, ".test.")
		require.NotContains(t, name, ".d.ts")
	}
}
