package main

import (
	"bytes"
	"encoding/csv"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"ringout/cmd/ringout/lists"
	"ringout/samples"
)

// TestWorkbookInOffice turns the first sheet into CSV with LibreOffice and
// compares it with ours.
func TestWorkbookInOffice(t *testing.T) {
	t.Parallel()
	samples.Whole(t)
	samples.Need(t, "soffice")
	dir := t.TempDir()
	file := filepath.Join(dir, "lists.xlsx")
	if code, _, stderr := ringoutRuns("list", "all", "../../samples/one-loop", "-o", file); code != fine {
		t.Fatal(stderr)
	}
	cmd := exec.Command("soffice", "-env:UserInstallation=file://"+filepath.Join(dir, "profile"), "--headless", "--convert-to",
		"csv:Text - txt - csv (StarCalc):44,34,76,1", "--outdir", dir, file)
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("soffice: %v\n%s", err, out)
	}
	data, err := os.ReadFile(filepath.Join(dir, "lists.csv"))
	if err != nil {
		t.Fatal(err)
	}
	got, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	_, ours, _ := ringoutRuns("list", lists.All[0].Name, "../../samples/one-loop", "--as", "csv")
	want, err := csv.NewReader(strings.NewReader(ours)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(got) != len(want) {
		t.Fatalf("%d rows, not %d", len(got), len(want))
	}
	for i := range want {
		for j := range want[i] {
			if got[i][j] != want[i][j] {
				t.Errorf("row %d, %s: %q, not %q", i+1, want[0][j], got[i][j], want[i][j])
			}
		}
	}
}
