package main

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"maps"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	tree "text/template/parse"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"perchbook/orders"
	"perchbook/templates"
)

// sentences are the arguments, by place, in which a function takes what is said to clients.
var sentences = map[string][]int{
	"Say": {0}, "say": {0}, "s.say": {1}, "SayCount": {1, 2}, "NewProblem": {1}, "problem": {0}, "inform": {2},
}

// tables hold sentences that are said by their name in the code, "package.variable".
var tables = []string{
	"server.readingNames", "server.pageHeadings", "server.stageWords", "server.hourStates", "server.keeping", "server.winds", "server.viewNames",
	"server.kinds", "server.PointNames", "orders.Ways", "orders.Consultation", "orders.Fitting", "orders.Collection", "orders.InPerson", "orders.ByVideo", "orders.ByPost",
}

// wanted are the English sentences that are said to clients, each with where.
type wantedWords map[string]string

// TestNoCatalogueLacksAWord collects every sentence that is said to clients and holds each catalogue to
// exactly these.
func TestNoCatalogueLacksAWord(t *testing.T) {
	all := wantedWords{}
	all.fromQuestions(t)
	all.fromCalendar()
	for _, dir := range []string{"orders", "server"} {
		all.fromCode(t, dir)
	}
	all.fromTemplates(t)
	require.Greater(t, len(all), 300, "sentences found")
	for _, l := range templates.Languages[1:] {
		own := templates.Catalogue(l)
		var lacking []string
		for _, english := range slices.Sorted(maps.Keys(all)) {
			if _, ok := own[english]; !ok && hasWords(english) {
				lacking = append(lacking, fmt.Sprintf("%q: \"\",  (%s)", english, all[english]))
			}
			delete(own, english)
		}
		assert.Empty(t, lacking, "%s lacks %d of %d:\n%s", l, len(lacking), len(all), strings.Join(lacking, "\n"))
		assert.Empty(t, slices.Sorted(maps.Keys(own)), "%s has words that nobody says", l)
	}
}

// hasWords says whether there is anything to translate: "%s: %s" has not.
func hasWords(english string) bool {
	return regexp.MustCompile(`\p{L}`).MatchString(regexp.MustCompile(`%[.\d]*[a-z]`).ReplaceAllString(english, ""))
}

// Fields of a question that are no words.
var mute = []string{"Key", "Page", "Picture"}

func (w wantedWords) fromQuestions(t *testing.T) {
	t.Helper()
	for _, q := range orders.Questions {
		at := "question " + q.Key
		own := q.In(func(english string, _ ...any) string { return "«" + english + "»" })
		for i, f := range reflect.VisibleFields(reflect.TypeOf(q)) {
			text, is := reflect.ValueOf(q).Field(i).Interface().(string)
			if !is || text == "" || slices.Contains(mute, f.Name) {
				continue
			}
			w[text] = at
			assert.Equal(t, "«"+text+"»", reflect.ValueOf(own).Field(i).String(), "%s: its %s is turned into other languages", at, f.Name)
		}
		for i, o := range q.Options {
			w[o.Label] = at
			assert.Equal(t, "«"+o.Label+"»", own.Options[i].Label, "%s: option %s", at, o.Value)
		}
	}
}

func (w wantedWords) fromCalendar() {
	for m := time.January; m <= time.December; m++ {
		w[m.String()] = "months"
	}
	for d := time.Sunday; d <= time.Saturday; d++ {
		w[d.String()] = "weekdays"
	}
}

func (w wantedWords) fromCode(t *testing.T, dir string) {
	t.Helper()
	files, err := filepath.Glob("../../" + dir + "/*.go")
	require.NoError(t, err)
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		fset := token.NewFileSet()
		file, err := parser.ParseFile(fset, name, nil, 0)
		require.NoError(t, err)
		ast.Inspect(file, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.CallExpr:
				for _, i := range sentences[called(n)] {
					if text, ok := constant(n.Args, i); ok {
						w[text] = fset.Position(n.Pos()).String()
					}
				}
			case *ast.ValueSpec:
				for i, name := range n.Names {
					if slices.Contains(tables, dir+"."+name.Name) && i < len(n.Values) {
						w.fromTable(n.Values[i], fset)
					}
				}
			case *ast.FuncDecl:
				if slices.Contains(tables, dir+"."+n.Name.Name) {
					w.fromTable(n.Body, fset)
				}
			}
			return true
		})
	}
}

// called is the name of the function called, with its receiver where another one of that name takes
// other arguments.
func called(c *ast.CallExpr) string {
	switch f := c.Fun.(type) {
	case *ast.Ident:
		return f.Name
	case *ast.SelectorExpr:
		if x, ok := f.X.(*ast.Ident); ok && sentences[x.Name+"."+f.Sel.Name] != nil {
			return x.Name + "." + f.Sel.Name
		}
		return f.Sel.Name
	}
	return ""
}

// constant reads an argument that is a string, which may be added together.
func constant(args []ast.Expr, i int) (string, bool) {
	if i >= len(args) {
		return "", false
	}
	switch e := args[i].(type) {
	case *ast.BasicLit:
		text, err := strconv.Unquote(e.Value)
		return text, err == nil && e.Kind == token.STRING
	case *ast.BinaryExpr:
		left, ok1 := constant([]ast.Expr{e.X}, 0)
		right, ok2 := constant([]ast.Expr{e.Y}, 0)
		return left + right, ok1 && ok2
	}
	return "", false
}

// fromTable takes every string that is a value, and no key, of a table.
func (w wantedWords) fromTable(table ast.Node, fset *token.FileSet) {
	ast.Inspect(table, func(n ast.Node) bool {
		if kv, ok := n.(*ast.KeyValueExpr); ok {
			if field, named := kv.Key.(*ast.Ident); !named || field.Name != "Value" {
				w.fromTable(kv.Value, fset)
			}
			return false
		}
		if e, ok := n.(ast.Expr); ok {
			if text, is := constant([]ast.Expr{e}, 0); is {
				w[text] = fset.Position(n.Pos()).String()
				return false
			}
		}
		return true
	})
}

func (w wantedWords) fromTemplates(t *testing.T) {
	t.Helper()
	for name, one := range trees(t) {
		walkTree(one.Root, func(n tree.Node) {
			if c, ok := n.(*tree.CommandNode); ok && len(c.Args) > 1 && c.Args[0].String() == "say" {
				if s, ok := c.Args[1].(*tree.StringNode); ok {
					w[s.Text] = name
				}
			}
		})
	}
}

// trees parses every page and part, "pages/begin.gohtml content" for a template in a file.
func trees(t *testing.T) map[string]*tree.Tree {
	t.Helper()
	all := map[string]*tree.Tree{}
	for _, pattern := range []string{"layout.gohtml", "parts/*.gohtml", "pages/*.gohtml"} {
		files, err := filepath.Glob("../../templates/" + pattern)
		require.NoError(t, err)
		require.NotEmpty(t, files)
		for _, file := range files {
			text, err := os.ReadFile(file)
			require.NoError(t, err)
			one, set := tree.New(filepath.Base(file)), map[string]*tree.Tree{}
			one.Mode = tree.SkipFuncCheck
			_, err = one.Parse(string(text), "", "", set)
			require.NoError(t, err)
			for name, defined := range set {
				all[strings.TrimPrefix(file, "../../templates/")+" "+name] = defined
			}
		}
	}
	return all
}

func walkTree(n tree.Node, see func(tree.Node)) {
	if n == nil || reflect.ValueOf(n).IsNil() {
		return
	}
	see(n)
	branch := func(b *tree.BranchNode) {
		walkTree(b.Pipe, see)
		walkTree(b.List, see)
		walkTree(b.ElseList, see)
	}
	switch n := n.(type) {
	case *tree.ListNode:
		for _, inner := range n.Nodes {
			walkTree(inner, see)
		}
	case *tree.ActionNode:
		walkTree(n.Pipe, see)
	case *tree.TemplateNode:
		walkTree(n.Pipe, see)
	case *tree.PipeNode:
		for _, c := range n.Cmds {
			walkTree(c, see)
		}
	case *tree.CommandNode:
		for _, arg := range n.Args {
			walkTree(arg, see)
		}
	case *tree.IfNode:
		branch(&n.BranchNode)
	case *tree.RangeNode:
		branch(&n.BranchNode)
	case *tree.WithNode:
		branch(&n.BranchNode)
	}
}

// Pages of the workroom alone, and parts that only they use, speak English.
var benchPages = regexp.MustCompile(`^pages/(appointment|cloth|commission|commissions|diary|entrance|erase|feed|fitting|held|keeping|learned|measure|money|pace|put-away|quotation|rehearsal|rolls?|search|settle|sheet|shopping|studio|terms|today|waitline|weeks|wordings?)\.gohtml|^parts/(bench-|cutting-sheet)|heads.gohtml bench-head|field.gohtml described$`) // the last stands inside a tag

// What may stand in a client's page without being said: names of units and systems, and marks.
var noWords = regexp.MustCompile(`^[\P{L}]*$`)

// TestClientPagesSayEveryWord finds text in the pages of clients that no language but English would have.
func TestClientPagesSayEveryWord(t *testing.T) {
	seen := 0
	for name, one := range trees(t) {
		if benchPages.MatchString(name) {
			continue
		}
		seen++
		page := strings.Builder{}
		flatten(one.Root, &page)
		for _, text := range readable(page.String()) {
			assert.Regexp(t, noWords, text, "%s stands there in English only", name)
		}
	}
	require.Greater(t, seen, 30, "templates of clients")
}

// flatten writes the text of a template, every branch of it, with a mark where something is filled in.
func flatten(n tree.Node, out *strings.Builder) {
	walkTree(n, func(n tree.Node) {
		switch n := n.(type) {
		case *tree.TextNode:
			out.Write(n.Text)
		case *tree.ActionNode, *tree.TemplateNode:
			out.WriteString("·")
		}
	})
}

var (
	shown  = regexp.MustCompile(`(?:alt|aria-label|title|placeholder|data-words)="([^"]*)"`)
	tagged = regexp.MustCompile(`(?s)<!--.*?-->|<script.*?</script>|<[^>]*>|&[a-z]+;`)
)

// readable are the texts of a page that somebody reads or hears: those between tags, and of some attributes.
func readable(page string) []string {
	var all []string
	for _, m := range shown.FindAllStringSubmatch(page, -1) {
		all = append(all, m[1])
	}
	return append(all, strings.Fields(tagged.ReplaceAllString(page, " "))...)
}
