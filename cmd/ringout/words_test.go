package main

import (
	"encoding/json"
	"go/ast"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"ringout/model/english"
)

// wordedPackages are the packages whose texts reach paper or a page for a browser.
var wordedPackages = regexp.MustCompile(`^ringout/(layout(/(loop|enclosure|record|index|pack|label|sheet|wording|paper|symbol))?|render(/(pdf|svg|html))?|model/(compute|material)|cmd/ringout/output)$`)

// noPaper are strings with such a word that no reader of a sheet sees as a word of
// ours, by their file, each with its reason.
var noPaper = map[string][]string{
	"layout/sheet/grounds.go":             {"screen", "earth", "earthed", "core "},                                       // facts of a register
	"layout/sheet/recheck.go":             {"colour names", "spare cores", "core markers"},                               // keys of the language
	"layout/wording/names.go":             {"core", "colour", "screen"},                                                  // keys of data in a drawing
	"layout/record/rows.go":               {"core", "colour"},                                                            // keys of data
	"render/html/html.go":                 {"core"},                                                                      // a key of data
	"render/pen.go":                       {"screen"},                                                                    // the name of a pen
	"layout/enclosure/strip.go":           {"earth", "earth-"},                                                           // a key of data and the name of a group
	"layout/wording/safe_words.go":        {"barrier-earth-%d", ": key earth of "},                                       // the name of a row; a key of the language
	"layout/record/ends.go":               {": key earth of "},                                                           // a key of the language
	"layout/record/ringout_rows.go":       {"core-%d"},                                                                   // the name of a row
	"layout/loop/table.go":                {"earths-%d"},                                                                 // the name of a row
	"layout/symbol/earth.go":              {"instrument earth"},                                                          // the name of a symbol, which no sheet has
	"layout/symbol/terminal.go":           {"terminal, earth"},                                                           // likewise
	"model/compute/earths.go":             {"earth", "earthed", "earthed pole (practice)"},                               // keys of the language, after NOT GIVEN
	"model/compute/fault.go":              {"earthed pole (practice)"},                                                   // a key of the language
	"model/compute/margin_capacitance.go": {"mains frequency"},                                                           // a key of the language
	"model/compute/margin_inputs.go":      {"use thicker cores, or move the input nearer to the switch (IEC 60947-5-6)"}, // the hint of a finding, on a screen
	"model/material/label.go":             {"screen", "core"},                                                            // sorts of conductor in the list of labels
}

// TestPaperSaysItsWords: a string of ours that has a word that plants differ in has the
// type english.Text, so that it can only be printed by Say; and no such text becomes a
// string, or a value of a format, by another way.
func TestPaperSaysItsWords(t *testing.T) {
	t.Parallel()
	var words []string
	for _, f := range english.Forms() {
		words = append(words, regexp.QuoteMeta(f))
	}
	differs := regexp.MustCompile(`(?i)(^|[^\pL])(` + strings.Join(words, "|") + `)($|[^\pL])`)
	used := map[string]bool{}
	looked := 0
	eachTyped(t, wordedPackages, func(file string, files *token.FileSet, f *ast.File, info *types.Info) {
		looked++
		ast.Inspect(f, func(n ast.Node) bool {
			switch x := n.(type) {
			case *ast.ImportSpec:
				return false
			case *ast.BasicLit:
				if x.Kind != token.STRING {
					return true
				}
				s, err := strconv.Unquote(x.Value)
				switch {
				case err != nil || !differs.MatchString(s) || isText(info.Types[x].Type):
				case slices.Contains(noPaper[file], s):
					used[file+s] = true
				default:
					t.Errorf("%s: %q has a word that plants differ in: print it by Say", files.Position(x.Pos()), s)
				}
			case *ast.CallExpr:
				for _, arg := range unsaid(x, info) {
					t.Errorf("%s: a text of ours goes another way than by Say", files.Position(arg.Pos()))
				}
			}
			return true
		})
	})
	eachTyped(t, regexp.MustCompile(`^ringout/cmd/ringout/lists$`), func(file string, files *token.FileSet, f *ast.File, info *types.Info) {
		for x, of := range info.Types { // a cell is any value, but tables know strings alone
			if isText(of.Type) && !of.IsType() && !toString(f, x) && f.Pos() <= x.Pos() && x.Pos() < f.End() {
				t.Errorf("%s: a list has a text of ours that is no string", files.Position(x.Pos()))
			}
		}
	})
	for file, all := range noPaper {
		for _, s := range all {
			if !used[file+s] {
				t.Errorf("%s does not have %q", file, s)
			}
		}
	}
	if looked < 80 {
		t.Errorf("%d files looked at", looked)
	}
}

func isText(t types.Type) bool { return t != nil && t.String() == "ringout/model/english.Text" }

// unsaid are the arguments of a call that are texts of ours and become something else:
// a string, or a value that a format prints. A name of the model is no text of ours
// until the model says so.
func unsaid(call *ast.CallExpr, info *types.Info) (all []ast.Expr) {
	of := info.Types[call.Fun]
	if of.IsType() {
		arg := info.Types[call.Args[0]]
		if isText(arg.Type) != isText(of.Type) && (arg.Value == nil || isText(arg.Type)) && !isName(call.Args[0]) {
			all = append(all, call.Args[0])
		}
		return all
	}
	sig, ok := of.Type.(*types.Signature)
	if !ok {
		return nil
	}
	for i, arg := range call.Args {
		last := sig.Params().Len() - 1
		to := sig.Params().At(min(i, last)).Type()
		if list, ok := to.(*types.Slice); ok && sig.Variadic() && i >= last {
			to = list.Elem()
		}
		if _, generic := to.(*types.TypeParam); isText(info.Types[arg].Type) && !generic && types.IsInterface(to) {
			all = append(all, arg)
		}
	}
	return all
}

// isName reports whether an expression is the name of a kind, a word of the language.
func isName(x ast.Expr) bool {
	s, ok := x.(*ast.SelectorExpr)
	return ok && s.Sel.Name == "Name"
}

// toString reports whether a file turns an expression into a string, at once or in the words
// of a plant.
func toString(f *ast.File, of ast.Expr) (is bool) {
	ast.Inspect(f, func(n ast.Node) bool {
		if call, ok := n.(*ast.CallExpr); ok && len(call.Args) == 1 && call.Args[0] == of {
			switch to := call.Fun.(type) {
			case *ast.Ident:
				is = is || to.Name == "string"
			case *ast.SelectorExpr:
				is = is || to.Sel.Name == "Say" || to.Sel.Name == "Ways"
			}
		}
		return !is
	})
	return is
}

// eachTyped calls look for each file of some packages, with the types of its
// expressions.
func eachTyped(t *testing.T, of *regexp.Regexp, look func(file string, files *token.FileSet, f *ast.File, info *types.Info)) {
	t.Helper()
	list := exec.Command("go", "list", "-export", "-deps", "-json=ImportPath,Dir,Export,GoFiles", "./cmd/ringout")
	list.Dir = "../.."
	out, err := list.Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
	type built struct {
		ImportPath, Dir, Export string
		GoFiles                 []string
	}
	all := map[string]built{}
	var ours []built
	for d := json.NewDecoder(strings.NewReader(string(out))); d.More(); {
		var p built
		if err := d.Decode(&p); err != nil {
			t.Fatal(err)
		}
		if all[p.ImportPath] = p; of.MatchString(p.ImportPath) {
			ours = append(ours, p)
		}
	}
	files := token.NewFileSet()
	from := importer.ForCompiler(files, "gc", func(path string) (io.ReadCloser, error) { return os.Open(all[path].Export) })
	for _, p := range ours {
		var parsed []*ast.File
		for _, name := range p.GoFiles {
			f, err := parser.ParseFile(files, filepath.Join(p.Dir, name), nil, parser.SkipObjectResolution)
			if err != nil {
				t.Fatal(err)
			}
			parsed = append(parsed, f)
		}
		info := &types.Info{Types: map[ast.Expr]types.TypeAndValue{}}
		if _, err := (&types.Config{Importer: from}).Check(p.ImportPath, files, parsed, info); err != nil {
			t.Fatal(err)
		}
		for i, f := range parsed {
			look(strings.TrimPrefix(p.ImportPath, module)+"/"+p.GoFiles[i], files, f, info)
		}
	}
}
