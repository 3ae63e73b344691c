package output

import (
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"ringout/layout"
	"ringout/layout/sheet"
	"ringout/model/read"
	"ringout/render"
)

// TestVolumes parts sets: every sheet once and in order, none too long, no
// drawing torn apart unless it is longer than a volume.
func TestVolumes(t *testing.T) {
	t.Parallel()
	set := func(parts ...int) (all []*sheet.Sheet) {
		for _, n := range parts {
			for i := range n {
				all = append(all, &sheet.Sheet{Part: i + 1, Of: n})
			}
		}
		return all
	}
	for _, c := range []struct {
		sheets []*sheet.Sheet
		want   []int
	}{
		{set(1, 1, 1), []int{3}},
		{set(1, 1, 1, 1), []int{4}},
		{set(1, 1, 1, 1, 1), []int{4, 1}},
		{set(1, 2, 2), []int{3, 2}},
		{set(3, 3, 3), []int{3, 3, 3}},
		{set(1, 9), []int{1, 4, 4, 1}},
		{nil, []int{0}},
	} {
		var got []int
		var back []*sheet.Sheet
		for _, v := range volumes(c.sheets, 4) {
			got, back = append(got, len(v)), append(back, v...)
		}
		if len(got) != len(c.want) || len(back) != len(c.sheets) {
			t.Fatalf("%d sheets: volumes of %v, not %v", len(c.sheets), got, c.want)
		}
		for i := range got {
			if got[i] != c.want[i] {
				t.Errorf("%d sheets: volumes of %v, not %v", len(c.sheets), got, c.want)
				break
			}
		}
		for i := range back {
			if back[i] != c.sheets[i] {
				t.Errorf("sheet %d is not in its place", i)
			}
		}
	}
}

// TestVolumeFiles writes a set as volumes of few sheets and reads them back:
// each is a document with its own outline, and no link leads out of it.
func TestVolumeFiles(t *testing.T) {
	t.Parallel()
	p, _, _ := read.Read(os.DirFS("../../../samples"), "tern-island")
	plan := layout.New(p, false, nil)
	dir := t.TempDir()
	to, err := NewDelivery(dir, io.Discard)
	if err != nil {
		t.Fatal(err)
	}
	defer to.Abandon()
	parts := volumes(plan.Sheets, len(plan.Sheets)/2)
	if len(parts) < 2 {
		t.Fatalf("%d volumes", len(parts))
	}
	b := &Book{To: to, Name: "wide", Title: p.Name, Volumes: parts}
	links := 0
	for page := range plan.Pages() {
		before := countLinks(page.Items)
		if err := b.Page(page); err != nil {
			t.Fatal(err)
		}
		if after := countLinks(page.Items); after != before {
			t.Fatalf("%s has %d links after it was written, %d before", page.Name, after, before)
		}
		links += before
	}
	if b.file != nil || links == 0 {
		t.Fatalf("the last volume is open, or there are no links (%d)", links)
	}
	if err := to.Finish(); err != nil {
		t.Fatal(err)
	}
	for i, part := range parts {
		name := filepath.Join(dir, "wide-"+string(rune('1'+i))+".pdf")
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		if n := strings.Count(string(data), "/Type /Page\n"); n != len(part) {
			t.Errorf("%s has %d pages, not %d", name, n, len(part))
		}
		if _, err := exec.LookPath("pdfinfo"); err == nil {
			out, err := exec.Command("pdfinfo", name).CombinedOutput()
			if err != nil || strings.Contains(string(out), "Error") {
				t.Errorf("pdfinfo %s: %v\n%s", name, err, out)
			}
		}
	}
}

// TestVolumeFails has the last page of a volume refused: no later volume hides that.
func TestVolumeFails(t *testing.T) {
	t.Parallel()
	to, err := NewDelivery(t.TempDir(), io.Discard)
	if err != nil {
		t.Fatal(err)
	}
	defer to.Abandon()
	head := func(name string) render.Head { return render.Head{Name: name, W: 210 * render.MM, H: 297 * render.MM} }
	b := &Book{To: to, Name: "wide", Volumes: [][]*sheet.Sheet{{{Head: head("A")}}, {{Head: head("B")}}}}
	defer b.Abandon()
	cornerless := []render.Item{&render.Line{}}
	if err := b.Page(&render.Page{Head: head("A"), Items: cornerless}); err != nil {
		t.Fatal(err)
	}
	if err := b.Page(&render.Page{Head: head("B")}); err == nil || !strings.Contains(err.Error(), `page "A": line has 0 points`) {
		t.Errorf("a page of no corners: %v", err)
	}
}

func countLinks(items []render.Item) (n int) {
	for _, item := range items {
		switch m := item.(type) {
		case *render.Link:
			n++
		case *render.Group:
			n += countLinks(m.Items)
		}
	}
	return n
}
