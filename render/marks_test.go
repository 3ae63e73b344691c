package render

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"maps"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// TestMarksAreToldApart looks through the source for what tells marks apart by their
// shape. What has a case for a Curve, which is the rarest, has one for every kind of
// mark; only a Link, which is not seen, may be left out. So no mark is forgotten where
// pages are moved, digested, checked, audited or written.
func TestMarksAreToldApart(t *testing.T) {
	t.Parallel()
	files := token.NewFileSet()
	marks := map[string]bool{}           // that have the method item
	told := map[string]map[string]bool{} // by the place of a switch
	err := filepath.WalkDir("..", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		f, err := parser.ParseFile(files, path, nil, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		ast.Inspect(f, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.FuncDecl:
				if n.Name.Name == "item" && n.Recv != nil && f.Name.Name == "render" {
					marks[pointedAt(n.Recv.List[0].Type)] = true
				}
			case *ast.TypeSwitchStmt:
				cases := map[string]bool{}
				for _, c := range n.Body.List {
					for _, of := range c.(*ast.CaseClause).List {
						cases[pointedAt(of)] = true
					}
				}
				if cases["Curve"] {
					told[files.Position(n.Pos()).String()] = cases
				}
			}
			return true
		})
		return nil
	})
	if err != nil || len(marks) < 6 || len(told) < 10 {
		t.Fatalf("%d kinds of mark, told apart in %d places: %v", len(marks), len(told), err)
	}
	for _, at := range slices.Sorted(maps.Keys(told)) {
		for mark := range marks {
			if mark != "Link" && !told[at][mark] {
				t.Errorf("%s: %s has no case", at, mark)
			}
		}
	}
}

// pointedAt is the name of the type that a pointer points at, without its package.
func pointedAt(e ast.Expr) string {
	p, ok := e.(*ast.StarExpr)
	if !ok {
		return ""
	}
	switch of := p.X.(type) {
	case *ast.Ident:
		return of.Name
	case *ast.SelectorExpr:
		return of.Sel.Name
	}
	return ""
}
