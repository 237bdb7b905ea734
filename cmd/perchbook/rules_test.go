package main

import (
	"bytes"
	"os/exec"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// ours says which package may import which of ours. A package without a line has no place yet.
var ours = map[string][]string{
	"fitting":       {},
	"fitting/draw":  {"fitting"},
	"templates":     {},
	"orders":        {"fitting"},
	"bot":           {"orders", "fitting/draw", "templates"},
	"server":        {"orders", "fitting", "fitting/draw", "templates", "bot"},
	"cmd/perchbook": {"orders", "fitting", "fitting/draw", "templates", "server", "bot"},
}

// others says who may know a library; what is not named here may be imported by tests only.
var others = map[string][]string{
	"fitting":       {"gonum.org/"},
	"fitting/draw":  {"codeberg.org/go-pdf/", "rsc.io/qr"},
	"templates":     {"golang.org/x/text/"},
	"orders":        {"gorm.io/", "github.com/mattn/go-sqlite3", "github.com/pressly/goose/", "github.com/disintegration/imaging", "golang.org/x/image/", "golang.org/x/text/"},
	"bot":           {"github.com/go-telegram-bot-api/", "github.com/wneessen/go-mail", "golang.org/x/time/"},
	"server":        {"github.com/gin-gonic/", "github.com/alexedwards/", "github.com/arran4/golang-ical", "golang.org/x/time/", "codeberg.org/go-pdf/", "golang.org/x/image/font/gofont/"},
	"cmd/perchbook": {},
}

// arithmetic is all that the engine may take from the standard library.
var arithmetic = []string{"cmp", "errors", "fmt", "math", "slices", "sort"}

// importsOf lists what each package imports, by its path below the module.
func importsOf(t *testing.T, field string) map[string][]string {
	t.Helper()
	out, err := exec.Command("go", "list", "-f", `{{.ImportPath}} {{join .`+field+` " "}}`, "perchbook/...").Output()
	require.NoError(t, err)
	all := map[string][]string{}
	for line := range bytes.Lines(out) {
		f := strings.Fields(string(line))
		all[strings.TrimPrefix(f[0], "perchbook/")] = f[1:]
	}
	return all
}

func TestPackagesImportOnlyWhatTheTableAllows(t *testing.T) {
	for pkg, imports := range importsOf(t, "Imports") {
		may, known := ours[pkg]
		require.True(t, known, "package %s has no line in the table", pkg)
		for _, imp := range imports {
			to, mine := strings.CutPrefix(imp, "perchbook/")
			switch {
			case mine && !slices.Contains(may, to):
				t.Errorf("%s must not import %s", pkg, to)
			case !mine && strings.Contains(imp, ".") && !startsWithAny(imp, others[pkg]):
				t.Errorf("%s must not import %s", pkg, imp)
			case !mine && pkg == "fitting" && !strings.Contains(imp, ".") && !slices.Contains(arithmetic, imp):
				t.Errorf("the engine is pure arithmetic and must not import %s", imp)
			}
		}
	}
}

func TestTestsKeepToTheTableToo(t *testing.T) {
	for pkg, imports := range importsOf(t, "TestImports") {
		for _, imp := range imports {
			if to, mine := strings.CutPrefix(imp, "perchbook/"); mine && !slices.Contains(ours[pkg], to) {
				t.Errorf("tests of %s must not import %s", pkg, to)
			}
		}
	}
}

// Only these files of orders know the database; a list here, so that one more is a decision.
var databaseFiles = []string{"migrate.go", "query.go", "store.go"}

func TestFewFilesKnowTheDatabase(t *testing.T) {
	out, err := exec.Command("go", "list", "-f", "{{.Dir}}", "perchbook/orders").Output()
	require.NoError(t, err)
	grep := exec.Command("grep", "-l", `"gorm.io/`, "-r", "--include=*.go", strings.TrimSpace(string(out)))
	found, err := grep.Output()
	require.NoError(t, err)
	for name := range strings.FieldsSeq(string(found)) {
		base := name[strings.LastIndex(name, "/")+1:]
		if !strings.HasSuffix(base, "_test.go") && !slices.Contains(databaseFiles, base) {
			t.Errorf("%s imports the database library and is not in the list", base)
		}
	}
}

func startsWithAny(s string, prefixes []string) bool {
	return slices.ContainsFunc(prefixes, func(p string) bool { return strings.HasPrefix(s, p) })
}
