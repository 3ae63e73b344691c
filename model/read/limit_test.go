package read

import (
	"go/ast"
	"go/parser"
	"go/token"
	"strings"
	"testing"
)

// TestLimitsHold: what limit.go declares as a limit is used by the reader and stands in
// the table that LANGUAGE.md is made from.
func TestLimitsHold(t *testing.T) {
	t.Parallel()
	pkgs, err := parser.ParseDir(token.NewFileSet(), ".", nil, parser.SkipObjectResolution)
	if err != nil {
		t.Fatal(err)
	}
	declared, tabled, used := map[string]bool{}, map[string]bool{}, map[string]bool{}
	names := func(n ast.Node, into map[string]bool) {
		ast.Inspect(n, func(n ast.Node) bool {
			if id, ok := n.(*ast.Ident); ok {
				into[id.Name] = true
			}
			return true
		})
	}
	for file, f := range pkgs["read"].Files {
		if strings.HasSuffix(file, "_test.go") {
			continue
		}
		for _, d := range f.Decls {
			g, ok := d.(*ast.GenDecl)
			if !ok || len(g.Specs) != 1 {
				names(d, used)
				continue
			}
			v, ok := g.Specs[0].(*ast.ValueSpec)
			switch {
			case ok && g.Tok == token.CONST && file == "limit.go":
				declared[v.Names[0].Name] = true
			case ok && v.Names[0].Name == "limits":
				names(v.Values[0], tabled)
			default:
				names(d, used)
			}
		}
	}
	if len(declared) < 12 {
		t.Errorf("only %d limits found", len(declared))
	}
	for name := range declared {
		if !tabled[name] {
			t.Errorf("%s is not in the table of limits", name)
		}
		if !used[name] {
			t.Errorf("nothing holds a text to %s", name)
		}
	}
}
