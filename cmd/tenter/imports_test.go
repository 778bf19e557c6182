package main

import (
	"go/parser"
	"go/token"
	"io/fs"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

const module = "tenter/"

// allowed lists which of the house's rooms a room may import. The arrows point
// one way: cmd -> server -> handlers -> models -> models/*.
var allowed = map[string][]string{
	"cmd/*":              {"server", "server/demo", "models", "models/calc", "models/archive"},
	"server":             {"handlers", "models", "models/archive", "models/letters", "frontend", "migrations", "server/photostore"},
	"server/photostore":  {"models"},
	"server/demo":        {"models", "models/cautions"},
	"server/servertest":  {"server", "handlers", "models", "models/modelstest"},
	"server/browsertest": {"models/modelstest"},
	"handlers":           {"models", "models/*"},
	"models":             {"models/*"},
	"models/*":           {"models/*"},
	"models/modelstest":  {"models", "migrations", "server/photostore"},
	"frontend":           {},
	"migrations":         {},
}

// never lists what a room may not see of the world outside.
var never = map[string][]string{
	"models/*": {"net/http", "database/sql", "gorm.io/", "log/slog", "os", "math/rand", "github.com/gin-gonic/", "github.com/danielgtaylor/huma"},
	"models":   {"net/http", "github.com/gin-gonic/", "github.com/danielgtaylor/huma"},
	"handlers": {"gorm.io/", "database/sql", "github.com/gin-gonic/"},
}

// nameless are names that say nothing about what is inside.
var nameless = []string{"util", "utils", "helper", "helpers", "common", "misc", "base", "manager", "types", "constants"}

// room returns the row of the table that a folder belongs to.
func room(folder string) string {
	if _, ok := allowed[folder]; ok {
		return folder
	}
	return path.Dir(folder) + "/*"
}

func TestArrowsPointOneWay(t *testing.T) {
	root := filepath.Join("..", "..")
	files := 0
	err := filepath.WalkDir(root, func(name string, d fs.DirEntry, err error) error {
		require.NoError(t, err)
		if d.IsDir() && (strings.HasPrefix(d.Name(), ".") && name != root || d.Name() == "node_modules") && d.Name() != ".." {
			return filepath.SkipDir
		}
		base := strings.TrimSuffix(d.Name(), ".go")
		require.NotContains(t, nameless, base, "%s: name it after what is inside", name)
		if d.IsDir() || !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") {
			return nil
		}
		files++
		relative, err := filepath.Rel(root, filepath.Dir(name))
		require.NoError(t, err)
		checkImports(t, name, filepath.ToSlash(relative))
		return nil
	})
	require.NoError(t, err)
	require.Greater(t, files, 50, "the walk found too little of the house")
}

func checkImports(t *testing.T, name, folder string) {
	from := room(folder)
	may, known := allowed[from]
	require.True(t, known, "%s stands in a room that the table doesn't know", name)
	file, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.ImportsOnly)
	require.NoError(t, err)
	for _, i := range file.Imports {
		imported, err := strconv.Unquote(i.Path.Value)
		require.NoError(t, err)
		if ours, ok := strings.CutPrefix(imported, module); ok {
			if ours == folder {
				continue
			}
			target := ours
			if !slices.Contains(may, target) {
				target = room(ours)
			}
			if from == "models" || from == "models/*" || from == "handlers" {
				require.NotEqual(t, "models/modelstest", ours, "%s imports test code", name)
			}
			require.Contains(t, may, target, "%s imports %s: that arrow points the wrong way", name, imported)
			continue
		}
		for _, no := range never[from] {
			require.False(t, imported == no || strings.HasSuffix(no, "/") && strings.HasPrefix(imported, no) || imported == strings.TrimSuffix(no, "/"),
				"%s imports %s, which %s must not see", name, imported, from)
		}
	}
}
