package finding_test

import (
	"go/ast"
	"go/parser"
	gotoken "go/token"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"ringout/model/finding"
)

// provoked are the severities in which the examples of the kinds and the plants of model/check
// have each code.
func provoked(t *testing.T) map[string][]finding.Severity {
	t.Helper()
	all, err := examples()
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string][]finding.Severity{}
	for _, e := range all {
		for _, f := range slices.Concat(e.found, e.bearing) {
			seen[f.Code] = append(seen[f.Code], f.Severity)
		}
	}
	printed, err := os.ReadFile("../check/testdata/findings.txt")
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range headline.FindAllStringSubmatch(string(printed), -1) {
		severity := finding.Error
		if m[1] != "" {
			severity = finding.Warning
		}
		seen[m[3]] = append(seen[m[3]], severity)
	}
	return seen
}

// TestFindingKinds holds the kinds of findings against the source, which has to
// report each of them, and against plants, which have to provoke each in every
// severity that it has: a check that nothing provokes is a check that nobody has
// seen work.
func TestFindingKinds(t *testing.T) {
	t.Parallel()
	names, used := kindsUsed(t, folders(t)...)
	seen := provoked(t)
	kinds := map[string]bool{}
	for _, k := range finding.Kinds() {
		if kinds[k.Code] {
			t.Errorf("[%s] is defined twice", k.Code)
		}
		kinds[k.Code] = true
		if name := names[k.Code]; !strings.EqualFold(name, strings.ReplaceAll(k.Code, "-", "")) {
			t.Errorf("[%s] is called %q", k.Code, name)
		} else if !used[name] {
			t.Errorf("nothing in the source reports [%s]", k.Code)
		}
		want := []finding.Severity{k.Severity}
		if k.Milder != "" {
			want = append(want, finding.Warning)
		}
		for _, severity := range want {
			if !slices.Contains(seen[k.Code], severity) {
				t.Errorf("nothing provokes [%s] as %v", k.Code, severity)
			}
		}
		for _, severity := range seen[k.Code] {
			if !slices.Contains(want, severity) {
				t.Errorf("[%s] is printed as %v", k.Code, severity)
			}
		}
		if k.Means == "" {
			t.Errorf("[%s] means nothing", k.Code)
		}
	}
	if len(names) != len(kinds) {
		t.Errorf("%d kinds are written, %d are listed", len(names), len(kinds))
	}
	for code := range seen {
		if !kinds[code] {
			t.Errorf("[%s] is printed and is no kind of finding", code)
		}
	}
}

// kindsUsed reads the source of some folders. It returns the variable of each code
// in codes.go, and the names that are used anywhere else. What goes round
// the kinds is an error: a finding made without At, a kind defined elsewhere,
// a code or a severity set afterwards.
func kindsUsed(t *testing.T, folders ...string) (names map[string]string, used map[string]bool) {
	t.Helper()
	names, used = map[string]string{}, map[string]bool{}
	set := gotoken.NewFileSet()
	for _, folder := range folders {
		files, err := filepath.Glob(folder + "/*.go")
		if err != nil || len(files) == 0 {
			t.Fatal(folder, err)
		}
		for _, f := range files {
			if strings.HasSuffix(f, "_test.go") {
				continue
			}
			file, err := parser.ParseFile(set, f, nil, parser.SkipObjectResolution)
			if err != nil {
				t.Fatal(err)
			}
			base := filepath.Base(f)
			ast.Inspect(file, func(n ast.Node) bool {
				switch n := n.(type) {
				case *ast.ValueSpec:
					if code := definedCode(n); code != "" && base == "codes.go" {
						names[code] = n.Names[0].Name
						return false
					} else if code != "" {
						t.Errorf("%s: a kind of finding is defined outside codes.go", set.Position(n.Pos()))
					}
				case *ast.CompositeLit:
					if name := lastName(n.Type); (name == "Kind" && folder == "." || name == "Kind" && selected(n.Type, "finding") || name == "Finding" && len(n.Elts) > 0) && base != "finding.go" {
						t.Errorf("%s: a %s is made here", set.Position(n.Pos()), name)
					}
				case *ast.AssignStmt:
					for i, to := range n.Lhs {
						sel, ok := to.(*ast.SelectorExpr)
						if !ok || base == "finding.go" {
							continue
						}
						if sel.Sel.Name == "Severity" {
							t.Errorf("%s: a severity is set beside the kind", set.Position(n.Pos()))
						}
						if sel.Sel.Name == "Code" && len(n.Rhs) == len(n.Lhs) {
							if lit, ok := n.Rhs[i].(*ast.BasicLit); ok && lit.Kind == gotoken.STRING && lit.Value != `""` {
								t.Errorf("%s: a code is set beside the kind", set.Position(n.Pos()))
							}
						}
					}
				case *ast.Ident:
					used[n.Name] = true
				}
				return true
			})
		}
	}
	return names, used
}

// definedCode is the code of X = define(Kind{Code: "…"}); "" of anything else.
func definedCode(v *ast.ValueSpec) string {
	if len(v.Values) != 1 {
		return ""
	}
	call, ok := v.Values[0].(*ast.CallExpr)
	if !ok || lastName(call.Fun) != "define" || len(call.Args) != 1 {
		return ""
	}
	kind, ok := call.Args[0].(*ast.CompositeLit)
	if !ok {
		return ""
	}
	for _, e := range kind.Elts {
		if kv, ok := e.(*ast.KeyValueExpr); ok && lastName(kv.Key) == "Code" {
			if lit, ok := kv.Value.(*ast.BasicLit); ok {
				code, _ := strconv.Unquote(lit.Value)
				return code
			}
		}
	}
	return ""
}

// lastName is x of x, a.x and a.b.x; "" of anything else.
func lastName(e ast.Expr) string {
	switch e := e.(type) {
	case *ast.Ident:
		return e.Name
	case *ast.SelectorExpr:
		return e.Sel.Name
	}
	return ""
}

// selected reports whether a type is named through a package.
func selected(e ast.Expr, pkg string) bool {
	sel, ok := e.(*ast.SelectorExpr)
	return ok && lastName(sel.X) == pkg
}

// folders are those of the source: this one as ".".
func folders(t *testing.T) []string {
	t.Helper()
	all := []string{"."}
	for _, root := range []string{"../../model", "../../layout", "../../render", "../../cmd", "../../fonts"} {
		err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
			if err == nil && d.IsDir() && path != "../../model/finding" {
				if files, _ := filepath.Glob(path + "/*.go"); len(files) > 0 {
					all = append(all, path)
				}
			}
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	return all
}
