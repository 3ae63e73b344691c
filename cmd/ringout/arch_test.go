package main

import (
	"encoding/json"
	"os/exec"
	"slices"
	"strings"
	"testing"
)

// mayImport is the order of the packages: who may import which of ours.
var mayImport = map[string][]string{
	"ringout/cmd/ringout": {"ringout/cmd/ringout/imports", "ringout/cmd/ringout/lists", "ringout/cmd/ringout/output", "ringout/cmd/ringout/trace",
		"ringout/cmd/ringout/tell", "ringout/layout", "ringout/model", "ringout/render", "ringout/render/svg", "ringout/render/pdf"},
	"ringout/cmd/ringout/imports": {"ringout/cmd/ringout/lists", "ringout/cmd/ringout/output", "ringout/cmd/ringout/tell", "ringout/cmd/ringout/wiring", "ringout/model"},
	"ringout/cmd/ringout/lists":   {"ringout/cmd/ringout/wiring", "ringout/layout", "ringout/model"},
	"ringout/cmd/ringout/output": {"ringout/cmd/ringout/tell", "ringout/cmd/ringout/wiring", "ringout/layout", "ringout/model",
		"ringout/render", "ringout/render/svg", "ringout/render/pdf", "ringout/render/html"},
	"ringout/cmd/ringout/trace":  {"ringout/cmd/ringout/tell", "ringout/cmd/ringout/wiring", "ringout/model"},
	"ringout/cmd/ringout/wiring": {"ringout/model"},
	"ringout/cmd/ringout/tell":   {"ringout/model"},
	"ringout/layout":             {"ringout/layout/symbol", "ringout/model", "ringout/render", "ringout/fonts"},
	"ringout/layout/symbol":      {"ringout/render", "ringout/fonts"},
	"ringout/render/pdf":         {"ringout/render", "ringout/fonts"},
	"ringout/render/html":        {"ringout/render", "ringout/render/svg", "ringout/fonts"},
	"ringout/render/svg":         {"ringout/render", "ringout/fonts"},
	"ringout/render":             {"ringout/fonts"},
	"ringout/model":              {"ringout/fonts"},
	"ringout/fonts":              {},
	"ringout/samples":            {},
}

// owners tells which packages import each library from outside. Tests may use what
// they like.
var owners = map[string][]string{
	"github.com/schollz/progressbar/v3": {"ringout/cmd/ringout/output"},
	"github.com/spf13/cobra":            {"ringout/cmd/ringout"},
	"github.com/spf13/pflag":            {"ringout/cmd/ringout"},
	"github.com/xuri/excelize/v2":       {"ringout/cmd/ringout/imports", "ringout/cmd/ringout/lists"},
	"github.com/gofrs/flock":            {"ringout/cmd/ringout/output"},
	"golang.org/x/sync/errgroup":        {"ringout/cmd/ringout/output"},
	"golang.org/x/term":                 {"ringout/cmd/ringout/output"},
	"github.com/ajstarks/svgo/float":    {"ringout/render/svg"},
	"github.com/go-pdf/fpdf":            {"ringout/render/pdf"},
	"github.com/rivo/uniseg":            {"ringout/cmd/ringout/lists", "ringout/model"},
	"github.com/skip2/go-qrcode":        {"ringout/layout"},
	"golang.org/x/text/unicode/norm":    {"ringout/model"},
	"gopkg.in/yaml.v3":                  {"ringout/cmd/ringout/imports", "ringout/model"},
}

// TestArchitecture holds the imports of every package against the two tables.
func TestArchitecture(t *testing.T) {
	t.Parallel()
	list := exec.Command("go", "list", "-json=ImportPath,Imports", "./...")
	list.Dir = "../.."
	out, err := list.Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
	found, used := map[string]bool{}, map[string]bool{}
	for d := json.NewDecoder(strings.NewReader(string(out))); d.More(); {
		var p struct {
			ImportPath string
			Imports    []string
		}
		if err := d.Decode(&p); err != nil {
			t.Fatal(err)
		}
		found[p.ImportPath] = true
		allowed, ok := mayImport[p.ImportPath]
		if !ok {
			t.Errorf("%s is a package that the table does not have", p.ImportPath)
		}
		for _, path := range p.Imports {
			first, _, _ := strings.Cut(path, "/")
			switch {
			case first == "ringout":
				if !slices.Contains(allowed, path) {
					t.Errorf("%s imports %s: against the order of the packages", p.ImportPath, path)
				}
			case strings.Contains(first, "."):
				used[p.ImportPath+" "+path] = true
				if !slices.Contains(owners[path], p.ImportPath) {
					t.Errorf("%s imports %s, which belongs to %q", p.ImportPath, path, owners[path])
				}
			}
		}
	}
	for path := range mayImport {
		if !found[path] {
			t.Errorf("package %s is in the table and nowhere else", path)
		}
	}
	for path, all := range owners {
		for _, owner := range all {
			if !used[owner+" "+path] {
				t.Errorf("%s does not import %s any more: take it out of the table", owner, path)
			}
		}
	}
}
