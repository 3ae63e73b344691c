package main

import (
	"encoding/json"
	"go/ast"
	"go/parser"
	"go/token"
	"maps"
	"os/exec"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

const module = "ringout/"

// packageRow is a row of the table of packages in DEVELOPERS.md: the package, what it
// holds, which of ours it imports, and which libraries.
var packageRow = regexp.MustCompile("(?m)^\\| `([a-z/]+)` \\| [^|]+ \\| ([^|]*)\\| ([^|]*)\\|$")

// TestArchitecture holds the imports of every package against the table of packages,
// both ways: what is imported is in the table, and what is in the table is imported.
func TestArchitecture(t *testing.T) {
	t.Parallel()
	_, text, _ := strings.Cut(readDocument(t, "DEVELOPERS.md"), "\n## Packages\n")
	text, _, _ = strings.Cut(text, "\n## ")
	allowed := map[string][]string{}
	for _, m := range packageRow.FindAllStringSubmatch(text, -1) {
		imports := []string{}
		for _, cell := range []struct{ list, before string }{{m[2], module}, {m[3], ""}} {
			for _, of := range strings.Split(strings.TrimSpace(cell.list), ", ") {
				if of != "" {
					imports = append(imports, cell.before+strings.Trim(of, "`"))
				}
			}
		}
		allowed[module+m[1]] = imports
	}
	for name, p := range packages(t) {
		want, ok := allowed[name]
		if !ok {
			t.Errorf("%s is a package that the table does not have", name)
			continue
		}
		delete(allowed, name)
		for _, i := range p.Imports {
			first, _, _ := strings.Cut(i, "/")
			if standard := first+"/" != module && !strings.Contains(first, "."); !standard && !slices.Contains(want, i) {
				t.Errorf("%s imports %s, which the table does not allow", name, i)
			}
		}
		for _, i := range want {
			if !slices.Contains(p.Imports, i) {
				t.Errorf("the table says that %s imports %s: it does not", name, i)
			}
		}
	}
	for name := range allowed {
		t.Errorf("the table has %s, which is no package", name)
	}
}

// goPackage is what go list says of a package.
type goPackage struct {
	ImportPath, Name, Dir              string
	Imports                            []string
	GoFiles, TestGoFiles, XTestGoFiles []string
}

// packages are all of ours, by import path.
func packages(t *testing.T) map[string]goPackage {
	t.Helper()
	list := exec.Command("go", "list", "-json=ImportPath,Name,Dir,Imports,GoFiles,TestGoFiles,XTestGoFiles", "./...")
	list.Dir = "../.."
	out, err := list.Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
	all := map[string]goPackage{}
	for d := json.NewDecoder(strings.NewReader(string(out))); d.More(); {
		var p goPackage
		if err := d.Decode(&p); err != nil {
			t.Fatal(err)
		}
		all[p.ImportPath] = p
	}
	return all
}

// TestExportsAreUsed: what a package exports, another package uses, be it a test. Of
// types, methods and fields nothing is asked: a value has them without being named.
func TestExportsAreUsed(t *testing.T) {
	t.Parallel()
	exported := map[string]token.Position{} // by import path and name
	group := map[string]token.Pos{}         // of constants that are declared together, by the same
	used := map[string]bool{}
	files := token.NewFileSet()
	for name, p := range packages(t) {
		for i, file := range slices.Concat(p.GoFiles, p.TestGoFiles, p.XTestGoFiles) {
			f, err := parser.ParseFile(files, filepath.Join(p.Dir, file), nil, parser.SkipObjectResolution)
			if err != nil {
				t.Fatal(err)
			}
			if i < len(p.GoFiles) && p.Name != "main" {
				for _, e := range exportsOf(f) {
					exported[name+"."+e.id.Name] = files.Position(e.id.Pos())
					group[name+"."+e.id.Name] = e.group
				}
			}
			usesOf(f, used)
		}
	}
	if len(exported) < 500 {
		t.Errorf("only %d exports found", len(exported))
	}
	whole := map[token.Pos]bool{} // the values of a type go together
	for name := range used {
		whole[group[name]] = true
	}
	for _, name := range slices.Sorted(maps.Keys(exported)) {
		if !used[name] && (group[name] == token.NoPos || !whole[group[name]]) {
			t.Errorf("%s: no other package uses %s", exported[name], name)
		}
	}
}

// TestExportsAreTold: the comment of what a package exports begins with its name, as go
// doc shows it. Values may be told by their group, or beside them.
func TestExportsAreTold(t *testing.T) {
	t.Parallel()
	files := token.NewFileSet()
	for _, p := range packages(t) {
		for _, file := range p.GoFiles {
			f, err := parser.ParseFile(files, filepath.Join(p.Dir, file), nil, parser.ParseComments|parser.SkipObjectResolution)
			if err != nil {
				t.Fatal(err)
			}
			for _, id := range untold(f) {
				t.Errorf("%s: the comment of %s does not begin with its name", files.Position(id.Pos()), id.Name)
			}
		}
	}
}

// untold are the exported names of a file whose comments do not tell of them. Methods
// that serve an interface need none, nor do those of types that are not exported.
func untold(f *ast.File) (all []*ast.Ident) {
	tells := func(id *ast.Ident, doc *ast.CommentGroup) bool {
		return !id.IsExported() || strings.HasPrefix(doc.Text(), id.Name)
	}
	for _, d := range f.Decls {
		switch d := d.(type) {
		case *ast.FuncDecl:
			if serves := []string{"String", "Error", "Draw", "Read", "MarshalJSON"}; d.Recv != nil && (slices.Contains(serves, d.Name.Name) || !ast.IsExported(receiver(d))) {
				continue
			}
			if !tells(d.Name, d.Doc) {
				all = append(all, d.Name)
			}
		case *ast.GenDecl:
			for _, s := range d.Specs {
				switch s := s.(type) {
				case *ast.TypeSpec:
					if !tells(s.Name, s.Doc) && !tells(s.Name, d.Doc) {
						all = append(all, s.Name)
					}
				case *ast.ValueSpec:
					for _, id := range s.Names {
						if beside := d.Lparen.IsValid() && (d.Doc != nil || s.Doc != nil) || s.Comment != nil; !beside && !tells(id, d.Doc) {
							all = append(all, id)
						}
					}
				}
			}
		}
	}
	return all
}

// receiver is the name of the type that a method is of.
func receiver(d *ast.FuncDecl) string {
	t := d.Recv.List[0].Type
	if star, ok := t.(*ast.StarExpr); ok {
		t = star.X
	}
	switch t := t.(type) {
	case *ast.Ident:
		return t.Name
	case *ast.IndexExpr:
		return t.X.(*ast.Ident).Name
	}
	return ""
}

// export is an exported function, variable or constant. Constants of one declaration
// are a group.
type export struct {
	id    *ast.Ident
	group token.Pos
}

func exportsOf(f *ast.File) (all []export) {
	add := func(group token.Pos, ids ...*ast.Ident) {
		for _, id := range ids {
			if id.IsExported() {
				all = append(all, export{id, group})
			}
		}
	}
	for _, d := range f.Decls {
		switch d := d.(type) {
		case *ast.FuncDecl:
			if d.Recv == nil {
				add(token.NoPos, d.Name)
			}
		case *ast.GenDecl:
			group := token.NoPos
			if d.Tok == token.CONST && d.Lparen.IsValid() {
				group = d.Pos()
			}
			for _, s := range d.Specs {
				if v, ok := s.(*ast.ValueSpec); ok {
					add(group, v.Names...)
				}
			}
		}
	}
	return all
}

// usesOf notes the names of our packages that a file uses, with their import paths.
func usesOf(f *ast.File, used map[string]bool) {
	ours := map[string]string{}
	for _, i := range f.Imports {
		if p, _ := strconv.Unquote(i.Path.Value); strings.HasPrefix(p, module) {
			name := path.Base(p)
			if i.Name != nil {
				name = i.Name.Name
			}
			ours[name] = p
		}
	}
	ast.Inspect(f, func(n ast.Node) bool {
		if sel, ok := n.(*ast.SelectorExpr); ok {
			if id, ok := sel.X.(*ast.Ident); ok && ours[id.Name] != "" {
				used[ours[id.Name]+"."+sel.Sel.Name] = true
			}
		}
		return true
	})
}
