package model

import (
	"go/ast"
	"go/parser"
	gotoken "go/token"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// printedFinding is one finding as it is printed.
type printedFinding struct {
	severity Severity
	text     string
}

// printedFindings are all that the samples print, by code.
func printedFindings(t *testing.T) map[string][]printedFinding {
	t.Helper()
	headline := regexp.MustCompile(`(?m)^\S+?(?::\d+)?(?::\d+)?: (warning: )?(.*) \[([a-z-]+)\]$`)
	all := map[string][]printedFinding{}
	for _, file := range []string{"../samples/mistakes/findings.txt", "testdata/findings.txt", "../layout/testdata/crowded/findings.txt"} {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range headline.FindAllStringSubmatch(string(data), -1) {
			severity := Error
			if m[1] != "" {
				severity = Warning
			}
			all[m[3]] = append(all[m[3]], printedFinding{severity, m[2]})
		}
	}
	return all
}

// TestFindingKinds holds the table of findings against the source, which has to
// make each of them and no other, and against the samples, which have to print
// each in every severity that it has: a check that no sample provokes is a check that
// nobody has seen work.
func TestFindingKinds(t *testing.T) {
	made, wrong := codesMade(t, "../model", "../layout", "../layout/symbol", "../cmd/ringout", "../render", "../render/svg", "../render/pdf", "../render/html", "../fonts")
	for _, w := range wrong {
		t.Error(w)
	}
	printed := printedFindings(t)
	kinds := map[string]findingKind{}
	for i, k := range findingKinds {
		if i > 0 && k.code <= findingKinds[i-1].code {
			t.Errorf("%s is not in order, or there twice", k.code)
		}
		kinds[k.code] = k
		if made[k.code] == "" {
			t.Errorf("nothing in the source makes [%s]", k.code)
		}
		want := []Severity{k.severity}
		if k.milder != "" {
			want = append(want, Warning)
		}
		for _, s := range want {
			if !slices.ContainsFunc(printed[k.code], func(p printedFinding) bool { return p.severity == s }) {
				t.Errorf("no sample provokes [%s] as %v", k.code, s)
			}
		}
		for _, p := range printed[k.code] {
			if !slices.Contains(want, p.severity) {
				t.Errorf("[%s] is printed as %v", k.code, p.severity)
			}
		}
		if k.means == "" {
			t.Errorf("[%s] means nothing", k.code)
		}
	}
	for code, at := range made {
		if _, ok := kinds[code]; !ok {
			t.Errorf("%s: [%s] is not in findingKinds", at, code)
		}
	}
	for code := range printed {
		if _, ok := kinds[code]; !ok {
			t.Errorf("[%s] is printed and not in findingKinds", code)
		}
	}
}

// codesMade finds the codes of all findings that the source of some folders makes,
// with a place of each: what comes to the argument "code" of ProblemAt, by whatever
// functions and variables. wrong are the places where that cannot be told.
func codesMade(t *testing.T, folders ...string) (made map[string]string, wrong []string) {
	t.Helper()
	made = map[string]string{}
	for _, folder := range folders {
		files, err := filepath.Glob(folder + "/*.go")
		if err != nil || len(files) == 0 {
			t.Fatal(folder, err)
		}
		s := codeSearch{set: gotoken.NewFileSet(), takes: map[string]int{"ProblemAt": 1}, made: made}
		for _, f := range files {
			if strings.HasSuffix(f, "_test.go") {
				continue
			}
			file, err := parser.ParseFile(s.set, f, nil, parser.SkipObjectResolution)
			if err != nil {
				t.Fatal(err)
			}
			s.files = append(s.files, file)
		}
		s.run()
		wrong = append(wrong, s.wrong...)
	}
	return made, wrong
}

// codeSearch looks through the files of one package.
type codeSearch struct {
	set   *gotoken.FileSet
	files []*ast.File
	takes map[string]int // functions, and methods with a point before them, that take a code, and as which argument
	made  map[string]string
	wrong []string
}

func (s *codeSearch) run() {
	for n := -1; n != len(s.takes); { // until no more functions hand on their argument
		n = len(s.takes)
		s.calls(func(f *ast.FuncDecl, code ast.Expr) {
			if id, ok := code.(*ast.Ident); ok {
				if i := paramOf(f, id.Name); i >= 0 {
					name := f.Name.Name
					if f.Recv != nil {
						name = "." + name
					}
					s.takes[name] = i
				}
			}
		})
	}
	s.calls(func(f *ast.FuncDecl, code ast.Expr) {
		if id, ok := code.(*ast.Ident); !ok || paramOf(f, id.Name) < 0 {
			s.value(f, code, 0)
		}
	})
	for _, file := range s.files {
		ast.Inspect(file, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.CompositeLit: // ProblemAt alone makes findings, so that severities come from the table
				if name := lastName(n.Type); name == "Problem" && len(n.Elts) > 0 && !strings.HasPrefix(s.at(n), "../model/problem.go:") {
					s.wrong = append(s.wrong, s.at(n)+": a finding is made without ProblemAt")
				}
			case *ast.AssignStmt:
				for i, to := range n.Lhs {
					if sel, ok := to.(*ast.SelectorExpr); ok && sel.Sel.Name == "Code" && len(n.Rhs) == len(n.Lhs) {
						s.literal(n.Rhs[i])
					}
					if sel, ok := to.(*ast.SelectorExpr); ok && sel.Sel.Name == "Severity" && !strings.HasPrefix(s.at(n), "../model/problem.go:") {
						s.wrong = append(s.wrong, s.at(n)+": a severity is set beside the table")
					}
				}
			}
			return true
		})
	}
}

// calls goes through all calls of functions that take a code.
func (s *codeSearch) calls(do func(in *ast.FuncDecl, code ast.Expr)) {
	for _, file := range s.files {
		for _, d := range file.Decls {
			f, ok := d.(*ast.FuncDecl)
			if !ok {
				f = &ast.FuncDecl{Name: ast.NewIdent(""), Type: &ast.FuncType{Params: &ast.FieldList{}}}
			}
			ast.Inspect(d, func(n ast.Node) bool {
				call, ok := n.(*ast.CallExpr)
				if !ok {
					return true
				}
				i, takes := s.takes[lastName(call.Fun)]
				if _, ok := call.Fun.(*ast.SelectorExpr); ok && !takes {
					i, takes = s.takes["."+lastName(call.Fun)]
				}
				if takes && i < len(call.Args) {
					do(f, call.Args[i])
				}
				return true
			})
		}
	}
}

// value notes the codes that an expression can be.
func (s *codeSearch) value(f *ast.FuncDecl, e ast.Expr, depth int) {
	switch e := e.(type) {
	case *ast.BasicLit:
		s.literal(e)
		return
	case *ast.SelectorExpr: // a field Code: whatever the package puts there
		if e.Sel.Name == "Code" {
			for _, file := range s.files {
				ast.Inspect(file, func(n ast.Node) bool {
					if kv, ok := n.(*ast.KeyValueExpr); ok && lastName(kv.Key) == "Code" {
						s.literal(kv.Value)
					}
					return true
				})
			}
			return
		}
	case *ast.Ident:
		found := 0
		if f.Body != nil && depth < 3 {
			ast.Inspect(f.Body, func(n ast.Node) bool {
				if a, ok := n.(*ast.AssignStmt); ok && len(a.Lhs) == len(a.Rhs) {
					for i, to := range a.Lhs {
						if lastName(to) == e.Name {
							found++
							s.value(f, a.Rhs[i], depth+1)
						}
					}
				}
				return true
			})
		}
		if found > 0 {
			return
		}
	}
	s.wrong = append(s.wrong, s.at(e)+": which code this is cannot be told")
}

// literal notes a code that is written out.
func (s *codeSearch) literal(e ast.Expr) {
	if lit, ok := e.(*ast.BasicLit); ok && lit.Kind == gotoken.STRING {
		if code, err := strconv.Unquote(lit.Value); err == nil {
			s.made[code] = s.at(e)
		}
	}
}

func (s *codeSearch) at(n ast.Node) string {
	p := s.set.Position(n.Pos())
	return p.Filename + ":" + strconv.Itoa(p.Line)
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

// paramOf is which parameter of a function bears a name; -1 for none.
func paramOf(f *ast.FuncDecl, name string) int {
	i := 0
	for _, field := range f.Type.Params.List {
		for _, n := range field.Names {
			if n.Name == name {
				return i
			}
			i++
		}
	}
	return -1
}
