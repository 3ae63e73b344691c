package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"strings"
	"testing"
)

// What a person takes in at once: a function on one screen, and its parameters.
const (
	mostLines      = 79
	mostParameters = 5
)

// tooLarge are the functions that are longer or wider, each with its reason.
var tooLarge = map[string]string{}

// TestFunctionsAreSmall holds every function of the program against the limits; a test
// is not held: it is a list of cases, or reads a sheet from top to bottom.
func TestFunctionsAreSmall(t *testing.T) {
	large := map[string]bool{}
	files := token.NewFileSet()
	err := filepath.WalkDir("../..", func(path string, e fs.DirEntry, err error) error {
		if err != nil || filepath.Ext(path) != ".go" || strings.HasSuffix(path, "_test.go") {
			return err
		}
		file, err := parser.ParseFile(files, path, nil, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		ast.Inspect(file, func(n ast.Node) bool {
			var kind *ast.FuncType
			name := "a function without a name"
			switch n := n.(type) {
			case *ast.FuncDecl:
				name, kind = n.Name.Name, n.Type
			case *ast.FuncLit:
				kind = n.Type
			default:
				return true
			}
			from, to := files.Position(n.Pos()), files.Position(n.End())
			lines, parameters := to.Line-from.Line+1, kind.Params.NumFields()
			if lines <= mostLines && parameters <= mostParameters {
				return true
			}
			rel, _ := filepath.Rel("../..", path)
			key := filepath.ToSlash(rel) + " " + name
			if large[key] = true; tooLarge[key] == "" {
				t.Errorf("%s: %s has %d lines and %d parameters: more than %d or %d", from, name, lines, parameters, mostLines, mostParameters)
			}
			return true
		})
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for key := range tooLarge {
		if !large[key] {
			t.Errorf("%s is not too large any more: take it out of the table", key)
		}
	}
}
