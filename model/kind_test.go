package model

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestKindsByName looks through the source for code that asks for the name of a kind,
// of a part or of a sheet: what a kind can do is said in its table. Names are printed,
// looked up when text is read, and made part of a key; they are compared with nothing.
func TestKindsByName(t *testing.T) {
	t.Parallel()
	files := 0
	err := filepath.WalkDir("..", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		src, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		files++
		for _, at := range asksForKindNames(t, path, string(src)) {
			t.Errorf("%s: the name of a kind is asked for", at)
		}
		return nil
	})
	if err != nil || files < 100 {
		t.Fatalf("%d files, %v", files, err)
	}
	for code, want := range map[string]int{
		`p.Kind.Name == "lamp"`:                            1,
		`"lamp" != c.Device().Kind.Name`:                   1,
		`asks[p.Kind.Name]`:                                1,
		`func() { switch p.Kind.Name { case "lamp": } }()`: 1,
		`slices.Contains([]string{"lamp"}, p.Kind.Name)`:   1,
		`slices.Contains(asked, p.Kind.Name)`:              0, // words of a command
		`key{p.Kind.Name, p.Tag}`:                          0,
		`"a card of kind " + p.Kind.Name`:                  0,
	} {
		if got := len(asksForKindNames(t, "code.go", "package p\nvar _ = "+code)); got != want {
			t.Errorf("%s: found %d times, not %d", code, got, want)
		}
	}
}

// asksForKindNames are the places where a source text compares X.Kind.Name, switches
// on it, looks it up in a table, or holds it against a list of literal words.
func asksForKindNames(t *testing.T, path, src string) (at []string) {
	set := token.NewFileSet()
	file, err := parser.ParseFile(set, path, src, 0)
	if err != nil {
		t.Fatal(err)
	}
	name := func(e ast.Expr) bool {
		s, ok := e.(*ast.SelectorExpr)
		if !ok || s.Sel.Name != "Name" {
			return false
		}
		of, ok := s.X.(*ast.SelectorExpr)
		return ok && strings.EqualFold(of.Sel.Name, "kind")
	}
	ast.Inspect(file, func(n ast.Node) bool {
		asks := false
		switch n := n.(type) {
		case *ast.BinaryExpr:
			asks = (n.Op == token.EQL || n.Op == token.NEQ) && (name(n.X) || name(n.Y))
		case *ast.SwitchStmt:
			asks = name(n.Tag)
		case *ast.IndexExpr:
			asks = name(n.Index)
		case *ast.CallExpr:
			if len(n.Args) == 2 && name(n.Args[1]) {
				_, asks = n.Args[0].(*ast.CompositeLit)
			}
		}
		if asks {
			at = append(at, set.Position(n.Pos()).String())
		}
		return true
	})
	return at
}
