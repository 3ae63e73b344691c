package pdf

import (
	"bufio"
	"bytes"
	"fmt"
	"io"
	"slices"

	"ringout/fonts"
)

// How the library numbers its objects: 1 has the list of pages, 2 the resources of all of
// them, then there are two for each page, the page and its marks.
const resources = 2

func marksOf(page int) int { return 4 + 2*page }

// join writes a file of the library with other marks on its pages: deflated contents, in
// which faces go by fontName. It gives an error where the file is not built as known here.
func join(w io.Writer, file []byte, pages [][]byte) error {
	objects, err := split(file)
	if err != nil {
		return err
	}
	if len(objects.at) <= marksOf(len(pages)-1) {
		return fmt.Errorf("PDF library: %d objects for %d pages", len(objects.at)-1, len(pages))
	}
	if err := objects.nameFonts(); err != nil {
		return err
	}
	out := &counter{w: bufio.NewWriterSize(w, 1<<16)}
	out.write(file[:objects.at[objects.order[0]]])
	at := make([]int, len(objects.at))
	for _, n := range objects.order {
		at[n] = out.n
		page := (n - marksOf(0)) / 2
		if n != marksOf(page) || page < 0 || page >= len(pages) {
			out.write(objects.body[n])
			continue
		}
		if !bytes.HasPrefix(objects.body[n], fmt.Appendf(nil, "%d 0 obj\n<</Length ", n)) {
			return fmt.Errorf("PDF library: object %d is not the marks of page %d", n, page+1)
		}
		out.write(fmt.Appendf(nil, "%d 0 obj\n<</Filter /FlateDecode /Length %d>>\nstream\n", n, len(pages[page])))
		out.write(pages[page])
		out.write([]byte("\nendstream\nendobj\n"))
	}
	table := out.n
	out.write(fmt.Appendf(nil, "xref\n0 %d\n0000000000 65535 f \n", len(at)))
	for _, offset := range at[1:] {
		out.write(fmt.Appendf(nil, "%010d 00000 n \n", offset))
	}
	out.write(objects.trailer)
	out.write(fmt.Appendf(nil, "startxref\n%d\n%%%%EOF\n", table))
	if out.err == nil {
		out.err = out.w.Flush()
	}
	return out.err
}

// objects are the parts of a file.
type objects struct {
	at      []int    // where each begins, by number; 0 has none
	body    [][]byte // likewise
	order   []int    // numbers, as they stand in the file
	trailer []byte
}

// split reads the table of a file (ISO 32000-1, 7.5.4).
func split(file []byte) (*objects, error) {
	var table, count int
	i := bytes.LastIndex(file, []byte("startxref\n"))
	if i < 0 {
		return nil, fmt.Errorf("PDF library: the file has no startxref")
	}
	if _, err := fmt.Sscanf(string(file[i:]), "startxref\n%d", &table); err != nil || table > i {
		return nil, fmt.Errorf("PDF library: startxref: %v", err)
	}
	if _, err := fmt.Sscanf(string(file[table:min(table+40, i)]), "xref\n0 %d\n", &count); err != nil {
		return nil, fmt.Errorf("PDF library: table of objects: %w", err)
	}
	const entry = len("0000000000 00000 n \n")
	lines := table + len(fmt.Sprintf("xref\n0 %d\n", count))
	if lines+count*entry > i {
		return nil, fmt.Errorf("PDF library: the table of objects is short")
	}
	all := &objects{at: make([]int, count), body: make([][]byte, count), trailer: file[lines+count*entry : i]}
	for n := 1; n < count; n++ {
		if _, err := fmt.Sscanf(string(file[lines+n*entry:lines+(n+1)*entry]), "%010d 00000 n", &all.at[n]); err != nil {
			return nil, fmt.Errorf("PDF library: object %d: %w", n, err)
		}
		all.order = append(all.order, n)
	}
	slices.SortFunc(all.order, func(a, b int) int { return all.at[a] - all.at[b] })
	end := table
	for _, n := range slices.Backward(all.order) {
		all.body[n] = file[all.at[n]:end]
		end = all.at[n]
	}
	return all, nil
}

// nameFonts gives the faces in the resources their names: those of the library are long,
// and first known in the file. It sets each face in order on the first page.
func (all *objects) nameFonts() error {
	marks, named := all.body[marksOf(0)], all.body[resources]
	for f := range fonts.Count {
		_, rest, found := bytes.Cut(marks, []byte("BT /F"))
		name, rest, more := bytes.Cut(rest, []byte(" "))
		old := slices.Concat([]byte("/F"), name, []byte(" "))
		if !found || !more || bytes.Count(named, old) != 1 {
			return fmt.Errorf("PDF library: face %v is not in the resources", f)
		}
		marks, named = rest, bytes.Replace(named, old, fontName(f), 1)
	}
	all.body[resources] = named
	return nil
}

// counter writes and counts, until something fails.
type counter struct {
	w   *bufio.Writer
	n   int
	err error
}

func (c *counter) write(b []byte) {
	if c.err == nil {
		_, c.err = c.w.Write(b)
		c.n += len(b)
	}
}
